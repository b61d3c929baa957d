//! The ledger's rules one by one, each at its edge: what a plan takes, which steps a gap puts in doubt, what a scale's own
//! uncertainty does to a difference, and from which weight on a cake is taken for which yarn.

use yarn_scale_core::journal::{Entry, Fibre, Label, Record, Sequence, Weight};
use yarn_scale_core::ledger::{
    ApplyFault, Finding, Ledger, Line, MAX_LINES, Order, Plan, Preset, YarnLetter, recognise,
};
use yarn_scale_core::measured::Measured;
use yarn_scale_core::screen::{Choice, WhyAsked};
use yarn_scale_core::section::{Construction, SectionKind, Sock};
use yarn_scale_core::units::{Milligrams, Stamp};
use yarn_scale_core::weighing::Conditions;
use yarn_scale_tests::knitting;

const A: YarnLetter = YarnLetter::A;
const B: YarnLetter = YarnLetter::B;
const C: YarnLetter = YarnLetter::C;

/// A ledger that is told records, numbered from 1.
struct Told {
    ledger: Ledger,
    next: u32,
}

impl Told {
    /// A pair with this plan has been begun.
    fn with_plan(lines: impl IntoIterator<Item = Line>) -> Self {
        let mut told = Self {
            ledger: Ledger::default(),
            next: 1,
        };
        told.tell(Record::PairBegun {
            pair: 1,
            lines: lines.into_iter().collect(),
        })
        .expect("a pair begins");
        told
    }

    fn new() -> Self {
        Self::with_plan(knitting::plan())
    }

    fn tell(&mut self, record: Record) -> Result<(), ApplyFault> {
        let sequence = Sequence(self.next);
        self.next += 1;
        // All within one hour, so that moisture has no time.
        self.ledger.apply(&Entry {
            sequence,
            at: Stamp(10),
            record,
        })
    }

    fn weigh_in(&mut self, yarn: YarnLetter, mg: i32) {
        let weight = exactly(mg);
        self.tell(Record::WeighIn { yarn, weight }).expect("a first weight");
    }

    fn mark(&mut self, line: u8, yarn: YarnLetter, mg: i32) {
        let weight = exactly(mg);
        self.tell(Record::Mark { line, yarn, weight }).expect("a mark");
    }

    /// What this weight on the pan would be taken for.
    fn finds(&self, line: u8, mg: i32, expected: Option<i32>) -> Finding {
        let net = exactly(mg).net;
        recognise(&self.ledger, line, net, expected.map(Milligrams)).expect("a line of the plan")
    }

    fn asks(&self, line: u8, mg: i32, expected: Option<i32>) -> (WhyAsked, Vec<Choice>) {
        match self.finds(line, mg, expected) {
            Finding::Ask(why, choices) => (why, choices.to_vec()),
            other => panic!("{other:?} and no question"),
        }
    }
}

/// A weight without any uncertainty, so that edges stand where they are meant to.
fn exactly(mg: i32) -> Weight {
    let weight = knitting::weight(mg);
    Weight {
        net: Measured { u: 0.0, ..weight.net },
        ..weight
    }
}

fn line(kind: SectionKind, sock: Sock, yarn: YarnLetter) -> Line {
    Line {
        kind,
        sock,
        yarn,
        construction: Construction::Plain,
        stitches: 64,
    }
}

#[test]
fn a_yarn_has_the_label_that_was_noted_last() {
    let mut told = Told::new();
    let label = |metres| Label {
        metres_per_100_g: metres,
        fibre: Fibre::Cotton,
    };
    for metres in [400, 425] {
        let label = label(metres);
        told.tell(Record::Yarn { letter: B, label }).expect("a label");
    }
    assert_eq!(told.ledger.label(B), label(425));
    assert_eq!(told.ledger.label(A), Label::default());
}

#[test]
fn a_line_is_changed_or_added_at_the_end_until_the_plan_is_full() {
    let mut told = Told::new();
    let new = line(SectionKind::Gusset, Sock::Second, C);
    let change = |index| Record::LineChanged { index, line: new };
    assert_eq!(told.tell(change(13)), Err(ApplyFault::NoSuchLine), "leaves a hole");
    for index in [3, 12, 13] {
        assert_eq!(told.tell(change(index)), Ok(()));
        assert_eq!(told.ledger.plan().line(index), Some(new));
    }
    assert_eq!(told.ledger.plan().lines.len(), 14);
    for index in 14..MAX_LINES as u8 {
        assert_eq!(told.tell(change(index)), Ok(()));
    }
    assert_eq!(told.tell(change(MAX_LINES as u8)), Err(ApplyFault::Full));
}

#[test]
fn a_yarn_that_was_not_weighed_in_takes_no_mark() {
    let mut told = Told::new();
    told.weigh_in(A, 100_000);
    let weight = exactly(90_000);
    let mark = Record::Mark {
        line: 0,
        yarn: B,
        weight,
    };
    assert_eq!(told.tell(mark), Err(ApplyFault::NotWeighedIn));
    assert_eq!(
        told.tell(Record::Unplanned { yarn: B, weight }),
        Err(ApplyFault::NotWeighedIn)
    );
    assert_eq!(told.ledger.steps().len(), 1);
}

/// Lost may be an amendment of the last step of any yarn, or a step between it and the next: those two, and no other.
#[test]
fn a_gap_puts_the_last_and_the_next_step_of_every_yarn_in_doubt() {
    let mut told = Told::new();
    told.weigh_in(A, 100_000);
    told.mark(1, A, 90_000);
    told.weigh_in(B, 20_000);
    told.weigh_in(C, 20_000);
    told.tell(Record::Lost { count: 1 }).expect("a gap");
    told.mark(3, A, 85_000);
    told.mark(4, A, 70_000);
    let steps = told.ledger.steps().iter();
    let doubts: Vec<(YarnLetter, bool)> = steps.map(|step| (step.yarn, step.doubtful)).collect();
    assert_eq!(
        doubts,
        [(A, false), (A, true), (B, true), (C, true), (A, true), (A, false)]
    );
}

#[test]
fn the_same_section_of_the_other_sock_is_the_one_at_the_same_place_among_its_like() {
    use SectionKind::{Cuff, Leg};
    use Sock::{First, Second};
    // A cuff in two stripes of A with one of B between; a leg on the first sock only.
    let plan = Plan {
        lines: [
            line(Cuff, First, A),
            line(Cuff, First, B),
            line(Cuff, First, A),
            line(Leg, First, A),
            line(Cuff, Second, A),
            line(Cuff, Second, B),
            line(Cuff, Second, A),
        ]
        .into_iter()
        .collect(),
    };
    let twins = [Some(4), Some(5), Some(6), None, Some(0), Some(1), Some(2), None];
    for (index, twin) in (0..).zip(twins) {
        assert_eq!(plan.counterpart(index), twin, "line {index}");
    }
}

/// Two readings of 31.5 mg each, of which 0.02 % of 100 g and of 95 g, 20 mg and 19 mg, are the span's, and as much the
/// hysteresis's. By hand: own² = 31.5² - 2 · 20² = 192.25 and 31.5² - 2 · 19² = 270.25; of the 5 g apart 0.02 % √2 = 1.41 mg;
/// together 21.55 mg, where the whole readings give 31.5 √2 = 44.55 mg.
#[test]
fn what_all_readings_of_a_scale_share_goes_out_of_their_difference() {
    let reading = |mg| knitting::weight(mg);
    let yarn = A;
    let mut told = Told::new();
    told.tell(Record::WeighIn {
        yarn,
        weight: reading(100_000),
    })
    .expect("a first weight");
    told.tell(Record::Mark {
        line: 1,
        yarn,
        weight: reading(95_000),
    })
    .expect("a mark");
    let u = |ledger: &Ledger| ledger.went(1).expect("a mark").u;
    let alone = u(&told.ledger);
    told.ledger.weighed_on(Conditions {
        mg_per_count: 0.25,
        rated: 500_000.0,
        u_span: 2e-4,
        u_bow: 0.0,
    });
    let known = u(&told.ledger);
    assert!((alone - 44.55).abs() < 0.02, "{alone}");
    assert!((known - 21.55).abs() < 0.02, "{known}");
    assert_eq!(told.ledger.went(1).map(|went| went.value), Some(Milligrams(5_000)));
}

/// A cuff that took 5 g on the other sock takes 5 g again, a factor of two either way; a gram more than that is a question.
#[test]
fn a_section_takes_about_what_it_took_on_the_other_sock() {
    let mut told = Told::new();
    told.weigh_in(B, 50_000);
    let took = |mg| told.finds(0, 50_000 - mg, Some(5_000));
    for mg in [101, 2_499, 2_500, 5_000, 10_000, 10_001, 11_000] {
        assert_eq!(took(mg), Finding::Section(B, Milligrams(mg)), "{mg}");
    }
    let (why, _) = told.asks(0, 50_000 - 11_001, Some(5_000));
    let by = Milligrams(11_001);
    assert_eq!(why, WhyAsked::Lighter { yarn: B, by });
}

/// Half a percent of moisture, and one division: 0.35 g of 50 g.
#[test]
fn a_cake_may_have_gained_moisture_and_still_be_the_same() {
    let mut told = Told::new();
    told.weigh_in(B, 50_000);
    let (why, choices) = told.asks(0, 50_350, None);
    assert_eq!(why, WhyAsked::Unchanged { yarn: B });
    assert_eq!(choices, [Choice::NotNow, Choice::WeighIn(A)]);
    let by = Milligrams(351);
    let (why, choices) = told.asks(0, 50_351, None);
    assert_eq!(why, WhyAsked::Heavier { yarn: B, by });
    assert_eq!(choices, [Choice::StartFromHere(B), Choice::WeighIn(A), Choice::NotNow]);
}

/// Below one division nothing was knitted; from one division on it is a section.
#[test]
fn a_second_press_is_no_section() {
    let mut told = Told::new();
    told.weigh_in(B, 50_000);
    let (why, _) = told.asks(0, 50_000 - 99, Some(200));
    assert_eq!(why, WhyAsked::Unchanged { yarn: B });
    assert_eq!(
        told.finds(0, 50_000 - 100, Some(200)),
        Finding::Section(B, Milligrams(100))
    );
}

#[test]
fn what_weighs_as_another_yarn_did_is_asked_about() {
    let mut told = Told::new();
    told.weigh_in(A, 20_000);
    // B was not weighed in: half a percent and a division about A's 20 g are A.
    for mg in [19_800, 20_200] {
        let (why, choices) = told.asks(0, mg, None);
        assert_eq!(why, WhyAsked::OtherYarn { planned: B, found: A });
        assert_eq!(choices, [Choice::NotNow, Choice::WeighIn(B)]);
    }
    for mg in [19_799, 20_201] {
        assert_eq!(told.finds(0, mg, None), Finding::WeighIn(B));
    }
    // B weighed 25 g: 20 g could be 5 g of B, or A untouched.
    told.weigh_in(B, 25_000);
    assert_eq!(told.asks(0, 20_000, None).0, WhyAsked::Ambiguous);
    // Heavier than B was, and what C weighed.
    told.weigh_in(C, 30_000);
    let (why, _) = told.asks(0, 30_000, None);
    assert_eq!(why, WhyAsked::OtherYarn { planned: B, found: C });
}

/// A weight that another yarn would more likely have after a section is asked about, unless the planned one is likely, too.
#[test]
fn a_likelier_yarn_is_offered() {
    let mut told = Told::new();
    told.weigh_in(B, 32_000);
    told.weigh_in(C, 26_000);
    let section = |yarn, mg| Choice::Section {
        yarn,
        used: Milligrams(mg),
    };
    let (why, choices) = told.asks(0, 21_000, Some(5_000));
    assert_eq!(why, WhyAsked::Ambiguous);
    let [section_b, section_c] = [section(B, 11_000), section(C, 5_000)];
    let [fresh, from_here] = [Choice::WeighIn(A), Choice::StartFromHere(B)];
    assert_eq!(choices, [section_b, section_c, Choice::NotNow, fresh, from_here]);
    let (why, choices) = told.asks(0, 20_500, Some(5_000));
    let by = Milligrams(11_500);
    assert_eq!(why, WhyAsked::Lighter { yarn: B, by });
    assert_eq!(
        choices,
        [section(C, 5_500), section(B, 11_500), from_here, fresh, Choice::NotNow]
    );
    assert_eq!(
        told.finds(0, 22_000, Some(5_000)),
        Finding::Section(B, Milligrams(10_000))
    );
}

#[test]
fn a_weigh_in_is_offered_for_the_plans_yarns_only_and_a_section_only_of_what_went() {
    let mut told = Told::new();
    for (yarn, mg) in [(A, 100_000), (B, 50_000), (C, 20_000)] {
        told.weigh_in(yarn, mg);
    }
    assert_eq!(told.asks(0, 50_000, None).1, [Choice::NotNow]);
    let section = Choice::Section {
        yarn: B,
        used: Milligrams(1),
    };
    assert_eq!(told.asks(0, 49_999, None).1, [Choice::NotNow, section]);
}

/// Ten minutes are too short for a cake to follow the room; two days are not.
#[test]
fn the_range_of_a_difference_grows_with_the_time_between() {
    let u_after = |seconds| {
        let mut told = Told::new();
        told.weigh_in(A, 100_000);
        let before = told.ledger.steps()[0];
        let (went, _) = told
            .ledger
            .would_take(&before, exactly(90_000).net, Stamp(10 + seconds), None);
        went.u
    };
    let [at_once, soon, late] = [0_u32, 600, 48 * 3_600].map(u_after);
    assert_eq!(at_once, 0.0);
    assert!(soon > 0.0 && soon < late / 5.0, "{soon} mg, {late} mg");
}

#[test]
fn a_preset_is_knitted_from_its_end_with_the_contrast_where_it_says() {
    use SectionKind::{Cuff, Foot, Heel, Leg, Toe};
    let order = |preset: Preset| -> Vec<(SectionKind, YarnLetter)> {
        let lines = preset.lines(Order::OneSock);
        lines.iter().map(|line| (line.kind, line.yarn)).collect()
    };
    assert_eq!(
        order(Preset::ContrastCuffsHeelsToes),
        [(Cuff, B), (Leg, A), (Heel, B), (Foot, A), (Toe, B)]
    );
    assert_eq!(
        order(Preset::ContrastHeelsToes),
        [(Cuff, A), (Leg, A), (Heel, B), (Foot, A), (Toe, B)]
    );
    assert_eq!(
        order(Preset::ContrastToeUp),
        [(Toe, B), (Foot, A), (Heel, B), (Leg, A), (Cuff, B)]
    );
    for (preset, kinds) in [
        (Preset::OneYarn, [Cuff, Leg, Heel, Foot, Toe]),
        (Preset::OneYarnToeUp, [Toe, Foot, Heel, Leg, Cuff]),
    ] {
        assert_eq!(order(preset), kinds.map(|kind| (kind, A)));
        let both = preset.lines(Order::TwoAtATime);
        let pairs: Vec<_> = both.iter().map(|line| (line.kind, line.sock)).collect();
        let expected = kinds.map(|kind| [(kind, Sock::First), (kind, Sock::Second)]);
        assert_eq!(pairs, expected.concat());
    }
}

/// Two readings of 30 mg each: three times 42.4 mg, half a percent of 50 g and one division are 0.477 g.
#[test]
fn what_two_readings_are_worth_widens_what_is_the_same() {
    let uncertain = |mg| Weight {
        net: Measured {
            value: Milligrams(mg),
            u: 30.0,
        },
        ..exactly(mg)
    };
    let mut told = Told::new();
    let weight = uncertain(50_000);
    told.tell(Record::WeighIn { yarn: B, weight }).expect("a first weight");
    let finds = |mg| recognise(&told.ledger, 0, uncertain(mg).net, Some(Milligrams(200))).expect("a line");
    let asks_whether_unchanged = |mg| matches!(finds(mg), Finding::Ask(WhyAsked::Unchanged { .. }, _));
    assert!(asks_whether_unchanged(50_477));
    assert!(!asks_whether_unchanged(50_478));
    // The other way three times 42.4 mg must have gone.
    assert!(asks_whether_unchanged(50_000 - 126));
    assert_eq!(finds(50_000 - 127), Finding::Section(B, Milligrams(127)));
}

/// Half of what the other sock took, or a third of what is usual, is the least that is likely.
#[test]
fn a_small_section_is_asked_about_where_another_yarn_is_likelier() {
    let finds = |took, expected| {
        let mut told = Told::new();
        told.weigh_in(B, 21_000 + took);
        told.weigh_in(C, 26_000);
        told.finds(0, 21_000, expected)
    };
    let is_ambiguous = |took, expected| matches!(finds(took, expected), Finding::Ask(WhyAsked::Ambiguous, _));
    assert!(is_ambiguous(2_499, Some(5_000)));
    assert_eq!(finds(2_500, Some(5_000)), Finding::Section(B, Milligrams(2_500)));
    for none in [None, Some(0)] {
        assert!(is_ambiguous(1_665, none));
        assert_eq!(finds(1_666, none), Finding::Section(B, Milligrams(1_666)));
    }
}

#[test]
fn the_cursor_goes_on_behind_what_was_marked_or_skipped_last_and_comes_back_for_the_rest() {
    let mut told = Told::new();
    told.weigh_in(A, 100_000);
    assert_eq!(told.ledger.cursor(), Some(0));
    told.mark(1, A, 90_000);
    assert_eq!(told.ledger.cursor(), Some(2));
    told.tell(Record::Skipped { line: 2 }).expect("a line of the plan");
    assert_eq!(told.ledger.cursor(), Some(3));
    let skipped: Vec<bool> = (0..4).map(|line| told.ledger.is_skipped(line)).collect();
    assert_eq!(skipped, [false, false, true, false]);
    for line in 3..12 {
        told.tell(Record::Skipped { line }).expect("a line of the plan");
    }
    // Only the first one is open.
    assert_eq!(told.ledger.cursor(), Some(0));
    told.mark(0, A, 85_000);
    assert_eq!(told.ledger.cursor(), None);
}

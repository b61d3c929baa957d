//! The ledger's rules one by one, each at its edge: what a plan takes, which steps a gap puts in doubt, and what a scale's own
//! uncertainty and the time do to a difference. What a weight is taken for: `recognition.rs`.

use yarn_scale_core::journal::Record;
use yarn_scale_core::ledger::{ApplyFault, Ledger};
use yarn_scale_core::sock::{Fibre, Label, MAX_LINES, Order, Plan, Preset, SectionKind, Sock, YarnLetter};
use yarn_scale_core::units::{Instant, Milligrams, Stamp};
use yarn_scale_core::weighing::Conditions;
use yarn_scale_tests::knitting;
use yarn_scale_tests::told::{Told, exactly, line};

const A: YarnLetter = YarnLetter::A;
const B: YarnLetter = YarnLetter::B;
const C: YarnLetter = YarnLetter::C;

#[test]
fn a_yarn_has_the_label_that_was_noted_last() {
    let mut told = Told::begun();
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
    let mut told = Told::begun();
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
    let mut told = Told::begun();
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
    let mut told = Told::begun();
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
fn the_same_section_of_the_other_sock_has_the_same_place_among_its_like() {
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
    let mut told = Told::begun();
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
    let u = |ledger: &Ledger| ledger.used_at(1).expect("a mark").u;
    let alone = u(&told.ledger);
    told.ledger.weighed_on(Conditions {
        mg_per_count: 0.25,
        rated: 500_000.0,
        u_span: 2e-4,
        u_bow: 0.0,
        on_since: Instant(0),
        restless: 1.0,
        wandering: 1.0,
        steps: 0.0,
    });
    let known = u(&told.ledger);
    assert!((alone - 44.55).abs() < 0.02, "{alone}");
    assert!((known - 21.55).abs() < 0.02, "{known}");
    assert_eq!(told.ledger.used_at(1).map(|went| went.value), Some(Milligrams(5_000)));
}

/// Ten minutes are too short for a cake to follow the room; two days are not.
#[test]
fn the_range_of_a_difference_grows_with_the_time_between() {
    let u_after = |seconds| {
        let mut told = Told::begun();
        told.weigh_in(A, 100_000);
        let before = told.ledger.steps()[0];
        let (went, _) = told
            .ledger
            .would_take(&before, exactly(90_000).net, Stamp(10 + seconds), None, None);
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

#[test]
fn the_cursor_goes_on_behind_the_last_mark_or_skip_and_comes_back() {
    let mut told = Told::begun();
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

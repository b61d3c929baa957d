//! What the book tells recognition: what each section is expected to take, and from what that is known; which sections, bowls and yarns
//! can be meant.

use yarn_scale_core::book::Book;
use yarn_scale_core::forecast::{Socks, Wanted};
use yarn_scale_core::journal::{PairEvent, Record, Setting};
use yarn_scale_core::recognise::{Amount, Cake, Habits, OnPan, Situation, Source, at_most};
use yarn_scale_core::sock::{BowlNumber, Line, Order, Preset, SectionKind, SectionUse, Sock, YarnLetter};
use yarn_scale_core::units::Milligrams;

use crate::books::{A, B, begun, book, mark, measured, of_pair, on_pan_at, weigh_in, weight};

pub(crate) fn on_pan(mg: i32) -> OnPan {
    on_pan_at(40, mg)
}

pub(crate) fn of(book: &Book, line: u8, mg: i32) -> Situation {
    Situation::of(book, line, &on_pan(mg)).expect("a line of the plan")
}

fn cake(situation: &Situation, yarn: YarnLetter) -> &Cake {
    let mut cakes = situation.cakes.iter();
    cakes.find(|cake| cake.yarn == yarn).expect("it was weighed")
}

/// What the section at `line` is expected to take.
fn expected(book: &Book, line: u8) -> Amount {
    let situation = of(book, line, 50_000);
    situation.planned().expect("weighed").next[0].amount
}

/// One yarn, both socks at a time: the cuffs, then the legs, ...
fn pair_of_one_yarn(order: Order) -> Record {
    begun(1, Preset::OneYarn, order)
}

/// A pair that is finished: of one kind, what the socks took, mg.
pub(crate) fn past(pair: u16, kind: SectionKind, socks: [i32; 2]) -> Record {
    let plan = Preset::OneYarn.lines(Order::OneAfterTheOther);
    let section = |(sock, mg)| {
        let of_kind = |line: &&Line| line.kind == kind && line.sock == sock;
        SectionUse {
            line: *plan.iter().find(of_kind).expect("each sock has all"),
            used: measured(mg),
            doubtful: false,
        }
    };
    let sections = [Sock::First, Sock::Second].into_iter().zip(socks).map(section);
    Record::Condensed {
        pair,
        sections: sections.collect(),
    }
}

#[test]
fn the_other_sock_says_best_what_a_section_takes() {
    let records = [
        pair_of_one_yarn(Order::TwoAtATime),
        weigh_in(A, 100_000),
        mark(0, A, 88_000),
    ];
    let of_twelve = |book: &Book, habits| {
        let took = book.ledger().used(0).expect("marked");
        assert_eq!(took.value, Milligrams(12_000));
        Amount::as_other_sock(took.value, took.u, habits).expect("something")
    };
    let alone = book(&records);
    assert_eq!(expected(&alone, 1), of_twelve(&alone, Habits::default()));
    // Loose socks since three pairs that were even: only the last six count, with the one in hand, since hands change. The other sock is better than all of them.
    let even = [20_000, 20_000];
    let pairs = [
        even,
        even,
        [20_000, 27_000],
        [27_000, 20_000],
        [20_000, 27_000],
        [20_000, 28_000],
        [28_000, 20_000],
        [20_000, 27_000],
    ];
    let past: Vec<Record> = (101..)
        .zip(pairs)
        .map(|(pair, socks)| past(pair, SectionKind::Cuff, socks))
        .collect();
    let mut habits = Habits::default();
    for [first, second] in &pairs[3..] {
        habits.learn(*first, *second);
    }
    assert!(habits.weights()[2] > 0.9);
    let loose = book(&[&past, &records[..]].concat());
    assert_eq!(expected(&loose, 1), of_twelve(&loose, habits));
}

#[test]
fn else_the_knitters_pairs_do_then_the_stitches_and_then_what_is_usual() {
    let records = [pair_of_one_yarn(Order::OneAfterTheOther), weigh_in(A, 100_000)];
    let legs = [[20_000, 20_400], [22_000, 21_000], [19_000, 20_000]];
    let legs: Vec<Record> = (101..)
        .zip(legs)
        .map(|(pair, socks)| past(pair, SectionKind::Leg, socks))
        .collect();
    let known = book(&[&legs, &records[..]].concat());
    let leg = known.ledger().plan().lines[1];
    let wanted = Wanted::contrast(leg.kind, leg.construction, known.ledger().size(leg), Socks::One);
    let by = known.history().predict(core::iter::once(&wanted)).expect("three pairs");
    assert_eq!(by.pairs, 3);
    let amount = expected(&known, 1);
    assert_eq!(Some(amount), Amount::by_history(by.expected, by.variance.sqrt(), 3));
    assert_eq!(amount.source, Source::History);
    assert!((amount.expected - 20_400.0).abs() < 500.0, "{amount:?}");
    // Of the cuff they say nothing.
    assert_eq!(expected(&known, 0), Amount::usual(SectionKind::Cuff));
    // With stitches, the estimate; and the pair's size is beside that: a cuff that took what was estimated makes no other leg.
    let mut lines = Preset::OneYarn.lines(Order::OneAfterTheOther);
    lines.iter_mut().for_each(|line| line.stitches = 90);
    let with_stitches = Record::PairBegun { pair: 1, lines };
    let estimated = book(&[with_stitches.clone(), weigh_in(A, 100_000)]);
    let [cuff, leg] = [0, 1].map(|line| expected(&estimated, line));
    assert_eq!([cuff.source, leg.source], [Source::Estimate; 2]);
    assert!((cuff.expected - 5_000.0).abs() > 100.0, "not the usual one: {cuff:?}");
    let as_estimated = mark(0, A, 100_000 - cuff.expected as i32);
    let after = expected(&book(&[with_stitches, weigh_in(A, 100_000), as_estimated]), 1);
    assert!((after.expected / leg.expected - 1.0).abs() < 0.002, "{after:?} {leg:?}");
}

/// A cuff of 8 g where 5 are usual: exp(0.49 ln 1.6) = 1.259, by hand. The second cuff says nothing new of the size.
#[test]
fn the_first_sock_tells_the_size_and_parts_of_what_is_no_sock_have_none() {
    let records = [
        pair_of_one_yarn(Order::TwoAtATime),
        weigh_in(A, 100_000),
        mark(0, A, 92_000),
    ];
    let leg = |records: &[Record]| expected(&book(records), 2).expected;
    assert!((leg(&records) - 1.259 * 15_000.0).abs() < 20.0, "{}", leg(&records));
    let both = [&records[..], &[mark(1, A, 84_000)]].concat();
    assert!((leg(&both) - leg(&records)).abs() < 1.0);
    // A section that took nothing says nothing.
    let nothing = [
        pair_of_one_yarn(Order::TwoAtATime),
        weigh_in(A, 100_000),
        mark(0, A, 100_000),
    ];
    assert!((leg(&nothing) - 15_000.0).abs() < 1.0, "{}", leg(&nothing));
    let parts = [
        begun(1, Preset::Parts(3), Order::OneSock),
        weigh_in(A, 200_000),
        mark(0, A, 150_000),
    ];
    assert_eq!(expected(&book(&parts), 1), Amount::usual(SectionKind::Part2));
    // Sections that fit no size at all leave the spread as it was, and a number.
    let odd = [
        pair_of_one_yarn(Order::OneAfterTheOther),
        weigh_in(A, 400_000),
        mark(0, A, 399_999),
        mark(1, A, 1_000),
    ];
    let heel = expected(&book(&odd), 2);
    assert!(
        heel.density(heel.expected, 0.0).is_finite() && heel.density(heel.expected, 0.0) > 0.0,
        "{heel:?}"
    );
}

/// Cuff, heel and toe of B are at 0, 2, 4 and 5, 7, 9; leg and foot of A at 1, 3 and 6, 8.
fn contrast(records: &[Record]) -> Book {
    let begun = begun(1, Preset::ContrastCuffsHeelsToes, Order::OneAfterTheOther);
    book(&[&[begun], records].concat())
}

#[test]
fn the_sections_that_can_be_finished_now() {
    let lines = |line, yarn| {
        let situation = of(&contrast(&[weigh_in(A, 100_000), weigh_in(B, 40_000)]), line, 50_000);
        let next = &cake(&situation, yarn).next;
        next.iter().map(|next| next.line).collect::<Vec<u8>>()
    };
    assert_eq!(lines(0, B), [0, 2, 4]);
    assert_eq!(
        lines(2, B),
        [2, 0, 4],
        "the one that was left out comes before those to come"
    );
    assert_eq!(lines(4, B), [4, 2, 5], "only the last that was left out");
    assert_eq!(lines(2, A), [1, 3, 6]);
}

/// What the last section of a yarn took can be ripped back; what was no section, or nothing, cannot.
#[test]
fn what_can_be_ripped_back() {
    let before = |more: &[Record]| {
        let first = [weigh_in(B, 40_000), mark(0, B, 35_000), weigh_in(A, 100_000)];
        let situation = of(&contrast(&[&first, more].concat()), 2, 30_000);
        [A, B].map(|yarn| cake(&situation, yarn).before)
    };
    assert_eq!(before(&[]), [None, Some(5_000.0)]);
    let from_here = PairEvent::Unplanned {
        yarn: B,
        weight: weight(30_000),
    };
    assert_eq!(before(&[of_pair(1, from_here)]), [None, None]);
    assert_eq!(before(&[mark(1, A, 100_000)]), [None, Some(5_000.0)]);
}

#[test]
fn the_yarns_that_were_not_weighed_and_the_bowls_that_are_not_set() {
    let fresh = |records: &[Record]| of(&contrast(records), 0, 30_000).fresh.to_vec();
    assert_eq!(fresh(&[]), [B, A], "the planned one first, and no C");
    assert_eq!(fresh(&[weigh_in(B, 40_000)]), [A]);
    assert_eq!(fresh(&[weigh_in(B, 40_000), weigh_in(A, 100_000)]), []);
    let [one, two] = [1, 2].map(BowlNumber);
    let bowl = |number, grams: i32| Record::Bowl {
        number,
        mass: measured(1_000 * grams),
    };
    let set = |bowl| Record::Setting(Setting::BowlInUse(bowl));
    let bowls = |in_use| {
        let book = contrast(&[weigh_in(B, 40_000), bowl(one, 50), bowl(two, 100), set(in_use)]);
        let bowls = of(&book, 0, 130_000).bowls;
        bowls.iter().map(|on| (on.bowl, on.used.value.0)).collect::<Vec<_>>()
    };
    assert_eq!(bowls(Some(one)), [(None, -90_000), (Some(two), 10_000)]);
    assert_eq!(bowls(None), [(Some(one), -40_000), (Some(two), 10_000)]);
}

/// What went in one stay is known of the planned yarn, in the bowl that is set: of nothing else.
#[test]
fn one_stay_says_nothing_of_other_yarns_and_bowls() {
    let bowl = Record::Bowl {
        number: BowlNumber(1),
        mass: measured(50_000),
    };
    let book = contrast(&[weigh_in(A, 100_000), weigh_in(B, 40_000), bowl]);
    let [without, with] = [None, Some(2.0)].map(|apart| {
        let on_pan = OnPan {
            apart,
            ..on_pan(35_000)
        };
        Situation::of(&book, 0, &on_pan).expect("a line of the plan")
    });
    assert!(cake(&with, B).used.u < cake(&without, B).used.u);
    assert_eq!(cake(&with, A).used, cake(&without, A).used);
    assert_eq!(with.bowls, without.bowls);
}

/// Four times what is usual, or twice what the other sock's took and a gram.
#[test]
fn the_most_that_is_shown_as_used() {
    let most = |records: &[Record], line| at_most(contrast(records).ledger(), line).map(|most| most.0);
    let weighed = weigh_in(B, 40_000);
    assert_eq!(most(std::slice::from_ref(&weighed), 0), Some(20_000));
    assert_eq!(most(&[weighed.clone(), mark(0, B, 28_000)], 5), Some(25_000));
    assert_eq!(most(&[weighed, mark(0, B, 40_000)], 5), Some(20_000));
}

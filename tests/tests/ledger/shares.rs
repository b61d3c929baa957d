//! Each meaning's share by hand: how often people press for it, times the density of the weight then, beside a press for any reason at all
//! on any weight: one in a thousand, over 500 g. What people do is an assumption (no source), stated in core's table of priors; here it is
//! stated once more, so that no figure changes unseen.

use yarn_scale_core::measured::Measured;
use yarn_scale_core::recognise::{Amount, BowlOn, Cake, Elsewhere, Habits, Late, Meaning, Next, Situation, consider};
use yarn_scale_core::sock::{BowlNumber, Order, Preset, SectionKind, Weight, YarnLetter};
use yarn_scale_core::units::{Milligrams, Stamp};

const A: YarnLetter = YarnLetter::A;
const B: YarnLetter = YarnLetter::B;
const C: YarnLetter = YarnLetter::C;

/// Standard uncertainty of what went, mg.
const U: f64 = 60.0;

/// The top of a normal distribution of a deviation of one.
const TOP: f64 = 0.398_942;

fn measured(mg: i32) -> Measured {
    Measured {
        value: Milligrams(mg),
        u: U as f32,
    }
}

/// 5 g: three of four within 25 %, one of five within 45 %, the rest within 80 % (of the logarithm).
fn cuff() -> Amount {
    Amount::usual(SectionKind::Cuff)
}

/// Its density at the median, where the spreads are narrowed to this part of theirs: `count` cuffs together.
fn at_median(count: f64) -> f64 {
    let parts = 0.75 / 0.25 + 0.20 / 0.45 + 0.05 / 0.80;
    parts * count.sqrt() * TOP / (5_000.0 * count)
}

/// A section of 0.5 g as the other sock's: so small that its spread blurs nothing.
fn small() -> Amount {
    Amount::as_other_sock(Milligrams(500), 0.0, Habits::default()).expect("something")
}

/// A is planned and weighed 90 g; so much went of it if it is on the pan. Its next sections take as told.
fn only_a(used: i32, next: &[(u8, Amount)]) -> Situation {
    let cake = Cake {
        yarn: A,
        last: measured(90_000),
        used: measured(used),
        next: next.iter().map(|&(line, amount)| Next { line, amount }).collect(),
        before: Some(5_000.0),
    };
    Situation {
        net: measured(90_000 - used),
        planned: A,
        cakes: [cake].into_iter().collect(),
        fresh: heapless::Vec::new(),
        bowls: heapless::Vec::new(),
        elsewhere: heapless::Vec::new(),
        late: None,
        visits: 0,
    }
}

fn share(situation: &Situation, is_it: impl Fn(&Meaning) -> bool) -> f64 {
    let considered = consider(situation);
    let of = |is_it: &dyn Fn(&Meaning) -> bool| -> f64 {
        let those = considered.iter().filter(|considered| is_it(&considered.meaning));
        those.map(|considered| f64::from(considered.share)).sum()
    };
    of(&is_it) / of(&|meaning| *meaning == Meaning::Anything) * 0.001 / 500_000.0
}

/// The share is so many presses of all, times this density per mg.
#[track_caller]
fn is(situation: &Situation, meaning: impl Fn(&Meaning) -> bool, presses: f64, density: f64) {
    let share = share(situation, meaning);
    let by_hand = presses * density;
    assert!((share / by_hand - 1.0).abs() < 0.02, "{share:e}, by hand {by_hand:e}");
}

#[track_caller]
fn is_none(situation: &Situation, meaning: impl Fn(&Meaning) -> bool) {
    assert!(share(situation, meaning) < 1e-12);
}

fn section(line: u8, yarn: YarnLetter) -> impl Fn(&Meaning) -> bool {
    move |meaning| matches!(meaning, Meaning::Section { line: of, yarn: whose, .. } if *of == line && *whose == yarn)
}

fn forgotten(line: u8, seen: bool) -> impl Fn(&Meaning) -> bool {
    move |meaning| matches!(meaning, Meaning::Forgotten { line: of, seen: was, .. } if *of == line && *was == seen)
}

#[test]
fn the_section_that_comes_next() {
    let next = [(1, cuff())];
    is(&only_a(5_000, &next), section(1, A), 0.96, at_median(1.0));
    // Left for later, and finished now: half as often as its mark was forgotten or it is still open.
    let left_out = only_a(5_000, &[(5, cuff()), (1, cuff()), (9, cuff())]);
    is(&left_out, section(5, A), 0.96, at_median(1.0));
    is(&left_out, section(1, A), 0.5, at_median(1.0));
    is_none(&left_out, section(9, A));
    // By its own amount.
    let other = Amount::usual(SectionKind::Leg);
    is(
        &only_a(5_000, &[(5, other), (1, cuff())]),
        section(1, A),
        0.5,
        at_median(1.0),
    );
    // At any moment of the first six tenths of it.
    is(
        &only_a(500, &next),
        |meaning| *meaning == Meaning::Early,
        0.005,
        1.0 / 3_000.0,
    );
    is(
        &only_a(3_000, &next),
        |meaning| *meaning == Meaning::Early,
        0.005,
        0.5 / 3_000.0,
    );
    // As much above that as the section varies: 1 / (1 + exp(1.702 ln 1.25 / spread)), by hand.
    is(
        &only_a(3_750, &next),
        |meaning| *meaning == Meaning::Early,
        0.005,
        0.217 / 3_000.0,
    );
}

#[test]
fn the_planned_yarn_as_it_was_or_heavier() {
    let next = [(1, cuff())];
    let untouched = |meaning: &Meaning| *meaning == Meaning::Untouched(A);
    is(&only_a(0, &next), untouched, 0.01, TOP / U);
    // No scale is believed below half a division.
    let mut sure = only_a(0, &next);
    sure.cakes[0].used.u = 5.0;
    is(&sure, untouched, 0.01, TOP / 50.0);
    let ripped_back = |meaning: &Meaning| *meaning == Meaning::RippedBack(A);
    is(&only_a(-2_000, &next), ripped_back, 0.004, 1.0 / 5_000.0);
    is_none(&only_a(-5_100, &next), ripped_back);
    is_none(&only_a(100, &next), ripped_back);
}

#[test]
fn marks_that_were_forgotten() {
    let next = [(1, cuff()), (5, cuff()), (9, cuff())];
    // She would have looked at the boundary in seven of ten cases, and out of curiosity in three of ten.
    let unseen = 0.3 / 0.7;
    is(
        &only_a(10_000, &next),
        forgotten(5, false),
        0.01,
        unseen * at_median(2.0),
    );
    is(
        &only_a(15_000, &next),
        forgotten(9, false),
        0.01 * 0.2,
        unseen * at_median(3.0),
    );
    // The pan has seen 85 g, and another load.
    let mut seen = only_a(10_000, &next);
    let plan = Preset::OneYarn.lines(Order::OneAfterTheOther);
    seen.visits = 2;
    seen.late = Some(Late {
        line: 1,
        section: plan[1],
        yarn: A,
        visited: Stamp(7),
        weight: Weight {
            net: measured(85_000),
            bowl: None,
            air: None,
        },
        used: Milligrams(5_000),
        then: Some((5, plan[5], Milligrams(5_000))),
        before: None,
    });
    let parted = 0.7 * at_median(1.0) * at_median(1.0) * 10_000.0 / (0.3 * 2.0);
    is(&seen, forgotten(5, true), 0.01, parted);
    is(&seen, forgotten(5, false), 0.01, 0.3 * at_median(2.0));
    is_none(&seen, forgotten(9, true));
}

#[test]
fn bowls_and_what_lies_beside() {
    let next = [(1, small())];
    // So much more than the section is on the pan.
    let beside = |mg: i32| only_a(500 - mg, &next);
    let bowl = |meaning: &Meaning| *meaning == Meaning::UnknownBowl;
    // As many from 20 g to 400 of each size.
    is(&beside(95_000), bowl, 0.003, 1.0 / (95_000.0 * 20.0_f64.ln()));
    is(&beside(20_001), bowl, 0.003, 1.0 / (20_001.0 * 20.0_f64.ln()));
    is(&beside(399_999), bowl, 0.003, 1.0 / (399_999.0 * 20.0_f64.ln()));
    is_none(&beside(19_900), bowl);
    is_none(&beside(400_100), bowl);
    // From a pull of 5 g to a trifle of 10; at the ends a half.
    let disturbed = |meaning: &Meaning| *meaning == Meaning::Disturbed;
    is(&beside(2_500), disturbed, 0.005, 1.0 / 15_000.0);
    is(&beside(-5_000), disturbed, 0.005, 0.5 / 15_000.0);
    is(&beside(10_000), disturbed, 0.005, 0.5 / 15_000.0);
    // By as much as the section varies: of 2 g, by 0.1 g for six knitters of ten, 0.24 for three, 0.5 for one; each 1 / (1 + exp(1.702 x 0.2 g / that)).
    let two = Amount::as_other_sock(Milligrams(2_000), 0.0, Habits::default()).expect("something");
    let mut varies = only_a(2_000 - 10_200, &[(1, two)]);
    varies.cakes[0].used.u = 1.0;
    is(&varies, disturbed, 0.005, 0.111_4 / 15_000.0);
    // And as the weights do, by 0.4 g, where the section hardly varies.
    let mut unsure = beside(10_200);
    unsure.cakes[0].used.u = 400.0;
    is(&unsure, disturbed, 0.005, 0.301 / 15_000.0);
    // 4 to 30 % of the 89.5 g that are left.
    let damp = |meaning: &Meaning| *meaning == Meaning::Damp;
    is(&beside(15_000), damp, 0.002, 1.0 / (0.26 * 89_500.0));
    is(&beside(3_580), damp, 0.002, 0.5 / (0.26 * 89_500.0));
    is(&beside(26_850), damp, 0.002, 0.5 / (0.26 * 89_500.0));
    // In another bowl than is set, of two.
    let mut bowls = only_a(60_000, &[(1, cuff())]);
    bowls.bowls = [(None, 5_000), (Some(BowlNumber(2)), 70_000)]
        .map(|(bowl, mg)| BowlOn {
            bowl,
            used: measured(mg),
        })
        .into_iter()
        .collect();
    let none = |meaning: &Meaning| matches!(meaning, Meaning::OtherBowl { bowl: None, .. });
    is(&bowls, none, 0.008 / 2.0, at_median(1.0));
}

/// A as above; B weighed 60 g and C 35.
fn bag(net: i32) -> Situation {
    let mut bag = only_a(90_000 - net, &[(1, cuff())]);
    for (yarn, last, line) in [(B, 60_000, 2), (C, 35_000, 3)] {
        let mut cake = bag.cakes[0].clone();
        (cake.yarn, cake.last, cake.used) = (yarn, measured(last), measured(last - net));
        cake.next[0].line = line;
        let _ = bag.cakes.push(cake);
    }
    bag
}

#[test]
fn other_cakes_of_the_pair() {
    let of_b = |meaning: Meaning| move |other: &Meaning| *other == meaning;
    is(&bag(60_000), of_b(Meaning::Untouched(B)), 0.005 / 2.0, TOP / U);
    is(&bag(62_000), of_b(Meaning::RippedBack(B)), 0.001 / 2.0, 1.0 / 5_000.0);
    is(&bag(55_000), section(2, B), 0.01 / 2.0, at_median(1.0));
    // The planned one is no other one: its section and it untouched are considered once.
    is(&bag(85_000), section(1, A), 0.96, at_median(1.0));
    is(&bag(90_000), of_b(Meaning::Untouched(A)), 0.01, TOP / U);
    // Any two at once, of three: as they were, or the planned one knitted.
    let two = |meaning: &Meaning| *meaning == Meaning::TwoCakes;
    is(&bag(150_000), two, 0.002 / 3.0, 0.5 * TOP / (U * 2.0_f64.sqrt()));
    is(&bag(95_000), two, 0.002 / 3.0, 0.5 * TOP / (U * 2.0_f64.sqrt()));
    is(&bag(145_000), two, 0.002 / 3.0, 0.5 * at_median(1.0));
    assert!(
        share(&bag(90_000), two) < 0.01 * 0.002 / 3.0 * at_median(1.0),
        "B is not planned"
    );
}

#[test]
fn cakes_without_a_record_here() {
    let next = [(1, cuff())];
    // As many of 1 g as of 160, of each size.
    let cake = |net: i32| 1.0 / (f64::from(net) * 160.0_f64.ln());
    let unknown = |meaning: &Meaning| *meaning == Meaning::UnknownCake;
    let of = |net: i32| only_a(90_000 - net, &next);
    for net in [1_001, 30_000, 159_990] {
        is(&of(net), unknown, 0.005, cake(net));
    }
    is_none(&of(999), unknown);
    is_none(&of(160_100), unknown);
    // A yarn of the plan that was not weighed: twice as often as a known one is taken by mistake. The planned one is none of them.
    let mut fresh = of(30_000);
    fresh.fresh = [A, B, C].into_iter().collect();
    is(
        &fresh,
        |meaning| *meaning == Meaning::FirstWeight(B),
        2.0 * 0.005,
        cake(30_000),
    );
    is_none(&fresh, |meaning| matches!(meaning, Meaning::FirstWeight(A | C)));
    // Of another pair.
    let elsewhere = Elsewhere {
        pair: 2,
        yarn: B,
        likely: 1e-3,
        as_last: 2e-3,
    };
    let mut of_other = of(30_000);
    let _ = of_other.elsewhere.push(elsewhere);
    is(
        &of_other,
        |meaning| matches!(meaning, Meaning::OtherPair { .. }),
        0.01,
        1e-3,
    );
    is_none(&of_other, |meaning| matches!(meaning, Meaning::GoesOn { .. }));
    // The planned yarn's first weight, from 0.2 g to 1.2 kg, or another pair's yarn that goes on here as it was.
    let first = |net: i32| {
        let mut first = of(net);
        first.cakes.clear();
        let _ = first.elsewhere.push(elsewhere);
        first
    };
    let is_first = |meaning: &Meaning| *meaning == Meaning::FirstWeight(A);
    for net in [201, 30_000, 1_199_900] {
        is(&first(net), is_first, 0.96, 1.0 / (f64::from(net) * 6_000.0_f64.ln()));
    }
    is_none(&first(199), is_first);
    is_none(&first(1_200_200), is_first);
    is(
        &first(30_000),
        |meaning| matches!(meaning, Meaning::GoesOn { .. }),
        0.02,
        2e-3,
    );
}

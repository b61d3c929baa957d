//! The likelihoods behind what a press can mean: they are distributions, they learn, and together they are everything.

use proptest::prelude::*;
use yarn_scale_core::measured::Measured;
use yarn_scale_core::recognise::{
    Amount, BowlOn, Cake, Elsewhere, Habits, MEANINGS, MOST_BOWLS, Meaning, NOTED_AT_ODDS, Next, Situation, consider,
};
use yarn_scale_core::sock::{BowlNumber, SectionKind, YarnLetter};
use yarn_scale_core::units::Milligrams;

fn measured(mg: i32) -> Measured {
    Measured {
        value: Milligrams(mg),
        u: 20.0,
    }
}

fn as_other_sock(mg: i32) -> Amount {
    Amount::as_other_sock(Milligrams(mg), 20.0, Habits::default()).expect("more than nothing")
}

fn amounts() -> Vec<Amount> {
    vec![
        as_other_sock(5_000),
        Amount::by_history(7_000.0, 700.0, 4).expect("something"),
        Amount::by_estimate(Milligrams(15_000)).expect("something"),
        Amount::usual(SectionKind::Leg),
    ]
}

/// By the midpoint rule over logarithms, from a thousandth of the median to a thousand times.
fn integral(amount: &Amount, of: impl Fn(f32) -> f32) -> f64 {
    let step = 0.001_f64;
    let part = |place: i32| {
        let used = f64::from(amount.expected) * (f64::from(place) * step).exp();
        f64::from(of(used as f32)) * used * step
    };
    (-6_900..6_900).map(part).sum()
}

/// The integral of a density is one. What is pressed too early is a part of the median, and the mean lies above it: up to a fifth more.
#[test]
fn densities_are_distributions() {
    for amount in amounts() {
        let finished = integral(&amount, |used| amount.density(used, 0.0));
        assert!((finished - 1.0).abs() < 0.01, "{finished} for {amount:?}");
        let too_early = integral(&amount, |used| amount.unfinished(used));
        assert!((0.99..1.2).contains(&too_early), "{too_early} for {amount:?}");
    }
}

/// Of a normal distribution 68.27 % lie within one standard deviation (any table of it).
#[test]
fn an_even_knitters_socks_differ_by_five_percent() {
    let mut habits = Habits::default();
    for pair in 0..40 {
        habits.learn(10_000, 10_000 + 40 * (pair % 20 - 10));
    }
    assert!(habits.weights()[0] > 0.9, "{habits:?}");
    let amount = Amount::as_other_sock(Milligrams(10_000), 0.0, habits).expect("more than nothing");
    let within: f64 = (-500..500)
        .map(|place| {
            let used = 10_000.0 * (0.0001 * f64::from(place)).exp();
            f64::from(amount.density(used as f32, 0.0)) * used * 0.0001
        })
        .sum();
    assert!(
        (within - 0.6827 * f64::from(habits.weights()[0])).abs() < 0.04,
        "{within}"
    );
}

#[test]
fn a_loose_knitter_is_asked_less() {
    let mut habits = Habits::default();
    for pair in 0..8 {
        habits.learn(10_000, if pair % 2 == 0 { 13_000 } else { 7_500 });
    }
    assert!(habits.weights()[2] > 0.8, "{habits:?}");
    assert!((habits.weights().iter().sum::<f32>() - 1.0).abs() < 1e-4);
}

fn situation(net: i32, took: i32) -> Situation {
    let cake = |(place, yarn): (usize, YarnLetter)| Cake {
        yarn,
        last: measured(90_000 - 9_000 * place as i32),
        used: Measured {
            value: Milligrams(90_000 - 9_000 * place as i32 - net),
            u: 42.0,
        },
        next: [1, 5, 9]
            .into_iter()
            .map(|line| Next {
                line,
                amount: as_other_sock(took),
            })
            .collect(),
        before: Some(5_000.0),
    };
    Situation {
        net: measured(net),
        planned: YarnLetter::A,
        cakes: YarnLetter::ALL.into_iter().enumerate().map(cake).collect(),
        fresh: heapless::Vec::new(),
        bowls: (0..MOST_BOWLS)
            .map(|number| BowlOn {
                bowl: Some(BowlNumber(number as u8)),
                used: measured(90_000 - net + 10_000 * number as i32),
            })
            .collect(),
        elsewhere: heapless::Vec::new(),
        late: None,
        visits: 0,
    }
}

#[test]
fn a_section_as_on_the_other_sock_is_certain_and_an_odd_one_is_not() {
    let alone = |net| {
        let mut one = situation(net, 5_000);
        one.cakes.truncate(1);
        one.bowls.clear();
        one
    };
    let certain = |situation: &Situation| situation.certain(&consider(situation));
    let used = Milligrams(5_100);
    let yarn = YarnLetter::A;
    assert_eq!(certain(&alone(84_900)), Some(Meaning::Section { line: 1, yarn, used }));
    for net in [90_000, 89_700, 88_300, 80_000, 95_000, 180_000, 12_000] {
        assert_eq!(certain(&alone(net)), None, "{net}");
    }
}

/// A of 90 g, whose sections take 5 g as on the other sock, at lines 1, 5 and 9; and B of 60 g where `two`.
fn bag(net: i32, two: bool) -> Situation {
    let mut bag = situation(net, 5_000);
    bag.cakes.truncate(if two { 2 } else { 1 });
    bag.bowls.clear();
    if let Some(b) = bag.cakes.get_mut(1) {
        (b.last, b.used) = (measured(60_000), measured(60_000 - net));
    }
    bag
}

fn likeliest(situation: &Situation) -> Meaning {
    consider(situation)[0].meaning
}

/// Where a thing is so and nothing else explains it as well, it stands first: no meaning can be left out unnoticed.
#[test]
fn each_meaning_stands_first_where_it_is_so() {
    let [a, b] = [YarnLetter::A, YarnLetter::B];
    assert_eq!(likeliest(&bag(90_000, false)), Meaning::Untouched(a));
    assert_eq!(likeliest(&bag(88_300, false)), Meaning::Early);
    assert_eq!(likeliest(&bag(93_000, false)), Meaning::RippedBack(a));
    let mut never_knitted = bag(93_000, false);
    never_knitted.cakes[0].before = None;
    assert_eq!(likeliest(&never_knitted), Meaning::Disturbed);
    assert_eq!(likeliest(&bag(103_000, false)), Meaning::Damp);
    assert_eq!(likeliest(&bag(180_000, false)), Meaning::UnknownBowl);
    assert_eq!(likeliest(&bag(30_000, false)), Meaning::UnknownCake);
    assert_eq!(likeliest(&bag(495_000, false)), Meaning::Anything);
    let forgotten = likeliest(&bag(80_000, false));
    assert!(
        matches!(
            forgotten,
            Meaning::Forgotten {
                line: 5,
                seen: false,
                ..
            }
        ),
        "{forgotten:?}"
    );
    let mut other_bowl = bag(60_000, false);
    let used = measured(5_000);
    let _ = other_bowl.bowls.push(BowlOn { bowl: None, used });
    assert!(matches!(likeliest(&other_bowl), Meaning::OtherBowl { bowl: None, .. }));
    let mut left_out = bag(81_000, false);
    left_out.cakes[0].next.remove(2);
    (left_out.cakes[0].next[0].line, left_out.cakes[0].next[1].line) = (5, 1);
    left_out.cakes[0].next[1].amount = as_other_sock(9_000);
    assert!(matches!(likeliest(&left_out), Meaning::Section { line: 1, .. }));
    let mut fresh = bag(30_000, false);
    let _ = fresh.fresh.push(b);
    assert_eq!(likeliest(&fresh), Meaning::FirstWeight(b));
    // Another yarn of the pair: untouched, ripped back, its section finished, or both at once.
    assert_eq!(likeliest(&bag(60_000, true)), Meaning::Untouched(b));
    assert_eq!(likeliest(&bag(63_000, true)), Meaning::RippedBack(b));
    assert!(matches!(likeliest(&bag(55_000, true)), Meaning::Section { yarn, .. } if yarn == b));
    assert_eq!(likeliest(&bag(150_000, true)), Meaning::TwoCakes);
    // A yarn of another pair, and the first weight of one here.
    let elsewhere = Elsewhere {
        pair: 2,
        yarn: b,
        likely: 1e-3,
        as_last: 1e-3,
    };
    let mut others = bag(30_000, false);
    let _ = others.elsewhere.push(elsewhere);
    assert_eq!(likeliest(&others), Meaning::OtherPair { pair: 2, yarn: b });
    others.cakes.clear();
    assert_eq!(likeliest(&others), Meaning::GoesOn { pair: 2, yarn: b });
    others.elsewhere.clear();
    assert_eq!(likeliest(&others), Meaning::FirstWeight(a));
}

proptest! {
    #[test]
    fn shares_add_up_and_the_likeliest_stands_first(net in 100..500_000_i32, took in 100..40_000_i32) {
        let situation = situation(net, took);
        let considered = consider(&situation);
        prop_assert!(considered.len() <= MEANINGS);
        let sum: f32 = considered.iter().map(|considered| considered.share).sum();
        prop_assert!((sum - 1.0).abs() < 1e-3, "{}", sum);
        prop_assert!(considered.iter().all(|considered| considered.share.is_finite() && considered.share >= 0.0));
        prop_assert!(considered.is_sorted_by(|one, two| one.share >= two.share));
        if let Some(meaning) = situation.certain(&considered) {
            let is_next = matches!(meaning, Meaning::Section { yarn: YarnLetter::A, line: 1, .. });
            prop_assert!(is_next);
            prop_assert!(considered[0].share >= NOTED_AT_ODDS / (1.0 + NOTED_AT_ODDS) - 1e-3);
        }
    }
}

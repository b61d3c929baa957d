//! What a section takes, as a distribution: by what it is known, how surely, and what other sections and pairs say of it.

use yarn_scale_core::recognise::{Amount, Habits, PairSize, Source};
use yarn_scale_core::sock::SectionKind;
use yarn_scale_core::units::Milligrams;

/// A cuff of 12 g that is known to 1.2 g says 10 % less of the other than one that is known exactly: 5 and 10 % together are 11.2.
#[test]
fn a_section_that_is_known_badly_says_less_of_the_other() {
    let odds = |u| {
        let amount = Amount::as_other_sock(Milligrams(12_000), u, Habits::default()).expect("something");
        amount.density(12_000.0, 0.0)
    };
    let [exactly, badly] = [odds(0.0), odds(1_200.0)];
    // By hand, of the three kinds of knitters: (0.6/0.112 + 0.3/0.156 + 0.1/0.269) / (0.6/0.05 + 0.3/0.12 + 0.1/0.25) = 0.514.
    assert!((badly / exactly - 0.514).abs() < 0.005, "{}", badly / exactly);
    assert_eq!(Amount::as_other_sock(Milligrams(0), 20.0, Habits::default()), None);
}

/// Two sections together: amounts add up; what is chance evens out; what is known of both is as bad as the worse.
#[test]
fn two_sections_together() {
    let [cuff, leg] = [SectionKind::Cuff, SectionKind::Leg].map(Amount::usual);
    let twin = Amount::as_other_sock(Milligrams(5_000), 20.0, Habits::default()).expect("something");
    assert_eq!([cuff.plus(twin).source, twin.plus(cuff).source], [Source::Usual; 2]);
    let both = cuff.plus(leg);
    assert!((both.expected - 20_000.0).abs() < 0.1);
    // Of 25 %, a quarter and three quarters: sqrt(0.0625² + 0.1875²) = 0.198, by hand. The same of all parts: the peak is 1 / 0.791 as high.
    let peak = |amount: Amount| amount.density(amount.expected, 0.0) * amount.expected;
    assert!(
        (peak(both) / peak(leg) - 1.0 / 0.791).abs() < 0.002,
        "{}",
        peak(both) / peak(leg)
    );
}

/// Of earlier pairs: never surer than 8 %, and the fewer there are, the less their spread is believed.
#[test]
fn few_pairs_are_believed_less() {
    let at = |pairs, factor: f32| {
        let amount = Amount::by_history(10_000.0, 1_000.0, pairs).expect("something");
        amount.density(10_000.0 * factor, 0.0)
    };
    assert!(at(1, 1.5) > 2.0 * at(4, 1.5), "{} {}", at(1, 1.5), at(4, 1.5));
    assert!(at(4, 1.5) > 1.2 * at(20, 1.5), "{} {}", at(4, 1.5), at(20, 1.5));
    // Half as far away as ten percent, most of it lies: 0.7 of a normal distribution of 10 % has 0.7 / 0.1 / sqrt(2 pi) at its top.
    let top = at(20, 1.0) * 10_000.0;
    assert!((2.8..4.0).contains(&top), "{top}");
    let [exactly, least] = [0.0, 800.0].map(|deviation| Amount::by_history(10_000.0, deviation, 4));
    assert_eq!(exactly, least);
    assert_eq!(Amount::by_history(0.5, 0.0, 4), None);
    assert_eq!(Amount::by_estimate(Milligrams(0)), None);
}

/// Who is neither even nor loose by any of her pairs is still somebody; one pair that fits no kind, or says nothing, excludes none.
#[test]
fn no_kind_of_knitter_is_excluded() {
    let learned = |pairs: &[[i32; 2]]| {
        let mut habits = Habits::default();
        pairs.iter().for_each(|&[first, second]| habits.learn(first, second));
        habits.weights()
    };
    assert_eq!(
        learned(&[[0, 9_000], [9_000, 0], [9_000, -5]]),
        Habits::default().weights()
    );
    let even = learned(&[[10_000, 10_000]; 40]);
    assert!(even.iter().all(|weight| *weight >= 0.02), "{even:?}");
    // By a factor of e to the tenth.
    let odd = learned(&[[10_000, 220_000_000]]);
    assert!(odd.iter().all(|weight| (weight - 1.0 / 3.0).abs() < 0.01), "{odd:?}");
    // Six of ten are even, three usual and one loose, as long as nothing is known.
    assert_eq!(learned(&[]), [0.60, 0.30, 0.10]);
}

/// By hand: over all parts, the weight over the spread, over the square root of two pi. Grams are common practice, no source.
#[test]
fn what_sections_usually_take_and_how_surely() {
    let grams = |kind| Amount::usual(kind).expected / 1_000.0;
    assert_eq!([SectionKind::Cuff, SectionKind::Toe].map(grams), [5.0; 2]);
    assert_eq!(
        [SectionKind::Leg, SectionKind::Foot, SectionKind::Part1].map(grams),
        [15.0; 3]
    );
    assert_eq!([SectionKind::Heel, SectionKind::Gusset].map(grams), [7.0, 4.0]);
    let top = |amount: Amount, u: f32| amount.density(amount.expected, u) * amount.expected / 0.398_942;
    let near = |one: f32, other: f32| assert!((one / other - 1.0).abs() < 0.005, "{one} {other}");
    near(
        top(Amount::usual(SectionKind::Leg), 0.0),
        0.75 / 0.25 + 0.20 / 0.45 + 0.05 / 0.80,
    );
    near(
        top(Amount::usual(SectionKind::Part1), 0.0),
        0.50 / 0.60 + 0.30 / 1.00 + 0.20 / 2.00,
    );
    let estimate = Amount::by_estimate(Milligrams(15_000)).expect("something");
    near(top(estimate, 0.0), 0.40 / 0.25 + 0.40 / 0.45 + 0.20 / 0.80);
    // Known to a quarter of itself: a spread of a quarter becomes sqrt(2) of that, and so on.
    near(
        top(Amount::usual(SectionKind::Leg), 3_750.0),
        0.75 / 0.353_6 + 0.20 / 0.514_8 + 0.05 / 0.838_2,
    );
}

/// By hand: ln 1.6 = 0.470, of two sections. Both as usual: the narrower, by its inverse square. One more and one less: taste, 0.866
/// over the square of the spread. Both more: size, which varies with half of that, 0.297. Half the sum goes into the exponent.
#[test]
fn sections_say_which_spread_this_knitter_has() {
    let odds = |factors: [f32; 2]| {
        let mut size = PairSize::default();
        factors.iter().for_each(|factor| size.learn(5_000.0 * factor, 5_000.0));
        size.fits(0.25) / size.fits(0.80)
    };
    let near = |one: f32, other: f32| assert!((one / other - 1.0).abs() < 0.02, "{one} {other}");
    near(odds([1.0, 1.0]), 10.24);
    let more = 1.0 / (0.25 * 0.25) - 1.0 / (0.80 * 0.80);
    near(odds([1.6, 1.0 / 1.6]), 10.24 * (-0.5_f32 * 0.866 * more).exp());
    near(odds([1.6, 1.6]), 10.24 * (-0.5_f32 * 0.297 * more).exp());
    // And that is taken: behind two odd sections a third is not odd any more.
    let far = |amount: Amount| amount.density(3.0 * amount.expected, 0.0) / amount.density(amount.expected, 0.0);
    let mut odd = PairSize::default();
    [3.0, 1.0 / 3.0]
        .iter()
        .for_each(|factor| odd.learn(5_000.0 * factor, 5_000.0));
    let heel = Amount::usual(SectionKind::Heel);
    assert!(
        far(heel.in_pair(&odd)) > 5.0 * far(heel),
        "{} {}",
        far(heel.in_pair(&odd)),
        far(heel)
    );
}

//! What sections will take and whether a yarn does: against hand calculation, handbooks and the trade's own figures.

use yarn_scale_core::forecast::{Prediction, Reserve, Rule, Socks, Source, Wanted, Word, answer, student_quantile};
use yarn_scale_core::measured::Measured;
use yarn_scale_core::sock::{History, Size};
use yarn_scale_core::units::Milligrams;
use yarn_scale_tests::sections::{CUFF, CUFFS, FOOT, HEEL, SIZE, TOE, ask, grams, history, history_to, wanted};

fn mean_and_variance(values: &[f32]) -> (f32, f32) {
    let mean = values.iter().sum::<f32>() / values.len() as f32;
    let squares: f32 = values.iter().map(|value| (value - mean).powi(2)).sum();
    (mean, squares / (values.len() - 1) as f32)
}

/// The mean of values, and how far above it the next one stays with 95 %: the prediction interval for one future observation (G. J. Hahn,
/// W. Q. Meeker, Statistical Intervals), with Student's t from the printed table.
fn for_next(values: &[f32]) -> (f32, f32) {
    assert_eq!(values.len(), 4);
    let (mean, variance) = mean_and_variance(values);
    (mean, 2.353_36 * (variance * (1.0 + 1.0 / 4.0)).sqrt())
}

/// Common practice, no source: 4 g cuffs, so 8 g for the pair; a 10 g leftover is the comfortable choice, 8 g is not.
#[test]
fn ten_grams_do_for_two_cuffs_of_four_and_eight_do_not() {
    let estimated = [wanted(CUFF, Socks::Both).with_estimate(Milligrams::from_grams(4))];
    let both = ask(10.0, &estimated, &History::default());
    assert_eq!(
        (both.word, both.spare(), both.expected),
        (Word::Enough, Milligrams(0), Milligrams::from_grams(8))
    );
    assert_eq!(both.basis.source, Source::Estimate);
    assert_eq!(both.basis.reserve, Reserve::Quarter { pairs: u8::MAX });
    assert_eq!(ask(8.0, &estimated, &History::default()).word, Word::Close);
    assert_eq!(ask(7.9, &estimated, &History::default()).word, Word::Short);

    let recorded = history(&[(CUFF, &CUFFS)]);
    let both = ask(10.0, &estimated, &recorded);
    assert_eq!(both.word, Word::Enough);
    assert_eq!(
        (both.basis.source, both.basis.reserve),
        (Source::Records, Reserve::Spread { pairs: 4 })
    );
    assert!(
        (both.expected - Milligrams::from_grams(8)).abs() <= Milligrams(150 + 1),
        "{both:?}"
    );
    assert_ne!(ask(8.0, &estimated, &recorded).word, Word::Enough);
}

#[test]
fn interval_for_both_socks_is_the_handbook_formula_on_pair_sums() {
    let sums = CUFFS.map(|[first, second]| 1_000.0 * (first + second));
    let (mean, reserve) = for_next(&sums);
    let by_hand = mean + reserve;
    let prediction = history_to(0.0, &[(CUFF, &CUFFS)])
        .predict([wanted(CUFF, Socks::Both)].iter())
        .unwrap();
    assert!(
        (prediction.expected + prediction.reserve(0.95) - by_hand).abs() < 0.5,
        "{prediction:?}, {by_hand}"
    );
    assert_eq!(
        (prediction.pairs, prediction.freedom, prediction.scaled),
        (4, 3.0, false)
    );
}

#[test]
fn one_sock_adds_half_the_variance_between_socks() {
    let prediction = history_to(0.0, &[(CUFF, &CUFFS)])
        .predict([wanted(CUFF, Socks::One)].iter())
        .unwrap();
    let means = CUFFS.map(|[first, second]| 500.0 * (first + second));
    let within: f32 = CUFFS
        .iter()
        .map(|[first, second]| (1_000.0 * (first - second)).powi(2) / 2.0)
        .sum::<f32>()
        / 4.0;
    let (between, within) = (mean_and_variance(&means).1 * 1.25, 0.5 * within);
    assert!((prediction.variance / (between + within) - 1.0).abs() < 1e-3);
    let freedom = (between + within).powi(2) / (between * between / 3.0 + within * within / 4.0);
    assert!(
        (prediction.freedom / freedom - 1.0).abs() < 1e-3,
        "{} {freedom}",
        prediction.freedom
    );
}

#[test]
fn correlated_sections_need_more_than_independent_ones_would() {
    // Tight and slack pairs: all sections of a pair go together.
    let slack = [[3.0, 3.0], [3.6, 3.6], [3.2, 3.2], [3.4, 3.4]];
    let together = history(&[(CUFF, &slack), (TOE, &slack)]);
    // The same uses in another order: what one section takes more, the other takes less.
    let crossed = history(&[(CUFF, &slack), (TOE, &[[3.6, 3.6], [3.0, 3.0], [3.4, 3.4], [3.2, 3.2]])]);
    let both = [wanted(CUFF, Socks::Both), wanted(TOE, Socks::Both)];
    let together = ask(20.0, &both, &together);
    let crossed = ask(20.0, &both, &crossed);
    assert_eq!(together.expected, crossed.expected);
    assert!(
        together.need > crossed.need + Milligrams::from_grams(2),
        "{together:?} {crossed:?}"
    );
}

#[test]
fn single_records_are_exact_for_one_sock_and_safe_for_both() {
    let singles = history_to(0.0, &[(TOE, &[[2.4, 0.0], [2.6, 0.0], [2.5, 0.0], [2.7, 0.0]])]);
    let (_, reserve) = for_next(&[2_400.0, 2_600.0, 2_500.0, 2_700.0]);
    let one = singles.predict([wanted(TOE, Socks::One)].iter()).unwrap();
    assert!((one.reserve(0.95) / reserve - 1.0).abs() < 1e-4);
    // Nothing tells apart what the pair and what the sock contributes: both socks may go together.
    let both = singles.predict([wanted(TOE, Socks::Both)].iter()).unwrap();
    assert!((both.reserve(0.95) / (2.0 * reserve) - 1.0).abs() < 1e-4);
}

#[test]
fn sock_two_follows_sock_one_by_the_differences_of_past_socks() {
    let past = history(&[(HEEL, &[[5.0, 5.2], [5.1, 5.0], [4.8, 5.1], [5.0, 5.0]])]);
    let second = [wanted(HEEL, Socks::One).like_first(grams(6.0))];
    let found = ask(8.0, &second, &past);
    let mean_square: f32 = (200.0_f32.powi(2) + 100.0_f32.powi(2) + 300.0_f32.powi(2)) / 4.0;
    // What sock 2 truly takes varies less than its records by their own uncertainty; the leftover's reading comes to it.
    let reserve = student_quantile(0.95, 4.0) * (mean_square - 15.0 * 15.0 + 15.0 * 15.0).sqrt();
    let ends = SIZE.yarn.mass_of(300).0 as f32;
    assert!(
        (found.need.0 as f32 - (6_000.0 + reserve + ends)).abs() < 15.0,
        "{found:?}, {reserve}"
    );
    assert_eq!(
        (found.basis.source, found.basis.reserve),
        (Source::FirstSock, Reserve::Spread { pairs: 4 })
    );
    // With fewer than three past pairs: a quarter over sock 1.
    let few = history(&[(HEEL, &[[5.0, 5.2], [5.1, 5.0]])]);
    let found = ask(8.0, &second, &few);
    let no_records = Reserve::Quarter { pairs: u8::MAX };
    assert_eq!((found.need, found.basis.reserve), (Milligrams(7_500), no_records));
    assert_eq!(found.basis.source, Source::FirstSock);
}

#[test]
fn fewer_than_three_pairs_give_a_quarter_over_their_mean() {
    let few = history(&[(TOE, &[[2.0, 2.2], [2.4, 2.2]])]);
    let found = ask(
        5.0,
        &[wanted(TOE, Socks::Both).with_estimate(Milligrams::from_grams(9))],
        &few,
    );
    assert_eq!((found.expected, found.need), (Milligrams(4_400), Milligrams(5_500)));
    assert_eq!(
        (found.basis.source, found.basis.reserve),
        (Source::Records, Reserve::Quarter { pairs: 2 })
    );
    assert_eq!((found.word, found.spare()), (Word::Close, Milligrams(-500)));
}

/// A toe knitted twice and a cuff knitted once, together: one pair tells of both. An estimate beside them takes nothing from that.
#[test]
fn the_fewest_records_are_the_ones_that_are_told() {
    let few = history(&[(TOE, &[[2.0, 2.2], [2.4, 2.2]]), (CUFF, &[[4.0, 4.1]])]);
    let toe = wanted(TOE, Socks::Both);
    let cuff = wanted(CUFF, Socks::Both);
    let heel = wanted(HEEL, Socks::Both).with_estimate(Milligrams::from_grams(5));
    for (sections, pairs) in [
        (&[toe][..], 2),
        (&[cuff], 1),
        (&[toe, cuff], 1),
        (&[cuff, toe], 1),
        (&[heel, toe], 2),
        (&[toe, heel], 2),
    ] {
        let found = ask(30.0, sections, &few);
        assert_eq!(found.basis.reserve, Reserve::Quarter { pairs }, "{sections:?}");
    }
}

#[test]
fn three_equal_records_are_not_certain() {
    let equal = history(&[(TOE, &[[2.4, 2.4], [2.4, 2.4], [2.4, 2.4]])]);
    let found = ask(5.0, &[wanted(TOE, Socks::Both)], &equal);
    // Two sections at 15 mg each, three pairs, and the leftover's own reading: some 54 mg, and 143 mg of ends.
    let reserve = found.need - found.expected;
    assert!((45..70).contains(&reserve.0), "{reserve:?}");
    assert_eq!(found.expected, Milligrams(4_800) + SIZE.yarn.mass_of(600));
}

/// JCGM 100:2008, H.1.6: the four components of the end gauge and their degrees of freedom give 32 nm and 16.7 degrees of
/// freedom, hence 93 nm at 99 %.
#[test]
fn degrees_of_freedom_combine_as_in_the_guide() {
    let components = [(25.0, 18.0), (9.7, 25.6), (2.9, 50.0), (16.6, 2.0)];
    let sum = components.map(|(u, freedom): (f32, f32)| Prediction {
        variance: u * u,
        freedom,
        ..Prediction::NOTHING
    });
    // All at once, since the formula is applied to the components and not to sums of them.
    let variance: f32 = sum.iter().map(|one| one.variance).sum();
    let pairwise = sum.into_iter().fold(Prediction::NOTHING, Prediction::plus);
    assert!((variance.sqrt() - 31.7).abs() < 0.05);
    assert!((pairwise.variance - variance).abs() < 0.1);
    assert!((pairwise.freedom - 16.76).abs() < 0.05, "{}", pairwise.freedom);
    let expanded = student_quantile(0.995, 16.0) * variance.sqrt();
    assert!((expanded - 92.5).abs() < 0.1, "{expanded}");
}

#[test]
fn what_is_begun_is_not_needed_again() {
    let past = history(&[
        (FOOT, &[[14.0, 14.2], [15.0, 14.8], [14.4, 14.6]]),
        (TOE, &[[2.4, 2.4], [2.5, 2.5], [2.6, 2.5]]),
    ]);
    let rest = |begun: i32| {
        let foot = Wanted {
            begun: Milligrams(begun),
            ..wanted(FOOT, Socks::One).like_first(grams(14.5))
        };
        ask(20.0, &[foot, wanted(TOE, Socks::One)], &past)
    };
    assert_eq!(rest(0).expected - rest(9_000).expected, Milligrams(9_000));
    // More than the whole foot: the toe is still to come.
    assert_eq!(rest(0).expected - rest(16_000).expected, Milligrams(14_500));
}

#[test]
fn mixed_sets_vary_by_what_is_wanted_on_one_sock() {
    let heels = [[5.0, 5.4], [5.6, 5.0], [4.9, 5.1], [5.2, 5.0]];
    let past = history_to(0.0, &[(CUFF, &CUFFS), (HEEL, &heels)]);
    let found = past
        .predict([wanted(CUFF, Socks::Both), wanted(HEEL, Socks::One)].iter())
        .unwrap();
    let sums: Vec<f32> = CUFFS
        .iter()
        .zip(heels)
        .map(|(cuff, heel)| 1_000.0 * (cuff[0] + cuff[1] + 0.5 * (heel[0] + heel[1])))
        .collect();
    // Between the socks only the heels count: of the cuffs both are wanted.
    let within: f32 = heels
        .iter()
        .map(|[first, second]| (1_000.0 * (first - second)).powi(2) / 2.0)
        .sum::<f32>()
        / 4.0;
    let by_hand = mean_and_variance(&sums).1 * 1.25 + 0.5 * within;
    assert!(
        (found.variance / by_hand - 1.0).abs() < 1e-3,
        "{} {by_hand}",
        found.variance
    );
}

#[test]
fn equal_socks_in_the_past_are_no_certainty_for_the_second() {
    let past = history(&[(HEEL, &[[5.0, 5.0], [5.1, 5.1], [4.8, 4.8]])]);
    let second = past.predict_second([wanted(HEEL, Socks::One).like_first(grams(6.0))].iter());
    // Two weighings of 15 mg.
    assert!((second.variance - 2.0 * 15.0 * 15.0).abs() < 1e-3, "{second:?}");
}

#[test]
fn vague_reading_of_what_is_left_needs_more() {
    let past = history(&[(CUFF, &CUFFS)]);
    let need = |u| {
        let left = Measured {
            value: Milligrams(10_000),
            u,
        };
        answer(left, &[wanted(CUFF, Socks::Both)], &past, Rule::default())
            .unwrap()
            .need
    };
    assert!(
        need(500.0) > need(15.0) + Milligrams(300),
        "{:?} {:?}",
        need(500.0),
        need(15.0)
    );
}

#[test]
fn ends_of_all_sections_are_kept() {
    let past = history(&[
        (CUFF, &CUFFS),
        (HEEL, &[[5.0, 5.4], [5.6, 5.0], [4.9, 5.1], [5.2, 5.0]]),
    ]);
    let both = [wanted(CUFF, Socks::Both), wanted(HEEL, Socks::One)];
    let expected = |end_mm| {
        let rule = Rule {
            end_mm,
            ..Rule::default()
        };
        answer(grams(30.0), &both, &past, rule).unwrap().expected
    };
    // Two ends of each of three sections.
    assert_eq!(
        expected(150) - expected(0),
        SIZE.yarn.mass_of(4 * 150) + SIZE.yarn.mass_of(2 * 150)
    );
}

#[test]
fn section_begun_beyond_its_expectation_leaves_the_others_whole() {
    let past = history(&[
        (HEEL, &[[5.0, 5.4], [5.6, 5.0], [4.9, 5.1]]),
        (FOOT, &[[14.0, 14.2], [14.4, 14.1], [14.1, 14.3]]),
    ]);
    let expected = |begun| {
        let heel = wanted(HEEL, Socks::One).like_first(grams(5.0));
        let heel = Wanted {
            begun: Milligrams(begun),
            ..heel
        };
        ask(30.0, &[heel, wanted(FOOT, Socks::One).like_first(grams(14.0))], &past).expected
    };
    assert_eq!(expected(0) - expected(3_000), Milligrams(3_000));
    assert_eq!(expected(0) - expected(7_000), Milligrams(5_000));
}

#[test]
fn page_is_told_that_a_record_was_scaled() {
    let past = history(&[(CUFF, &CUFFS), (HEEL, &[[5.0, 5.4], [5.6, 5.0], [4.9, 5.1]])]);
    let other = Size { stitches: 72, ..SIZE };
    let scaled = |section| ask(30.0, &[section], &past).basis.scaled;
    assert!(!scaled(wanted(CUFF, Socks::Both)));
    assert!(scaled(Wanted {
        size: other,
        ..wanted(CUFF, Socks::Both)
    }));
    assert!(scaled(Wanted {
        size: other,
        ..wanted(HEEL, Socks::One).like_first(grams(5.0))
    }));
}

/// Records spread by what was knitted and by how it was weighed; what is knitted next, by the first alone.
#[test]
fn weighing_is_taken_out_of_the_spread() {
    let toes: &[[f32; 2]] = &[[2.4, 2.6], [2.7, 2.5], [2.3, 2.2], [2.6, 2.7]];
    let variance = |u, socks| {
        history_to(u, &[(TOE, toes)])
            .predict([wanted(TOE, socks)].iter())
            .unwrap()
            .variance
    };
    let near = |one: f32, other: f32| (one / other - 1.0).abs() < 1e-3;
    // Both socks: two weighings of 50 mg; one sock: one.
    assert!(near(
        variance(0.0, Socks::Both) - variance(50.0, Socks::Both),
        2.0 * 2_500.0
    ));
    assert!(near(variance(0.0, Socks::One) - variance(50.0, Socks::One), 2_500.0));
    let second =
        |u| history_to(u, &[(TOE, toes)]).predict_second([wanted(TOE, Socks::One).like_first(grams(2.5))].iter());
    assert!(near(second(0.0).variance - second(50.0).variance, 2_500.0));
    // An uncertainty that was stated too large takes a quarter out at most.
    assert!(near(variance(160.0, Socks::Both), 0.75 * variance(0.0, Socks::Both)));
}

//! Does "enough" keep its promise? Ten thousand simulated knitters with their own spreads.

use yarn_scale_core::forecast::Rule;
use yarn_scale_sim::lab::knitters::{Deviations, Line, Question, measure};

const KNITTERS: u32 = 10_000;

fn from_three_pairs_on(knitters: u32, deviations: Deviations) -> Vec<Line> {
    let lines = measure(knitters, 7, deviations, Rule::default());
    let lines: Vec<_> = lines.into_iter().filter(|line| line.pairs >= 3).collect();
    assert_eq!(lines.len(), 9 * Question::ALL.len());
    lines
}

#[test]
fn enough_is_wrong_in_five_percent_from_three_pairs_on() {
    for line in from_three_pairs_on(KNITTERS, Deviations::Normal) {
        let [scale, quarter, mean] = line.tallies;
        let what = format!("{}, {} pairs", line.question.words(), line.pairs);
        assert_eq!(scale.asked, KNITTERS);
        let wrong = scale.wrong_percent();
        assert!((4.0..=6.0).contains(&wrong), "{what}: {wrong}");
        // The rules of thumb on the same draw: one asks for much more than it needs, the other is a coin toss.
        assert!(
            quarter.wrong_percent() < 1.0,
            "{what}: quarter {}",
            quarter.wrong_percent()
        );
        assert!(
            scale.reserve_percent() + 3.0 < quarter.reserve_percent(),
            "{what}: reserve {}",
            scale.reserve_percent()
        );
        assert!(
            (45.0..55.0).contains(&mean.wrong_percent()),
            "{what}: mean {}",
            mean.wrong_percent()
        );
    }
}

#[test]
fn skewed_and_heavy_tailed_knitters_break_the_promise_little() {
    for deviations in [Deviations::Skewed, Deviations::Heavy] {
        for line in from_three_pairs_on(KNITTERS / 4, deviations) {
            let wrong = line.tallies[0].wrong_percent();
            assert!(
                (3.5..=7.0).contains(&wrong),
                "{deviations:?}, {}, {} pairs: {wrong}",
                line.question.words(),
                line.pairs
            );
        }
    }
}

#[test]
fn other_confidences_are_kept_too() {
    for (confidence, promised) in [(0.8, 20.0), (0.9, 10.0), (0.99, 1.0)] {
        let rule = Rule {
            confidence,
            ..Rule::default()
        };
        for line in measure(KNITTERS / 4, 8, Deviations::Normal, rule) {
            let wrong = line.tallies[0].wrong_percent();
            let tolerance = 0.8 + 0.12 * promised;
            assert!(
                line.pairs < 3 || (wrong - promised).abs() < tolerance,
                "{confidence}: {wrong}, {line:?}"
            );
        }
    }
}

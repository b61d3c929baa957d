//! The vote of the trees against a plain reading of their tables: every tree asked its four questions, every leaf added up. The core packs
//! them, sorts them and stops as soon as the rest cannot change the outcome.

use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64;
use yarn_scale_core::converter::SampleRate;
use yarn_scale_core::signal::features::{COUNT, Features};
use yarn_scale_core::signal::steadiness::{DEPTH, reaches};

struct Tree {
    feature: Vec<i32>,
    threshold: Vec<i32>,
    leaf: Vec<i32>,
}

/// The tables as they stand in the source.
fn trees(source: &str) -> Vec<Tree> {
    let row = |line: &str, name: &str| -> Vec<i32> {
        let (_, from) = line.split_once(&format!("{name}: [")).expect("a row");
        let (numbers, _) = from.split_once(']').expect("its end");
        numbers
            .split(',')
            .map(|number| number.trim().parse().expect("a number"))
            .collect()
    };
    let lines = source.lines().filter(|line| line.trim_start().starts_with("Tree {"));
    lines
        .map(|line| Tree {
            feature: row(line, "feature"),
            threshold: row(line, "threshold"),
            leaf: row(line, "leaf"),
        })
        .collect()
}

impl Tree {
    /// Questions level by level, from the root: those below question `q` are `2 q + 1` and `2 q + 2`, for "not above" and "above".
    fn vote(&self, features: &Features) -> i32 {
        let mut question = 0;
        for _ in 0..DEPTH {
            let above = i32::from(features[self.feature[question] as usize]) > self.threshold[question];
            question = 2 * question + 1 + usize::from(above);
        }
        self.leaf[question - self.feature.len()]
    }
}

#[test]
fn the_vote_is_the_sum_of_all_leaves() {
    let tables = [
        (
            SampleRate::Ten,
            include_str!("../../../core/src/signal/trees_at_ten.rs"),
        ),
        (
            SampleRate::Eighty,
            include_str!("../../../core/src/signal/trees_at_eighty.rs"),
        ),
    ];
    for (rate, source) in tables {
        let trees = trees(source);
        assert_eq!(trees.len(), 120);
        let mut random = Pcg64::seed_from_u64(5);
        let (mut least, mut most) = (0, 0);
        for case in 0..4_000 {
            // At random, and as at rest: most are small then.
            let widest = [127, 60, 20][case % 3];
            let mut features: Features = [0; COUNT];
            features.fill_with(|| random.random_range(-widest..=widest) as i8);
            let odds: i32 = trees.iter().map(|tree| tree.vote(&features)).sum();
            (least, most) = (least.min(odds), most.max(odds));
            for (apart, reached) in [(-300, true), (-1, true), (0, true), (1, false), (300, false)] {
                let enough = i16::try_from(odds + apart).expect("an i16");
                assert_eq!(reaches(&features, rate, enough), reached, "{apart} from {odds}");
            }
        }
        // Both sides of what is asked for.
        assert!(least < -300 && most > 300, "{least} to {most}");
    }
}

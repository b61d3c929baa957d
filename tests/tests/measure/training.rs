//! Growing the judge's trees: the same again from the same, in the layout that core reads; a small growth as it is stored, and the whole one as
//! core holds it. Where another machine's exponential function grows others, `UPDATE_TREES=1` stores the small ones anew.

use yarn_scale_core::converter::SampleRate;
use yarn_scale_core::signal::Feature;
use yarn_scale_sim::lab::training::Course;

const TABLES: [(SampleRate, &str); 2] = [
    (
        SampleRate::Ten,
        include_str!("../../../core/src/signal/trees_at_ten.rs"),
    ),
    (
        SampleRate::Eighty,
        include_str!("../../../core/src/signal/trees_at_eighty.rs"),
    ),
];

/// The lines that are not about one tree, numbers of sessions, trees and seed apart.
fn frame(source: &str) -> Vec<String> {
    let lines = source.lines().filter(|line| !line.trim_start().starts_with("Tree {"));
    lines
        .map(|line| match line.split_once("--sessions") {
            Some((made_by, _)) => made_by.to_owned(),
            None => line.replace("; 120]", "; 3]"),
        })
        .collect()
}

#[test]
fn small_trees_are_the_same_again_and_fit_the_core() {
    let small = Course {
        sessions: 5,
        trees: 3,
        ..Course::WHOLE
    };
    for (rate, held) in TABLES {
        let course = Course { rate, ..small };
        let grown = course.source(|_| {});
        assert_eq!(grown, course.source(|_| {}), "{rate:?}");
        assert_eq!(frame(&grown), frame(held), "{rate:?}");
        let stored = format!("{}/snapshots/small_trees_{rate:?}.txt", env!("CARGO_MANIFEST_DIR"));
        if std::env::var_os("UPDATE_TREES").is_some() {
            std::fs::write(&stored, &grown).expect("written");
        }
        let stored = std::fs::read_to_string(stored).expect("stored trees");
        assert!(grown == stored, "{rate:?}: other trees grow; now they are\n{grown}");
        assert_eq!(grown.lines().filter(|line| line.starts_with("    Tree {")).count(), 3);
        let other = Course { seed: 7, ..course };
        assert_ne!(grown, other.source(|_| {}), "{rate:?}: the seed says nothing");
    }
    // The layout that they were grown for is asked for at compile time; here that it would be seen to change.
    assert_ne!(Feature::LAYOUT, 0);
}

/// Core's tables are what `yarn-scale-lab train` writes. Two minutes: `cargo test --release -- --ignored`.
#[test]
#[ignore = "grows all trees, which takes minutes"]
fn the_trees_in_core_are_what_training_writes() {
    for (rate, held) in TABLES {
        let grown = Course { rate, ..Course::WHOLE }.source(|_| {});
        assert!(grown == held, "{rate:?}: the trees in core are others");
    }
}

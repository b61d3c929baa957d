//! Power fails at every flash operation of a story, in six ways each, and again at every operation of the recovery: what
//! was confirmed is there, what was not is there whole or not at all, and the scale goes on.
//!
//! `tests/figures --long` cuts the long stories in every step.

use yarn_scale_tests::durability::{
    CutCounts, Reach, Step, a_pair_with_everything, cut_at_random, cut_everywhere, only_settings, only_visits,
    round_the_ring,
};

/// Tells a story and insists on at least so many cuts.
fn cut(steps: &[Step], begin: usize, reach: Reach, kib: usize, planned: u64) -> CutCounts {
    let counts = cut_everywhere(steps, begin, reach, kib << 10, 1).unwrap_or_else(|what| panic!("{what}"));
    println!("{counts:?}");
    assert!(counts.all() >= planned, "{counts:?}, planned {planned}");
    assert_eq!(counts.cuts, counts.operations * 6);
    counts
}

#[test]
fn a_pair_with_everything_survives_every_cut() {
    cut(&a_pair_with_everything(), 0, Reach::Every, 48, 2_900);
}

#[test]
fn making_room_survives_every_cut() {
    // The ring of marks has 15 sectors and is full after some 70 pairs; of the next ones, each fifth makes a checkpoint
    // and frees a sector.
    let steps = round_the_ring(76);
    let pair = steps.len() / 76;
    cut(&steps, 70 * pair, Reach::Telling, 96, 1_500);
}

#[test]
fn settings_alone_never_fill_the_journal() {
    cut(&only_settings(1_600), 1_000, Reach::Telling, 48, 3_000);
}

#[test]
fn visits_that_overwrite_the_oldest_survive_every_cut() {
    cut(&only_visits(900), 500, Reach::Telling, 48, 1_000);
}

#[test]
fn a_scale_that_keeps_losing_power_keeps_everything() {
    let steps = round_the_ring(40);
    for seed in 0..4 {
        let cuts = cut_at_random(&steps, 3, 48 << 10, seed).unwrap_or_else(|what| panic!("{what}"));
        println!("{cuts} cuts");
        assert!(cuts > 500, "{cuts} cuts");
    }
}

//! Power fails at every flash operation of a story, in six ways each, and again at every operation of the recovery: what
//! was confirmed is there, what was not is there whole or not at all, and the scale goes on.

use yarn_scale_tests::durability::{
    CutCounts, Step, a_pair_with_everything, cut_everywhere, only_settings, only_visits, round_the_ring,
};

/// Tells a story and insists on at least so many cuts.
fn cut(steps: &[Step], begin: usize, kib: usize, planned: u64) -> CutCounts {
    let counts = cut_everywhere(steps, begin, kib << 10, 1).unwrap_or_else(|what| panic!("{what}"));
    println!("{counts:?}");
    assert!(counts.all() >= planned, "{counts:?}, planned {planned}");
    assert_eq!(counts.cuts, counts.operations * 6);
    counts
}

#[test]
fn a_pair_with_everything_survives_every_cut() {
    cut(&a_pair_with_everything(), 0, 48, 2_900);
}

#[test]
fn making_room_survives_every_cut() {
    // The ring of marks has 16 sectors; it is full after some 60 pairs. From there on each sector freed is cut through.
    let steps = round_the_ring(90);
    let pair = steps.len() / 90;
    cut(&steps, 78 * pair, 96, 10_000);
}

#[test]
fn settings_alone_never_fill_the_journal() {
    let steps = only_settings(1_500);
    cut(&steps, 1_300, 48, 3_000);
}

#[test]
fn visits_that_overwrite_the_oldest_survive_every_cut() {
    cut(&only_visits(400), 250, 48, 3_000);
}

//! Power fails at every flash operation of the device while it is used, in six ways each, and again at every operation of
//! what it does after that. What happens is told in `tests/scenarios`; the program, its loop and its screen are the device's.

use yarn_scale_tests::durability::{CutCounts, SCENES, cut_scene};

/// Cuts the scenes of a scenario and insists on at least so many cuts.
fn cut(name: &str, planned: u64) -> CutCounts {
    let mut all = CutCounts::default();
    for scene in SCENES.iter().filter(|scene| scene.name == name) {
        let counts = cut_scene(scene, false).unwrap_or_else(|what| panic!("{what}"));
        println!("{scene:?}: {counts:?}");
        assert_eq!(counts.cuts, counts.operations * 6);
        all.add(&counts);
    }
    assert!(all.all() >= planned, "{name}: {all:?}");
    all
}

#[test]
fn weigh_in_mark_and_amendment_survive_every_cut() {
    cut("a_cuff", 150);
}

#[test]
fn undo_survives_every_cut() {
    cut("ripped_back", 220);
}

#[test]
fn settings_bowls_yarns_and_changes_of_the_plan_survive_every_cut() {
    cut("every_setting", 1_000);
}

#[test]
fn a_calibration_survives_every_cut() {
    cut("calibration", 110);
}

#[test]
fn a_whole_pair_survives_every_cut() {
    cut("whole_pair", 1_000);
}

/// On a new journal, and on ones whose ring of marks has come round: there a pair begins with a checkpoint, and sectors
/// are erased.
#[test]
fn the_next_pair_survives_every_cut() {
    let counts = cut("next_pair", 2_000);
    assert!(counts.erases >= 4, "{counts:?}");
}

/// By the keys, on a journal that is nearly full, with a pair on the needles.
#[test]
fn making_room_survives_every_cut() {
    cut("full_journal/make_room", 150);
}

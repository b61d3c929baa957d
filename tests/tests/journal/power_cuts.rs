//! Power fails at every flash operation of a story, in six ways each, and again at every operation of the recovery: what
//! was confirmed is there, what was not is there whole or not at all, and the scale goes on.
//!
//! `tests/figures --long` cuts the long stories in every step.

use yarn_scale_tests::durability::{CAMPAIGNS, keep_losing_power};

/// Tells a story and insists on as many cuts as are planned.
fn cut(name: &str) {
    let campaign = CAMPAIGNS
        .iter()
        .find(|campaign| campaign.name == name)
        .expect("a campaign");
    let counts = campaign.cut(false).unwrap_or_else(|what| panic!("{what}"));
    println!("{counts:?}");
    assert!(
        counts.all() >= campaign.planned,
        "{counts:?}, planned {}",
        campaign.planned
    );
    assert_eq!(counts.cuts, counts.operations * 6);
}

#[test]
fn a_pair_with_everything_survives_every_cut() {
    cut("a pair with everything");
}

#[test]
fn making_room_survives_every_cut() {
    cut("making room");
}

/// Until it is noted that they may go all are there, and then those are that are kept; at no cut is a kept one or a mark lost.
#[test]
fn letting_pairs_go_survives_every_cut() {
    cut("letting pairs go");
}

#[test]
fn settings_alone_never_fill_the_journal() {
    cut("settings alone");
}

#[test]
fn visits_that_overwrite_the_oldest_survive_every_cut() {
    cut("visits that overwrite the oldest");
}

#[test]
fn a_scale_that_keeps_losing_power_keeps_everything() {
    for seed in 0..4 {
        let cuts = keep_losing_power(seed).unwrap_or_else(|what| panic!("{what}"));
        println!("{cuts} cuts");
        assert!(cuts > 500, "{cuts} cuts");
    }
}

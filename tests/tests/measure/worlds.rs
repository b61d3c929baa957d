//! The family of worlds, on a small part of it: a guard against a change that is right in one world only. The figures are printed by
//! `yarn-scale-lab measure --worlds`; goals that are not reached yet stand beside them in `hardware-notes/figures.md`.

use indicatif::ProgressBar;
use yarn_scale_core::converter::SampleRate;
use yarn_scale_sim::lab::measure::benchmark::{self, Extent};
use yarn_scale_sim::lab::measure::contender::Contender;
use yarn_scale_sim::lab::measure::table::figures;
use yarn_scale_sim::lab::measure::worlds;
use yarn_scale_sim::world::{Family, Unit};

/// 50 sections a world: where 85 of 100 are covered, fewer than 35 of 50 are in one of a thousand samples (binomial).
#[test]
fn stated_intervals_hold_in_every_world() {
    let extent = Extent {
        handlings: 4,
        others: 0,
        drains: 0,
        sections: 2,
    };
    let run = |family| {
        let hidden = ProgressBar::hidden();
        benchmark::run(family, 3, SampleRate::Ten, &[Contender::Ours], extent, 2, &hidden)
    };
    let outcomes: Vec<_> = Family::ALL.into_iter().map(|family| (family, run(family))).collect();
    let mut sum = 0.0;
    for (family, outcome) in &outcomes {
        let all = figures(&outcome.scores[0].1);
        let figure = |name: &str| all.iter().find(|figure| figure.0 == name).expect("a figure").1;
        let covered = figure("covered_percent");
        assert!(covered >= 68.0, "{}: {covered} % covered", family.name());
        // What rolls for seconds cannot be quick: beside the bound of the same handlings.
        let bound = figures(&outcome.bound);
        let bound = bound
            .iter()
            .find(|figure| figure.0 == "latency_p50_s")
            .expect("a bound")
            .1;
        let latency = figure("latency_p50_s");
        assert!(
            latency < 1.5 * bound + 0.6,
            "{}: {latency} s, bound {bound} s",
            family.name()
        );
        sum += covered;
    }
    let mean = sum / outcomes.len() as f64;
    assert!(mean >= 86.0, "{mean} % covered in the mean of the worlds");
    let text = worlds::text(&outcomes);
    assert_eq!(text.lines().count(), 1 + Family::ALL.len() + 4, "{text}");
    assert!(text.contains("rolls*"), "{text}");
    // What is measured of handlings, eight columns from the left, is a number in every world.
    for line in text.lines().skip(1) {
        let mut of_handlings = line.split_at(16).1.split_whitespace().take(8);
        assert!(
            of_handlings.all(|number| number.parse::<f64>().is_ok_and(f64::is_finite)),
            "{line}"
        );
    }
}

/// The world that the estimator was raised in is the one that its units are drawn from, and no other world is that.
#[test]
fn every_other_world_is_another() {
    let same =
        |family: Family| (0..40).all(|seed| format!("{:?}", family.draw(seed)) == format!("{:?}", Unit::draw(seed)));
    for family in Family::ALL {
        assert_eq!(same(family), family == Family::Raised, "{}", family.name());
    }
    let kept_out = Family::ALL.into_iter().filter(|family| family.is_kept_out()).count();
    assert_eq!(kept_out, 2);
}

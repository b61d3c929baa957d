//! Where the scale's own estimator stands, on a small part of the benchmark: a guard, with room for what so few recordings scatter. The
//! figures themselves are printed by `yarn-scale-lab measure`.

use indicatif::ProgressBar;
use yarn_scale_core::converter::SampleRate;
use yarn_scale_sim::lab::measure::benchmark::{self, Extent};
use yarn_scale_sim::lab::measure::contender::Contender;
use yarn_scale_sim::lab::measure::recording::Event;
use yarn_scale_sim::lab::measure::run::{Run, Words};
use yarn_scale_sim::lab::measure::score::Score;
use yarn_scale_sim::lab::measure::section::{Course, sections};
use yarn_scale_sim::lab::measure::table::{figures, percentile};
use yarn_scale_sim::world::{Family, Unit};

fn own(rate: SampleRate, extent: Extent) -> Score {
    let mut outcome = benchmark::run(
        Family::Raised,
        5,
        rate,
        &[Contender::Ours],
        extent,
        2,
        &ProgressBar::hidden(),
    );
    outcome.scores.remove(0).1
}

fn figure(score: &Score, name: &str) -> f64 {
    let all = figures(score);
    all.iter()
        .find(|f| f.0 == name)
        .unwrap_or_else(|| panic!("no figure {name}"))
        .1
}

/// Goals of this project for speed against false steady signs, each with a margin for the small sample.
#[test]
fn quick_and_rarely_wrong_at_both_rates() {
    let extent = Extent {
        handlings: 90,
        others: 40,
        drains: 4,
        sections: 0,
    };
    for (rate, median) in [(SampleRate::Ten, 0.78), (SampleRate::Eighty, 0.65)] {
        let score = own(rate, extent);
        let at_most = [
            ("latency_p50_s", median),
            ("latency_p95_s", 1.7),
            ("latency_p99_9_s", 4.0),
            ("error_p50_mg", 10.0),
            ("error_p95_mg", 36.0),
            ("error_p99_9_mg", 130.0),
            ("handled_per_100", 1.6),
            ("wrong_per_100", 0.25),
            ("zeroed_per_100", 0.6),
            ("tugs_per_100", 2.0),
            ("flicker_per_min", 0.3),
            ("footsteps_per_min", 4.0),
            ("missed_3s_percent", 0.0),
            ("eaten_percent", 0.3),
            ("faults_shown_percent", 0.0),
            ("resets_shown_percent", 0.0),
        ];
        for (name, most) in at_most {
            let measured = figure(&score, name);
            assert!(measured <= most, "{rate:?}: {name} is {measured}, not at most {most}");
        }
        for (name, least) in [("rest_percent", 99.5), ("slack_percent", 96.0)] {
            let measured = figure(&score, name);
            assert!(
                measured >= least,
                "{rate:?}: {name} is {measured}, not at least {least}"
            );
        }
    }
}

/// Stated intervals of 95 % hold in at least 95 of 100 sections (400 here: 2.2 % either way are chance); in more, up to 99, since a unit that
/// has not been seen yet may be worse than those of this world, and others are. Where a cake comes back they hold by being right, not by being wide.
#[test]
fn stated_intervals_are_honest_and_not_wide() {
    let score = own(
        SampleRate::Ten,
        Extent {
            handlings: 0,
            others: 0,
            drains: 0,
            sections: 16,
        },
    );
    let covered = figure(&score, "covered_percent");
    assert!((93.0..=99.3).contains(&covered), "{covered} % covered");
    for course in [Course::BackCold, Course::BackWarm] {
        for in_the_end in [false, true] {
            let stated = score.sections[course as usize].stated(in_the_end);
            let off: Vec<f64> = stated.iter().map(|(error, _)| error.abs()).collect();
            let half: Vec<f64> = stated.iter().map(|(_, half)| *half).collect();
            let (off, half) = (percentile(&off, 0.95), percentile(&half, 0.5));
            assert!(half < 1.6 * off, "{course:?}: +/- {half} g stated, 95 % within {off} g");
        }
    }
    let stays = &score.sections[Course::Stays as usize];
    assert!(
        stays.rms_in_the_end() < 0.085,
        "stays on the pan: {} g rms once it is off",
        stays.rms_in_the_end()
    );
}

/// Whatever came before, a load that lies still is trusted in the end: a yarn that a pull has left lying a little differently was once
/// refused for as long as it lay, and the mark meant for it fell on the empty pan after it. No source: what anybody expects of a scale.
#[test]
fn a_load_that_lies_still_is_trusted_within_five_seconds() {
    // The first is the recording in which it was refused for the last thirteen seconds.
    for (seed, course) in [
        (100_226, Course::Adverse),
        (500_001, Course::Adverse),
        (500_002, Course::Stays),
    ] {
        let recording = sections(Unit::draw(seed), SampleRate::Ten, course);
        let run = Run::of(Contender::Ours, &recording, Words::Arrived);
        let mut still = 0;
        let mut waited = 0;
        for (conversion, shown) in recording.conversions.iter().zip(&run.shown) {
            let spoilt = conversion.raw != Some(conversion.truth.word);
            still = if conversion.truth.other_g.abs() > 0.001 || spoilt {
                0
            } else {
                still + 1
            };
            // A press is followed by ten seconds of rest at least.
            let meant = recording
                .events
                .iter()
                .any(|event| matches!(event, Event::Mark(at, _) if (conversion.at - at).abs() < 8.0));
            if meant && still > 50 {
                waited += 1;
                assert!(
                    shown.steady,
                    "{seed}: not steady at {:.1} s after {still} quiet words",
                    conversion.at
                );
            }
        }
        assert!(waited > 100, "{waited}");
    }
}

/// A mark pressed as the hand goes takes no load that the newest word contradicts: once in 80,000 sections of simulation a hand had lain
/// still enough for the tick, and the press came with the first word after it.
#[test]
fn a_mark_as_the_hand_goes_waits_for_the_load_alone() {
    let recording = sections(Unit::draw(200_398), SampleRate::Ten, Course::BackCold);
    let run = Run::of(Contender::Ours, &recording, Words::Arrived);
    let used = run.used[0].expect("both marks are taken");
    assert!((used.grams - 3.667).abs() < 0.05, "{used:?}");
}

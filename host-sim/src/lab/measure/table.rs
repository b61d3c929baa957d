//! The figures as a table and as JSON.

use std::fmt::Write;

use serde_json::{Value, json};

use super::benchmark::Outcome;
use super::score::Score;
use crate::world::NoiseClass;

/// The value below which the share `p` of the values lies (nearest rank); not a number if there are none.
#[must_use]
pub fn percentile(values: &[f64], p: f64) -> f64 {
    let mut sorted = values.to_vec();
    sorted.sort_by(f64::total_cmp);
    let rank = (p * sorted.len() as f64).ceil() as usize;
    sorted.get(rank.saturating_sub(1)).copied().unwrap_or(f64::NAN)
}

/// The figures of one contender, named; units stand in the names.
#[must_use]
pub fn figures(score: &Score) -> Vec<(&'static str, f64)> {
    let of = |class: Option<NoiseClass>| -> Vec<f64> {
        score
            .latency
            .iter()
            .filter(|l| class.is_none_or(|c| c == l.0))
            .map(|l| l.1)
            .collect()
    };
    let (all, quiet, medium, noisy) = (
        of(None),
        of(Some(NoiseClass::Quiet)),
        of(Some(NoiseClass::Medium)),
        of(Some(NoiseClass::Noisy)),
    );
    let error: Vec<f64> = score.error.iter().map(|e| 1_000.0 * e.abs()).collect();
    let per_hundred = |count: usize, of: usize| 100.0 * count as f64 / of as f64;
    let change: f64 = score.change_error.iter().sum::<f64>() / score.change_error.len() as f64;
    let lack = &score.drawn.1;
    let mut figures = vec![
        ("handlings", score.handlings as f64),
        ("latency_p50_s", percentile(&all, 0.5)),
        ("latency_p95_s", percentile(&all, 0.95)),
        ("latency_p99_9_s", percentile(&all, 0.999)),
        ("quiet_p50_s", percentile(&quiet, 0.5)),
        ("quiet_p95_s", percentile(&quiet, 0.95)),
        ("medium_p50_s", percentile(&medium, 0.5)),
        ("medium_p95_s", percentile(&medium, 0.95)),
        ("noisy_p50_s", percentile(&noisy, 0.5)),
        ("noisy_p95_s", percentile(&noisy, 0.95)),
        ("error_p50_mg", percentile(&error, 0.5)),
        ("error_p95_mg", percentile(&error, 0.95)),
        ("error_p99_9_mg", percentile(&error, 0.999)),
        ("handled_per_100", per_hundred(score.handled, score.handlings)),
        ("wrong_per_100", per_hundred(score.wrong, score.handlings)),
        (
            "wrong_at_tick_per_100",
            per_hundred(score.wrong_at_tick, score.handlings),
        ),
        (
            "wrong_by_noise_per_100",
            100.0 * score.wrong_by_noise / score.handlings as f64,
        ),
        ("zeroed_per_100", per_hundred(score.zeroed, score.handlings)),
        ("never_per_100", per_hundred(score.never, score.handlings)),
        ("tugs_per_100", per_hundred(score.pulls[1], score.pulls[0])),
        ("rest_percent", per_hundred(score.rest[1], score.rest[0])),
        ("slack_percent", per_hundred(score.slack[1], score.slack[0])),
        ("flicker_per_min", score.flicker[0] as f64 / score.rest_minutes),
        ("back_and_forth_per_min", score.flicker[1] as f64 / score.rest_minutes),
        ("footsteps_per_min", score.steps.1 as f64 / score.steps.0),
        ("missed_3s_percent", per_hundred(score.changes[1], score.changes[0])),
        ("missed_15s_percent", per_hundred(score.changes[2], score.changes[0])),
        ("change_bias_mg", 1_000.0 * change),
        ("eaten_percent", 100.0 * lack.iter().sum::<f64>() / score.drawn.0),
        (
            "eaten_worst_mg",
            1_000.0 * lack.iter().copied().fold(f64::NAN, f64::max),
        ),
        ("faults_shown_percent", per_hundred(score.faults[1], score.faults[0])),
        ("resets_shown_percent", per_hundred(score.resets[1], score.resets[0])),
        ("asked_per_100", per_hundred(score.emptied[1], score.emptied[0])),
    ];
    let names = [
        [
            "back_cold_rms_mg",
            "back_cold_covered_percent",
            "back_cold_in_the_end_rms_mg",
            "back_cold_in_the_end_covered_percent",
            "back_cold_lost",
        ],
        [
            "back_warm_rms_mg",
            "back_warm_covered_percent",
            "back_warm_in_the_end_rms_mg",
            "back_warm_in_the_end_covered_percent",
            "back_warm_lost",
        ],
        [
            "stays_rms_mg",
            "stays_covered_percent",
            "stays_in_the_end_rms_mg",
            "stays_in_the_end_covered_percent",
            "stays_lost",
        ],
        [
            "adverse_rms_mg",
            "adverse_covered_percent",
            "adverse_in_the_end_rms_mg",
            "adverse_in_the_end_covered_percent",
            "adverse_lost",
        ],
        [
            "bowl_rms_mg",
            "bowl_covered_percent",
            "bowl_in_the_end_rms_mg",
            "bowl_in_the_end_covered_percent",
            "bowl_lost",
        ],
    ];
    let (mut inside, mut stated) = (0, 0);
    for (section, [rms, covered, end_rms, end_covered, lost]) in score.sections.iter().zip(names) {
        let (within, of) = section.covered();
        inside += within;
        stated += of;
        figures.push((rms, 1_000.0 * section.rms()));
        figures.push((covered, per_hundred(within, of)));
        figures.push((end_rms, 1_000.0 * section.rms_in_the_end()));
        let (within, of) = section.covered_in_the_end();
        figures.push((end_covered, per_hundred(within, of)));
        figures.push((lost, section.lost as f64));
    }
    figures.push(("covered_percent", per_hundred(inside, stated)));
    figures
}

/// One line a figure, one column a contender, the bound last.
#[must_use]
pub fn text(outcome: &Outcome) -> String {
    let mut columns: Vec<(String, Vec<(&str, f64)>)> = outcome
        .scores
        .iter()
        .map(|(contender, score)| (contender.name(), figures(score)))
        .collect();
    columns.push(("physical bound".to_owned(), figures(&outcome.bound)));
    let mut text = String::new();
    for (number, (name, _)) in columns.iter().enumerate() {
        let _ = writeln!(text, "({}) {name}", number + 1);
    }
    let _ = write!(text, "{:38}", "");
    for number in 1..=columns.len() {
        let _ = write!(text, "{:>11}", format!("({number})"));
    }
    text.push('\n');
    let names: Vec<&str> = columns
        .first()
        .map_or(Vec::new(), |(_, figures)| figures.iter().map(|f| f.0).collect());
    for (row, name) in names.iter().enumerate() {
        let _ = write!(text, "{name:38}");
        for (_, figures) in &columns {
            let _ = write!(text, "{:>11}", number(figures[row].1));
        }
        text.push('\n');
    }
    text
}

/// All figures for machines; what was not measured is null.
#[must_use]
pub fn json(outcome: &Outcome) -> Value {
    let object = |figures: Vec<(&'static str, f64)>| -> Value {
        figures
            .into_iter()
            .map(|(name, value)| (name.to_owned(), json!(value)))
            .collect::<serde_json::Map<_, _>>()
            .into()
    };
    let mut all: serde_json::Map<String, Value> = outcome
        .scores
        .iter()
        .map(|(contender, score)| (contender.name(), object(figures(score))))
        .collect();
    all.insert("physical bound".to_owned(), object(figures(&outcome.bound)));
    all.into()
}

fn number(value: f64) -> String {
    if value.is_nan() {
        "-".to_owned()
    } else if value.abs() >= 1_000.0 || value.fract() == 0.0 {
        format!("{value:.0}")
    } else if value.abs() >= 10.0 {
        format!("{value:.1}")
    } else {
        format!("{value:.2}")
    }
}

//! The figures of every world of the family, the worst and the mean.
//!
//! A world where a pan rings for seconds cannot be quick: its times stand beside its own bound ([`super::bound`]), and sections beside what an
//! observer of the noise-free cell could know.

use std::fmt::Write;

use serde_json::{Value, json};

use super::benchmark::Outcome;
use super::table::figures;
use crate::world::Family;

/// One column: its head, the figure's name, whether of the bound, and whether more is worse.
struct Column {
    head: &'static str,
    figure: &'static str,
    bound: bool,
}

/// Columns; of those of coverage the worst is the least.
const COLUMNS: [Column; 24] = [
    column("p50 s", "latency_p50_s"),
    bound("bound", "latency_p50_s"),
    column("p95 s", "latency_p95_s"),
    bound("bound", "latency_p95_s"),
    column("handled", "handled_per_100"),
    column("wrong", "wrong_per_100"),
    column("at tick", "wrong_at_tick_per_100"),
    column("by noise", "wrong_by_noise_per_100"),
    column("tugs", "tugs_per_100"),
    column("missed", "missed_15s_percent"),
    column("eaten mg", "eaten_worst_mg"),
    column("asked", "asked_per_100"),
    bound("bound", "asked_per_100"),
    column("cold mg", "back_cold_rms_mg"),
    bound("bound", "back_cold_rms_mg"),
    column("cov", "back_cold_covered_percent"),
    column("warm mg", "back_warm_rms_mg"),
    column("cov", "back_warm_covered_percent"),
    column("bowl mg", "bowl_rms_mg"),
    column("cov", "bowl_covered_percent"),
    column("stays mg", "stays_rms_mg"),
    column("cov", "stays_covered_percent"),
    column("adv mg", "adverse_rms_mg"),
    column("cov", "adverse_covered_percent"),
];

const fn column(head: &'static str, figure: &'static str) -> Column {
    Column {
        head,
        figure,
        bound: false,
    }
}

const fn bound(head: &'static str, figure: &'static str) -> Column {
    Column {
        head,
        figure,
        bound: true,
    }
}

impl Column {
    fn value(&self, outcome: &Outcome) -> f64 {
        let score = if self.bound {
            &outcome.bound
        } else {
            outcome.scores.first().map_or(&outcome.bound, |(_, score)| score)
        };
        let found = figures(score).into_iter().find(|(name, _)| *name == self.figure);
        found.map_or(f64::NAN, |(_, value)| value)
    }

    fn worst(&self, values: &[f64]) -> f64 {
        let all = values.iter().copied().filter(|value| !value.is_nan());
        if self.head == "cov" {
            all.fold(f64::INFINITY, f64::min)
        } else {
            all.fold(f64::NEG_INFINITY, f64::max)
        }
    }
}

/// One line a world; then the mean and the worst of the worlds that were kept out, and of all. Figures a hundred: handled, wrong (*at tick*: from the
/// tick on; *by noise*: so for an ideal observer that speaks at the same moments), tugs, missed (%), asked (of a hundred emptied pans); mg: root mean
/// square of what a section is off, *cov* the per cent of them within the stated 95 %.
#[must_use]
pub fn text(outcomes: &[(Family, Outcome)]) -> String {
    let mut text = format!("{:16}", "");
    for column in &COLUMNS {
        let _ = write!(text, "{:>9}", column.head);
    }
    text.push('\n');
    let rows: Vec<(Family, Vec<f64>)> = outcomes
        .iter()
        .map(|(family, outcome)| (*family, COLUMNS.iter().map(|column| column.value(outcome)).collect()))
        .collect();
    for (family, values) in &rows {
        let kept_out = if family.is_kept_out() { "*" } else { " " };
        line(&mut text, &format!("{}{kept_out}", family.name()), values);
    }
    for (name, kept_out) in [("kept out*", true), ("all", false)] {
        let of: Vec<&Vec<f64>> = rows
            .iter()
            .filter(|(family, _)| !kept_out || family.is_kept_out())
            .map(|(_, values)| values)
            .collect();
        let by = |index: usize| -> Vec<f64> { of.iter().map(|values| values[index]).collect() };
        let mean = |values: Vec<f64>| values.iter().sum::<f64>() / values.len() as f64;
        let means: Vec<f64> = (0..COLUMNS.len()).map(|index| mean(by(index))).collect();
        let worst: Vec<f64> = COLUMNS
            .iter()
            .enumerate()
            .map(|(i, column)| column.worst(&by(i)))
            .collect();
        line(&mut text, &format!("{name} mean"), &means);
        line(&mut text, &format!("{name} worst"), &worst);
    }
    text
}

fn line(text: &mut String, name: &str, values: &[f64]) {
    let _ = write!(text, "{name:16}");
    for value in values {
        let cell = if value.is_nan() {
            "-".to_owned()
        } else if value.abs() >= 10.0 {
            format!("{value:.1}")
        } else {
            format!("{value:.2}")
        };
        let _ = write!(text, "{cell:>9}");
    }
    text.push('\n');
}

/// The same for machines, all figures of each world; what was not measured is null.
#[must_use]
pub fn json(outcomes: &[(Family, Outcome)]) -> Value {
    let worlds = outcomes.iter().map(|(family, outcome)| {
        let mut world = super::table::json(outcome);
        world["kept_out"] = json!(family.is_kept_out());
        (family.name().to_owned(), world)
    });
    worlds.collect::<serde_json::Map<_, _>>().into()
}

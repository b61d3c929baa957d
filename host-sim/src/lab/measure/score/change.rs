//! Small changes, slow ones, and spoilt words.

use super::Score;
use crate::lab::measure::recording::{Event, Recording};
use crate::lab::measure::run::Run;
use crate::world::DigitalFault;

/// Changes of 0.3 g: how much of them shows, and how soon.
pub(super) fn changes(recording: &Recording, run: &Run) -> Score {
    let mut score = Score::default();
    for event in &recording.events {
        let Event::Change(from, to, _) = event else { continue };
        let before = recording.first_from(*from).saturating_sub(1);
        let seen = |after: f64| {
            let i = recording.first_from(to + after).min(run.shown.len() - 1);
            let shown = run.shown[i].grams.unwrap_or(0.0) - run.shown[before].grams.unwrap_or(0.0);
            (shown, recording.settled_g(i) - recording.settled_g(before))
        };
        let missed = |after: f64| usize::from(seen(after).0.abs() < 0.15);
        super::add(&mut score.changes, [1, missed(3.0), missed(15.0)]);
        let (shown, truth) = seen(15.0);
        score.change_error.push(shown - truth);
    }
    score
}

/// Yarn drawn slowly, and how much of it the shown change lacks.
pub(super) fn eaten(recording: &Recording, run: &Run) -> Score {
    let mut score = Score::default();
    for event in &recording.events {
        let Event::Knitting(from, _, grams) = event else {
            continue;
        };
        let mean = |from: f64, to: f64| {
            let range = recording.first_from(from)..recording.first_from(to);
            let count = range.len() as f64;
            range
                .map(|i| run.shown[i].grams.unwrap_or(0.0) - recording.settled_g(i))
                .sum::<f64>()
                / count
        };
        let lack = mean(recording.end() - 3.0, recording.end() + 1.0) - mean(from - 3.0, *from);
        score.drawn.0 += grams;
        score.drawn.1.push(lack);
    }
    score
}

/// Spoilt words after which the display differs from what it would have shown.
pub(super) fn faults(recording: &Recording, arrived: &Run, meant: &Run) -> Score {
    let mut score = Score::default();
    for event in &recording.events {
        let Event::Fault(at, fault) = event else { continue };
        let window = recording.first_from(*at)..recording.first_from(at + 2.5);
        let differs = window
            .into_iter()
            .any(|i| match (arrived.shown[i].tenths, meant.shown[i].tenths) {
                (Some(with), Some(without)) => with.abs_diff(without) >= 2,
                _ => false,
            });
        let counts = if *fault == DigitalFault::Reset {
            &mut score.resets
        } else {
            &mut score.faults
        };
        super::add(counts, [1, usize::from(differs)]);
    }
    score
}

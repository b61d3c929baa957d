//! Rest, slack, flicker, tugs, footsteps.

use super::Score;
use crate::lab::measure::recording::{Event, Recording};
use crate::lab::measure::run::Run;
use crate::world::Tug;

/// Rest shown as rest, and how calm the display is.
pub(super) fn rest(recording: &Recording, run: &Run) -> Score {
    let from = recording.events.iter().map(|event| {
        if let Event::Handling(_, timing) = event {
            timing.hand_off
        } else {
            event.begins()
        }
    });
    let first = recording.first_from(from.fold(10.0, f64::max) + 5.0);
    let steady = run.shown[first..].iter().filter(|shown| shown.steady).count();
    let minutes = (recording.end() - recording.conversions[first].at) / 60.0;
    Score {
        rest: [run.shown.len() - first, steady],
        rest_minutes: minutes,
        flicker: flicker(recording, run, first, run.shown.len()),
        ..Score::default()
    }
}

/// Display changes while a person walks by and for a second after.
pub(super) fn shaking(recording: &Recording, run: &Run) -> Score {
    let mut score = Score::default();
    for event in &recording.events {
        if let Event::Shaking(from, to) = event {
            let (first, last) = (recording.first_from(*from), recording.first_from(to + 1.0));
            score.steps.0 += (to + 1.0 - from) / 60.0;
            score.steps.1 += flicker(recording, run, first, last)[0];
        }
    }
    score
}

/// Steady during pulls, and steady in the slack between them.
pub(super) fn knitting(recording: &Recording, run: &Run) -> Score {
    let mut score = Score::default();
    let pulls: Vec<Tug> = recording
        .events
        .iter()
        .filter_map(|event| if let Event::Tug(tug) = event { Some(*tug) } else { None })
        .collect();
    for (index, tug) in pulls.iter().enumerate() {
        let until = pulls.get(index + 1).map_or(recording.end(), |tug| tug.from);
        let pulling = (recording.first_from(tug.from)..recording.first_from(until))
            .filter(|i| tug.force(recording.conversions[*i].at).abs() > LEAST_G);
        let begun = pulling.clone().next().map_or(until, |i| recording.conversions[i].at);
        let flagged = pulling
            .into_iter()
            .any(|i| recording.conversions[i].at > begun + 0.5 && run.shown[i].steady);
        score.pulls[0] += 1;
        score.pulls[1] += usize::from(flagged);
        for i in recording.first_from(tug.gone(LEAST_G) + 2.0)..recording.first_from(until) {
            score.slack[0] += 1;
            score.slack[1] += usize::from(run.shown[i].steady);
        }
    }
    score
}

/// Changes of the display between two conversions, and those that go back to what it was within a minute.
fn flicker(recording: &Recording, run: &Run, first: usize, last: usize) -> [usize; 2] {
    let mut changes: Vec<(f64, i64, i64)> = Vec::new();
    for i in first + 1..last {
        if let (Some(from), Some(to)) = (run.shown[i - 1].tenths, run.shown[i].tenths)
            && from != to
        {
            changes.push((recording.conversions[i].at, from, to));
        }
    }
    let returns = changes
        .windows(2)
        .filter(|pair| pair[1].2 == pair[0].1 && pair[1].0 - pair[0].0 <= 60.0)
        .count();
    [changes.len(), returns]
}

/// Force from which a pull counts, g.
const LEAST_G: f64 = 0.1;

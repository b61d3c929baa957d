//! Latency, error at the flag, steady while handled, wrong.

use yarn_scale_core::converter::SampleRate;

use super::Score;
use crate::lab::measure::recording::{Event, Recording};
use crate::lab::measure::run::Run;

/// Scores every handling of a recording.
pub(super) fn score(recording: &Recording, run: &Run) -> Score {
    let mut score = Score::default();
    let handlings: Vec<_> = recording
        .events
        .iter()
        .filter_map(|e| {
            if let Event::Handling(_, timing) = e {
                Some(*timing)
            } else {
                None
            }
        })
        .collect();
    let grace = match recording.rate {
        SampleRate::Ten => 0.5,
        SampleRate::Eighty => 0.2,
    };
    let class = recording.unit.class();
    for (index, timing) in handlings.iter().enumerate() {
        let next = handlings
            .get(index + 1)
            .map_or(recording.end(), |timing| timing.contact);
        let Some(before) = recording.first_from(timing.contact).checked_sub(1) else {
            continue;
        };
        let Some(shown_before) = run.shown[before].grams else {
            continue;
        };
        score.handlings += 1;
        score.handled += episodes(recording, run, timing.contact + grace, timing.hand_off);
        let change_off = |i: usize| {
            let shown = run.shown[i].grams? - shown_before;
            Some(shown - (recording.settled_g(i) - recording.settled_g(before)))
        };
        // An empty pan that shows nothing is right, however far the zero had drifted while it was loaded: the scale has set it anew.
        let off = |i: usize| {
            let change = change_off(i)?;
            let empty = recording.conversions[i].truth.load_g == 0.0;
            let nearer = run.shown[i].grams.filter(|grams| empty && grams.abs() < change.abs());
            Some(nearer.unwrap_or(change))
        };
        let first = recording.first_from(timing.hand_off);
        let last = recording.first_from(next);
        let carried = first.checked_sub(1).is_some_and(|i| run.shown[i].steady);
        let dropped = if carried {
            (first..last).find(|i| !run.shown[*i].steady)
        } else {
            Some(first)
        };
        let flag = dropped.and_then(|from| (from..last).find(|i| run.shown[*i].steady));
        // A flag that never dropped, over a load that never changed, is no new flag; if it is off, it is wrong below.
        if let Some(flag) = flag {
            score
                .latency
                .push((class, recording.conversions[flag].at - timing.hand_off));
            score.error.extend(off(flag));
        } else if dropped.is_some() {
            score.never += 1;
            score.latency.push((class, next - timing.hand_off));
        }
        let settled = dropped.unwrap_or(first + SETTLING);
        let ever = |off: &dyn Fn(usize) -> Option<f64>| {
            (settled..last).any(|i| run.shown[i].steady && off(i).is_some_and(|off| off.abs() > 0.1))
        };
        let wrong = ever(&off);
        score.wrong += usize::from(wrong);
        score.zeroed += usize::from(!wrong && ever(&change_off));
    }
    score
}

/// Runs of steady samples between two instants.
fn episodes(recording: &Recording, run: &Run, from: f64, to: f64) -> usize {
    let (first, last) = (recording.first_from(from), recording.first_from(to));
    let mut was = false;
    let mut count = 0;
    for shown in run.shown.get(first..last).unwrap_or_default() {
        count += usize::from(shown.steady && !was);
        was = shown.steady;
    }
    count
}

/// Conversions after which a step has gone through the converter.
const SETTLING: usize = 5;

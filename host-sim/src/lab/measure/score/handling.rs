//! Latency, error at the flag, steady while handled, wrong.

use yarn_scale_core::converter::SampleRate;

use super::Score;
use crate::lab::measure::bound;
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
    let steady = |among: std::ops::Range<usize>| among.rev().find(|i| run.shown[*i].steady);
    // The change is one from the number with a tick that was there last while no hand was: what still swung when this hand came, nobody notes.
    let contact = handlings
        .first()
        .map_or(0, |timing| recording.first_from(timing.contact));
    let mut noted = steady(0..contact);
    for (index, timing) in handlings.iter().enumerate() {
        let next = handlings
            .get(index + 1)
            .map_or(recording.end(), |timing| timing.contact);
        score.handlings += 1;
        // The word that was under way when the hand left is still of the hand.
        let first = recording.first_from(timing.hand_off);
        score.handled += episodes(run, recording.first_from(timing.contact + grace), first + 1);
        let change_off = |i: usize| {
            let before = noted?;
            let shown = run.shown[i].grams? - run.shown[before].grams?;
            Some(shown - (recording.settled_g(i) - recording.settled_g(before)))
        };
        // An empty pan that shows nothing is right, however far the zero had drifted while it was loaded: the scale has set it anew.
        let off = |i: usize| {
            let change = change_off(i)?;
            let empty = recording.conversions[i].truth.load_g == 0.0;
            let nearer = run.shown[i].grams.filter(|grams| empty && grams.abs() < change.abs());
            Some(nearer.unwrap_or(change))
        };
        let last = recording.first_from(next);
        let carried = run.shown.get(first).is_some_and(|shown| shown.steady);
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
            score.wrong_at_tick += usize::from(off(flag).is_some_and(|off| off.abs() > WRONG_G));
            let before = index.checked_sub(1).map(|before| &handlings[before]);
            score.wrong_by_noise += bound::chance_of_wrong(recording, before, timing, flag, WRONG_G);
        } else if dropped.is_some() {
            score.never += 1;
            score.latency.push((class, next - timing.hand_off));
        }
        let settled = dropped.unwrap_or(first + SETTLING);
        let ever = |off: &dyn Fn(usize) -> Option<f64>| {
            (settled..last).any(|i| run.shown[i].steady && off(i).is_some_and(|off| off.abs() > WRONG_G))
        };
        let wrong = ever(&off);
        score.wrong += usize::from(wrong);
        score.zeroed += usize::from(!wrong && ever(&change_off));
        noted = steady(settled..last).or(noted);
    }
    score
}

/// Runs of steady samples among these.
fn episodes(run: &Run, first: usize, last: usize) -> usize {
    let mut was = false;
    let mut count = 0;
    for shown in run.shown.get(first..last).unwrap_or_default() {
        count += usize::from(shown.steady && !was);
        was = shown.steady;
    }
    count
}

/// As far off as no number may be, g.
const WRONG_G: f64 = 0.1;
/// Conversions after which a step has gone through the converter.
const SETTLING: usize = 5;

//! What a knitter's hands do again and again.

use yarn_scale_core::journal::{Entry, Record, Replayed};
use yarn_scale_core::recognise::Choice;
use yarn_scale_core::screen::{Body, Word};

use crate::computer::report::demo;
use crate::device::bench::{Bench, Key};

/// 2027-06-05, about noon.
pub(super) const TODAY: u64 = 1_812_196_800;

/// The journal of an invented knitter after five invented pairs.
pub(super) fn years() -> Vec<Entry> {
    let backup = demo::backup().expect("the invented journal can be written");
    let mut entries = Vec::new();
    backup.replay(|replayed| {
        if let Replayed::Entry(entry) = replayed {
            entries.push(entry.clone());
        }
    });
    entries.sort_by_key(|entry| entry.sequence);
    entries
}

/// A pair by the first preset, cuffs, heels and toes in B, begun after those years.
pub(super) fn after_years() -> Bench {
    after(u16::MAX)
}

/// The same after the first so many pairs of those years.
pub(super) fn after(pairs: u16) -> Bench {
    let mut years = years();
    let is_later = |entry: &&Entry| matches!(entry.record, Record::PairBegun { pair, .. } if pair > pairs);
    let end = years.iter().find(is_later).map(|entry| entry.at);
    years.retain(|entry| end.is_none_or(|end| entry.at < end));
    let mut scale = Bench::with_journal(years, 0.0);
    scale.begin_pair();
    scale
}

/// A pair of which both socks are knitted at a time, on a scale that knows no other one: the first cuff took B from 40 to 35 g.
pub(super) fn one_cuff() -> Bench {
    let mut scale = Bench::new();
    begin_both_at_a_time(&mut scale);
    mark(&mut scale, 40.0);
    mark(&mut scale, 35.0);
    scale
}

/// Begins a pair by the first preset, both socks at a time.
pub(super) fn begin_both_at_a_time(scale: &mut Bench) {
    scale.open(Word::NewPair);
    scale.press(Key::Mark);
    scale.choose(Word::TwoAtATime);
}

/// Puts a cake on and presses MARK.
pub(super) fn weigh(scale: &mut Bench, grams: f64) {
    scale.put(grams);
    scale.press(Key::Mark);
}

/// The same, and takes it off again.
pub(super) fn mark(scale: &mut Bench, grams: f64) {
    weigh(scale, grams);
    scale.take();
}

/// Goes so many rows down.
pub(super) fn down(scale: &mut Bench, rows: usize) {
    for _ in 0..rows {
        scale.press(Key::Next);
    }
}

/// Opens a line of the plan.
pub(super) fn open_line(scale: &mut Bench, line: u8) {
    scale.open(Word::Plan);
    until(
        scale,
        Key::Next,
        |body| matches!(body, Body::Plan(plan) if plan.selected == line),
    );
    scale.press(Key::Mark);
}

/// Presses a key until the screen is as it should be.
///
/// # Panics
/// If it never is.
#[track_caller]
pub(super) fn until(scale: &mut Bench, key: Key, wanted: impl Fn(&Body) -> bool) {
    for _ in 0..40 {
        if wanted(&scale.body()) {
            return;
        }
        scale.press(key);
    }
    panic!("it never is: {:#?}", scale.body());
}

/// Goes to the first choice of a kind.
pub(super) fn highlight(scale: &mut Bench, wanted: impl Fn(&Choice) -> bool) {
    until(scale, Key::Next, |body| match body {
        Body::Question(asked) => asked.choices.get(usize::from(asked.selected)).is_some_and(&wanted),
        _ => false,
    });
}

/// Days pass: the scale sleeps, and a key wakes it.
pub(super) fn days_pass(scale: &mut Bench, days: f64) {
    scale.pause(days * 86_400.0);
    scale.press(Key::Next);
    scale.wait(4.0);
}

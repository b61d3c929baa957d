//! What the scale refuses, each with its way out, and what stands in the way of weighing.

use yarn_scale_core::app::Input;
use yarn_scale_core::board::Levels;
use yarn_scale_core::converter::{ConverterFault, RawSample};
use yarn_scale_core::journal::JournalFault;
use yarn_scale_core::ledger::MAX_STEPS;
use yarn_scale_core::recognise::Choice;
use yarn_scale_core::screen::Word;
use yarn_scale_core::units::{Counts, Millivolts};

use super::album::Album;
use super::hands::{highlight, mark, one_cuff, open_line, weigh};
use crate::device::bench::{Bench, Key};

pub(super) fn refused(album: &mut Album) {
    presses(album);
    rounds(album);
    not_noted(album);
    full(album);
    faults(album);
}

fn presses(album: &mut Album) {
    let mut scale = Bench::new();
    scale.press(Key::Next);
    album.picture(&scale, "used/nothing-yet");
    scale.press(Key::Mark);
    album.told(&scale);
    scale.press(Key::Zero);
    scale.begin_pair();
    scale.press(Key::Zero);
    album.told(&scale);
    scale.press(Key::Zero);
    scale.shake(0.1, 0.6);
    scale.press(Key::Zero);
    album.told(&scale);
    scale.press(Key::Zero);
    scale.take();
    scale.press(Key::Mark);
    scale.wait(2.0);
    album.told(&scale);
    scale.press(Key::Zero);
    scale.hold(Key::Mark);
    album.told(&scale);
    scale.press(Key::Zero);
    // Its last section is marked, and the cake still lies there.
    mark(&mut scale, 20.0);
    for line in 0..9 {
        open_line(&mut scale, line);
        scale.choose(Word::SkipSection);
        scale.wait(7.0);
    }
    weigh(&mut scale, 15.0);
    scale.wait(7.0);
    scale.press(Key::Next);
    scale.press(Key::Mark);
    album.told(&scale);
}

/// Counting rounds with the wrong cake, and with nothing knitted.
fn rounds(album: &mut Album) {
    let mut scale = one_cuff();
    scale.open(Word::HowFar);
    weigh(&mut scale, 80.0);
    album.told(&scale);
    scale.take();
    weigh(&mut scale, 35.0);
    scale.press(Key::Mark);
    scale.press(Key::Mark);
    album.told(&scale);
}

fn not_noted(album: &mut Album) {
    let mut scale = one_cuff();
    scale.put(30.0);
    for fault in [JournalFault::Flash, JournalFault::Full, JournalFault::Closed] {
        scale.paper.refuse = Some(fault);
        scale.press(Key::Mark);
        album.told(&scale);
        scale.press(Key::Zero);
    }
    scale.paper.refuse = None;
    scale.tell(Input::Supply(Millivolts(2_800)));
    scale.press(Key::Mark);
    album.told(&scale);
}

/// A pair with as many weights as it can hold: again and again yarn goes elsewhere, and comes back.
fn full(album: &mut Album) {
    let mut scale = one_cuff();
    for turn in 1..MAX_STEPS {
        scale.take();
        weigh(&mut scale, if turn % 2 == 0 { 15.0 } else { 27.0 });
        highlight(&mut scale, |choice| matches!(choice, Choice::StartFromHere { .. }));
        scale.press(Key::Mark);
    }
    album.told(&scale);
}

fn faults(album: &mut Album) {
    let mut scale = Bench::uncalibrated();
    album.told(&scale);
    scale = one_cuff();
    scale.put(520.0);
    album.told(&scale);
    scale.put(-60.0);
    album.told(&scale);
    scale.put(-300.0);
    album.told(&scale);
    scale.take();
    scale.stuck(20.0, 85_000);
    album.told(&scale);
    scale.take();
    scale.silence(2.0, ConverterFault::Missing);
    album.told(&scale);
    for mark in [true, false] {
        for _ in 0..3 {
            let levels = Levels {
                mark,
                ..Levels::default()
            };
            scale.tell(Input::Keys(levels));
            scale.silence(0.1, ConverterFault::Missing);
        }
    }
    album.told(&scale);
    // Forty conversions a second are neither of the two rates.
    let mut scale = Bench::just_on(Vec::new(), 0.0);
    for _ in 0..200 {
        scale.pause(0.025);
        scale.tell(Input::Sample(Ok(RawSample(Counts(0)))));
    }
    album.told(&scale);
}

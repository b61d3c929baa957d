//! The device itself: its signs, its supply, its memory, a computer at its plug, and its sleep.

use yarn_scale_core::app::{DriveShows, Input};
use yarn_scale_core::journal::{Record, Room, Sequence, StartCause, Usage};
use yarn_scale_core::screen::Word;
use yarn_scale_core::units::Millivolts;

use super::album::Album;
use super::hands::{days_pass, down, mark, one_cuff, years};
use crate::device::bench::{Bench, Key, without_pair};

pub(super) fn device(album: &mut Album) {
    signs(album);
    supply(album);
    room(album);
    computer(album);
    starts(album);
    units(album);
    let mut scale = one_cuff();
    scale.wait(400.0);
    album.picture(&scale, "dark/asleep");
}

/// A damaged record, a load at power-on, a memory that fills and poor cells.
fn signs(album: &mut Album) {
    let mut knitted = one_cuff();
    for grams in [30.0, 101.6, 87.2, 73.0, 66.1] {
        mark(&mut knitted, grams);
    }
    knitted.open(Word::Signs);
    album.picture(&knitted, "signs/none-lit");
    let is_a_mark = |record: &Record| matches!(without_pair(record), Record::Mark { line: 3, .. });
    let mut scale = Bench::with_damaged(knitted.journal, 66.1, is_a_mark);
    scale.tell(Input::Supply(Millivolts(3_200)));
    scale.tell(Input::Journal(Usage {
        pairs_percent: 93,
        marks_percent: 41,
    }));
    album.picture(&scale, "pan/signs");
    scale.press(Key::Next);
    album.picture(&scale, "used/doubtful");
    scale.open(Word::Signs);
    album.picture(&scale, "signs/lit");
    down(&mut scale, 3);
    album.picture(&scale, "signs/end");
    scale.press(Key::Zero);
    scale.hold(Key::Next);
    down(&mut scale, 13);
    album.picture(&scale, "list/everything");
    scale.press(Key::Zero);
    scale.open(Word::Diagnostics);
    down(&mut scale, 2);
    album.picture(&scale, "list/diagnostics");
}

fn supply(album: &mut Album) {
    let mut scale = one_cuff();
    scale.put(32.4);
    scale.tell(Input::Supply(Millivolts(3_200)));
    album.picture(&scale, "pan/supply-low");
    scale.tell(Input::Supply(Millivolts(3_912)));
    scale.open(Word::Battery);
    album.picture(&scale, "list/battery");
    scale.press(Key::Zero);
    scale.plug(true);
    scale.open(Word::Parts);
    scale.press(Key::Mark);
    scale.choose(Word::SupplyUsb);
    scale.press(Key::Zero);
    scale.press(Key::Zero);
    scale.press(Key::Zero);
    scale.tell(Input::Supply(Millivolts(4_803)));
    scale.open(Word::Battery);
    album.picture(&scale, "list/battery-usb");
}

fn room(album: &mut Album) {
    let mut scale = one_cuff();
    scale.tell(Input::Room(Some(Room {
        from: Sequence(900),
        pairs: 184,
        newest: 1_184,
    })));
    scale.open(Word::MakeRoom);
    album.picture(&scale, "list/make-room");
    scale.choose(Word::OldestPairsGo);
    down(&mut scale, 1);
    album.picture(&scale, "list/make-room-again");
}

/// The drive is there; and a backup comes back.
fn computer(album: &mut Album) {
    let mut scale = one_cuff();
    for shows in [DriveShows::Soon, DriveShows::News] {
        scale.tell(Input::Drive(shows));
    }
    album.told(&scale);
    scale.tell(Input::Restoring);
    album.told(&scale);
}

fn starts(album: &mut Album) {
    let mut scale = one_cuff();
    album.picture(&Bench::just_on(scale.journal.clone(), 0.0), "pan/starting");
    album.picture(&Bench::with_journal(scale.journal.clone(), 32.4), "pan/zero-unproven");
    for cause in [StartCause::Watchdog, StartCause::Panic(0x0A1B_2C3D)] {
        scale.tell(Input::Ready(cause));
        album.told(&scale);
    }
}

/// Three days later in moist air, in ounces, and with what a pan can carry.
fn units(album: &mut Album) {
    let mut scale = Bench::with_journal(years(), 0.0);
    scale.begin_pair();
    mark(&mut scale, 48.34);
    days_pass(&mut scale, 3.0);
    scale.put(46.21);
    album.picture(&scale, "pan/damp");
    scale.put(456.7);
    album.picture(&scale, "pan/figures");
    scale.take();
    scale.open(Word::Units);
    scale.press(Key::Zero);
    scale.put(46.21);
    album.picture(&scale, "pan/ounces");
}

//! The commands over a real serial line: a pseudo-terminal with the simulated scale at its other end.
#![cfg(unix)]

use std::thread;
use std::time::Duration;

use clap::Parser;
use yarn_scale_core::app::Key;
use yarn_scale_core::converter::SampleRate;
use yarn_scale_core::journal::{Journal, Language, Record, RingName, Sequence, Setting, decode};
use yarn_scale_core::units::Stamp;
use yarn_scale_sim::computer::story::Story;
use yarn_scale_sim::computer::{Backup, TableArgs};
use yarn_scale_sim::device::flash::SimFlash;
use yarn_scale_sim::device::simulator::{JOURNAL_BYTES, calibrated_flash};
use yarn_scale_sim::failure::Failure;
use yarn_scale_sim::replay::{Replay, TimeUnit};
use yarn_scale_sim::world::{Body, Room, Unit, World};
use yarn_scale_tests::durability::{Found, Years};
use yarn_scale_tests::knitting::{knitted, pair};

use crate::plugged::{Command, Plugged, text};

/// A table, since that one takes a place to print to.
#[derive(Debug, Parser)]
struct Table {
    #[command(flatten)]
    table: TableArgs,
}

fn of(backup: &Backup, ring: RingName) -> Vec<&[u8]> {
    let of_ring = backup.entries.iter().filter(|(of, _)| *of == ring);
    of_ring.map(|(_, entry)| entry.as_slice()).collect()
}

/// The journal of decades, its ring of marks come round. By nature nothing differs: not even that it was restored is noted, until
/// something else is.
#[test]
fn a_full_journal_goes_to_a_blank_scale_and_comes_back_to_the_last_byte() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = |name: &str| folder.path().join(name);
    let mut years = Years::new(JOURNAL_BYTES);
    for pair in 1..=900 {
        years.knit_a_pair(pair).expect("room");
        years.visit(5).expect("room");
    }
    let old = Plugged::with(years.flash);
    // With its start, which is noted.
    let backup = old.back_up(&path("saved"));
    let counts = [RingName::Pairs, RingName::Marks, RingName::Visits].map(|ring| of(&backup, ring).len());
    assert!(
        counts[0] == 900 && counts[1] > 20_000 && counts[2] > 1_500,
        "{counts:?}"
    );
    // What is read out is what stands in the flash.
    let image = Backup::from_image(old.unplug()).expect("a journal");
    assert_eq!(backup.entries, image.entries);

    let new = Plugged::with(SimFlash::blank(JOURNAL_BYTES));
    new.run(&["restore", text(&path("saved")), "--dry-run"])
        .expect("room for it");
    assert_eq!(
        new.back_up(&path("dry")).entries,
        [],
        "nothing is restored, nor anything noted"
    );
    new.run(&["restore", text(&path("saved"))]).expect("it is restored");
    // Then it starts anew, a second of its own time later, which a busy computer gives it when it can.
    let content = |name: &str| std::fs::read(path(name)).expect("a backup");
    let is_same = (0..20).any(|_| {
        thread::sleep(Duration::from_secs(2));
        let _ = std::fs::remove_file(path("again"));
        new.back_up(&path("again"));
        content("again") == content("saved")
    });
    assert!(is_same, "to the last byte");
    // And once more changes nothing.
    new.run(&["restore", text(&path("again"))]).expect("nothing to do");
    new.run(&["name", "1", "Sample"]).expect("noted");
    assert_eq!(new.back_up(&path("named")).entries.len(), backup.entries.len() + 1);
}

/// A memory that is nearly full, with a pair on the needles: all of it is in the file before anything may go, and the open pair stays.
#[test]
fn room_is_made_behind_a_backup_and_only_where_there_is_need() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = |name: &str| folder.path().join(name);
    let mut years = Years::new(SMALL);
    for pair in 1..=40 {
        years.knit_a_pair(pair).expect("room");
    }
    let half = Plugged::with(years.flash.copy());
    let reason = half.run(&["make-room", text(&path("half"))]).expect_err("no need");
    assert!(reason.contains("room enough on the scale"), "{reason}");
    assert!(!path("half").exists());

    let mut pair = 40;
    while !years.journal.usage().is_nearly_full() {
        pair += 1;
        years.knit_a_pair(pair).expect("room");
    }
    for record in knitting_pair(pair + 1) {
        years.note(record).expect("room");
    }
    let scale = Plugged::with(years.flash);
    std::fs::write(path("there"), "mine").expect("a file");
    scale
        .run(&["make-room", text(&path("there"))])
        .expect_err("it is there");
    assert_eq!(std::fs::read(path("there")).expect("a file"), b"mine");
    let kept = |backup: &Backup| {
        let decoded = backup.entries.iter().filter_map(|(_, entry)| decode(entry).ok());
        decoded
            .filter(|entry| matches!(entry.record, Record::Setting(Setting::KeptFrom(_))))
            .count()
    };
    assert_eq!(
        kept(&scale.back_up(&path("before"))),
        0,
        "without its backup nothing may go"
    );
    scale.run(&["make-room", text(&path("saved"))]).expect("room is made");
    let (before, saved) = (Backup::read(&path("before")), Backup::read(&path("saved")));
    assert_eq!(before.expect("a backup").entries, saved.expect("a backup").entries);
    let after = scale.back_up(&path("after"));
    assert_eq!(kept(&after), 1);
    let device = after.device.expect("a scale");
    assert!(device.used_percent < 90, "{device:?}");
    let reason = scale
        .run(&["make-room", text(&path("again"))])
        .expect_err("no need any more");
    assert!(reason.contains("room enough"), "{reason}");
    // The pair on the needles is as it was.
    let image = scale.unplug();
    let (_, found) = Found::open(&mut SimFlash::with_content(image)).expect("a flash that works");
    assert_eq!(found.ledger().0.steps(), years.ledger.steps());
}

/// A journal of 24 sectors.
const SMALL: usize = 96 << 10;

/// A pair's beginning, three yarns weighed in, and its first mark.
fn knitting_pair(number: u16) -> Vec<Record> {
    let mut records = pair(number, Sequence(0));
    records.truncate(5);
    records
}

#[test]
fn an_older_or_foreign_backup_is_refused_and_nothing_changes() {
    let folder = tempfile::tempdir().expect("a folder");
    let (older, foreign) = (folder.path().join("older"), folder.path().join("foreign"));
    let image = |flash: SimFlash| Backup::from_image(flash.content().to_vec()).expect("a journal");
    image(knitted(JOURNAL_BYTES, 2)).write(&older).expect("a new file");
    let mut other = SimFlash::blank(JOURNAL_BYTES);
    let mut journal = Journal::open(&mut other, |_| {}).expect("a blank chip");
    for pair in 1..=4 {
        let sections = Default::default();
        let condensed = Record::Condensed { pair, sections };
        journal.append(&mut other, Stamp(1), condensed).expect("room");
    }
    image(other).write(&foreign).expect("a new file");

    let scale = Plugged::with(knitted(JOURNAL_BYTES, 3));
    let before = scale.back_up(&folder.path().join("before"));
    let reason = scale.run(&["restore", text(&older)]).expect_err("it is older");
    assert!(reason.contains("the backup is older than the scale"), "{reason}");
    let reason = scale.run(&["restore", text(&foreign)]).expect_err("it is foreign");
    assert!(
        reason.contains("another scale's") && !reason.contains("erase"),
        "{reason}"
    );
    assert_eq!(scale.back_up(&folder.path().join("after")), before);
}

/// Its first questions were answered, and nothing more: also an answer is not taken away, and the way out is said.
#[test]
fn a_scale_that_has_its_first_answers_refuses_a_foreign_backup() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("saved");
    let backup = Backup::from_image(knitted(JOURNAL_BYTES, 2).content().to_vec()).expect("a journal");
    backup.write(&path).expect("a new file");
    let mut answered = SimFlash::blank(JOURNAL_BYTES);
    let mut journal = Journal::open(&mut answered, |_| {}).expect("a blank chip");
    let language = Record::Setting(Setting::Language(Language::German));
    journal.append(&mut answered, Stamp(1), language).expect("room");
    let scale = Plugged::with(answered);
    let before = scale.back_up(&folder.path().join("before"));
    let reason = scale.run(&["restore", text(&path)]).expect_err("it is foreign");
    assert!(
        reason.contains("this scale holds no pair yet: erase everything"),
        "{reason}"
    );
    assert_eq!(scale.back_up(&folder.path().join("after")), before);
}

#[test]
fn names_and_the_clock_are_noted_and_the_table_shows_them() {
    let folder = tempfile::tempdir().expect("a folder");
    let scale = Plugged::with(knitted(JOURNAL_BYTES, 2));
    scale.run(&["name", "2", "Sample, \"socks\""]).expect("noted");
    scale.run(&["clock"]).expect("noted");
    let story = Story::of(&scale.back_up(&folder.path().join("saved")));
    assert_eq!(story.pairs[1].name.as_deref(), Some("Sample, \"socks\""));
    let now = std::time::SystemTime::now().duration_since(std::time::UNIX_EPOCH);
    let off = now
        .expect("after 1970")
        .as_secs()
        .abs_diff(unix(&story).expect("it was set"));
    assert!(off < 60, "{off} s");
    let mut out = Vec::new();
    let table = Table::parse_from(["table", "--device", &scale.port]).table;
    table.run(&mut out).expect("a table");
    let out = String::from_utf8(out).expect("text");
    // RFC 4180, rules 6 and 7.
    assert_eq!(out.matches("2,\"Sample, \"\"socks\"\"\",").count(), 12, "{out}");
    let reason = scale.run(&["name", "9z", "Sample"]).expect_err("no such thing");
    assert!(reason.contains("neither a pair's number nor a letter"), "{reason}");
    let reason = scale.run(&["name", "3", "Sample"]).expect_err("no such pair");
    assert_eq!(reason, "there is no pair 3 on this scale: its latest is 2");
    let long = "twenty-five bytes of name";
    assert!(
        scale
            .run(&["name", "1", long])
            .expect_err("too long")
            .contains("24 letters")
    );
}

/// What a computer has set the clock to last.
fn unix(story: &Story) -> Option<u64> {
    story.calendar.set_last()
}

/// Weighed in with 20 g of the yarn that the cuff takes, the knitter has pressed MARK with 60 g on the pan: the scale asks.
#[test]
fn a_scale_that_waits_for_an_answer_is_not_disturbed() {
    let world = World::new(Unit::typical(3), SampleRate::Ten, Room::constant());
    let mut flash = calibrated_flash(&world, JOURNAL_BYTES);
    let mut journal = Journal::open(&mut flash, |_| {}).expect("a journal");
    for record in pair(1, journal.next()).into_iter().take(4) {
        journal.append(&mut flash, Stamp(1), record).expect("room");
    }
    let scale = Plugged::after(flash, |simulator| {
        simulator.pass(3.0, |_| {});
        simulator.board.world_mut().put(Body::dry(60.0));
        simulator.pass(8.0, |_| {});
        simulator.press(Key::Mark);
        simulator.pass(3.0, |_| {});
        assert!(
            simulator.app().is_some_and(yarn_scale_core::app::App::is_busy),
            "it asks: {:?}",
            simulator.app().map(yarn_scale_core::app::App::view)
        );
    });
    let reason = scale.run(&["clock"]).expect_err("it is busy");
    assert!(reason.contains("waits for an answer"), "{reason}");
    let folder = tempfile::tempdir().expect("a folder");
    let backup = scale.back_up(&folder.path().join("saved"));
    assert!(unix(&Story::of(&backup)).is_none(), "reading goes on, nothing is noted");
}

/// A scale with 60 g on its pan: what is recorded replays to what it shows, and nothing was noted of it.
#[test]
fn a_recording_is_what_the_replay_takes() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = |name: &str| folder.path().join(name);
    let world = World::new(Unit::typical(3), SampleRate::Ten, Room::constant());
    let plugged = Plugged::after(calibrated_flash(&world, JOURNAL_BYTES), |simulator| {
        simulator.pass(8.0, |_| {});
        simulator.board.world_mut().put(Body::dry(60.0));
    });
    let (trace, cal) = (path("trace.csv"), path("cal.json"));
    plugged
        .run(&["record", text(&trace), "--seconds", "4", "--cal", text(&cal)])
        .expect("recorded");
    let rows = std::fs::read_to_string(&trace).expect("a trace");
    let times: Vec<u64> = rows
        .lines()
        .skip(1)
        .map(|row| row.split_once(',').expect("two columns").0.parse().expect("a time"))
        .collect();
    // Forty, where the machine keeps up.
    assert!(times.len() >= 10, "{} rows in four seconds", times.len());
    assert!(
        times.windows(2).all(|pair| (80..=120).contains(&(pair[1] - pair[0]))),
        "ten a second and none left out: {times:?}"
    );
    let refused = plugged.run(&["record", text(&trace)]).expect_err("it is there already");
    assert!(refused.contains("trace.csv"), "{refused}");
    let before = Journal::open(&mut SimFlash::with_content(plugged.unplug()), |_| {}).expect("a journal");
    assert_eq!(before.next().0, 2, "the calibration and nothing else");

    let replay = Replay {
        trace,
        cal,
        time: TimeUnit::Milliseconds,
        marks: None,
    };
    let mut out = Vec::new();
    replay.run(&mut out).expect("it replays");
    let out = String::from_utf8(out).expect("text");
    let last: serde_json::Value = serde_json::from_str(out.lines().last().expect("a sample")).expect("an object");
    let grams = last["grams"].as_f64().expect("a number");
    assert!((grams - 60.0).abs() < 0.3, "{last}");
}

#[test]
fn a_port_that_is_not_there_is_told() {
    let nowhere = Command::parse_from(["yarn-scale", "clock", "--device", "/dev/no-such-port"]);
    let Command::Clock(args) = nowhere else {
        unreachable!("as it was asked")
    };
    let Err(Failure::Here(reason)) = args.run(std::io::sink()) else {
        panic!("there is no such port")
    };
    assert_eq!(reason, "/dev/no-such-port: there is no such port");
}

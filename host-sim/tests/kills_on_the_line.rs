//! A simulated scale, or the command that restores to it, killed at any instant of a restore or a note: the journal is the old one or the
//! new one, and what a command said was noted is there.
#![cfg(target_os = "linux")]

use std::fs;
use std::io::{BufRead, BufReader};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};

use yarn_scale_core::converter::SampleRate;
use yarn_scale_core::journal::{Journal, Record, Replayed, RingName, Setting};
use yarn_scale_core::units::Stamp;
use yarn_scale_sim::computer::Backup;
use yarn_scale_sim::device::flash::SimFlash;
use yarn_scale_sim::device::simulator::calibrated_flash;
use yarn_scale_sim::world::{Room, Unit, World};

const PRODUCT: &str = env!("CARGO_BIN_EXE_yarn-scale");

/// A generator of the simplest kind is enough to spread the instants.
struct Instants(u64);

impl Instants {
    fn next(&mut self, from_ms: u64, to_ms: u64) -> Duration {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        Duration::from_millis(from_ms + (self.0 >> 33) % (to_ms - from_ms))
    }
}

/// The chip of the scale that `serve` runs, and the same some records later.
fn old_and_new() -> (SimFlash, SimFlash) {
    let world = World::new(Unit::typical(1), SampleRate::Ten, Room::constant());
    let old = calibrated_flash(&world, 1 << 20);
    let mut new = old.copy();
    let mut journal = Journal::open(&mut new, |_| {}).expect("a journal");
    for number in 0..RECORDS {
        let setting = Record::Setting(Setting::SleepMinutes(1 + (number % 30) as u8));
        journal.append(&mut new, Stamp(number), setting).expect("room");
    }
    (old, new)
}

/// Marks and closed pairs as they stand; the visits are the scale's own.
fn lasting(bytes: Vec<u8>) -> Vec<(RingName, Vec<u8>)> {
    let backup = Backup::from_image(bytes).expect("a journal");
    let entries = backup.entries.into_iter();
    entries.filter(|(ring, _)| *ring != RingName::Visits).collect()
}

/// A simulated scale, and the name of its port.
struct Served(Child, String);

impl Served {
    fn on(file: &Path) -> Self {
        let mut child = Command::new(PRODUCT)
            .args(["serve", "--flash"])
            .arg(file)
            .stdin(Stdio::null())
            .stdout(Stdio::piped())
            .spawn()
            .expect("it starts");
        let mut port = String::new();
        let out = child.stdout.take().expect("piped");
        BufReader::new(out).read_line(&mut port).expect("its port");
        Self(child, port.trim().to_owned())
    }
}

/// SIGKILL: it cannot do anything about it.
fn kill(child: &mut Child) {
    child.kill().expect("a child");
    child.wait().expect("a child");
}

/// Kills a scale, or the command that restores to it, so many times. Gives how often the new journal stood, of how many.
fn kill_restores(times: u64) -> (u64, u64) {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let (image, saved) = (folder.path().join("image"), folder.path().join("saved"));
    let (old, new) = old_and_new();
    let backup = Backup::from_image(new.content().to_vec()).expect("a journal");
    backup.write(&saved).expect("written");
    let (before, after) = (lasting(old.content().to_vec()), lasting(new.content().to_vec()));
    let (mut instants, mut restored) = (Instants(7), 0);
    fs::write(&image, old.content()).expect("a file");
    for number in 0..times {
        let mut scale = Served::on(&image);
        let mut command = restore(&saved, &scale.1);
        std::thread::sleep(instants.next(5, 700));
        if number % 2 == 0 {
            kill(&mut scale.0);
            kill(&mut command);
        } else {
            kill(&mut command);
            // The scale goes on, and after a while begins anew with what it has.
            std::thread::sleep(instants.next(1, 200));
            kill(&mut scale.0);
        }
        let mut said = String::new();
        let out = command.stdout.take().expect("piped");
        std::io::Read::read_to_string(&mut BufReader::new(out), &mut said).expect("text");
        let found = lasting(fs::read(&image).expect("a file"));
        let is_new = found == after;
        assert!(is_new || found == before, "kill {number}: {} entries", found.len());
        assert!(is_new || !said.contains("restored;"), "kill {number}: it was confirmed");
        if is_new {
            restored += 1;
            fs::write(&image, old.content()).expect("a file");
        }
    }
    // And it can be run again: what an earlier restore has left is no hindrance.
    fs::write(&image, old.content()).expect("a file");
    let mut scale = Served::on(&image);
    let mut command = restore(&saved, &scale.1);
    std::thread::sleep(Duration::from_millis(120));
    kill(&mut command);
    let again = restore(&saved, &scale.1).wait_with_output().expect("a child");
    kill(&mut scale.0);
    assert!(again.status.success(), "{again:?}");
    assert_eq!(lasting(fs::read(&image).expect("a file")), after);
    (restored, times)
}

fn restore(saved: &Path, port: &str) -> Child {
    Command::new(PRODUCT)
        .arg("restore")
        .arg(saved)
        .args(["--device", port])
        .stdin(Stdio::null())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("it starts")
}

fn clocks(image: &Path) -> usize {
    let mut flash = SimFlash::with_content(fs::read(image).expect("a file"));
    let mut count = 0;
    Journal::open(&mut flash, |replayed| {
        let is_clock = matches!(replayed, Replayed::Entry(entry) if matches!(entry.record, Record::ClockSet { .. }));
        count += usize::from(is_clock);
    })
    .expect("a journal");
    count
}

/// Kills a scale so many times while a computer sets its clock again and again. Gives how many settings were confirmed.
fn kill_notes(times: u64) -> usize {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let image: PathBuf = folder.path().join("image");
    fs::write(&image, old_and_new().0.content()).expect("a file");
    let (mut instants, mut confirmed) = (Instants(11), 0);
    for number in 0..times {
        let before = clocks(&image);
        let mut scale = Served::on(&image);
        let end = Instant::now() + instants.next(30, 500);
        let mut noted = 0;
        while Instant::now() < end {
            let command = Command::new(PRODUCT)
                .args(["clock", "--device", &scale.1])
                .stdin(Stdio::null())
                .stdout(Stdio::piped())
                .stderr(Stdio::piped())
                .spawn();
            let mut command = command.expect("it starts");
            while command.try_wait().expect("a child").is_none() && Instant::now() < end {
                std::thread::sleep(Duration::from_millis(1));
            }
            if Instant::now() >= end {
                kill(&mut scale.0);
                let _ = command.kill();
            }
            let said = command.wait_with_output().expect("a child").stdout;
            noted += usize::from(said.starts_with(b"noted"));
        }
        let _ = scale.0.kill();
        scale.0.wait().expect("a child");
        let after = clocks(&image);
        assert!(
            (before + noted..=before + noted + 1).contains(&after),
            "kill {number}: {noted} noted, {after} there after {before}"
        );
        confirmed += noted;
    }
    confirmed
}

#[test]
fn a_restore_that_is_killed_leaves_the_old_journal_or_the_new_one() {
    kill_restores(12);
}

#[test]
fn what_was_noted_over_the_line_is_there_after_a_kill() {
    let confirmed = kill_notes(6);
    assert!(confirmed >= 2, "{confirmed}");
}

#[test]
#[ignore = "a quarter of an hour: `cargo test --release -p yarn-scale-sim --test kills_on_the_line -- --ignored --nocapture`"]
fn a_thousand_kills_of_restores_and_notes_lose_nothing() {
    let (new, of) = kill_restores(600);
    assert!(new > 0 && new < of, "{new} of {of}");
    println!(
        "kills during restores {of}, the new journal stood after {new}, the old one after {}",
        of - new
    );
    println!("kills during notes 400, confirmed {}, none lost", kill_notes(400));
}

/// Records that the backup has and the scale lacks.
const RECORDS: u32 = 600;

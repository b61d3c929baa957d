//! A simulated scale that is killed at any instant while it notes marks: what it had confirmed is there when it starts again.
#![cfg(target_os = "linux")]

use std::fs;
use std::io::{BufRead, BufReader, Read};
use std::path::Path;
use std::process::{Command, Stdio};
use std::time::Duration;

use yarn_scale_core::converter::SampleRate;
use yarn_scale_core::journal::{Journal, Record};
use yarn_scale_core::measured::Measured;
use yarn_scale_core::sock::{
    Construction, HeelConstruction, Line, Ribbing, SectionKind, Sock, ToeConstruction, Weight, YarnLetter,
};
use yarn_scale_core::units::{Milligrams, Stamp};
use yarn_scale_sim::computer::Backup;
use yarn_scale_sim::device::simulator::calibrated_flash;
use yarn_scale_sim::world::{Room, Unit, World};

/// A journal of the world of `serve`, with a pair begun and its yarn weighed in.
fn image() -> Vec<u8> {
    let world = World::new(Unit::typical(1), SampleRate::Ten, Room::constant());
    let mut flash = calibrated_flash(&world, 1 << 20);
    let mut journal = Journal::open(&mut flash, |_| {}).expect("a journal");
    let lines = [Sock::First, Sock::Second].into_iter().flat_map(|sock| {
        SOCK.map(|(kind, construction, _)| Line {
            kind,
            sock,
            yarn: YarnLetter::A,
            construction,
            stitches: 64,
        })
    });
    let lines = lines.collect();
    let net = Measured {
        value: Milligrams(FIRST_MG),
        u: 30.0,
    };
    let weight = Weight {
        net,
        bowl: None,
        air: None,
    };
    let yarn = YarnLetter::A;
    for record in [Record::PairBegun { pair: 1, lines }, Record::WeighIn { yarn, weight }] {
        journal.append(&mut flash, Stamp(0), record).expect("room");
    }
    flash.content().to_vec()
}

/// Section after section: the cake goes on, lighter by what the section takes, and MARK is pressed.
fn script(first: usize) -> String {
    let mut script = String::from("t_ms,event\n");
    let mut left = FIRST_MG;
    for (number, (_, _, takes)) in SOCK.into_iter().chain(SOCK).enumerate() {
        left -= takes;
        if let Some(since) = number.checked_sub(first) {
            let at = 4_000 + 9_000 * since as u64;
            let grams = f64::from(left) / 1_000.0;
            script += &format!("{at},put {grams}\n{},mark\n{},take\n", at + 4_000, at + 6_500);
        }
    }
    script
}

/// Weights of the pair in the journal, the weigh-in included.
fn kept(file: &Path) -> usize {
    let backup = Backup::read(file).expect("a journal");
    backup.book().ledger().steps().len()
}

/// Runs it and kills it after a time; gives how many it had said were noted.
fn killed_after(file: &Path, script: &Path, time: Duration) -> usize {
    let mut child = Command::new(env!("CARGO_BIN_EXE_yarn-scale"))
        .args(["serve", "--fast", "--flash"])
        .arg(file)
        .arg("--presses")
        .arg(script)
        .stdin(Stdio::null())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("it starts");
    std::thread::sleep(time);
    // SIGKILL: it cannot do anything about it.
    child.kill().expect("a child");
    child.wait().expect("a child");
    let mut said = String::new();
    child
        .stderr
        .take()
        .expect("piped")
        .read_to_string(&mut said)
        .expect("text");
    assert_eq!(said, "");
    let lines = BufReader::new(child.stdout.take().expect("piped"))
        .lines()
        .map_while(Result::ok);
    let noted = lines.filter_map(|line| line.strip_prefix("noted ").and_then(|count| count.parse().ok()));
    noted.max().unwrap_or(0)
}

/// Kills it so many times; gives how many marks had been confirmed in all.
fn kill(times: u64) -> usize {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let (file, presses) = (folder.path().join("image"), folder.path().join("presses.csv"));
    let whole = image();
    let (mut confirmed, mut random) = (0, 1_u64);
    for number in 0..times {
        if number % A_PAIR == 0 {
            fs::write(&file, &whole).expect("a file");
        }
        let before = kept(&file);
        fs::write(&presses, script(before - 1)).expect("a file");
        // A generator of the simplest kind is enough to spread the instants.
        random = random
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        let noted = killed_after(&file, &presses, Duration::from_millis(20 + (random >> 33) % 400));
        let after = kept(&file);
        assert!(
            after >= noted.max(before),
            "kill {number}: {noted} were confirmed, {after} of {before} are there"
        );
        confirmed += noted.saturating_sub(before);
    }
    confirmed
}

#[test]
fn what_was_confirmed_is_there_after_a_kill() {
    let confirmed = kill(24);
    assert!(confirmed >= 12, "{confirmed}");
}

#[test]
#[ignore = "minutes: `cargo test --release -p yarn-scale-sim --test kills -- --ignored --nocapture`"]
fn what_was_confirmed_is_there_after_a_thousand_kills() {
    let confirmed = kill(1_000);
    assert!(confirmed >= 500, "{confirmed}");
    println!("{confirmed} marks confirmed in 1,000 kills, none lost");
}

/// What each section takes, mg: an invented sock.
const SOCK: [(SectionKind, Construction, i32); 6] = [
    (SectionKind::Cuff, Construction::Ribbed(Ribbing::TwoByTwo), 5_600),
    (SectionKind::Leg, Construction::Plain, 14_200),
    (
        SectionKind::Heel,
        Construction::Heel(HeelConstruction::FlapAndGusset),
        5_100,
    ),
    (SectionKind::Gusset, Construction::Plain, 4_300),
    (SectionKind::Foot, Construction::Plain, 12_400),
    (SectionKind::Toe, Construction::Toe(ToeConstruction::Wedge), 5_300),
];
const FIRST_MG: i32 = 103_000;
/// Kills after which a new pair is begun: more than it takes to finish one.
const A_PAIR: u64 = 8;

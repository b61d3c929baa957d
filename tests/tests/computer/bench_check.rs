//! The check on the bench over a real serial line: a pseudo-terminal with the simulated scale at its other end, and a person who answers.
#![cfg(unix)]

use std::collections::VecDeque;
use std::fs;
use std::io::{self, BufRead, BufReader, Read};
use std::path::Path;
use std::sync::mpsc::{self, Receiver, Sender};
use std::thread;
use std::time::Duration;

use clap::Parser;
use yarn_scale_core::app::Key;
use yarn_scale_core::converter::SampleRate;
use yarn_scale_core::units::Duration as Span;
use yarn_scale_sim::computer::{BackupArgs, BenchArgs, serve};
use yarn_scale_sim::device::flash::SimFlash;
use yarn_scale_sim::device::simulator::{JOURNAL_BYTES, Simulator};
use yarn_scale_sim::failure::Failure;
use yarn_scale_sim::world::{Body, Room, Unit, World};

#[derive(Debug, Parser)]
enum Command {
    Bench(BenchArgs),
    Backup(BackupArgs),
}

/// What hands do at the scale.
type Deed = Box<dyn FnOnce(&mut Simulator) + Send>;

/// A person: before each answer something is done, or nothing.
struct Person {
    answers: VecDeque<(&'static str, Option<Deed>)>,
    hands: Sender<Deed>,
}

impl Person {
    fn with(hands: &Sender<Deed>, answers: Vec<(&'static str, Option<Deed>)>) -> impl BufRead {
        BufReader::new(Self {
            answers: answers.into(),
            hands: hands.clone(),
        })
    }
}

impl Read for Person {
    fn read(&mut self, into: &mut [u8]) -> io::Result<usize> {
        let Some((answer, deed)) = self.answers.pop_front() else {
            return Ok(0);
        };
        if let Some(deed) = deed {
            self.hands.send(deed).map_err(|_| io::Error::other("no scale"))?;
        }
        let line = format!("{answer}\n");
        into[..line.len()].copy_from_slice(line.as_bytes());
        Ok(line.len())
    }
}

/// A simulated scale on a line, twenty times as fast as time passes; it ends when its hands are dropped.
fn plugged_in() -> (String, Sender<Deed>) {
    let (tell, name) = mpsc::channel();
    let (hands, deeds): (_, Receiver<Deed>) = mpsc::channel();
    thread::spawn(move || {
        let world = World::new(Unit::typical(3), SampleRate::Ten, Room::constant());
        let mut simulator = Simulator::with_flash(world, SimFlash::blank(JOURNAL_BYTES));
        simulator.switch_on();
        let named = |name: &str| tell.send(name.to_owned()).map_err(io::Error::other);
        let go_on = |simulator: &mut Simulator| {
            thread::sleep(Duration::from_micros(250));
            match deeds.try_recv() {
                Ok(deed) => deed(simulator),
                Err(mpsc::TryRecvError::Empty) => {}
                Err(mpsc::TryRecvError::Disconnected) => return false,
            }
            true
        };
        serve(&mut simulator, named, go_on).expect("a pseudo-terminal");
    });
    (name.recv().expect("a name"), hands)
}

fn run(words: &[&str], person: impl BufRead) -> Result<String, String> {
    let mut out = Vec::new();
    let words = [&["yarn-scale"], words].concat();
    let done = match Command::parse_from(words) {
        Command::Bench(args) => args.run(person, &mut out),
        Command::Backup(args) => args.run(&mut out),
    };
    let said = String::from_utf8(out).expect("text");
    match done {
        Ok(()) => Ok(said),
        Err(Failure::Here(reason)) => Err(reason),
        Err(other) => Err(format!("{other:?}")),
    }
}

fn row<'s>(sheet: &'s str, name: &str) -> &'s str {
    let found = sheet.lines().find(|line| line.starts_with(&format!("| {name} |")));
    found.unwrap_or_else(|| panic!("no row {name}: {sheet}"))
}

fn text(path: &Path) -> &str {
    path.to_str().expect("a plain path")
}

/// Presses of ZERO, MARK and NEXT, so many of each, from two seconds on.
fn presses(each: [u32; 3]) -> Deed {
    Box::new(move |simulator| {
        let at = simulator.board.clock() + Span::from_secs(2);
        for (key, times) in [Key::Zero, Key::Mark, Key::Next].into_iter().zip(each) {
            for _ in 0..times {
                simulator.board.fingers.press(key, at);
            }
        }
    })
}

fn put(grams: f64) -> Deed {
    Box::new(move |simulator| {
        simulator.board.world_mut().put(Body::dry(grams));
    })
}

const LINES: [&str; 12] = [
    "edges of the display",
    "supply",
    "rate and strap",
    "noise",
    "counts of the empty pan",
    "counts a gram",
    "keys",
    "humidity sensor",
    "buzzer",
    "flash number",
    "last reset",
    "time to the first number",
];

#[test]
fn a_good_scale_comes_out_with_a_sheet_that_says_so() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = |name: &str| folder.path().join(name);
    let (port, hands) = plugged_in();
    let fitted: Deed = Box::new(|simulator| simulator.board.humidity_sensor = true);
    hands.send(fitted).expect("it runs");
    let meter = "4,2";
    let answers = vec![
        ("maybe", None),
        ("y", None),
        ("no volts", None),
        (meter, None),
        ("", None),
        // A cell that was just switched on drifts more than may be.
        ("-", None),
        ("", Some(put(100.0))),
        ("", Some(presses([3; 3]))),
        ("y", None),
    ];
    let sheet = path("sheet.md");
    let said = run(
        &["bench", text(&sheet), "--device", &port],
        Person::with(&hands, answers),
    )
    .expect("a sheet");
    assert!(said.contains("12 passed; not made: drift\n"), "{said}");
    let sheet = fs::read_to_string(sheet).expect("a sheet");
    assert!(row(&sheet, "drift").ends_with("| |"));
    for name in LINES {
        assert!(row(&sheet, name).ends_with(": passed |"), "{}", row(&sheet, name));
    }
    assert!(row(&sheet, "rate and strap").contains(" % of 10"));
    assert!(row(&sheet, "last reset").contains("power (0x100)"));
    assert!(
        sheet.contains("Unit: flash number ending in 5EED1E55, program "),
        "{sheet}"
    );
    assert!(
        row(&sheet, "corners").ends_with("| |"),
        "what hands measure is left to them"
    );

    // The scale has noted it all: a backup gives the same sheet.
    run(&["backup", text(&path("saved")), "--device", &port], io::empty()).expect("a backup");
    run(
        &["bench", text(&path("again.md")), "--file", text(&path("saved"))],
        io::empty(),
    )
    .expect("a sheet");
    assert_eq!(fs::read_to_string(path("again.md")).expect("a sheet"), sheet);
}

#[test]
fn faults_are_named_steps_are_left_out_and_an_end_of_answers_is_told() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = |name: &str| folder.path().join(name);
    let (port, hands) = plugged_in();
    let answers = vec![
        ("n", None),
        ("5.9", None),
        ("", None),
        ("-", None),
        ("", Some(put(40.0))),
        ("", Some(presses([3, 0, 3]))),
        ("y", None),
        ("-", None),
    ];
    let sheet = path("sheet.md");
    let said = run(
        &["bench", text(&sheet), "--device", &port],
        Person::with(&hands, answers),
    )
    .expect("a sheet");
    let failed = "failed: supply, counts a gram, keys, edges of the display, humidity sensor; not made: drift, buzzer";
    assert!(said.contains(failed), "{said}");
    let sheet = fs::read_to_string(sheet).expect("a sheet");
    assert!(row(&sheet, "keys").contains("ZERO 0 ms, MARK sticks or was not pressed, NEXT 0 ms: **failed**"));
    assert!(row(&sheet, "drift").ends_with("| |"));

    let ended = run(
        &["bench", text(&path("half.md")), "--device", &port],
        Person::with(&hands, vec![("y", None)]),
    );
    assert!(ended.expect_err("nobody answers").contains("--noted"));
    assert!(!path("half.md").exists());
    let said = run(
        &["bench", "--noted", text(&path("half.md")), "--device", &port],
        io::empty(),
    )
    .expect("a sheet");
    assert!(said.contains("failed: supply"), "{said}");
}

//! Hostile command lines, as processes: endless and foreign files, full disks, closed pipes, absurd numbers and names. No command
//! panics, writes over what it did not make, leaves half a file, or takes more than 256 MiB.
#![cfg(target_os = "linux")]

use std::ffi::{OsStr, OsString};
use std::fs::{self, File};
use std::io::{Read, Seek, SeekFrom};
use std::os::unix::ffi::OsStringExt;
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Output, Stdio};
use std::time::{Duration, Instant};

const PRODUCT: &str = env!("CARGO_BIN_EXE_yarn-scale");
const LAB: &str = env!("CARGO_BIN_EXE_yarn-scale-lab");

/// KiB of address space, the program itself included.
const MEMORY_KIB: u32 = 256 << 10;
/// None of the commands here takes longer, even on a busy machine.
const PATIENCE: Duration = Duration::from_secs(100);

/// A command of a program, in little memory.
fn command(program: &str, words: &[impl AsRef<OsStr>]) -> Command {
    let mut command = Command::new("sh");
    let limited = format!("ulimit -v {MEMORY_KIB}; exec \"$0\" \"$@\"");
    command.args(["-c", &limited, program]).args(words);
    command
        .stdin(Stdio::null())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped());
    command
}

/// Its end, which must come.
fn ended(mut child: Child, words: &[impl AsRef<OsStr>]) -> Output {
    let begun = Instant::now();
    while child.try_wait().expect("a child").is_none() {
        if begun.elapsed() > PATIENCE {
            child.kill().expect("a child");
            let words: Vec<_> = words.iter().map(AsRef::as_ref).collect();
            panic!("it did not end: {words:?}");
        }
        std::thread::sleep(Duration::from_millis(5));
    }
    child.wait_with_output().expect("a child")
}

fn run(program: &str, words: &[impl AsRef<OsStr>]) -> Output {
    // Into a file: a pipe that nobody empties would stop it.
    let mut printed = tempfile::tempfile().expect("a temporary file");
    let out = printed.try_clone().expect("a temporary file");
    let mut output = ended(command(program, words).stdout(out).spawn().expect("it starts"), words);
    printed.seek(SeekFrom::Start(0)).expect("a file");
    printed.read_to_end(&mut output.stdout).expect("a file");
    output
}

/// The one line of a command that must fail with exit code 2.
fn complaint(program: &str, words: &[impl AsRef<OsStr>]) -> String {
    let output = run(program, words);
    let said = String::from_utf8_lossy(&output.stderr).into_owned();
    let words: Vec<_> = words.iter().map(AsRef::as_ref).collect();
    assert_eq!(output.status.code(), Some(2), "{words:?}: {said}");
    assert_eq!(said.trim_end().lines().count(), 1, "{words:?}: {said}");
    assert!(
        said.trim_end().chars().all(|sign| !sign.is_control()),
        "{words:?}: {said:?}"
    );
    said
}

fn folder() -> tempfile::TempDir {
    tempfile::tempdir().expect("a temporary folder")
}

fn text(path: &Path) -> &str {
    path.to_str().expect("a plain path")
}

/// A journal of the device's size with one calibration in it.
fn image(folder: &Path) -> PathBuf {
    let path = folder.join("image");
    let world = yarn_scale_sim::world::World::new(
        yarn_scale_sim::world::Unit::typical(1),
        yarn_scale_core::converter::SampleRate::Ten,
        yarn_scale_sim::world::Room::constant(),
    );
    let flash = yarn_scale_sim::device::simulator::calibrated_flash(&world, 1 << 20);
    fs::write(&path, flash.content()).expect("a file");
    path
}

const SCENARIO: &str =
    "title = \"x\"\ninvented = true\nsteps = [\n{ power = \"on\" },\n{ expect = { steady = true, by = 9 } },\n]\n";
const CALIBRATION: &str = r#"{"zero_counts": 1000, "counts_per_g": 4295.0, "capacity_g": 500, "sps": 10}"#;

/// Command lines that print much or little and end soon.
fn printing(folder: &Path) -> Vec<(&'static str, Vec<String>)> {
    let file = |name: &str, content: &str| {
        let path = folder.join(name);
        fs::write(&path, content).expect("a file");
        text(&path).to_owned()
    };
    let image = text(&image(folder)).to_owned();
    let words = |words: &[&str]| words.iter().map(|&word| word.to_owned()).collect::<Vec<_>>();
    let trace = file("trace.csv", &format!("t_ms,raw\n{}", "0,1000\n".repeat(5_000)));
    let cal = file("cal.json", CALIBRATION);
    let new = |name: &str| text(&folder.join(name)).to_owned();
    vec![
        (PRODUCT, words(&["table", "--file", &image])),
        (PRODUCT, words(&["table", "weighings", "--json", "--file", &image])),
        (PRODUCT, words(&["plan", "--leftover", "a=9", "--section", "toes=4"])),
        (PRODUCT, words(&["play", &file("s.toml", SCENARIO)])),
        (PRODUCT, words(&["replay", "--trace", &trace, "--cal", &cal])),
        (PRODUCT, words(&["report", "--demo", &new("report.html")])),
        (PRODUCT, words(&["backup", "--file", &image, &new("saved")])),
        (PRODUCT, words(&["serve", "--seconds", "1"])),
        (LAB, words(&["budget"])),
        (LAB, words(&["knitters", "--knitters", "50"])),
        (LAB, words(&["season", "--seasons", "1"])),
        (LAB, words(&["traces", &new("traces"), "--kind", "changes"])),
        (LAB, words(&["pages", &new("pages")])),
    ]
}

#[test]
fn a_full_device_is_told_and_a_closed_pipe_ends_quietly() {
    let whole = folder();
    for (program, words) in printing(whole.path()) {
        let output = run(program, &words);
        assert_eq!(output.status.code(), Some(0), "{words:?}: {output:?}");
        assert!(!output.stdout.is_empty(), "{words:?}");
    }
    let full = folder();
    for (program, words) in printing(full.path()) {
        let device = || File::options().write(true).open("/dev/full").expect("a device");
        let child = command(program, &words).stdout(device()).spawn().expect("it starts");
        let output = ended(child, &words);
        let said = String::from_utf8_lossy(&output.stderr).into_owned();
        assert_eq!(output.status.code(), Some(2), "{words:?}: {said}");
        assert!(
            said.contains("cannot write the output: No space left"),
            "{words:?}: {said}"
        );
        assert_eq!(said.lines().count(), 1, "{words:?}: {said}");
    }
    let both = folder();
    for (program, words) in printing(both.path()) {
        let device = || File::options().write(true).open("/dev/full").expect("a device");
        let child = command(program, &words).stdout(device()).stderr(device()).spawn();
        assert_eq!(
            ended(child.expect("it starts"), &words).status.code(),
            Some(2),
            "{words:?}"
        );
    }
    let closed = folder();
    for (program, words) in printing(closed.path()) {
        let (reader, writer) = std::io::pipe().expect("a pipe");
        drop(reader);
        let child = command(program, &words).stdout(writer).spawn().expect("it starts");
        let output = ended(child, &words);
        assert_eq!(output.status.code(), Some(0), "{words:?}: {output:?}");
        assert!(output.stderr.is_empty(), "{words:?}: {output:?}");
    }
}

/// A pipe that nobody writes into, a device without end, a file of 4 GiB, and a folder.
fn endless(folder: &Path) -> Vec<PathBuf> {
    fs::create_dir_all(folder).expect("a folder");
    let pipe = folder.join("pipe");
    assert!(Command::new("mkfifo").arg(&pipe).status().expect("mkfifo").success());
    let huge = folder.join("huge");
    File::create(&huge)
        .and_then(|file| file.set_len(4 << 30))
        .expect("a file with a hole");
    vec![PathBuf::from("/dev/zero"), pipe, huge, folder.to_owned()]
}

#[test]
fn endless_files_are_refused_in_one_line_and_little_memory() {
    let folder = folder();
    let new = text(&folder.path().join("new")).to_owned();
    let good = folder.path().join("cal.json");
    fs::write(&good, CALIBRATION).expect("a file");
    let trace = folder.path().join("trace.csv");
    fs::write(&trace, "t_ms,raw\n0,1000\n").expect("a file");
    for file in endless(folder.path()) {
        let file = text(&file);
        let lines = [
            vec!["table", "--file", file],
            vec!["table", "weighings", "--json", "--file", file],
            vec!["report", &new, "--file", file],
            vec!["backup", &new, "--file", file],
            vec!["restore", file],
            vec!["plan", "--leftover", "a=9", "--section", "toes", "--file", file],
            vec!["serve", "--seconds", "1", "--flash", file],
            vec!["play", file],
            vec!["check", file],
            vec!["replay", "--trace", text(&good), "--cal", file],
            vec!["replay", "--trace", file, "--cal", text(&good)],
            vec!["replay", "--trace", text(&trace), "--cal", text(&good), "--marks", file],
            vec!["serve", "--seconds", "1", "--presses", file],
        ];
        for words in lines {
            let said = complaint(PRODUCT, &words);
            assert!(said.contains(file), "{words:?}: {said}");
        }
        assert!(!Path::new(&new).exists());
    }
    // What is read as a port is no port, and a page is not written over any of these.
    for file in endless(&folder.path().join("more")) {
        let file = text(&file);
        for words in [
            vec!["clock", "--device", file],
            vec!["table", "--device", file],
            vec!["report", "--demo", file],
        ] {
            complaint(PRODUCT, &words);
        }
        complaint(LAB, &["train", file, "--sessions", "1", "--trees", "1"]);
    }
}

#[test]
fn what_is_there_is_never_written_over() {
    let folder = folder();
    let there = folder.path().join("there");
    let cases = [
        vec![],
        b"mine".to_vec(),
        vec![0; 1 << 20],
        vec![0xFF; 4_096],
        vec![0x41; (1 << 20) + 1],
    ];
    for content in cases {
        fs::write(&there, &content).expect("a file");
        let file = text(&there);
        let within = text(folder.path());
        let lines = [
            (PRODUCT, vec!["serve", "--seconds", "1", "--flash", file]),
            (PRODUCT, vec!["report", "--demo", file]),
            (LAB, vec!["pages", file]),
            (LAB, vec!["pages", within]),
            (LAB, vec!["traces", file]),
            (LAB, vec!["train", file, "--sessions", "1", "--trees", "1"]),
        ];
        for (program, words) in lines {
            complaint(program, &words);
            assert_eq!(fs::read(&there).expect("it is there"), content, "{words:?}");
        }
        let scenario = folder.path().join("s.toml");
        fs::write(&scenario, SCENARIO).expect("a file");
        for option in ["--frames", "--record"] {
            complaint(PRODUCT, &["play", text(&scenario), option, within]);
        }
        fs::remove_file(scenario).expect("it is there");
        let left: Vec<_> = fs::read_dir(folder.path())
            .expect("a folder")
            .flatten()
            .map(|file| file.file_name())
            .collect();
        assert_eq!(left, ["there"]);
    }
}

#[test]
fn a_blank_image_is_served_and_keeps_its_size() {
    let folder = folder();
    let file = folder.path().join("flash");
    for _ in 0..2 {
        let output = run(PRODUCT, &["serve", "--seconds", "1", "--flash", text(&file)]);
        assert_eq!(output.status.code(), Some(0), "{output:?}");
        assert_eq!(fs::metadata(&file).expect("it is made").len(), 1 << 20);
    }
}

#[test]
fn absurd_numbers_are_taken_or_refused() {
    let most = "18446744073709551615";
    let folder = folder();
    let scenario = folder.path().join("s.toml");
    fs::write(&scenario, SCENARIO).expect("a file");
    let traces = folder.path().join("traces");
    let taken = [
        (PRODUCT, vec!["play", text(&scenario), "--seed", most]),
        (LAB, vec!["budget", "--seed", most]),
        (LAB, vec!["knitters", "--knitters", "3", "--seed", most]),
        (LAB, vec!["season", "--seasons", "2", "--seed", most]),
        (LAB, vec!["calibrations", "--scales", "2", "--seed", most]),
        (
            LAB,
            vec![
                "traces",
                text(&traces),
                "--kind",
                "rest",
                "--seed",
                most,
                "--count",
                most,
            ],
        ),
    ];
    for (program, words) in taken {
        let output = run(program, &words);
        assert_eq!(output.status.code(), Some(0), "{words:?}: {output:?}");
    }
    let refused = [
        vec!["measure", "--threads", most],
        vec!["measure", "--threads", "0"],
        vec!["slips", "--stories", most],
        vec!["slips", "--stories", "0"],
        vec!["knitters", "--knitters", most],
        vec!["season", "--seasons", most],
        vec!["calibrations", "--scales", most],
    ];
    for words in refused {
        let output = run(LAB, &words);
        assert_eq!(output.status.code(), Some(2), "{words:?}: {output:?}");
    }
    for grams in ["nan", "inf", "-1", "1e999", "2000.1", "", "1,5"] {
        let leftover = format!("a={grams}");
        let output = run(PRODUCT, &["plan", "--leftover", &leftover, "--section", "toes=4"]);
        assert_eq!(output.status.code(), Some(2), "{grams}: {output:?}");
    }
    // For ever, or until it is ended.
    let mut child = command(PRODUCT, &["serve", "--seconds", most])
        .spawn()
        .expect("it starts");
    std::thread::sleep(Duration::from_millis(500));
    assert!(child.try_wait().expect("a child").is_none());
    child.kill().expect("a child");
    child.wait().expect("a child");
}

#[test]
fn whatever_a_file_is_called_the_complaint_names_it_on_one_line() {
    let names: [&[u8]; 5] = [
        b"two\nlines",
        b"bell\x07 and \x1b[31mred",
        b"not UTF-8 \xff\xfe",
        b"\r",
        b"wei\xc3\x9f",
    ];
    for name in names {
        let name = OsString::from_vec(name.to_vec());
        for before in [
            &["table", "--file"][..],
            &["play"],
            &["restore"],
            &["serve", "--flash"],
            &["clock", "--device"],
        ] {
            let folder = folder();
            let path = folder.path().join("no such folder").join(&name);
            let mut words: Vec<OsString> = before.iter().map(OsString::from).collect();
            words.push(path.into());
            let said = complaint(PRODUCT, &words);
            assert!(said.contains("no such folder"), "{words:?}: {said}");
        }
    }
}

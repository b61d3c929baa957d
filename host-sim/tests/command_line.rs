//! The command as a process: exit codes, one line of complaint, nothing on a closed pipe.

use std::fs;
use std::path::Path;
use std::process::{Command, Output, Stdio};

fn yarn_scale(arguments: &[&str]) -> Output {
    let mut command = Command::new(env!("CARGO_BIN_EXE_yarn-scale"));
    command.args(arguments).stdin(Stdio::null());
    command.output().expect("it starts")
}

fn folder() -> tempfile::TempDir {
    tempfile::tempdir().expect("a temporary folder")
}

fn file(folder: &Path, name: &str, text: &str) -> String {
    let path = folder.join(name);
    fs::write(&path, text).expect("a temporary file");
    path.to_string_lossy().into_owned()
}

/// The exit code, and the one line on standard error.
fn complaint(output: &Output) -> (Option<i32>, String) {
    let text = String::from_utf8_lossy(&output.stderr).into_owned();
    assert_eq!(text.lines().count(), 1, "{text}");
    (output.status.code(), text.trim_end().to_owned())
}

const CALIBRATION: &str = r#"{"zero_counts": 1000, "counts_per_g": 4295.0, "capacity_g": 500, "sps": 10}"#;

#[test]
fn without_a_terminal_the_desk_says_what_to_do_instead() {
    let (code, line) = complaint(&yarn_scale(&[]));
    assert_eq!(code, Some(2));
    assert!(line.contains("yarn-scale play FILE"), "{line}");
}

#[test]
fn a_missing_file_is_named() {
    let (code, line) = complaint(&yarn_scale(&["play", "no-such-file.toml"]));
    assert_eq!(code, Some(2));
    assert!(
        line.starts_with("yarn-scale: no-such-file.toml: cannot be opened"),
        "{line}"
    );
    let (code, line) = complaint(&yarn_scale(&["replay", "--trace", "none.csv", "--cal", "none.json"]));
    assert_eq!(code, Some(2));
    assert!(line.starts_with("yarn-scale: none.json: cannot be opened"), "{line}");
}

#[test]
fn a_bad_line_is_named_and_exits_with_two() {
    let folder = folder();
    let trace = file(folder.path(), "trace.csv", "t_ms,raw\n0,1\n100,x\n");
    let cal = file(folder.path(), "cal.json", CALIBRATION);
    let (code, line) = complaint(&yarn_scale(&["replay", "--trace", &trace, "--cal", &cal]));
    assert_eq!(code, Some(2));
    assert_eq!(line, format!("yarn-scale: {trace}:3: raw is not an integer: \"x\""));
}

#[test]
fn an_unmet_expectation_is_named_and_exits_with_one() {
    let folder = folder();
    let text = "title = \"x\"\ninvented = true\nsteps = [\n{ power = \"on\" },\n{ expect = { page = \"used\" } },\n]\n";
    let scenario = file(folder.path(), "s.toml", text);
    let (code, line) = complaint(&yarn_scale(&["play", &scenario]));
    assert_eq!(code, Some(1));
    assert_eq!(
        line,
        format!("yarn-scale: {scenario}:5: expected page \"used\", but the page is \"pan\"")
    );
}

#[test]
fn a_green_scenario_exits_with_zero_and_writes_what_was_asked_for() {
    let folder = folder();
    let text =
        "title = \"x\"\ninvented = true\nsteps = [\n{ power = \"on\" },\n{ expect = { steady = true, by = 9 } },\n]\n";
    let scenario = file(folder.path(), "s.toml", text);
    let (frames, record) = (folder.path().join("frames"), folder.path().join("record"));
    let output = yarn_scale(&[
        "play",
        &scenario,
        "--json",
        "--frames",
        &frames.to_string_lossy(),
        "--record",
        &record.to_string_lossy(),
    ]);
    assert_eq!(output.status.code(), Some(0), "{output:?}");
    let lines: Vec<serde_json::Value> = String::from_utf8_lossy(&output.stdout)
        .lines()
        .map(|line| serde_json::from_str(line).expect("JSON"))
        .collect();
    assert_eq!(lines.last().expect("lines")["passed"], true);
    assert!(fs::read_dir(frames).expect("pictures").count() > 1);
    let inputs = fs::read_to_string(record.join("inputs.csv")).expect("inputs");
    assert!(
        inputs.starts_with("boot,t_ms,kind,value\n") && inputs.trim_end().ends_with(",off,"),
        "{inputs}"
    );
    let frames = fs::read_to_string(record.join("frames.csv")).expect("frames");
    let first = frames
        .lines()
        .nth(1)
        .and_then(|line| line.rsplit(',').next())
        .expect("a frame");
    assert_eq!(fs::metadata(record.join(first)).expect("its file").len(), 1_024);
    for journal in ["journal-start.bin", "journal-0.bin"] {
        assert_eq!(fs::metadata(record.join(journal)).expect("a journal").len(), 1 << 20);
    }
}

/// The page of invented pairs is written once; what stands there already stays, and that is said in words.
#[test]
fn a_report_is_never_written_over_a_file() {
    let folder = folder();
    let path = folder.path().join("socks.html");
    let name = path.to_string_lossy().into_owned();
    let report = |more: &[&str]| yarn_scale(&[&["report", "--demo", &name], more].concat());
    assert_eq!(report(&[]).status.code(), Some(0));
    let page = fs::read_to_string(&path).expect("a page");
    let (code, line) = complaint(&report(&["--language", "de"]));
    assert_eq!(code, Some(2));
    assert_eq!(
        line,
        format!("yarn-scale: {name}: already exists and is never overwritten")
    );
    assert_eq!(fs::read_to_string(&path).expect("a page"), page);
}

/// One sign, that of the screen, and its heading beside it, in both languages: sock 2 of the invented pair took 20 mg less for its cuff.
#[test]
fn the_report_tells_differences_as_the_screen_does_in_german_too() {
    let folder = folder();
    for (language, heading, difference) in [
        ("en", "2 less 1", "\u{2212}0.02 \u{B1} "),
        ("de", "2 minus 1", "\u{2212}0,02 \u{B1} "),
    ] {
        let path = folder.path().join(language);
        let output = yarn_scale(&["report", "--demo", "--language", language, &path.to_string_lossy()]);
        assert_eq!(output.status.code(), Some(0), "{output:?}");
        let page = fs::read_to_string(&path).expect("a page");
        assert!(page.contains(&format!("lang=\"{language}\"")), "{language}");
        assert!(page.contains(&format!(">{heading}</th>")), "{language}");
        let cuff = page.split("<tbody>").nth(1).and_then(|rows| rows.split("</tr>").next());
        let cuff = cuff.expect("the first row of the newest pair");
        assert!(cuff.contains(&format!("<td class=\"n\">{difference}")), "{cuff}");
    }
}

#[test]
fn a_reader_that_goes_away_is_no_failure() {
    let folder = folder();
    let samples: String = (0..40_000)
        .map(|n| format!("{},{}\n", n * 100, 1_000 + n % 7))
        .collect();
    let trace = file(folder.path(), "trace.csv", &format!("t_ms,raw\n{samples}"));
    let cal = file(folder.path(), "cal.json", CALIBRATION);
    let mut command = Command::new(env!("CARGO_BIN_EXE_yarn-scale"));
    command
        .args(["replay", "--trace", &trace, "--cal", &cal])
        .stdout(Stdio::piped())
        .stderr(Stdio::piped());
    let mut child = command.spawn().expect("it starts");
    drop(child.stdout.take());
    let output = child.wait_with_output().expect("it ends");
    assert_eq!((output.status.code(), output.stderr.as_slice()), (Some(0), &b""[..]));
}

//! Any file from outside: a scenario, or the three of a recording. It is taken, or refused in one line that names it; never
//! a panic, and nothing that is no JSON comes out.
//!
//! The first byte chooses the file that is strange; the other two of a recording are then sound.

use std::path::Path;

use tempfile::TempDir;
use yarn_scale_sim::failure::Failure;
use yarn_scale_sim::play::scenario::Script;
use yarn_scale_sim::replay::{Replay, TimeUnit};

use super::Entropy;

const TRACE: &[u8] = b"t_ms,raw\n0,1000\n100,1001\n200,999\n300,1000\n400,1002\n";
const CALIBRATION: &[u8] = br#"{"zero_counts":1000,"counts_per_g":4295.0,"capacity_g":500.0,"sps":10}"#;
const PRESSES: &[u8] = b"t_ms,event\n200,mark\n";

pub(super) fn check(data: &[u8]) {
    let mut entropy = Entropy::new(data);
    let kind = entropy.below(4);
    let strange = entropy.rest();
    let [trace, calibration, presses] = match kind {
        0 => return scenario(strange),
        1 => [strange, CALIBRATION, PRESSES],
        2 => [TRACE, strange, PRESSES],
        _ => [TRACE, CALIBRATION, strange],
    };
    let folder = TempDir::with_prefix("yarn-scale").expect("a folder for a moment");
    let file = |name: &str, content: &[u8]| {
        let path = folder.path().join(name);
        std::fs::write(&path, content).expect("a file for a moment");
        path
    };
    let replay = Replay {
        trace: file("trace.csv", trace),
        cal: file("cal.json", calibration),
        time: TimeUnit::Milliseconds,
        marks: Some(file("marks.csv", presses)),
    };
    let mut out = Vec::new();
    match replay.run(&mut out) {
        Ok(()) => {}
        Err(Failure::Input(bad)) => one_line(&bad.to_string()),
        Err(other) => panic!("{other:?}"),
    }
    let out = String::from_utf8(out).expect("text");
    for line in out.lines() {
        serde_json::from_str::<serde_json::Value>(line).unwrap_or_else(|error| panic!("{line}: {error}"));
    }
}

fn scenario(strange: &[u8]) {
    let Ok(text) = core::str::from_utf8(strange) else {
        return;
    };
    if let Err(bad) = Script::parse(Path::new("some.toml"), text) {
        one_line(&bad.to_string());
    }
}

fn one_line(complaint: &str) {
    assert_eq!(complaint.lines().count(), 1, "{complaint}");
    assert!(complaint.len() < 400, "{complaint}");
}

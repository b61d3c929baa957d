//! What a recording's files may hold: anything else gets one line with file, line and reason.

use std::io::Cursor;
use std::path::Path;

use proptest::prelude::*;
use yarn_scale_core::converter::SampleRate;
use yarn_scale_core::units::{Counts, Duration, Instant};
use yarn_scale_sim::failure::BadInput;
use yarn_scale_sim::lines::Lines;
use yarn_scale_sim::replay::TimeUnit;
use yarn_scale_sim::replay::calibration::{self, RecordedCalibration};
use yarn_scale_sim::replay::presses::{self, Event, Press};
use yarn_scale_sim::replay::trace::{TimedSample, Trace};

fn lines(bytes: &[u8]) -> Lines<Cursor<Vec<u8>>> {
    Lines::new(Cursor::new(bytes.to_vec()), Path::new("some.csv"))
}

fn trace(bytes: &[u8]) -> Result<Vec<TimedSample>, BadInput> {
    let mut trace = Trace::new(lines(bytes))?;
    let mut samples = Vec::new();
    while let Some(sample) = trace.next_sample()? {
        samples.push(sample);
    }
    Ok(samples)
}

fn trace_complaint(text: &str) -> String {
    trace(text.as_bytes()).expect_err("must be refused").to_string()
}

fn presses_complaint(text: &str) -> String {
    presses::read(lines(text.as_bytes()))
        .expect_err("must be refused")
        .to_string()
}

fn calibration(text: &str) -> Result<RecordedCalibration, String> {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let file = folder.path().join("cal.json");
    std::fs::write(&file, text).expect("a temporary file");
    calibration::read(&file).map_err(|bad| {
        let line = bad.line.map_or(String::new(), |line| format!("{line}: "));
        format!("{line}{}", bad.reason)
    })
}

#[test]
fn a_trace_is_read_as_written() {
    let samples = trace(b"t_ms,raw\n0,84210\n100, -8388608 \r\n100,8388607").expect("good");
    let got: Vec<_> = samples.iter().map(|sample| (sample.at, sample.raw.0)).collect();
    let want = [(0, 84_210), (100, -8_388_608), (100, 8_388_607)].map(|(at, raw)| (Instant(at), Counts(raw)));
    assert_eq!(got, want);
}

/// Loggers of other makes count seconds or microseconds, and read a conversion twice: the rows of one come once, those of two that happen to be
/// equal twice.
#[test]
fn a_loggers_trace_is_read_in_its_own_unit() {
    let read = |text: &str, unit: TimeUnit| {
        let mut trace = Trace::of_logger(lines(text.as_bytes()), unit, Duration(40)).expect("its header");
        let mut found = Vec::new();
        while let Some(sample) = trace.next_sample().expect("its rows") {
            found.push((sample.at.0, sample.raw.0.0));
        }
        found
    };
    let want = [(1_096, 7), (1_193, 7), (1_500, 9)];
    assert_eq!(
        read(
            "t_s,raw\n1.0961,7\n1.116,7\n1.1936,7\n1.5,9\n1.5,9\n",
            TimeUnit::Seconds
        ),
        want
    );
    assert_eq!(
        read(
            "t_us,raw\n1096100,7\n1116000,7\n1193600,7\n1500000,9\n",
            TimeUnit::Microseconds
        ),
        want
    );
    let refused = Trace::of_logger(lines(b"t_ms,raw\n"), TimeUnit::Seconds, Duration(40)).map(|_| ());
    assert!(refused.is_err_and(|error| error.to_string().contains("t_s,raw")));
    let mut words = Trace::of_logger(lines(b"t_s,raw\nnan,7\n"), TimeUnit::Seconds, Duration(40)).expect("header");
    assert!(words.next_sample().is_err());
}

#[test]
fn a_byte_order_mark_is_no_part_of_the_header() {
    assert_eq!(trace("\u{feff}t_ms,raw\n1,2\n".as_bytes()).expect("good").len(), 1);
}

#[test]
fn blanks_may_stand_around_names_as_around_values() {
    assert_eq!(trace(b" t_ms , raw\n 1 , 2 \n".as_slice()).expect("good").len(), 1);
}

#[test]
fn a_bad_trace_is_refused_with_its_line() {
    for (text, complaint) in [
        ("", r#"some.csv:1: expected the header "t_ms,raw", the file is empty"#),
        (
            "t_ms,grams\n",
            r#"some.csv:1: expected the header "t_ms,raw", found "t_ms,grams""#,
        ),
        ("t_ms,raw\n0,1\n5\n", r#"some.csv:3: expected two columns, found "5""#),
        (
            "t_ms,raw\n0,1,2\n",
            r#"some.csv:2: expected two columns, found "0,1,2""#,
        ),
        ("t_ms,raw\n0,NaN\n", r#"some.csv:2: raw is not an integer: "NaN""#),
        ("t_ms,raw\n0.5,1\n", r#"some.csv:2: t_ms is not an integer: "0.5""#),
        ("t_ms,raw\n-1,1\n", "some.csv:2: t_ms -1 is negative"),
        (
            "t_ms,raw\n100,1\n99,1\n",
            "some.csv:3: time goes back, from 100 to 99 ms",
        ),
        (
            "t_ms,raw\n0,8388608\n",
            "some.csv:2: raw 8388608 is outside signed 24 bits",
        ),
        (
            "t_ms,raw\n0,-8388609\n",
            "some.csv:2: raw -8388609 is outside signed 24 bits",
        ),
        ("t_ms,raw\n0,1\n\n5,1\n", "some.csv:3: empty line"),
        (
            "t_ms,raw\n999999999999999999,1\n",
            "some.csv:2: t_ms 999999999999999999 is more than a year",
        ),
        (
            "t_ms,raw\n99999999999999999999,1\n",
            r#"some.csv:2: t_ms is not an integer: "99999999999999999999""#,
        ),
    ] {
        assert_eq!(trace_complaint(text), complaint);
    }
    assert_eq!(
        trace(b"t_ms,raw\n\xff,1\n").expect_err("refused").to_string(),
        "some.csv:2: not UTF-8 text"
    );
}

#[test]
fn an_endless_line_is_refused_before_it_fills_memory() {
    struct Endless(u64);
    impl std::io::Read for Endless {
        fn read(&mut self, buffer: &mut [u8]) -> std::io::Result<usize> {
            buffer.fill(b'1');
            self.0 += buffer.len() as u64;
            assert!(self.0 < 1 << 20, "read on and on");
            Ok(buffer.len())
        }
    }
    let mut lines = Lines::new(std::io::BufReader::new(Endless(0)), Path::new("endless"));
    let complaint = lines.next_line().expect_err("refused").to_string();
    assert_eq!(complaint, "endless:1: line is longer than 256 bytes");
}

#[test]
fn presses_are_read_as_written() {
    let got = presses::read(lines(b"t_ms,event\n5,mark\n6,zero\n6,tare\n9,undo\n")).expect("good");
    let want = [(5, Event::Mark), (6, Event::Zero), (6, Event::Tare), (9, Event::Undo)];
    let want = want.map(|(at, event)| Press { at: Instant(at), event });
    assert_eq!(got, want);
    assert_eq!(
        presses_complaint("t_ms,event\n5,Mark\n"),
        r#"some.csv:2: event is none of mark, zero, tare, undo: "Mark""#
    );
    assert_eq!(
        presses_complaint("t_ms,event\n5,mark\n4,mark\n"),
        "some.csv:3: time goes back, from 5 to 4 ms"
    );
}

#[test]
fn a_calibration_is_read_and_further_keys_are_not() {
    let text =
        r#"{"zero_counts": -3, "counts_per_g": -2147.5, "capacity_g": 500, "sps": 80, "span_counts": 9, "note": [{}]}"#;
    let want = RecordedCalibration {
        zero: Counts(-3),
        counts_per_g: -2147.5,
        capacity_g: 500.0,
        rate: SampleRate::Eighty,
    };
    assert_eq!(calibration(text), Ok(want));
}

#[test]
fn a_bad_calibration_is_refused_with_its_line() {
    for (zero, span, rest, complaint) in [
        (
            "0",
            "0",
            "",
            "2: counts_per_g 0 is not between 10 and 100000 in magnitude",
        ),
        ("0", "NaN", "", "2: expected value"),
        ("0", "1e999", "", "2: number out of range"),
        ("0.5", "4295", "", "2: invalid type: floating point `0.5`, expected i64"),
        (
            "8388608",
            "4295",
            "",
            "2: zero_counts 8388608 is outside signed 24 bits",
        ),
        (
            "7",
            "4295",
            "\"span_counts\": 7,",
            "3: calibration points are equal: span_counts is zero_counts",
        ),
        ("7", "4295", "\"zero_counts\": 7,", "3: duplicate field `zero_counts`"),
    ] {
        let text = format!(
            "{{\n\"zero_counts\": {zero}, \"counts_per_g\": {span},\n{rest}\"capacity_g\": 500.0,\n\"sps\": 10}}"
        );
        assert_eq!(calibration(&text), Err(complaint.to_owned()), "{text}");
    }
    let of = |capacity: &str, sps: &str| {
        calibration(&format!(
            "{{\"zero_counts\": 0, \"counts_per_g\": 4295, \"capacity_g\": {capacity}, \"sps\": {sps}}}"
        ))
    };
    assert_eq!(
        of("0", "10"),
        Err("1: capacity_g 0 is not between 1 and 2000".to_owned())
    );
    assert_eq!(of("500", "20"), Err("1: sps 20 is neither 10 nor 80".to_owned()));
    assert_eq!(calibration("{}"), Err("1: missing field `zero_counts`".to_owned()));
    assert_eq!(calibration(""), Err("1: EOF while parsing a value".to_owned()));
    assert_eq!(
        calibration(&" ".repeat(70_000)),
        Err("longer than 65536 bytes".to_owned())
    );
    assert!(
        calibration(&"[".repeat(60_000)).is_err(),
        "deep nesting is refused, not recursed into"
    );
}

#[test]
fn what_is_no_file_is_refused() {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let complaint = |file: &Path| Lines::open(file).expect_err("refused").reason;
    assert_eq!(complaint(folder.path()), "is a folder, not a file");
    assert!(complaint(&folder.path().join("none.csv")).starts_with("cannot be opened: No such file"));
}

proptest! {
    /// Whatever the bytes: samples in order, or one complaint in one short line.
    #[test]
    fn any_bytes_are_read_or_refused(
        tail in prop::collection::vec(prop_oneof![any::<u8>(), prop::sample::select(b"0123456789,-\n".to_vec())], 0..400),
    ) {
        let mut bytes = b"t_ms,raw\n".to_vec();
        bytes.extend(tail);
        match trace(&bytes) {
            Ok(samples) => prop_assert!(samples.is_sorted_by_key(|sample| sample.at)),
            Err(bad) => {
                let complaint = bad.to_string();
                prop_assert!(complaint.lines().count() == 1 && complaint.len() < 400, "{complaint}");
            }
        }
    }
}

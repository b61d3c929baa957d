//! What becomes of the marks in a recording: amended, made surer, many in a row, come to nothing.

use std::path::Path;

use serde_json::Value;
use yarn_scale_core::converter::SampleRate;
use yarn_scale_sim::failure::Failure;
use yarn_scale_sim::world::{Body, Unit};

use super::tape::{Tape, near, replay};

/// Zero drifts while the cake lies on the pan for a quarter of an hour; the empty pan afterwards shows by how much.
#[test]
fn the_empty_pan_amends_the_mark_before_it() {
    let mut tape = Tape::new(Unit::typical(11), SampleRate::Ten);
    tape.wait(10.0);
    let cake = tape.put(100.0);
    tape.press("mark");
    tape.world.room.celsius += 10.0;
    let now = tape.world.now();
    tape.world.draw_yarn(cake, now, now + 800.0, 8.0);
    tape.wait(900.0);
    tape.press("mark");
    tape.take(cake);
    // Farther than most cells go: the scale asks, and is told.
    tape.wait(4.0);
    tape.press("zero");
    let (events, amendments) = (tape.events(), tape.amendments());
    let off = |event: &Value| (event["gross_mg"].as_i64().expect("a mass") - 92_000).abs();
    let last = amendments
        .iter()
        .rfind(|amendment| amendment["index"] == 1)
        .expect("an amendment of the second mark");
    assert!(off(last) < off(&events[1]), "{events:?} {amendments:?}");
}

/// A mark pressed as soon as the tick is there rests on a few samples; those that follow while the cake lies on make it surer. No source:
/// of 10 samples instead of 100 the mean is off by the root of ten as much, less what correlates, and less what the brief empty pan after it
/// is believed of warming up, which this cell does not do.
#[test]
fn what_lies_on_after_a_mark_makes_it_surer() {
    let (mut at_once, mut in_the_end) = (0, 0);
    for seed in 1..=8 {
        let mut tape = Tape::new(
            Unit {
                seed,
                noise_factor: 6.0,
                ..Unit::perfect()
            },
            SampleRate::Ten,
        );
        tape.wait(20.0);
        let cake = tape.world.put(Body::dry(100.0));
        tape.wait(0.9);
        tape.press("mark");
        tape.wait(8.0);
        tape.take(cake);
        let off = |event: &Value| (event["gross_mg"].as_i64().expect("a mass") - 100_000).pow(2);
        at_once += off(&tape.events()[0]);
        in_the_end += tape.amendments().last().map_or(off(&tape.events()[0]), off);
    }
    assert!(
        in_the_end * 5 < at_once * 2,
        "squares: {at_once} at once, {in_the_end} in the end"
    );
}

/// More marks than one plan has sections: the chain of the yarn's weights goes on.
#[test]
fn a_long_evening_of_marks_goes_on_and_on() {
    let mut tape = Tape::new(Unit::typical(11), SampleRate::Ten);
    tape.wait(10.0);
    tape.put(200.0);
    tape.press("mark");
    for _ in 0..60 {
        let lying = tape.world.pan().bodies(tape.world.now()).next().expect("a cake").0;
        let now = tape.world.now();
        tape.world.draw_yarn(lying, now, now + 2.0, 3.0);
        tape.wait(8.0);
        tape.press("mark");
    }
    let events = tape.events();
    assert_eq!(events.len(), 61, "{events:?}");
    assert!(
        events[1..].iter().all(|event| near(&event["used_mg"], 3_000)),
        "{events:?}"
    );
}

#[test]
fn a_press_that_comes_to_nothing_is_reported_with_nulls() {
    let mut tape = Tape::new(Unit::typical(11), SampleRate::Ten);
    tape.wait(10.0);
    tape.press("mark");
    tape.press("undo");
    let events = tape.events();
    assert_eq!(events.len(), 2, "{events:?}");
    for event in &events {
        assert!(
            event["gross_mg"].is_null() && event["used_mg"].is_null() && event["u_mg"].is_null(),
            "{event}"
        );
    }
}

#[test]
fn bad_files_are_named_and_nothing_is_printed() {
    let good = r#"{"zero_counts": 0, "counts_per_g": 4295, "capacity_g": 500, "sps": 10}"#;
    for (trace, calibration, marks, file, line) in [
        ("t_ms,raw\n", good, "t_ms,event\n", "trace.csv", 2),
        ("raw,t_ms\n0,0\n", good, "t_ms,event\n", "trace.csv", 1),
        ("t_ms,raw\n0,0\n", good, "t_ms,event\n0,knit\n", "marks.csv", 2),
        ("t_ms,raw\n0,0\n", "{\n\"sps\": 11}", "t_ms,event\n", "cal.json", 2),
    ] {
        match replay(trace, calibration, marks) {
            Err(Failure::Input(bad)) => {
                assert_eq!(bad.file.file_name(), Path::new(file).file_name());
                assert_eq!(bad.line, Some(line), "{bad}");
            }
            other => panic!("{other:?}"),
        }
    }
}

/// A small cake for many sections: the scale warns that it will not do, and the presses go on all the same.
#[test]
fn a_warning_between_two_presses_swallows_none() {
    let mut tape = Tape::new(Unit::typical(11), SampleRate::Ten);
    tape.wait(10.0);
    let cake = tape.put(12.0);
    tape.press("mark");
    for _ in 0..3 {
        let now = tape.world.now();
        tape.world.draw_yarn(cake, now, now + 2.0, 2.0);
        tape.wait(8.0);
        tape.press("mark");
        tape.wait(8.0);
    }
    tape.press("undo");
    tape.take(cake);
    tape.press("zero");
    let events = tape.events();
    let kinds: Vec<_> = events
        .iter()
        .map(|event| event["event"].as_str().expect("a word"))
        .collect();
    assert_eq!(kinds, ["mark", "mark", "mark", "mark", "undo", "zero"], "{events:?}");
    assert!(
        events[1..4].iter().all(|event| near(&event["used_mg"], 2_000)),
        "{events:?}"
    );
    assert_eq!(events[5]["gross_mg"], 0, "{events:?}");
}

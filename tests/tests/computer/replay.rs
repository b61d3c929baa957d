//! Recordings of known loads through the whole scale, by the replay's own files: what comes out, and in which form.

use serde_json::Value;
use yarn_scale_core::converter::SampleRate;
use yarn_scale_sim::world::{Body, Unit};

use super::tape::{Tape, near};

/// A cake of 20 g before the cuff and 16 g after it gives a cuff of 4 g (common practice, no source).
#[test]
fn the_first_mark_weighs_in_and_the_second_closes_a_section() {
    let mut tape = Tape::new(Unit::typical(11), SampleRate::Ten);
    tape.wait(10.0);
    let cake = tape.put(20.0);
    tape.press("mark");
    tape.take(cake);
    tape.put(16.0);
    tape.press("mark");
    let events = tape.events();
    let kinds: Vec<_> = events
        .iter()
        .map(|event| event["event"].as_str().expect("a word"))
        .collect();
    assert_eq!(kinds, ["mark", "mark"], "{events:?}");
    assert!(
        near(&events[0]["gross_mg"], 20_000) && events[0]["used_mg"].is_null(),
        "{events:?}"
    );
    assert!(
        near(&events[1]["gross_mg"], 16_000) && near(&events[1]["used_mg"], 4_000),
        "{events:?}"
    );
    assert!(
        events
            .iter()
            .all(|event| event["u_mg"].as_f64().is_some_and(|u| u > 0.0 && u < 100.0)),
        "{events:?}"
    );
}

#[test]
fn every_sample_has_its_line_with_exactly_the_agreed_keys() {
    for rate in [SampleRate::Ten, SampleRate::Eighty] {
        let mut tape = Tape::new(Unit::typical(7), rate);
        tape.wait(10.0);
        tape.put(103.4);
        let lines = tape.replay();
        assert_eq!(lines.len(), tape.trace.lines().count() - 1);
        for (line, sample) in lines.iter().zip(tape.trace.lines().skip(1)) {
            let keys: Vec<_> = line.as_object().expect("an object").keys().collect();
            assert_eq!(keys, ["fault", "grams", "shown", "steady", "t_ms"]);
            let t_ms = sample.split(',').next().and_then(|t_ms| t_ms.parse().ok());
            assert_eq!(line["t_ms"].as_u64(), t_ms);
        }
        let last = lines.last().expect("samples");
        assert_eq!((&last["steady"], &last["fault"]), (&true.into(), &Value::Null));
        let shown: f64 = last["shown"]
            .as_str()
            .and_then(|text| text.parse().ok())
            .expect("a number");
        assert!((shown - 103.4).abs() < 0.11, "{last}");
        // The unit's bow alone makes 66 mg of this load, its hysteresis some more.
        assert!((last["grams"].as_f64().expect("grams") - 103.4).abs() < 0.11, "{last}");
    }
}

/// No number is better than a wrong one, from the first sample on.
#[test]
fn the_first_numbers_are_right_or_none() {
    for rate in [SampleRate::Ten, SampleRate::Eighty] {
        for load in [0.0, 77.7] {
            let mut tape = Tape::new(Unit::typical(11), rate);
            tape.world.put(Body::dry(load));
            tape.wait(9.0);
            // What is recorded begins once the load rings no more.
            let late = |line: &&str| {
                line.split(',')
                    .next()
                    .and_then(|t_ms| t_ms.parse().ok())
                    .is_some_and(|t_ms: u32| t_ms > 6_000)
            };
            let late = tape.trace.lines().skip(1).filter(late);
            tape.trace = late.fold("t_ms,raw\n".to_owned(), |trace, line| trace + line + "\n");
            let lines = tape.replay();
            for line in &lines {
                assert_eq!(line["fault"], Value::Null, "{line}");
                assert!(
                    line["grams"].as_f64().is_none_or(|grams| (grams - load).abs() < 0.3),
                    "{line}"
                );
            }
            assert!(
                lines.iter().filter(|line| line["grams"].is_null()).count() < 60,
                "numbers come soon"
            );
        }
    }
}

#[test]
fn a_cell_the_other_way_round_weighs_the_same() {
    let mut tape = Tape::new(Unit::typical(11).reversed(), SampleRate::Ten);
    tape.wait(10.0);
    tape.put(50.0);
    let lines = tape.replay();
    assert_eq!(lines.last().expect("samples")["shown"], "50.0");
}

#[test]
fn a_heavier_cake_blocks_nothing() {
    let mut tape = Tape::new(Unit::typical(11), SampleRate::Ten);
    tape.wait(10.0);
    let cake = tape.put(20.0);
    tape.press("mark");
    tape.take(cake);
    let cake = tape.put(30.0);
    tape.press("mark");
    tape.take(cake);
    tape.put(26.0);
    tape.press("mark");
    let events = tape.events();
    let used: Vec<_> = events.iter().map(|event| &event["used_mg"]).collect();
    assert!(
        used[0].is_null() && near(used[1], -10_000) && near(used[2], 4_000),
        "{events:?}"
    );
}

#[test]
fn a_second_press_on_the_same_cake_is_reported_though_nothing_went() {
    let mut tape = Tape::new(Unit::typical(11), SampleRate::Ten);
    tape.wait(10.0);
    tape.put(100.0);
    tape.press("mark");
    tape.wait(60.0);
    tape.press("mark");
    tape.press("mark");
    let events = tape.events();
    assert_eq!(events.len(), 3, "{events:?}");
    let soon = |event: &Value, t_ms: u64| event["t_ms"].as_u64().is_some_and(|at| at < t_ms);
    assert!(soon(&events[1], 84_000) && soon(&events[2], 88_000), "{events:?}");
    assert!(events[1..].iter().all(|event| near(&event["used_mg"], 0)), "{events:?}");
}

#[test]
fn an_undone_mark_does_not_count_for_the_next() {
    let mut tape = Tape::new(Unit::typical(11), SampleRate::Ten);
    tape.wait(10.0);
    let cake = tape.put(20.0);
    tape.press("mark");
    tape.take(cake);
    let cake = tape.put(18.0);
    tape.press("mark");
    tape.press("undo");
    tape.take(cake);
    tape.put(16.0);
    tape.press("mark");
    let events = tape.events();
    let last = events.last().expect("events");
    assert!(events.iter().any(|event| event["event"] == "undo"), "{events:?}");
    assert!(near(&last["used_mg"], 4_000), "{events:?}");
}

#[test]
fn a_tared_bowl_is_off_the_net_and_in_the_gross() {
    let within_two_u = |event: &Value, mg: i64| {
        let off = event["gross_mg"].as_i64().expect("a mass") - mg;
        off.abs() as f64 <= 2.0 * event["u_mg"].as_f64().expect("an uncertainty")
    };
    for rate in [SampleRate::Ten, SampleRate::Eighty] {
        let mut tape = Tape::new(Unit::typical(11), rate);
        tape.wait(10.0);
        tape.put(60.0);
        tape.press("tare");
        tape.put(20.0);
        tape.press("mark");
        let lines = tape.replay();
        let events: Vec<_> = lines.iter().filter(|line| line.get("event").is_some()).collect();
        assert_eq!(events.len(), 2, "{events:?}");
        assert!(
            within_two_u(events[0], 60_000) && within_two_u(events[1], 80_000),
            "{events:?}"
        );
        assert_eq!(lines.last().expect("samples")["shown"], "20.0");
        let u = events[0]["u_mg"].as_f64().expect("an uncertainty");
        assert!(u > 1.0 && u < 100.0, "{events:?}");
    }
}

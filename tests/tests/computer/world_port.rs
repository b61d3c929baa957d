//! The simulated world behind the core's own seam, its battery, and its recordings as files.

use std::fs;

use yarn_scale_core::board::Converter;
use yarn_scale_core::converter::{ConverterFault, SampleRate};
use yarn_scale_core::units::Instant;
use yarn_scale_sim::lab::measure::score::Question;
use yarn_scale_sim::lab::measure::section::Course;
use yarn_scale_sim::lab::traces;
use yarn_scale_sim::world::{Body, Port, Room, Supply, Unit, World};

fn port() -> Port {
    Port::new(World::new(Unit::perfect(), SampleRate::Ten, Room::constant()))
}

/// 10 conversions a second, each handed over once, and nothing between them.
#[test]
fn words_come_at_their_rate() {
    let mut port = port();
    let mut words = 0;
    for ms in 0..10_000 {
        match port.read(Instant(ms)) {
            Ok(_) => words += 1,
            Err(nb::Error::WouldBlock) => {}
            Err(nb::Error::Other(fault)) => panic!("{fault:?}"),
        }
    }
    assert!((99..=100).contains(&words), "{words}");
}

/// A reader that comes late gets the newest word only: the chip keeps no others.
#[test]
fn late_readers_get_the_newest_word() {
    let mut port = port();
    assert!(port.read(Instant(1_000)).is_ok());
    port.world.put(Body::dry(100.0));
    let word = port.read(Instant(4_000)).expect("a word is waiting").0.0;
    let grams = port.world.calibration().grams(f64::from(word));
    assert!((grams - 100.0).abs() < 0.02, "{grams}");
    assert_eq!(port.read(Instant(4_000)), Err(nb::Error::WouldBlock));
}

/// Unplugged, the data line stays high: a fault after five conversion times (the core's own definition of missing), again and again.
#[test]
fn an_unplugged_converter_is_missing() {
    let mut port = port();
    assert!(port.read(Instant(1_000)).is_ok());
    port.world.connected = false;
    assert_eq!(port.read(Instant(1_300)), Err(nb::Error::WouldBlock));
    assert_eq!(
        port.read(Instant(1_700)),
        Err(nb::Error::Other(ConverterFault::Missing))
    );
    assert_eq!(
        port.read(Instant(2_900)),
        Err(nb::Error::Other(ConverterFault::Missing))
    );
    port.world.connected = true;
    assert!(port.read(Instant(3_500)).is_ok());
}

/// Switched on again, the filter fills from nothing: the first words are wrong, from the fourth on they are right (data sheet: settled
/// after four conversions), and the device's clock starts anew.
#[test]
fn words_settle_after_power_on() {
    let mut port = port();
    port.world.put(Body::dry(50.0));
    port.read(Instant(2_000)).expect("a word is waiting");
    port.power(false);
    assert_eq!(port.read(Instant(2_300)), Err(nb::Error::WouldBlock));
    port.switch_on();
    let calibration = port.world.calibration();
    let mut grams = Vec::new();
    for ms in 0..1_000 {
        if let Ok(word) = port.read(Instant(ms)) {
            grams.push(calibration.grams(f64::from(word.0.0)));
        }
    }
    assert!(
        (grams[0] - 50.0).abs() > 1.0 && (grams[1] - 50.0).abs() > 1.0,
        "{grams:?}"
    );
    assert!(grams[4..].iter().all(|g| (g - 50.0).abs() < 0.01), "{grams:?}");
}

/// A lithium cell ends at 3.0 V and is full at 4.2 V (common practice, no source), and falls all the way.
#[test]
fn the_battery_runs_down() {
    let mut supply = Supply::battery(1_000.0);
    assert!((supply.volts() - 4.2).abs() < 1e-9);
    let mut last = supply.volts();
    for _ in 0..40 {
        supply.pass(25.0, 3_600.0);
        assert!(supply.volts() < last, "after each hour at 25 mA");
        last = supply.volts();
    }
    assert!((last - 3.0).abs() < 1e-6, "1000 mAh last 40 h at 25 mA: {last}");
    supply.usb = true;
    supply.pass(25.0, 5.0 * 3_600.0);
    supply.usb = false;
    assert!((supply.volts() - 4.2).abs() < 1e-9, "charged");
}

/// A recording written out is what was recorded: one line a word that arrived, times that rise, marks, a calibration with its truth.
#[test]
fn recordings_are_written_as_the_replay_reads_them() {
    let recording = Question::Sections(Course::Adverse).record(Unit::draw(5), SampleRate::Ten);
    let folder = tempfile::tempdir().expect("a folder for a test");
    traces::write(&recording, folder.path()).expect("the folder can be written");
    let read = |name: &str| fs::read_to_string(folder.path().join(name)).expect("it was written");
    let words: Vec<(i64, i32)> = csv::Reader::from_reader(read("trace.csv").as_bytes())
        .deserialize()
        .map(|line| line.expect("two integers"))
        .collect();
    let arrived: Vec<i32> = recording.conversions.iter().filter_map(|c| c.raw).collect();
    assert!(read("trace.csv").starts_with("t_ms,raw\n"));
    assert_eq!(words.iter().map(|w| w.1).collect::<Vec<_>>(), arrived);
    assert!(words.windows(2).all(|pair| pair[0].0 < pair[1].0));
    assert!(arrived.len() < recording.conversions.len(), "some words never arrived");
    assert_eq!(
        read("marks.csv").lines().filter(|line| line.ends_with(",mark")).count(),
        6
    );
    let calibration: serde_json::Value = serde_json::from_str(&read("cal.json")).expect("JSON");
    assert_eq!(calibration["sps"], 10);
    let per_gram = calibration["counts_per_g"].as_f64().expect("a number");
    assert!((per_gram / recording.unit.counts_per_g - 1.0).abs() < 0.001);
}

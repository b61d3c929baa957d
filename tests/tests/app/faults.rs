//! Faults of sensor, wiring, supply and people on the application: nowhere a wrong number without a word. The table of all faults is
//! `tests/faults.md`.

use yarn_scale_core::app::DriveShows;
use yarn_scale_core::app::{Effect, Input};
use yarn_scale_core::board::Climate;
use yarn_scale_core::converter::ConverterFault;
use yarn_scale_core::converter::SampleRate;
use yarn_scale_core::journal::{JournalFault, Record, StartCause, Usage};
use yarn_scale_core::screen::{Body, FaultWord, Notice, RefusedWord, RestartWord};
use yarn_scale_core::units::Millivolts;
use yarn_scale_sim::device::simulator::Simulator;
use yarn_scale_sim::world::{Room, Unit, World};
use yarn_scale_tests::bench::{Bench, COUNTS_PER_GRAM, Key, without_pair};

/// The upper and lower end of the converter (HX711 data sheet, from memory).
const HIGHEST: i32 = 0x7F_FFFF;
const LOWEST: i32 = -0x80_0000;

fn fault(bench: &Bench) -> Option<FaultWord> {
    match bench.body() {
        Body::Fault(fault) => Some(fault),
        _ => None,
    }
}

/// The scale weighs again, and shows it.
fn recovers(bench: &mut Bench) {
    bench.put(12.0);
    match bench.body() {
        Body::Pan(pan) => assert!(
            pan.steady && pan.shown.is_some_and(|shown| (119..=121).contains(&shown.steps())),
            "{pan:?}"
        ),
        other => panic!("{other:?}"),
    }
}

#[test]
fn a_converter_that_falls_silent_has_its_message_and_comes_back() {
    let mut bench = Bench::weighed_in();
    bench.silence(2.0, ConverterFault::Missing);
    assert_eq!(fault(&bench), Some(FaultWord::SensorMissing));
    recovers(&mut bench);
}

#[test]
fn a_shorted_data_line_has_a_message_and_no_number() {
    let mut bench = Bench::weighed_in();
    bench.silence(2.0, ConverterFault::StuckLow);
    assert!(
        matches!(fault(&bench), Some(FaultWord::SensorMissing | FaultWord::SensorStuck)),
        "{:?}",
        bench.body()
    );
    recovers(&mut bench);
}

#[test]
fn a_word_that_never_changes_is_no_weight() {
    let mut bench = Bench::weighed_in();
    bench.stuck(20.0, 85_000);
    assert_eq!(fault(&bench), Some(FaultWord::SensorStuck), "{:?}", bench.body());
    recovers(&mut bench);
}

#[test]
fn the_upper_end_of_the_converter_is_overload() {
    let mut bench = Bench::weighed_in();
    bench.stuck(2.0, HIGHEST);
    assert_eq!(fault(&bench), Some(FaultWord::Overload));
    bench.take();
    recovers(&mut bench);
}

#[test]
fn the_lower_end_is_no_weight_either() {
    let mut bench = Bench::weighed_in();
    bench.stuck(2.0, LOWEST);
    assert!(
        matches!(fault(&bench), Some(FaultWord::Underload | FaultWord::Reversed)),
        "{:?}",
        bench.body()
    );
    bench.take();
    recovers(&mut bench);
}

#[test]
fn more_than_the_pan_may_carry_has_its_message() {
    let mut bench = Bench::weighed_in();
    bench.put(520.0);
    assert_eq!(fault(&bench), Some(FaultWord::Overload));
    bench.press(Key::Mark);
    assert!(
        !bench.deeds().iter().any(|deed| matches!(deed, Record::Mark { .. })),
        "nothing is marked"
    );
    bench.take();
    recovers(&mut bench);
}

#[test]
fn a_pan_lifted_off_has_its_message() {
    let mut bench = Bench::weighed_in();
    bench.put(-60.0);
    assert_eq!(fault(&bench), Some(FaultWord::Underload));
    bench.take();
    recovers(&mut bench);
}

#[test]
fn a_cell_the_wrong_way_round_has_its_message() {
    let mut bench = Bench::weighed_in();
    bench.put(-300.0);
    assert_eq!(fault(&bench), Some(FaultWord::Reversed));
}

#[test]
fn one_garbled_word_does_not_reach_the_display() {
    let mut bench = Bench::weighed_in();
    bench.put(20.0);
    let before = bench.views.len();
    for word in [
        0xFF_FFFF >> 1,
        0x7F_FFFF,
        0,
        20_479,
        (20.0 * COUNTS_PER_GRAM) as i32 ^ (1 << 20),
    ] {
        bench.stuck(0.1, word);
        bench.wait(1.0);
    }
    let shown = bench.views[before..].iter().filter_map(|view| match view.body {
        Body::Pan(pan) => pan.shown,
        _ => None,
    });
    for shown in shown {
        assert!((199..=201).contains(&shown.steps()), "{shown:?}");
    }
}

#[test]
fn a_scale_never_calibrated_shows_no_number_and_leads_to_it() {
    let mut bench = Bench::uncalibrated();
    bench.put(20.0);
    assert_eq!(fault(&bench), Some(FaultWord::Uncalibrated));
    // Which parts it has, three answers, then how to calibrate.
    (0..4).for_each(|_| bench.press(Key::Mark));
    assert!(matches!(bench.body(), Body::Guide(_)));
    assert!(
        !bench
            .journal
            .iter()
            .any(|entry| matches!(entry.record, Record::Visit { .. }))
    );
}

#[test]
fn power_on_with_a_load_leaves_zero_unproven_until_the_pan_is_empty() {
    let mut bench = Bench::weighed_in();
    bench.set(16.0);
    let mut bench = bench.power_cycle();
    assert!(bench.app.view().status.zero_unproven);
    let wide = bench.app.scale().readout().net.expect("a number").u;
    bench.take();
    assert!(!bench.app.view().status.zero_unproven);
    bench.put(16.0);
    let narrow = bench.app.scale().readout().net.expect("a number").u;
    assert!(wide > 3.0 * narrow, "{wide} {narrow}");
}

#[test]
fn a_low_battery_is_shown_and_a_very_low_one_is_not_written_on() {
    let mut bench = Bench::weighed_in();
    bench.tell(Input::Supply(Millivolts(3_200)));
    assert!(bench.app.view().status.supply_low);
    bench.put(16.0);
    bench.tell(Input::Supply(Millivolts(2_800)));
    bench.press(Key::Mark);
    assert_eq!(bench.notice(), Notice::Refused(RefusedWord::SupplyLow));
    assert_eq!(bench.app.book().ledger().steps().len(), 1);
    bench.tell(Input::Supply(Millivolts(4_500)));
    assert!(!bench.app.view().status.supply_low);
}

#[test]
fn a_flash_that_refuses_is_said_and_nothing_counts() {
    let mut bench = Bench::weighed_in();
    bench.put(16.0);
    bench.paper.refuse = Some(JournalFault::Flash);
    bench.press(Key::Mark);
    assert_eq!(bench.notice(), Notice::Refused(RefusedWord::NotNoted));
    bench.paper.refuse = None;
    bench.press(Key::Mark);
    bench.press(Key::Mark);
    assert!(matches!(bench.notice(), Notice::Noted { .. }));
}

#[test]
fn a_full_journal_is_said_while_marking() {
    let mut bench = Bench::weighed_in();
    bench.put(16.0);
    bench.paper.refuse = Some(JournalFault::Full);
    bench.press(Key::Mark);
    assert_eq!(bench.notice(), Notice::Refused(RefusedWord::JournalFull));
}

#[test]
fn a_journal_that_fills_is_shown_long_before_it_is_full() {
    let mut bench = Bench::weighed_in();
    let usage = |marks_percent| Usage {
        pairs_percent: 10,
        marks_percent,
    };
    bench.tell(Input::Journal(usage(89)));
    assert!(!bench.app.view().status.journal_filling && bench.app.health().sound());
    bench.tell(Input::Journal(usage(90)));
    assert!(bench.app.view().status.journal_filling);
}

/// What the drive shows can be read in the menu as well; a load that comes on wants its number.
#[test]
fn a_load_takes_the_page_back_from_the_notice_of_the_drive() {
    for comes in [false, true] {
        let mut bench = Bench::new();
        bench.tell(Input::Drive(DriveShows::Soon));
        bench.tell(Input::Drive(DriveShows::News));
        bench.wait(0.5);
        assert_eq!(bench.notice(), Notice::Drive);
        if comes {
            bench.set(20.0);
        }
        bench.wait(1.0);
        assert_eq!(matches!(bench.body(), Body::Pan(_)), comes, "{:?}", bench.body());
    }
}

#[test]
fn the_loop_tells_the_application_how_full_its_journal_is() {
    let world = World::new(Unit::typical(1), SampleRate::Ten, Room::constant());
    let mut simulator = Simulator::new(world);
    simulator.switch_on();
    simulator.pass(3.0, |_| {});
    let health = simulator.app().expect("it is on").health();
    assert_eq!(health.journal_percent, Some(0));
    assert!(health.sound(), "{health:?}");
}

#[test]
fn a_hang_and_an_error_are_said_once_after_the_restart() {
    let mut bench = Bench::weighed_in();
    bench.tell(Input::Ready(StartCause::Watchdog));
    assert_eq!(bench.notice(), Notice::Restarted(RestartWord::Hang));
    bench.tell(Input::Ready(StartCause::Panic(7)));
    assert_eq!(bench.notice(), Notice::Restarted(RestartWord::Error(7)));
    bench.wait(8.0);
    assert!(!matches!(bench.body(), Body::Notice(_)));
    let health = bench.app.health();
    assert_eq!((health.hangs, health.errors), (1, 1), "the causes stand in diagnostics");
}

#[test]
fn a_damaged_record_makes_its_neighbours_doubtful() {
    let bench = Bench::weighed_in();
    assert!(!bench.app.view().status.doubtful);
    let weigh_in = |record: &Record| matches!(without_pair(record), Record::WeighIn { .. });
    let again = Bench::with_damaged(bench.journal, 0.0, weigh_in);
    assert!(again.app.view().status.doubtful);
}

#[test]
fn a_load_wakes_the_display() {
    let mut bench = Bench::weighed_in();
    bench.wait(400.0);
    assert_eq!(bench.body(), Body::Dark);
    bench.set(16.0);
    bench.wait(1.0);
    assert!(
        matches!(bench.body(), Body::Pan(pan) if pan.shown.is_some()),
        "{:?}",
        bench.body()
    );
}

#[test]
fn a_unit_that_loses_its_steady_sign_now_and_then_goes_dark_all_the_same() {
    let mut bench = Bench::weighed_in();
    for _ in 0..50 {
        bench.set(0.12);
        bench.wait(0.3);
        assert!(!matches!(bench.body(), Body::Pan(pan) if pan.steady), "a jolt is seen");
        bench.set(0.0);
        bench.wait(8.0);
    }
    assert_eq!(bench.body(), Body::Dark);
}

#[test]
fn after_a_long_sleep_zero_is_unproven_until_the_pan_is_seen_empty() {
    let mut bench = Bench::weighed_in();
    bench.wait(400.0 + 31.0 * 60.0);
    assert!(
        bench.effects.contains(&Effect::ConverterPower(false)),
        "the converter sleeps, too"
    );
    // The cell has cooled down meanwhile: what it reads empty is elsewhere by 0.3 g.
    bench.set(16.3);
    bench.press(Key::Next);
    bench.wait(4.0);
    assert!(matches!(bench.body(), Body::Pan(pan) if pan.steady));
    assert!(bench.app.view().status.zero_unproven);
    bench.put(0.3);
    assert!(!bench.app.view().status.zero_unproven);
    bench.put(16.3);
    assert!(matches!(bench.body(), Body::Pan(pan) if pan.shown.is_some_and(|shown| shown.steps() == 160)));
}

#[test]
fn a_supply_at_its_end_switches_everything_off_and_a_key_tries_again() {
    let mut bench = Bench::weighed_in();
    bench.put(16.0);
    bench.press(Key::Mark);
    let noted = bench.journal.clone();
    bench.tell(Input::Supply(Millivolts(1_800)));
    assert_eq!(bench.body(), Body::Dark);
    let last: Vec<_> = bench.effects.iter().rev().take(2).collect();
    assert_eq!(last, [&Effect::ConverterPower(false), &Effect::Brightness(0)]);
    bench.tell(Input::Supply(Millivolts(4_500)));
    bench.press(Key::Next);
    bench.wait(8.0);
    assert!(matches!(bench.body(), Body::Pan(pan) if pan.steady));
    assert!(bench.journal.starts_with(&noted));
}

#[test]
fn nonsense_from_the_humidity_sensor_harms_no_mark() {
    let mut bench = Bench::weighed_in();
    for humidity_percent in [f32::NAN, f32::INFINITY, -300.0, 1e30] {
        bench.tell(Input::Climate(Climate {
            humidity_percent,
            celsius: f32::NAN,
        }));
    }
    bench.put(16.0);
    bench.press(Key::Mark);
    assert!(
        matches!(bench.notice(), Notice::Noted { used, .. } if (used.value.0 - 4_000).abs() < 100 && used.u.is_finite()),
        "{:?}",
        bench.notice()
    );
}

#[test]
fn zero_while_a_hand_shakes_the_pan_changes_no_weight() {
    let mut bench = Bench::new();
    bench.shake(3.0, 1.0);
    bench.press(Key::Zero);
    bench.shake(3.0, 0.5);
    assert_ne!(bench.body(), Body::Notice(Notice::ZeroSet));
    bench.take();
    recovers(&mut bench);
}

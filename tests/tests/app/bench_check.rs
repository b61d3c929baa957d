//! The check on the bench by presses: what comes out, what passes, and each kind of fault seen.

use yarn_scale_core::app::{Effect, Input};
use yarn_scale_core::bench::{PRESSES, Task};
use yarn_scale_core::board::{Climate, Levels, Tone};
use yarn_scale_core::converter::ConverterFault;
use yarn_scale_core::journal::{BenchCheck, Record};
use yarn_scale_core::screen::{Body, Value, Word};
use yarn_scale_core::units::Millivolts;
use yarn_scale_tests::bench::{Bench, Key};

/// The page with its list open.
fn opened() -> Bench {
    open(Bench::new())
}

fn open(mut bench: Bench) -> Bench {
    bench.tell(Input::Supply(Millivolts(4_812)));
    bench.open(Word::Diagnostics);
    bench.press(Key::Mark);
    bench
}

/// The latest result of a check in the journal.
fn result(bench: &Bench, wanted: BenchCheck) -> Option<(i32, Option<bool>)> {
    let results = bench.journal.iter().rev().map(|entry| &entry.record);
    results
        .filter_map(|record| match record {
            Record::Bench { check, value, passed } if *check == wanted => Some((*value, *passed)),
            _ => None,
        })
        .next()
}

fn passed(bench: &Bench, check: BenchCheck) -> Option<bool> {
    result(bench, check).expect("it was checked").1
}

/// Watches the empty pan.
fn watch_empty(bench: &mut Bench) {
    bench.choose(Word::Noise);
    assert!(matches!(bench.body(), Body::Guide(_)));
    bench.press(Key::Mark);
    bench.wait(9.0);
}

#[test]
fn a_good_scale_passes_every_check_and_the_journal_says_so() {
    let mut bench = opened();
    let list = |bench: &Bench| match bench.body() {
        Body::List(list) => list,
        other => panic!("{other:?}"),
    };
    assert_eq!(list(&bench).items.len(), BenchCheck::ALL.len());
    assert!(
        list(&bench).items.iter().all(|item| item.value == Value::Nothing),
        "nothing is known before"
    );

    bench.choose(Word::PanelEdges);
    assert!(matches!(bench.body(), Body::Edges));
    bench.press(Key::Mark);

    bench.choose(Word::Supply);
    bench.press(Key::Next);
    bench.press(Key::Mark);
    assert_eq!(result(&bench, BenchCheck::Supply), Some((4_812 - 4_820, Some(true))));

    watch_empty(&mut bench);
    let (rate, _) = result(&bench, BenchCheck::Rate).expect("measured");
    assert!((9_900..=10_100).contains(&rate), "{rate}");
    // The bench's noise is even over 51 counts: a standard deviation of 14.7.
    let (noise, _) = result(&bench, BenchCheck::Noise).expect("measured");
    assert!((10_000..=20_000).contains(&noise), "{noise}");

    bench.choose(Word::Drift);
    bench.press(Key::Mark);
    bench.wait(30.0);
    assert!(matches!(bench.body(), Body::Guide(_)), "half a minute is not enough");
    assert_eq!(result(&bench, BenchCheck::Drift), None);
    bench.wait(34.0);

    bench.choose(Word::Span);
    bench.press(Key::Mark);
    bench.set(100.0);
    bench.wait(1.0);
    bench.press(Key::Mark);
    bench.wait(7.0);
    let (span, _) = result(&bench, BenchCheck::Span).expect("measured");
    assert!(
        (span - yarn_scale_tests::bench::COUNTS_PER_GRAM as i32).abs() <= 1,
        "{span}"
    );
    bench.set(0.0);

    bench.choose(Word::KeyBounce);
    for key in [Key::Zero, Key::Mark, Key::Next] {
        for _ in 0..PRESSES {
            bench.press(key);
        }
    }
    assert_eq!(result(&bench, BenchCheck::Keys), Some((0, Some(true))));

    bench.tell(Input::Climate(Climate {
        humidity_percent: 45.0,
        celsius: 21.0,
    }));
    bench.choose(Word::HumiditySensor);
    bench.choose(Word::Buzzer);
    assert!(bench.effects.contains(&Effect::Beep(Tone::Refused)));
    bench.choose(Word::Yes);
    bench.choose(Word::FlashNumber);
    for check in BenchCheck::ALL {
        // The bench has no chip, and so no number.
        let expected = check != BenchCheck::Flash;
        assert_eq!(passed(&bench, check), Some(expected), "{check:?}");
    }
    let (boot, _) = result(&bench, BenchCheck::Boot).expect("noted");
    assert!((500..=1_500).contains(&boot), "{boot}");
    let items = list(&bench).items;
    assert_eq!(items[1].value, Value::Checked(-8, Word::Millivolts, Word::Passed));
    assert_eq!(items[2].value, Value::Checked(10, Word::EachSecond, Word::Passed));
    // After a power cut the list still says so.
    let bench = open(bench.power_cycle());
    assert_eq!(
        list(&bench).items[1].value,
        Value::Checked(-8, Word::Millivolts, Word::Passed)
    );
}

#[test]
fn a_supply_that_reads_wrong_fails_beside_a_meter() {
    let mut bench = opened();
    bench.choose(Word::Supply);
    for _ in 0..30 {
        bench.press(Key::Zero);
    }
    bench.press(Key::Mark);
    assert_eq!(result(&bench, BenchCheck::Supply), Some((4_812 - 4_510, Some(false))));
}

#[test]
fn a_noisy_cell_and_a_cell_of_another_size_fail() {
    let mut bench = opened();
    bench.choose(Word::Noise);
    bench.press(Key::Mark);
    for swing in 0..90 {
        bench.set(if swing % 2 == 0 { 0.0 } else { 0.2 });
        bench.wait(0.1);
    }
    assert_eq!(passed(&bench, BenchCheck::Noise), Some(false));
    bench.set(0.0);
    bench.wait(2.0);
    // 50 g for 100: a cell that gives half.
    watch_empty(&mut bench);
    assert_eq!(
        passed(&bench, BenchCheck::Noise),
        Some(true),
        "the later result replaces the earlier"
    );
    bench.choose(Word::Span);
    bench.press(Key::Mark);
    bench.set(50.0);
    bench.press(Key::Mark);
    bench.wait(7.0);
    assert_eq!(passed(&bench, BenchCheck::Span), Some(false));
}

#[test]
fn a_converter_that_does_not_answer_fails_and_keeps_nobody_waiting() {
    let mut bench = opened();
    bench.choose(Word::Rate);
    bench.press(Key::Mark);
    bench.silence(9.0, ConverterFault::Missing);
    assert_eq!(result(&bench, BenchCheck::Rate), Some((0, Some(false))));
    assert_eq!(result(&bench, BenchCheck::Noise), Some((-1, Some(false))));
    assert_eq!(passed(&bench, BenchCheck::Empty), Some(false));
}

#[test]
fn a_key_that_sticks_and_one_that_bounces_for_long_fail() {
    let mut bench = opened();
    bench.choose(Word::KeyBounce);
    bench.press(Key::Zero);
    let next = Levels {
        next: true,
        ..Levels::default()
    };
    for _ in 0..600 {
        bench.tell(Input::Keys(next));
        bench.wait(0.01);
    }
    let (value, verdict) = result(&bench, BenchCheck::Keys).expect("it ends by itself");
    assert_eq!((value.to_le_bytes(), verdict), ([255, 255, 255, 0], Some(false)));
    for _ in 0..5 {
        bench.tell(Input::Keys(Levels::default()));
        bench.wait(0.01);
    }

    let mut bench = opened();
    bench.choose(Word::KeyBounce);
    for key in [Key::Zero, Key::Mark, Key::Next] {
        for _ in 0..PRESSES {
            if matches!(key, Key::Next) {
                bench.hold_for(key, 0.02);
                bench.tell(Input::Keys(Levels::default()));
                bench.hold_for(key, 0.1);
            } else {
                bench.press(key);
            }
        }
    }
    bench.wait(60.0);
    assert_eq!(
        passed(&bench, BenchCheck::Keys),
        Some(false),
        "{:?}",
        result(&bench, BenchCheck::Keys)
    );
}

#[test]
fn other_panel_silent_buzzer_and_missing_sensor_are_noted() {
    let mut bench = opened();
    bench.choose(Word::PanelEdges);
    bench.press(Key::Next);
    bench.choose(Word::Buzzer);
    bench.choose(Word::No);
    bench.choose(Word::HumiditySensor);
    bench.choose(Word::Yes);
    assert_eq!(result(&bench, BenchCheck::Panel), Some((0, Some(false))));
    assert_eq!(result(&bench, BenchCheck::Buzzer), Some((0, Some(false))));
    assert_eq!(
        result(&bench, BenchCheck::Sensor),
        Some((0, Some(false))),
        "fitted, and silent"
    );
    bench.choose(Word::HumiditySensor);
    bench.choose(Word::No);
    assert_eq!(
        result(&bench, BenchCheck::Sensor),
        Some((0, None)),
        "not fitted: no fault"
    );
}

#[test]
fn zero_ends_what_is_under_way_and_a_computer_opens_the_page() {
    let mut bench = opened();
    bench.choose(Word::Drift);
    bench.press(Key::Mark);
    bench.wait(5.0);
    bench.press(Key::Zero);
    bench.wait(70.0);
    assert_eq!(result(&bench, BenchCheck::Drift), None, "ended without a result");

    let mut bench = Bench::new();
    bench.wait(400.0);
    assert!(matches!(bench.body(), Body::Dark));
    bench.tell(Input::Check(Task::Frame));
    assert!(matches!(bench.body(), Body::Edges), "awake, and shown");
    bench.press(Key::Next);
    assert_eq!(result(&bench, BenchCheck::Panel), Some((0, Some(false))));
    bench.tell(Input::Check(Task::Drift));
    bench.wait(63.0);
    assert_eq!(passed(&bench, BenchCheck::Drift), Some(true), "awake to its end");
}

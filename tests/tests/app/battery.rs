//! For how many days the cells last: by their voltage and by how the scale was used, on a page and as a sign a week before.

use yarn_scale_core::app::{CutOffs, Input, LOW_DAYS, days_left};
use yarn_scale_core::converter::SampleRate;
use yarn_scale_core::journal::SupplyKind;
use yarn_scale_core::screen::{Body, Item, Value, Word};
use yarn_scale_core::units::Millivolts;
use yarn_scale_tests::bench::{Bench, Key};

const CELLS: [SupplyKind; 3] = [
    SupplyKind::Alkaline,
    SupplyKind::NickelMetalHydride,
    SupplyKind::Lithium,
];

/// What the battery page says of a supply of so many millivolts.
fn page(bench: &mut Bench, millivolts: u16) -> Vec<Item> {
    bench.tell(Input::Supply(Millivolts(millivolts)));
    bench.open(Word::Battery);
    let Body::List(list) = bench.body() else {
        panic!("{:?}", bench.body())
    };
    bench.press(Key::Zero);
    list.items.iter().copied().collect()
}

/// Days and hours a day of that page.
fn said(bench: &mut Bench, millivolts: u16) -> (i32, i32) {
    match page(bench, millivolts)[1..] {
        [
            Item {
                value: Value::Quantity(days, _),
                ..
            },
            Item {
                value: Value::Quantity(hours, Word::Hours),
                ..
            },
        ] => (days, hours),
        ref other => panic!("{other:?}"),
    }
}

#[test]
fn full_cells_last_as_long_as_the_power_budget_says() {
    // Days by hardware-notes/power-budget.md, 2,200, 1,900 and 1,100 mAh at 48 mAh a day, by hand.
    for (kind, days) in CELLS.into_iter().zip([45, 39, 22]) {
        let at = |supply| days_left(kind, supply, 1, SampleRate::Ten);
        assert_eq!(at(Millivolts(5_000)), Some(days), "{kind:?}");
        assert_eq!(at(CutOffs::of(kind).write), Some(0), "{kind:?}");
        let all: Vec<_> = (0..5_500).map(|supply| at(Millivolts(supply))).collect();
        assert!(all.is_sorted(), "less voltage never lasts longer: {kind:?}");
        let least = all.iter().position(|&days| days > Some(LOW_DAYS)).expect("some");
        assert!(
            least as u16 > CutOffs::of(kind).write.0 + 150,
            "the sign comes long before: {kind:?}"
        );
    }
    assert_eq!(days_left(SupplyKind::Usb, Millivolts(4_800), 1, SampleRate::Ten), None);
    let full = |hours, rate| days_left(SupplyKind::Alkaline, Millivolts(5_000), hours, rate);
    assert!(full(2, SampleRate::Ten) < full(1, SampleRate::Ten));
    assert!(full(1, SampleRate::Eighty) < full(1, SampleRate::Ten));
    assert!(full(u16::MAX, SampleRate::Eighty).is_some());
}

#[test]
fn between_two_points_of_a_curve_lies_a_straight_line() {
    // 1,716 + (2,200 - 1,716) x 225 / 450 = 1,958 mAh at 4,175 mV; / 48 = 40.8 days.
    assert_eq!(
        days_left(SupplyKind::Alkaline, Millivolts(4_175), 1, SampleRate::Ten),
        Some(40)
    );
}

#[test]
fn the_page_says_kind_volts_and_days_by_what_was_used() {
    let mut bench = Bench::new();
    let rows = page(&mut bench, 4_000);
    assert_eq!(rows[0].value, Value::Quantity(4_000, Word::Millivolts));
    let (days, hours) = said(&mut bench, 4_000);
    assert_eq!(hours, 1, "assumed at first");
    assert_eq!(
        days_left(SupplyKind::Alkaline, Millivolts(4_000), 1, SampleRate::Ten),
        Some(days as u16)
    );
    // Used for nine hours on its first day: with the three days that are assumed 12 hours in 3.4 days.
    for _ in 0..9 * 20 {
        bench.pause(180.0);
        bench.press(Key::Next);
    }
    let (fewer, more) = said(&mut bench, 4_000);
    assert_eq!(more, 4);
    assert!(fewer < days);
    // Deep asleep, which counts as a day, ten times: an hour a day again.
    for _ in 0..10 {
        bench.tell(Input::TimeLost);
    }
    assert_eq!(said(&mut bench, 4_000).1, 1);
    // Nothing is counted while it is dark.
    let before = said(&mut bench, 4_000);
    bench.pause(400.0);
    bench.pause(100_000.0);
    bench.press(Key::Next);
    assert_eq!(said(&mut bench, 4_000), before);
}

#[test]
fn with_a_plug_the_days_are_not_known_and_nothing_is_counted() {
    let mut bench = Bench::new();
    bench.plug(true);
    assert_eq!(page(&mut bench, 4_800)[1].value, Value::Word(Word::NotKnown));
    for _ in 0..9 * 20 {
        bench.pause(180.0);
        bench.press(Key::Next);
    }
    bench.plug(false);
    assert_eq!(said(&mut bench, 4_000).1, 1);
}

#[test]
fn the_sign_comes_a_week_early_and_does_not_flicker() {
    let mut bench = Bench::new();
    let low = |bench: &mut Bench, supply| {
        bench.tell(Input::Supply(Millivolts(supply)));
        bench.app.view().status.supply_low
    };
    let last = (2_900..4_400)
        .rfind(|&supply| days_left(SupplyKind::Alkaline, Millivolts(supply), 1, SampleRate::Ten) == Some(LOW_DAYS))
        .expect("a week");
    assert!(!low(&mut bench, last + 1));
    assert!(low(&mut bench, last));
    assert!(low(&mut bench, last + 50), "noise of the voltage is no new cell");
    assert!(!low(&mut bench, last + 150));
}

//! The scale at its limits: what a press of ZERO may take, where a number ends, what a spoilt word does, and which level calibrates.

use yarn_scale_core::measured::Measured;
use yarn_scale_core::units::{Instant, Milligrams};
use yarn_scale_core::weighing::{Condition, ScaleEvent, Unit};
use yarn_scale_tests::cell::{Cell, PER_GRAM};

const TOP: i32 = 0x7F_FFFF;

fn shown(cell: &Cell) -> String {
    cell.scale.shown().expect("a number").to_string()
}

/// A press takes what lies there for nothing within 4 % of capacity of the first zero since power-on (OIML R 76-1, 4.5.1), either way.
#[test]
fn a_press_takes_four_hundredths_of_the_capacity() {
    for (grams, takes) in [(19.9, true), (20.1, false), (-19.9, true), (-20.1, false)] {
        let mut cell = Cell::new(PER_GRAM);
        cell.rest(5.0, 0.0);
        // Far below zero a scale says nothing; so the way down is in steps that are taken.
        for step in 1..=11 {
            cell.load = grams * f64::from(step) / 11.0;
            cell.rest(4.0, 0.0);
            let pressed = cell.scale.zero();
            assert_eq!(pressed, takes || step < 11, "{} g", cell.load);
        }
        // A finger that lifts the empty pan makes no load of it.
        assert_eq!(cell.scale.is_empty(), takes || grams < 0.0);
    }
}

/// Before any empty pan was seen a press may go to a fifth of the capacity from the stored zero; and without a steady load it does nothing.
#[test]
fn the_first_press_takes_a_fifth_of_the_capacity() {
    for (grams, takes) in [(99.9, true), (100.1, false)] {
        let mut cell = Cell::new(PER_GRAM);
        assert!(!cell.scale.zero(), "before the first sample");
        cell.settle(grams);
        assert_eq!(cell.scale.zero(), takes, "{grams} g");
        assert_eq!(cell.scale.is_empty() && cell.scale.zero_point().proven, takes);
    }
    let mut cell = Cell::new(PER_GRAM);
    cell.settle(5.0);
    cell.load = 8.0;
    cell.sample();
    cell.sample();
    assert!(!cell.scale.zero(), "while the load moves");
}

/// Readings are rounded to the nearest milligram on both sides of zero.
#[test]
fn masses_are_rounded_to_the_nearest_milligram() {
    for grams in [3.0, -1.3, 40.0, -1.7, -1.1] {
        let mut cell = Cell::new(PER_GRAM);
        cell.rest(5.0, 0.0);
        let mut load = cell.settle(grams);
        for _ in 0..30 {
            cell.sample();
            load = cell.scale.steady().unwrap_or(load);
            let mass = f64::from(cell.scale.calibration().mass(load.level(), load.zero().level));
            let gross = f64::from(cell.scale.gross(&load).value.0);
            assert!((gross - mass).abs() <= 0.5001, "{gross} of {mass}");
        }
    }
}

/// One or two saturated words are a disturbance; three in a row are an overload, or on a cell mounted the other way round an underload.
#[test]
fn three_words_at_the_end_of_the_range_end_the_number() {
    for (per_gram, word, condition) in [
        (PER_GRAM, TOP, Condition::Overload),
        (PER_GRAM, -TOP - 1, Condition::Underload),
        (-PER_GRAM, TOP, Condition::Underload),
        (-PER_GRAM, -TOP - 1, Condition::Overload),
    ] {
        let mut cell = Cell::new(per_gram);
        cell.rest(5.0, 0.0);
        cell.settle(30.0);
        for _ in 0..2 {
            assert_eq!(cell.word(word), None);
            assert_eq!(cell.scale.condition(), Condition::Weighing);
        }
        assert_eq!(shown(&cell), "30.0");
        assert_eq!(cell.word(word), Some(ScaleEvent::Lifted));
        assert_eq!(cell.scale.condition(), condition, "{per_gram} counts a gram, {word}");
        assert_eq!(
            (cell.scale.shown(), cell.scale.gross_now(), cell.scale.level()),
            (None, None, None)
        );
        cell.rest(3.0, 0.0);
        assert_eq!(cell.scale.condition(), Condition::Weighing);
    }
}

/// A number ends at capacity and nine divisions, and at twenty divisions below zero (OIML R 76-1, 4.2.3); from two fifths of the capacity
/// below zero on the cell is the wrong way round.
#[test]
fn a_number_ends_at_its_limits() {
    for (grams, condition) in [
        (500.85, Condition::Weighing),
        (500.95, Condition::Overload),
        (-1.95, Condition::Weighing),
        (-2.05, Condition::Underload),
        (-199.9, Condition::Underload),
        (-200.1, Condition::Reversed),
    ] {
        let mut cell = Cell::new(PER_GRAM);
        cell.rest(5.0, 0.0);
        cell.load = grams;
        cell.rest(4.0, 0.0);
        assert_eq!(cell.scale.condition(), condition, "{grams} g");
        assert_eq!(
            cell.scale.shown().is_some(),
            condition == Condition::Weighing,
            "{grams} g"
        );
        // The last sample tells what lies there in either case.
        let now = cell.scale.gross_now().expect("a mass");
        assert!(
            (f64::from(now.0) - 1_000.0 * grams).abs() < 30.0,
            "{now:?} of {grams} g"
        );
    }
}

/// The unit and the tare change the number at once, and back.
#[test]
fn unit_and_tare_change_the_number_at_once() {
    let mut cell = Cell::new(PER_GRAM);
    cell.rest(5.0, 0.0);
    cell.settle(28.35);
    cell.rest(3.0, 0.0);
    cell.scale.set_unit(Unit::Ounce);
    assert_eq!((cell.scale.unit(), shown(&cell)), (Unit::Ounce, "1.00".to_owned()));
    cell.scale.set_unit(Unit::Gram);
    let bowl = Measured {
        value: Milligrams(8_350),
        u: 3.0,
    };
    cell.scale.tare(bowl);
    assert_eq!((cell.scale.tared(), shown(&cell)), (Some(bowl), "20.0".to_owned()));
    let readout = cell.scale.readout();
    let (gross, net) = (readout.gross.expect("gross"), readout.net.expect("net"));
    assert_eq!(gross.value - net.value, bowl.value);
    // Root sum of squares (GUM 5.1.2).
    assert!((f64::from(net.u) - f64::from(gross.u).hypot(3.0)).abs() < 1e-3);
}

/// How a level moves, mg a minute, on a cell mounted either way.
#[test]
fn drift_is_told_in_milligrams_a_minute() {
    for per_gram in [PER_GRAM, -PER_GRAM, PER_GRAM / 2.0] {
        let mut cell = Cell::new(per_gram);
        cell.rest(10.0, 0.0);
        cell.settle(100.0);
        cell.rest(20.0, 0.0);
        let still = cell.scale.drift();
        cell.rest(60.0, 0.1);
        let drift = cell.scale.drift();
        assert!(still.abs() < 50.0, "{still} mg a minute at rest");
        assert!((drift - 100.0).abs() < 50.0, "{drift} mg a minute, not 100");
    }
}

/// The level to calibrate by is one good to 5 mg on a quiet cell, gone with the load, and kept for a second after it was last there; a
/// noisy cell's is taken after ten seconds, however noisy.
#[test]
fn the_level_to_calibrate_by_is_a_fine_one() {
    for spread in [30, 150] {
        for per_gram in [PER_GRAM, PER_GRAM / 8.0, -PER_GRAM / 8.0] {
            let mut cell = Cell::new(per_gram);
            cell.spread = spread;
            cell.rest(30.0, 0.0);
            cell.load = 100.0;
            let mut first = None;
            for tick in 0..140 {
                cell.sample();
                let fine = cell
                    .scale
                    .steady()
                    .is_some_and(|load| f64::from(load.se()) * 1_000.0 / per_gram.abs() < 5.0);
                let has = cell.scale.level().is_some();
                // For ten ticks from the last one, that of the empty pan.
                if tick > 15 && first.is_none() && has {
                    first = Some((tick, fine));
                }
            }
            let (tick, fine) = first.expect("a level within ten seconds and some");
            assert!(
                fine || tick >= 98,
                "{per_gram} counts a gram, spread {spread}: after {tick} ticks, fine: {fine}"
            );
            assert!(tick <= 125, "after {tick} ticks");
            assert!(
                tick < 40 || spread > 30 || per_gram < PER_GRAM,
                "a quiet cell's only after {tick} ticks"
            );
        }
    }
}

/// A jump of the load takes the level to calibrate by away at once: the press after it would calibrate by the load before.
#[test]
fn a_jump_takes_the_level_to_calibrate_by_away() {
    let mut cell = Cell::new(PER_GRAM);
    cell.rest(20.0, 0.0);
    assert!(cell.scale.level().is_some());
    cell.load = 50.0;
    let mut gone = None;
    for tick in 1..=9 {
        cell.sample();
        if cell.scale.level().is_none() {
            gone = gone.or(Some(tick));
        }
    }
    assert!(gone.is_some_and(|tick| tick <= 5), "still there after {gone:?} ticks");
    cell.rest(20.0, 0.0);
    assert!(cell.scale.level().is_some());
    cell.scale.has_rested(Instant(cell.now));
    assert_eq!(cell.scale.level(), None, "a scale that has rested knows no level");
}

/// The empty pan's zero follows what warming up does, a milligram a second, either way, as long as it is
/// young: 80 mg in 500 g is as fast as any cell is after two minutes.
#[test]
fn the_empty_pan_is_followed_as_it_warms_up() {
    for sign in [1.0, -1.0] {
        let mut cell = Cell::new(PER_GRAM);
        cell.rest(60.0, 0.0);
        let before = cell.scale.zero_point();
        cell.rest(60.0, sign * 0.06);
        let moved = f64::from(cell.scale.zero_point().level.0 - before.level.0) / 16.0 / PER_GRAM * 1_000.0;
        assert!(
            (48.0..66.0).contains(&(sign * moved)),
            "{moved} mg of {} mg",
            60.0 * sign
        );
    }
}

/// What the pan went through since it was last asked, from a pressing hand to the light pan.
#[test]
fn a_pressing_hand_is_remembered_until_asked() {
    let mut cell = Cell::new(PER_GRAM);
    cell.rest(10.0, 0.0);
    cell.load = 300.0;
    cell.rest(3.0, 0.0);
    cell.load = 0.0;
    cell.rest(5.0, 0.0);
    let (low, high) = cell.scale.extremes();
    let grams = |level: i32| (f64::from(level) / 16.0 - 120_000.0) / PER_GRAM;
    assert!(
        grams(low.0).abs() < 0.1 && (grams(high.0) - 300.0).abs() < 0.1,
        "{low:?} to {high:?}"
    );
    cell.scale.sweep_anew();
    cell.rest(5.0, 0.0);
    let (low, high) = cell.scale.extremes();
    assert!(
        grams(low.0).abs() < 0.1 && grams(high.0).abs() < 0.1,
        "{low:?} to {high:?}"
    );
}

/// The number that is shown, the number of a mark and what a mark is later seen as follow the same creep: what the cell has learnt is taken
/// out of all of them, also right after a heavy load, when it still comes back from it.
#[test]
fn the_number_shown_and_the_load_marked_agree_on_creep() {
    let mut cell = Cell::new(PER_GRAM);
    cell.rest(60.0, 0.0);
    for _ in 0..4 {
        cell.settle(400.0);
        // It comes up by 0.12 g, of which an emptied pan shows nearly all; half an hour later it is gone.
        cell.rest(1_800.0, 0.12);
        cell.empty();
        cell.rest(1_800.0, -0.12);
    }
    cell.settle(400.0);
    cell.rest(1_800.0, 0.12);
    cell.empty();
    let load = cell.settle(300.0);
    let now = cell.scale.gross_now().expect("a mass");
    let marked = cell.scale.gross(&load).value;
    assert!((now.0 - marked.0).abs() <= 15, "{now:?} shown, {marked:?} marked");
    let later = cell.now;
    cell.rest(120.0, -0.02);
    assert!(load.at() >= Instant(later - 200) && load.since() <= load.at());
    let readout = cell.scale.readout().gross.expect("a number").value;
    let again = cell.scale.gross(&cell.scale.steady().expect("steady")).value;
    assert!(
        (readout.0 - again.0).abs() <= 15,
        "{readout:?} shown, {again:?} by its load"
    );
}

/// How unsure a level is counts in milligrams, whatever a count is worth: an end of a sixth of a gram that is laid on the empty pan is a
/// load also where the cell is so noisy that as many milligrams as it has counts would let it pass.
#[test]
fn a_short_end_on_the_empty_pan_of_a_noisy_cell_is_a_load() {
    for spread in [30, 300] {
        let mut cell = Cell::new(PER_GRAM);
        cell.spread = spread;
        cell.rest(60.0, 0.0);
        assert!(cell.scale.is_empty());
        let load = cell.settle(0.165);
        assert!(!cell.scale.is_empty());
        let gross = cell.scale.gross(&load);
        assert!((gross.value.0 - 165).abs() < 60, "{gross:?}");
    }
}

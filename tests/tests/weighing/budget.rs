//! The uncertainty budget against one made by hand: the figures of common data sheets that `hardware-notes/uncertainty-budget.md` names,
//! put together by the rules of the GUM (JCGM 100:2008: 4.3.7 for a value anywhere within limits, 5.1.2 for the root sum of squares).

use yarn_scale_core::units::Instant;
use yarn_scale_core::weighing::{Budget, SteadyLoad};
use yarn_scale_tests::cell::{Cell, PER_GRAM};

/// A cell for 1 kg, on a scale for 500 g: its errors are in proportion to 1 kg.
pub(super) const RATED: f64 = 1e6;
pub(super) const OF_ONE_KILOGRAM: f64 = PER_GRAM / 2.0;
pub(super) const MG_PER_COUNT: f64 = 1_000.0 / OF_ONE_KILOGRAM;

/// Root sum of squares.
pub(super) fn rss(parts: &[f64]) -> f64 {
    parts.iter().map(|part| part * part).sum::<f64>().sqrt()
}

pub(super) fn close(what: &str, value: f32, by_hand: f64, within: f64) {
    let off = (f64::from(value) - by_hand).abs();
    assert!(off <= within, "{what}: {value} mg, by hand {by_hand:.3}");
}

fn at(instant: Instant) -> f64 {
    instant.0 as f64 / 1_000.0
}

/// Zero in a room that changes by 1.2 degrees in an hour, as a walk does: 0.035 % of the rated load in 10 K.
fn room(seconds: f64) -> f64 {
    RATED * 0.000_35 * 0.12 * (seconds / 3_600.0).sqrt()
}

/// Warming up by 0.01 to 0.05 %, and by 0.01 to 0.1 % in one cell of ten, 0.035 % in the mean square, with a time constant that is anything from
/// one to ten minutes, or a thousand seconds in one cell of seven: mean square over all of them.
fn warming(from: f64, to: f64) -> f64 {
    let square = |constant: f64| ((-from / constant).exp() - (-to / constant).exp()).powi(2);
    let usual: f64 = (0..5_400).map(|tenth| square(60.05 + 0.1 * f64::from(tenth))).sum();
    RATED * 0.000_35 * (0.86 * usual / 5_400.0 + 0.14 * square(1_000.0)).sqrt()
}

/// How far a zero taken at one time may be off at another.
fn wander(from: f64, to: f64) -> f64 {
    rss(&[room(to - from), warming(from, to)])
}

/// The stored zero: ten degrees and a cold start.
const UNPROVEN: f64 = 0.000_35 * 1.342_857 * RATED;
/// What the exponential functions and the walk are worth in the device's arithmetic.
const OF_WANDER: f64 = 0.012 * 0.000_35 * RATED;

/// Bow of ± 0.04 % of the rated load at its middle, anywhere between (GUM 4.3.7: over the root of 3, 0.023 %), as a parabola.
pub(super) fn bow(mass: f64) -> f64 {
    let part = mass / RATED;
    4.0 * 0.000_23 * RATED * part * (1.0 - part)
}

/// What a hand leaves that presses with 18 g and lets go: loops of 0.035 %, four times as wide for each gram as at full load, and in
/// proportion to what the cell has come up to.
fn put_down(mass: f64) -> f64 {
    4.0 * 0.000_35 * 18_000.0 * mass / RATED
}

/// Flicker of 14 counts at a unit of 60 counts of noise, with the root of the noise.
fn flicker(noise_mg: f64) -> f64 {
    14.0 * (noise_mg / MG_PER_COUNT / 60.0).sqrt() * MG_PER_COUNT
}

/// What creep may have added to a load that has lain on a rested cell for so long: 0.036 % in half an hour, in two parts.
fn creep(mass: f64, seconds: f64) -> f64 {
    let done = 0.363 * (1.0 - (-seconds / 60.0).exp()) + 0.674 * (1.0 - (-seconds / 620.0).exp());
    0.000_36 * mass * done
}

fn noise(loads: &[f32]) -> f64 {
    rss(&loads.iter().map(|se| f64::from(*se) * MG_PER_COUNT).collect::<Vec<_>>())
}

/// The same between two levels so many seconds apart: of a spectrum of 1/f, the structure function of means of a second and a half, 2 log10 of
/// the time over that; and steps of 65 counts, one in 300 s, as far as this converter has not been seen to have none.
fn slow(cell: &Cell, flicker: f64, seconds: f64) -> f64 {
    let steps = f64::from(cell.scale.conditions().steps) * 65.0 * MG_PER_COUNT;
    let pink = wandering(cell) * flicker * (1.65 + 2.0 * (seconds / 10.0).max(1.0).log10()).sqrt();
    rss(&[pink, steps * (seconds / (seconds + 300.0)).sqrt()])
}

/// How restless this unit is by now beside the assumed one, whose figures stand here.
fn restless(cell: &Cell) -> f64 {
    f64::from(cell.scale.conditions().restless)
}

/// And how much its amplifier wanders.
fn wandering(cell: &Cell) -> f64 {
    f64::from(cell.scale.conditions().wandering)
}

/// One weighing, entry by entry, soon after power-on and long after the zero was seen.
#[test]
fn one_weighing_adds_up_as_by_hand() {
    for (cold, lies, grams) in [(6.0, 0.0, 100.0), (6.0, 300.0, 400.0), (1_800.0, 3_000.0, 250.0)] {
        let mut cell = Cell::new(OF_ONE_KILOGRAM);
        cell.rest(cold, 0.0);
        let mut load = cell.settle(grams);
        if lies > 0.0 {
            cell.rest(lies, 0.0);
            load = cell.scale.steady().expect("steady");
        }
        let mass = 1_000.0 * grams;
        let restless = restless(&cell);
        // Next to nothing has been learnt: Student's t for four degrees of freedom over the normal distribution's.
        if cold < 60.0 {
            close("restless", restless as f32, 2.776 / 1.96, 0.04);
        }
        let budget = cell.scale.budget(&load);
        let entries = [
            // Half a milligram either way, and a sixteenth of a count: a little more than the first alone.
            (
                budget.resolution,
                rss(&[0.5 / 3.0_f64.sqrt(), MG_PER_COUNT / 16.0 / 12.0_f64.sqrt()]),
                0.02,
            ),
            (budget.noise, noise(&[load.se(), load.zero().se]), 0.01),
            (
                budget.flicker,
                slow(
                    &cell,
                    flicker(f64::from(cell.scale.noise())),
                    at(load.at()) - at(load.zero().at),
                ),
                0.02,
            ),
            (budget.creep, restless * creep(mass, lies + 2.0), 0.04 * 0.000_36 * mass),
            // Of the load 0.02 % from the branch, and what a hand has left that put it down.
            (
                budget.hysteresis,
                rss(&[0.000_2 * mass, restless * put_down(mass)]),
                0.03 * put_down(mass),
            ),
            (budget.linearity, bow(mass), 1.0),
            // A calibration from elsewhere: 0.02 %.
            (budget.span, 0.000_2 * mass, 0.02),
            (
                budget.temperature,
                restless * wander(at(load.zero().at), at(load.at())),
                restless * OF_WANDER,
            ),
            (budget.bowl, 0.0, 0.0),
        ];
        for ((name, _), (entry, by_hand, within)) in budget.entries().into_iter().zip(entries) {
            close(name, entry, by_hand, within);
        }
        let all = rss(&budget.entries().map(|(_, u)| f64::from(u)));
        close("combined", budget.combined(), all, 0.01);
        close("gross", cell.scale.gross(&load).u, all, 0.01);
        assert!((f64::from(cell.scale.gross(&load).value.0) - mass).abs() < 15.0);
    }
}

/// A load that lay there at power-on stands on the stored zero.
#[test]
fn a_load_on_the_stored_zero_has_its_whole_uncertainty() {
    let mut cell = Cell::new(OF_ONE_KILOGRAM);
    let load = cell.settle(100.0);
    close(
        "temperature",
        cell.scale.budget(&load).temperature,
        restless(&cell) * UNPROVEN,
        0.01 * UNPROVEN,
    );
}

/// Two loads of one zero share it: between them are the noise of both, the part between the two, and the zero's way from one to the other.
#[test]
fn a_section_on_one_zero_adds_up_as_by_hand() {
    for proven in [true, false] {
        let mut cell = Cell::new(OF_ONE_KILOGRAM);
        if proven {
            cell.rest(6.0, 0.0);
        }
        let before = cell.settle(100.0);
        let noisy = f64::from(cell.scale.noise());
        cell.rest(900.0, 0.0);
        let after = cell.settle(60.0);
        let quiet = f64::from(cell.scale.noise());
        assert!(quiet < 0.95 * noisy, "not learnt: {quiet} mg after {noisy} mg");
        let budget = cell.scale.difference_budget(&before, &after);
        let restless = restless(&cell);
        close("noise", budget.noise, noise(&[before.se(), after.se()]), 0.01);
        close(
            "flicker",
            budget.flicker,
            slow(
                &cell,
                rss(&[flicker(noisy), flicker(quiet)]) / 2.0_f64.sqrt(),
                at(after.at()) - at(before.at()),
            ),
            0.03,
        );
        // The bow's steepness between the two, a quarter of it used up by the load.
        close("linearity", budget.linearity, (bow(100e3) - bow(60e3)).abs(), 0.5);
        close("hysteresis", budget.hysteresis, 0.000_2 * 40e3, 0.05);
        close("span", budget.span, 0.000_2 * 40e3, 0.05);
        close(
            "temperature",
            budget.temperature,
            restless * wander(at(before.at()), at(after.at())),
            restless * OF_WANDER,
        );
        let strain = creep(100e3, 2.0) - creep(100e3, at(after.at()) - at(before.at()));
        close("creep", budget.creep, restless * strain.abs(), 1.3);
        assert!(budget.resolution > 0.2 && budget.bowl < 1e-9);
        let difference = cell.scale.difference(&before, &after);
        close(
            "combined",
            difference.u,
            rss(&budget.entries().map(|(_, u)| f64::from(u))),
            0.01,
        );
        assert!((difference.value.0 - 40_000).abs() < 20, "{difference:?}");
    }
}

/// Two loads of two zeros: the noise of all four, how each was put down, and each zero's own wandering.
#[test]
fn a_section_across_an_emptied_pan_adds_up_as_by_hand() {
    let mut cell = Cell::new(OF_ONE_KILOGRAM);
    cell.settle(120.0);
    cell.rest(90.0, 0.0);
    let stored = cell.scale.steady().expect("steady");
    cell.empty();
    cell.settle(100.0);
    cell.rest(600.0, 0.0);
    let before = cell.scale.steady().expect("steady");
    cell.empty();
    cell.settle(60.0);
    cell.rest(20.0, 0.0);
    let after = cell.scale.steady().expect("steady");
    let restless = restless(&cell);
    let own = |load: &SteadyLoad| {
        if load.zero().proven {
            restless * wander(at(load.zero().at), at(load.at()))
        } else {
            restless * UNPROVEN
        }
    };
    for (a, b, mass_a, mass_b) in [
        (before, after, 100e3, 60e3),
        (stored, after, 120e3, 60e3),
        (after, before, 60e3, 100e3),
    ] {
        let budget = cell.scale.difference_budget(&a, &b);
        let all = [a.se(), b.se(), a.zero().se, b.zero().se];
        close("noise", budget.noise, noise(&all), 0.01);
        close(
            "hysteresis",
            budget.hysteresis,
            rss(&[
                0.000_2 * (mass_a - mass_b),
                restless * put_down(mass_a),
                restless * put_down(mass_b),
            ]),
            0.02 * put_down(mass_a),
        );
        close(
            "temperature",
            budget.temperature,
            rss(&[own(&a), own(&b)]),
            restless * OF_WANDER + 0.01 * own(&a),
        );
        // Under the first the cell goes up, after it it still comes back under the second: between the two lies the sum.
        let [up, back] = [&a, &b].map(|load| f64::from(cell.scale.budget(load).creep));
        assert!(up > 1.0 && back > 1.0, "{up} and {back}");
        close("creep", budget.creep, up + back, 0.01);
        close("linearity", budget.linearity, (bow(mass_a) - bow(mass_b)).abs(), 0.5);
    }
}

/// A scale that has rested stands on the same zero, but no longer knows it: not one zero any more.
#[test]
fn a_zero_that_has_rested_is_another() {
    let mut cell = Cell::new(OF_ONE_KILOGRAM);
    cell.rest(6.0, 0.0);
    let before = cell.settle(100.0);
    cell.scale.has_rested(Instant(cell.now));
    let after = cell.settle(100.0);
    assert_eq!(before.zero().at, after.zero().at);
    let budget = cell.scale.difference_budget(&before, &after);
    close(
        "temperature",
        budget.temperature,
        restless(&cell) * UNPROVEN,
        0.02 * UNPROVEN,
    );
}

/// And it warms up once more: a zero found soon after the converter is on again is worth as little, after a while, as one found soon after
/// power-on. Without the rest the cell is warm by then.
#[test]
fn a_cell_that_has_rested_warms_up_anew() {
    for rests in [true, false] {
        let mut cell = Cell::new(OF_ONE_KILOGRAM);
        cell.rest(3_600.0, 0.0);
        let since = if rests { at(Instant(cell.now)) } else { 0.0 };
        if rests {
            cell.scale.has_rested(Instant(cell.now));
        }
        cell.rest(6.0, 0.0);
        cell.settle(100.0);
        cell.rest(300.0, 0.0);
        let load = cell.scale.steady().expect("steady");
        assert!(load.zero().proven, "found empty");
        close(
            "temperature",
            cell.scale.budget(&load).temperature,
            restless(&cell) * wander(at(load.zero().at) - since, at(load.at()) - since),
            restless(&cell) * OF_WANDER,
        );
    }
}

/// The budget of nothing but one entry is that entry.
#[test]
fn every_entry_counts_in_the_whole() {
    let nothing = Budget::default();
    let one = 7.0;
    for budget in [
        Budget {
            resolution: one,
            ..nothing
        },
        Budget { noise: one, ..nothing },
        Budget {
            flicker: one,
            ..nothing
        },
        Budget { creep: one, ..nothing },
        Budget {
            hysteresis: one,
            ..nothing
        },
        Budget {
            linearity: one,
            ..nothing
        },
        Budget { span: one, ..nothing },
        Budget {
            temperature: one,
            ..nothing
        },
        Budget { bowl: one, ..nothing },
    ] {
        close("combined", budget.combined(), f64::from(one), 1e-4);
        assert_eq!(budget.entries().iter().filter(|(_, u)| *u > 0.0).count(), 1);
    }
}

//! A weight seen again from later: once the pan has been found empty after it, its zero lies between the two empty pans (zero
//! bracketing; common practice in weighing, as ABA cycles are: before, load, after).

use yarn_scale_core::units::{FineCounts, Milligrams};
use yarn_scale_core::weighing::{Calibration, Point, Scale};
use yarn_scale_tests::cell::{Cell, EMPTY, PER_GRAM};

const RATED: f64 = 5e5;

fn rss(parts: &[f64]) -> f64 {
    parts.iter().map(|part| part * part).sum::<f64>().sqrt()
}

/// What the zero's ways from one second to two others have in common, mg^2: a room that walks by 0.0042 % of the rated load in an hour,
/// and warming up by 0.035 % with a time constant that is anything from one to ten minutes.
fn common(from: f64, to: f64, and: f64) -> f64 {
    let constants = (0..540).map(|second| 60.5 + f64::from(second));
    let ways = constants.map(|constant| {
        let [start, to, and] = [from, to, and].map(|at| (-at / constant).exp());
        (start - to) * (start - and)
    });
    let room = (0.000_042 * RATED).powi(2) * (to - from) / 3_600.0;
    room + (0.000_35 * RATED).powi(2) * ways.sum::<f64>() / 540.0
}

/// Slow noise of the converter so many seconds from the nearer empty pan, as `budget.rs` has it.
fn slow_since_the_nearer(scale: &Scale, seconds: f64) -> f64 {
    let on = scale.conditions();
    let per_count = f64::from(on.mg_per_count);
    let flicker = 14.0 * (f64::from(scale.noise()) / per_count / 60.0).sqrt() * per_count;
    let pink = f64::from(on.wandering) * flicker * (1.65 + 2.0 * (seconds / 10.0).max(1.0).log10()).sqrt();
    let steps = f64::from(on.steps) * 65.0 * per_count * (seconds / (seconds + 300.0)).sqrt();
    rss(&[pink, steps])
}

fn near(value: Milligrams, mg: f64, within: f64) {
    assert!(
        (f64::from(value.0) - mg).abs() <= within,
        "{value:?}, by hand {mg:.0} mg"
    );
}

/// A cell of which everything is known: its bow and its span, so that the zero is what is left to be seen.
fn known_cell() -> Cell {
    let point = |grams: i32| Point {
        load: Milligrams::from_grams(grams),
        cup: false,
        u: 0.1,
        level: FineCounts(16 * EMPTY + (16.0 * PER_GRAM * f64::from(grams)).round() as i32 + grams % 7),
    };
    let proof = Calibration::prove(&[0, 100, 200, 350, 500].map(point), Milligrams::from_grams(500)).expect("proven");
    assert!(proof.calibration.is_bent());
    Cell::with(proof.calibration, PER_GRAM)
}

/// The cell and, beside it, what its loads have done to it.
struct Followed {
    cell: Cell,
    /// Two relaxing elements, a third within a minute, the rest within ten, mg.
    strained: [f64; 2],
}

impl Followed {
    fn rest(&mut self, seconds: f64, drift: f64) {
        let samples = (10.0 * seconds) as u32;
        for _ in 0..samples {
            self.cell.rest(0.1, drift / f64::from(samples));
            let gross = self
                .cell
                .scale
                .gross_now()
                .map_or(0.0, |gross| f64::from(gross.0.max(0)));
            for (strained, constant) in self.strained.iter_mut().zip([60.0, 620.0]) {
                *strained += (gross - *strained) * 0.1 / constant;
            }
        }
    }

    fn strain(&self) -> f64 {
        0.363 * self.strained[0] + 0.674 * self.strained[1]
    }
}

/// The zero drifts evenly while a cake lies there: of what it had drifted when the cake was weighed all is taken out, at whatever time
/// that was and whatever the cell has learnt of its creep and still comes back from; and what a straight line between two empty pans can
/// miss is stated.
#[test]
fn an_even_drift_under_a_load_is_taken_out() {
    for (learnt, drift, early, late) in [
        (false, 0.0_f64, 300.0, 300.0),
        (false, 0.105, 150.0, 450.0),
        (false, -0.105, 450.0, 150.0),
        (true, 0.1, 300.0, 300.0),
        (true, -0.05, 450.0, 150.0),
    ] {
        let mut bench = Followed {
            cell: known_cell(),
            strained: [0.0; 2],
        };
        // Once so noisy that the zeros have a say.
        bench.cell.spread = if drift.abs() > 0.0 { 30 } else { 300 };
        // Warm, so that a drift like that is not taken for creep of the cell.
        bench.rest(2_400.0, 0.0);
        if learnt {
            for back in [1_800.0, 1_800.0, 30.0] {
                bench.cell.load = 400.0;
                bench.rest(1_800.0, 0.12);
                bench.cell.load = 0.0;
                bench.rest(3.0, 0.0);
                bench.rest(back, if back > 100.0 { -0.12 } else { -0.01 });
            }
        }
        let whole = early + late;
        bench.cell.load = 100.0;
        bench.rest(early, drift * early / whole);
        let scale = &bench.cell.scale;
        let load = scale.steady().expect("steady");
        assert_eq!(scale.amended(&load), None, "before the pan was seen empty");
        let strain = bench.strain() - f64::from(load.zero().strain);
        bench.rest(late, drift * late / whole);
        bench.cell.load = 0.0;
        for _ in 0..50 {
            if !bench.cell.scale.is_empty() {
                bench.rest(0.1, 0.0);
            }
        }
        bench.cell.answer();
        let scale = &bench.cell.scale;
        let amended = scale.amended(&load).expect("amended");

        let (zero, before) = (scale.zero_point(), load.zero());
        let mass = |level: FineCounts, zero: FineCounts| f64::from(scale.calibration().mass(level, zero));
        let uncorrected = mass(load.level(), before.level);
        // To half a milligram, which a gross weight is rounded to.
        let rounded = uncorrected - f64::from(scale.gross(&load).value.0);
        assert!(!learnt || rounded.abs() > 5.0, "{rounded} mg of creep");
        let learnt = learnt || rounded.abs() > 1.0;
        let creep = if learnt { rounded / strain } else { 0.0 };
        let shift = mass(zero.level, before.level);
        let strained = f64::from(zero.strain - before.strain);
        // Seen with noise at both ends: the share that a zero is likely to have gone by then (a best linear estimate from two ends, as GUM
        // H.5 weights means in kind).
        let per_count = f64::from(scale.calibration().mg_per_count());
        let [noise, noise_after] =
            [before, zero].map(|zero| (f64::from(zero.se) * per_count).powi(2) + f64::from(zero.doubt).powi(2));
        let [start, here, end] = [before.at, load.at(), zero.at].map(|at| at.0 as f64 / 1_000.0);
        let [gone, both, whole] = [(here, here), (here, end), (end, end)].map(|(to, and)| common(start, to, and));
        let part = (noise + both) / (noise + noise_after + whole);
        let by_hand = uncorrected - part * shift - creep * (strain - part * strained);
        near(amended.value, by_hand, 2.0);
        if !learnt {
            near(amended.value, 100_000.0, f64::from(bench.cell.spread) / 2.0);
        }

        // What is not known of it once its end is: the variance about that share.
        let restless = f64::from(scale.conditions().restless);
        let temperature = restless * (gone - 2.0 * part * both + part * part * whole).max(0.0).sqrt();
        let budget = scale.budget(&load);
        let zeros = rss(&[(1.0 - part) * f64::from(before.se), part * f64::from(zero.se)]);
        let all = rss(&[
            f64::from(budget.resolution),
            f64::from(load.se()) * per_count,
            zeros * per_count,
            slow_since_the_nearer(scale, (here - start).min(end - here)),
            f64::from(budget.hysteresis),
            f64::from(budget.linearity),
            f64::from(budget.span),
            f64::from(budget.creep) * (1.0 - part * strained / strain),
            temperature,
            (1.0 - part) * f64::from(before.doubt),
            part * f64::from(zero.doubt),
        ]);
        let within = if learnt { 0.5 } else { 0.2 };
        assert!(
            (f64::from(amended.u) - all).abs() < within,
            "{} mg, by hand {all} mg; temperature {temperature:.1} mg",
            amended.u
        );
    }
}

/// A cell that has just been switched on warms up under the cake: most of it at first, in one minute or in ten. Weighed after three minutes
/// of twenty, a third of it or all had gone by then, never the seventh part that a straight line between the empty pans would have.
#[test]
fn a_cell_that_warms_up_under_the_cake_is_followed() {
    let mut squares = Vec::new();
    for (constant, whole) in [(60.0, 0.2), (120.0, -0.25), (300.0, 0.2), (450.0, -0.1), (600.0, 0.25)] {
        let mut cell = known_cell();
        let warm = |cell: &mut Cell, seconds: u32| {
            for _ in 0..seconds {
                let before = cell.now as f64 / 1_000.0;
                let way = (-before / constant).exp() - (-(before + 1.0) / constant).exp();
                cell.rest(1.0, whole * way);
            }
        };
        warm(&mut cell, 10);
        cell.load = 100.0;
        warm(&mut cell, 180);
        let load = cell.scale.steady().expect("steady");
        warm(&mut cell, 1_020);
        cell.load = 0.0;
        warm(&mut cell, 3);
        cell.answer();
        let amended = cell.scale.amended(&load).expect("amended");
        let off = f64::from(amended.value.0) - 100_000.0;
        assert!(off.abs() < 3.0 * f64::from(amended.u), "off by {off} mg, {amended:?}");
        let of = |from: f64, to: f64| (-from / constant).exp() - (-to / constant).exp();
        let straight = 1_000.0 * whole * (of(10.0, 190.0) - of(10.0, 1_213.0) * 180.0 / 1_203.0);
        squares.push((off.powi(2), straight.powi(2)));
    }
    let [off, straight] =
        [|s: &(f64, f64)| s.0, |s: &(f64, f64)| s.1].map(|of| squares.iter().map(of).sum::<f64>().sqrt());
    assert!(
        off < 0.75 * straight,
        "{off} mg in the root sum of squares, {straight} mg by a straight line"
    );
}

/// A load that lay there at power-on has no empty pan before it: it stands on the one after, and is as sure as the time between allows.
#[test]
fn a_load_from_before_power_on_stands_on_the_empty_pan_after_it() {
    let mut cell = Cell::new(PER_GRAM);
    cell.zero = 0.3;
    let load = cell.settle(100.0);
    near(cell.scale.gross(&load).value, 100_300.0, 15.0);
    cell.rest(300.0, 0.0);
    cell.empty();
    let amended = cell.scale.amended(&load).expect("amended");
    near(amended.value, 100_000.0, 15.0);
    assert!(amended.u < 0.9 * cell.scale.gross(&load).u, "{amended:?}");
    // What the zero may have gone on the way from the load to that empty pan is the most of what is left.
    let [from, to] = [load.at(), cell.scale.zero_point().at].map(|at| at.0 as f64 / 1_000.0);
    let way = f64::from(cell.scale.conditions().restless) * common(from, to, to).sqrt();
    let budget = cell.scale.budget(&load);
    let rest = [budget.hysteresis, budget.linearity, budget.span].map(f64::from);
    // So far above the stored zero, something may lie on that pan nevertheless.
    let doubt = f64::from(cell.scale.zero_point().doubt);
    let all = rss(&[way, doubt, rss(&rest)]);
    assert!(
        (f64::from(amended.u) - all).abs() < 0.08 * all,
        "{amended:?}, by hand {all:.1} mg of which {way:.1} mg on the way"
    );
}

/// The first empty pan after a load counts, not one of later; and one that was found before it does not.
#[test]
fn the_next_empty_pan_is_the_one_that_counts() {
    let mut cell = Cell::new(PER_GRAM);
    cell.rest(20.0, 0.0);
    cell.settle(50.0);
    cell.empty();
    let load = cell.settle(80.0);
    assert_eq!(cell.scale.amended(&load), None, "by an empty pan from before it");
    cell.rest(60.0, 0.0);
    cell.empty();
    let amended = cell.scale.amended(&load).expect("amended");
    for drift in [0.06, 0.06, 0.06] {
        cell.settle(80.0);
        cell.rest(60.0, drift);
        cell.empty();
        let later = cell.scale.amended(&load).expect("still remembered");
        assert!(
            (later.value.0 - amended.value.0).abs() <= 8,
            "{later:?} after {amended:?}"
        );
    }
    // Long ago is forgotten, not guessed.
    for _ in 0..4 {
        cell.settle(80.0);
        cell.empty();
    }
    assert_ne!(cell.scale.amended(&load), Some(amended));
}

/// What the cell has been found to creep is taken out of loads weighed before it was known, too, by as much as they had strained it.
#[test]
fn learnt_creep_is_taken_out_of_what_was_weighed_before() {
    let mut cell = Cell::new(PER_GRAM);
    cell.rest(20.0, 0.0);
    cell.settle(400.0);
    // Half an hour under 400 g; the cell has gone up by 0.1 g of itself and comes back with that.
    cell.rest(1_800.0, 0.1);
    let load = cell.scale.steady().expect("steady");
    let before = f64::from(cell.scale.gross(&load).value.0);
    near(cell.scale.gross(&load).value, 400_100.0, 12.0);
    cell.empty();
    let after = f64::from(cell.scale.gross(&load).value.0);
    assert!(
        (20.0..110.0).contains(&(before - after)),
        "{before} mg, then {after} mg"
    );
    let amended = cell.scale.amended(&load).expect("amended");
    near(amended.value, 400_000.0, 12.0);
}

//! Two empty pans that a noisy converter has each seen for a moment only, with no time between for the zero to go anywhere: the zero under
//! the load between them is their weighted mean, and known as that is.

use yarn_scale_core::units::FineCounts;
use yarn_scale_core::weighing::SteadyLoad;
use yarn_scale_tests::cell::{Cell, PER_GRAM};

const GRAMS: f64 = 5.0;
const MG_PER_COUNT: f64 = 1_000.0 / PER_GRAM;

/// A scale on a converter four times as noisy as those of cheap boards are, which it knows by now, on a warm cell.
fn noisy() -> Cell {
    let mut cell = Cell::new(PER_GRAM);
    cell.spread = 300;
    cell.rest(2_400.0, 0.0);
    cell
}

/// An empty pan for as long as it takes to see one, and `longer` seconds; a few grams; an empty pan again.
fn weigh(cell: &mut Cell, longer: f64) -> SteadyLoad {
    cell.settle(GRAMS);
    cell.empty();
    cell.rest(longer, 0.0);
    let load = cell.settle(GRAMS);
    cell.empty();
    load
}

/// The inverse-variance weighted mean of two independent values and its variance (common practice in statistics; GUM 5.1.2 gives
/// the variance of the sum).
fn weighted(a: (f64, f64), b: (f64, f64)) -> (f64, f64) {
    let [of_a, of_b] = [a.1, b.1].map(|variance| 1.0 / variance);
    ((of_a * a.0 + of_b * b.0) / (of_a + of_b), 1.0 / (of_a + of_b))
}

#[test]
fn the_zero_between_two_moments_is_their_weighted_mean() {
    let mut cell = noisy();
    for longer in [0.0, 0.0, 0.6, 2.0] {
        let load = weigh(&mut cell, longer);
        let amended = cell.scale.amended(&load).expect("amended");
        let [before, after] = [load.zero(), cell.scale.zero_point()].map(|zero| {
            let level = f64::from(zero.level.0) / f64::from(FineCounts::PER_COUNT);
            (level * MG_PER_COUNT, (f64::from(zero.se) * MG_PER_COUNT).powi(2))
        });
        for (_, variance) in [before, after] {
            assert!(variance.sqrt() > 8.0, "{} mg: nothing beside the rest", variance.sqrt());
        }
        let (zero, variance) = weighted(before, after);
        let level = f64::from(load.level().0) / f64::from(FineCounts::PER_COUNT) * MG_PER_COUNT;
        let by_hand = level - zero;
        assert!(
            (f64::from(amended.value.0) - by_hand).abs() < 1.5,
            "{amended:?}, by hand {by_hand:.1} mg"
        );
        // All else is what one weighing has: the zero's part of the noise is taken out of it and this one put there.
        let mut budget = cell.scale.budget(&load);
        let of_load = (f64::from(load.se()) * MG_PER_COUNT).powi(2);
        budget.noise = (of_load + variance).sqrt() as f32;
        budget.temperature = 0.0;
        let by_hand = budget.combined();
        assert!(
            (amended.u - by_hand).abs() < 0.15,
            "{} mg, by hand {by_hand} mg",
            amended.u
        );
    }
}

/// And so it scatters: in many weighings the root mean square of what is off is what is stated, and less than by one empty pan.
#[test]
fn a_weight_between_two_moments_scatters_as_stated() {
    const TIMES: u32 = 400;
    let mut cell = noisy();
    let [mut of_stated, mut bracketed, mut plain] = [0.0; 3];
    for _ in 0..TIMES {
        let load = weigh(&mut cell, 0.0);
        let amended = cell.scale.amended(&load).expect("amended");
        let [off, before] =
            [amended, cell.scale.gross(&load)].map(|weight| f64::from(weight.value.0) - 1_000.0 * GRAMS);
        of_stated += (off / f64::from(amended.u)).powi(2) / f64::from(TIMES);
        bracketed += off * off;
        plain += before * before;
    }
    let rms = of_stated.sqrt();
    // A little less: this converter has no steps, which the scale cannot know where the pan is never empty for long.
    assert!((0.85..1.05).contains(&rms), "{rms:.3} times what is stated");
    // The load's noise, and half the variance of a zero for the whole of one: the root of 3/4 if all three are alike.
    let less = (bracketed / plain).sqrt();
    assert!((0.8..0.93).contains(&less), "{less:.3} of what it is by one empty pan");
}

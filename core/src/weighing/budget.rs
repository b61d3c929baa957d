//! What the uncertainty of a weighing is made of (GUM, JCGM 100:2008, clause 5: independent contributions combine by the root sum of
//! squares). Every entry is a standard uncertainty in milligrams.
//!
//! The cell's own figures are not known to the device; it assumes those of cheap single-point cells (common data-sheet figures, as in
//! `hardware-notes/uncertainty-budget.md`) as distributions: bow within ±0.04 % of full scale, hysteresis 0.02 to 0.05 %, zero 0.02 to
//! 0.05 % of full scale in 10 K, warming up 0.01 to 0.05 % with a few minutes, and twice that in one cell of ten. Noise, flicker, creep
//! and the calibration's fit it knows from its own measurements.
//!
//! In a difference of two loads much is common and goes away: the zero's noise if both stand on one zero, the span and the bow but for
//! the part between the two. [`Budget::difference`] knows which; the root sum of squares of two whole readings would overstate it
//! tenfold.
//!
//! The rated load, to which a cell's errors are proportional, follows from the counts a gram gives: nearly all such cells are made for
//! 1 mV/V (2 147 484 counts at this converter's gain, whatever the supply). A stronger one is taken for a smaller cell, but never for
//! one smaller than the scale's capacity.

use crate::math::{ln, rss, sqrt};
use crate::units::Instant;
use crate::weighing::conditions::Conditions;
use crate::weighing::load::SteadyLoad;

/// Contributions to one reading or one difference, mg, k = 1.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Budget {
    /// Rounding inside the device: value to a milligram, level to a sixteenth of a count.
    pub resolution: f32,
    /// Converter noise in the averaged level and in the zero.
    pub noise: f32,
    /// Slow wander of the amplifier that averaging does not take away.
    pub flicker: f32,
    /// Creep of the cell since the load went on.
    pub creep: f32,
    /// Hysteresis of the cell.
    pub hysteresis: f32,
    /// Bow of the cell where the calibration does not know it.
    pub linearity: f32,
    /// Calibration mass and fit.
    pub span: f32,
    /// Zero with temperature and warming up since it was taken.
    pub temperature: f32,
    /// The bowl that was taken off.
    pub bowl: f32,
}

impl Budget {
    /// Hysteresis of a load reached from an empty pan, of the load.
    pub(super) const HYSTERESIS: f32 = 2e-4;

    /// The contributions by name, in the order of the table.
    #[must_use]
    pub const fn entries(&self) -> [(&'static str, f32); 9] {
        [
            ("resolution", self.resolution),
            ("noise", self.noise),
            ("flicker", self.flicker),
            ("creep", self.creep),
            ("hysteresis", self.hysteresis),
            ("linearity", self.linearity),
            ("span", self.span),
            ("temperature", self.temperature),
            ("bowl", self.bowl),
        ]
    }

    /// Combined standard uncertainty, mg.
    #[must_use]
    pub fn combined(&self) -> f32 {
        sqrt(self.entries().iter().map(|&(_, u)| u * u).sum())
    }

    /// What steps of a converter of which nothing is known do to the step between two long stretches beside the one before, counts: one in
    /// [`BETWEEN_STEPS_S`] that falls into one of three stretches leaves a third of its square in the mean.
    pub(super) const STEPS_IN_A_STRETCH: f32 = 0.21 * STEPS;

    /// How a load was put down, mg at rated load: a hand that presses by `F` and lets go leaves the cell on another branch of its loop, by
    /// four times the hysteresis times `F`, in proportion to the load that the cell has come up to (a sum of plays, or Rayleigh's law of
    /// small loops). Hands press with some 18 g, root mean square over light ones and heavy ones: 4 x 0.035 % x 18 g.
    pub(super) const PUT_DOWN: f32 = 25.0;

    /// For one load of `mass` mg above its zero; `creep` is the uncertainty of its creep in the assumed unit, mg.
    #[must_use]
    pub fn reading(load: &SteadyLoad, mass: f32, creep: f32, on: &Conditions) -> Self {
        let part = mass.abs() / on.rated;
        Self {
            resolution: RESOLUTION,
            noise: rss(load.se(), load.zero.se) * on.mg_per_count,
            flicker: slow(load.flicker(), load.zero.at, load.at(), on),
            creep: on.restless * creep,
            hysteresis: rss(Self::HYSTERESIS * mass.abs(), on.restless * Self::PUT_DOWN * part),
            linearity: 4.0 * on.u_bow * on.rated * part * (1.0 - part).max(0.0),
            span: on.u_span * mass.abs(),
            temperature: unseen(load, on),
            bowl: 0.0,
        }
    }

    /// For the difference of two loads of these masses (mg above their zeros).
    #[must_use]
    pub fn difference(before: (&SteadyLoad, f32), after: (&SteadyLoad, f32), creep: f32, on: &Conditions) -> Self {
        let ((a, mass_a), (b, mass_b)) = (before, after);
        let apart = (mass_a - mass_b).abs();
        let one_zero = a.shares_zero_with(b);
        let mut noise = rss(a.se(), b.se());
        if !one_zero {
            noise = rss(noise, rss(a.zero.se, b.zero.se));
        }
        let temperature = if one_zero {
            on.restless * wander(a.at(), b.at(), on)
        } else {
            rss(unseen(a, on), unseen(b, on))
        };
        let middle = (mass_a + mass_b).abs() / on.rated;
        Self {
            resolution: RESOLUTION,
            noise: noise * on.mg_per_count,
            flicker: if one_zero {
                slow(rss(a.flicker(), b.flicker()) * HALF, a.at(), b.at(), on)
            } else {
                let [a, b] = [a, b].map(|load| slow(load.flicker(), load.zero.at, load.at(), on));
                rss(a, b)
            },
            creep: on.restless * creep,
            hysteresis: rss(
                Self::HYSTERESIS * apart,
                if one_zero {
                    0.0
                } else {
                    on.restless * Self::PUT_DOWN * rss(mass_a, mass_b) / on.rated
                },
            ),
            linearity: 4.0 * on.u_bow * apart * (1.0 - middle).abs(),
            span: on.u_span * apart,
            temperature,
            bowl: 0.0,
        }
    }
}

/// How far the zero under a load can be from where it was last seen, standard uncertainty in mg.
fn unseen(load: &SteadyLoad, on: &Conditions) -> f32 {
    if load.zero.proven {
        rss(
            on.restless * wander(load.zero.at, load.at(), on),
            rss(load.zero.doubt, load.zero.cooled),
        )
    } else {
        on.restless * UNPROVEN * on.rated
    }
}

/// Slow noise between two levels, mg: of a spectrum of 1/f with `flicker` counts for each root of a decade, the structure function of means of a
/// second or two; and steps of the offset, as some converters have, until this one has been seen to have none.
pub(super) fn slow(flicker: f32, from: Instant, to: Instant, on: &Conditions) -> f32 {
    let seconds = to.since(from).0 as f32 * 1e-3;
    let decades = ln((seconds / TEN_S).max(1.0)) * PER_LN;
    let steps = STEPS * on.steps * sqrt(seconds / (seconds + BETWEEN_STEPS_S));
    rss(on.wandering * flicker * sqrt(WITHIN_TEN_S + 2.0 * decades), steps) * on.mg_per_count
}

/// How far the zero wanders between two instants since power-on, standard uncertainty in mg.
pub(super) fn wander(from: Instant, to: Instant, on: &Conditions) -> f32 {
    sqrt(common(from, to, to, on))
}

/// What the zero's ways from one instant to either of two later ones, the earlier one first, have in common: their covariance, mg^2. A
/// room changes by about a degree in an hour, as a walk does (root of time); warming up dies away within some minutes, how many is not
/// known: the mean over all that cells take.
pub(super) fn common(from: Instant, to: Instant, and: Instant, on: &Conditions) -> f32 {
    let hours = to.since(from).0 as f32 / 3_600_000.0;
    let [from, to, and] = [from, to, and].map(|at| at.since(on.on_since).0 as f32 / 1_000.0);
    let warm = WARM_UP_S.map(|(constant, weight)| {
        let start = left(from / constant);
        weight * (start - left(to / constant)) * (start - left(and / constant))
    });
    on.rated * on.rated * (ROOM * ROOM * hours + WARM_UP * WARM_UP * warm.iter().sum::<f32>())
}

/// e^−x, good to a few hundredths.
fn left(x: f32) -> f32 {
    1.0 / (1.0 + x * (1.0 + x * (0.5 + x * (0.17 + x * 0.06))))
}

/// Half a milligram rectangular, and a sixteenth of a count.
const RESOLUTION: f32 = 0.3;
/// Zero in an hour, of rated load: 0.035 % in 10 K, 1.2 K.
const ROOM: f32 = 4.2e-5;
/// Warming up, of rated load: 0.01 to 0.05 %, 0.032 % in the mean square; and one cell in ten warms up twice as far (0.01 to 0.1 %).
pub(super) const WARM_UP: f32 = 3.5e-4;
/// Its time constant, s, 60 to 600: three points with the weights that stand for all between (Gauss-Legendre); and one cell in seven is slower.
pub(super) const WARM_UP_S: [(f32, f32); 4] = [(121.0, 0.24), (330.0, 0.38), (539.0, 0.24), (1_000.0, 0.14)];
/// A stored zero, of rated load: ten degrees and a cold start.
const UNPROVEN: f32 = 4.7e-4;
/// 2 log10 of ten seconds over one and a half.
const WITHIN_TEN_S: f32 = 1.65;
const TEN_S: f32 = 10.0;
/// Root of a half: of two levels alike, either.
const HALF: f32 = core::f32::consts::FRAC_1_SQRT_2;
const PER_LN: f32 = core::f32::consts::LOG10_E;
/// Steps of a converter of which nothing is known, counts, and the seconds between two of them.
const STEPS: f32 = 65.0;
const BETWEEN_STEPS_S: f32 = 300.0;

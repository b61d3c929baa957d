//! How far? Grams a round from weighings with so many rounds between them, and how many rounds the cake still gives.
//!
//! What goes into `n` rounds is `n` times the mass of a round; that differs from one stretch to the next, since nobody's hands are the
//! same on two evenings, and each weighing has its own uncertainty. How much the stretches differ is estimated from themselves, together
//! with what is assumed of a knitter of whom nothing is known yet ([`USUAL_SPREAD`]); the interval is a prediction interval of
//! Student's t. It holds for rounds of one size: where they grow or shrink, as in a toe, it says nothing.

use super::student::student_quantile;
use crate::math::{ceil, round, sqrt};
use crate::measured::Measured;
use crate::units::Milligrams;

/// Rounds that were knitted between two weighings of a cake.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Stretch {
    /// How many, at least 1.
    pub rounds: u16,
    /// What they took.
    pub used: Measured,
}

/// What a round takes, and how well that is known.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct PerRound {
    /// Its mass, mg.
    pub mass: f32,
    /// Standard uncertainty of that mean, mg.
    pub u: f32,
    /// Relative standard deviation of the mean of one more stretch.
    spread: f32,
    /// Rounds that are knitted in one go.
    at_a_time: f32,
    /// Degrees of freedom of the spread.
    freedom: f32,
}

/// How many rounds a cake still gives.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct RoundsLeft {
    /// So many whole rounds, as likely more as less.
    pub likely: u16,
    /// So many with a probability of 97.5 %.
    pub least: u16,
    /// More than so many only with a probability of 2.5 %.
    pub most: u16,
}

impl PerRound {
    /// From all stretches of one section, oldest first; `total_u` is the standard uncertainty of all that they took together, mg, which is
    /// less than theirs would add up to, since each weighing but the first and last stands in two of them.
    ///
    /// `None` if there is none, or if they took nothing.
    #[must_use]
    pub fn of(stretches: &[Stretch], total_u: f32) -> Option<Self> {
        let sum = |part: fn(&Stretch) -> f32| stretches.iter().map(part).sum::<f32>();
        let rounds = sum(|one| one.rounds.into());
        let mass = sum(|one| one.used.value.0 as f32) / rounds;
        if rounds < 1.0 || mass <= 0.0 {
            return None;
        }
        // How far each stretch's mean is off, less what weighing adds to that.
        let excess = stretches.iter().map(|one| {
            let rounds = f32::from(one.rounds.max(1));
            let off = (one.used.value.0 as f32 / rounds - mass) / mass;
            let weighing = one.used.u / rounds / mass;
            off * off - weighing * weighing
        });
        let others = (stretches.len() as f32 - 1.0).max(0.0);
        let freedom = USUAL_FREEDOM + others;
        let known = if others > 0.0 { excess.sum::<f32>() } else { 0.0 };
        let variance = (USUAL_FREEDOM * USUAL_SPREAD * USUAL_SPREAD + known) / freedom;
        // Three stretches alike by chance are not certain.
        let spread = sqrt(variance.max(LEAST_SPREAD * LEAST_SPREAD));
        let of_mean = spread * mass / sqrt(stretches.len() as f32);
        let weighing = total_u / rounds;
        Some(Self {
            mass,
            u: sqrt(of_mean * of_mean + weighing * weighing),
            spread,
            at_a_time: (rounds / stretches.len() as f32).max(LEAST_AT_A_TIME),
            freedom,
        })
    }

    /// The rounds until no more than `reserve` of `left` is left.
    #[must_use]
    pub fn rounds_left(self, left: Measured, reserve: Milligrams) -> RoundsLeft {
        let to_use = (left.value - reserve).0 as f32;
        let expected = (to_use / self.mass).max(0.0);
        let [of_left, of_mean] = [left.u / self.mass, expected * self.u / self.mass];
        // The stretches to come differ from one another and make up for that in part.
        let to_come = expected * self.spread / sqrt((expected / self.at_a_time).max(1.0));
        let u = sqrt(of_left * of_left + of_mean * of_mean + to_come * to_come);
        let reach = student_quantile(0.975, self.freedom) * u;
        let whole = |rounds: i32| u16::try_from(rounds.max(0)).unwrap_or(u16::MAX);
        let likely = whole(floor(expected));
        // Of the rounds only whole ones are counted: both ends to the nearest, so that the interval is not wider than it says.
        RoundsLeft {
            likely,
            least: whole(round(expected - reach)).min(likely),
            most: whole(round(expected + reach).saturating_sub(1)).max(likely),
        }
    }
}

/// The mass of a round as it is shown.
impl From<PerRound> for Measured {
    fn from(round_of: PerRound) -> Self {
        Self {
            value: Milligrams(round(round_of.mass)),
            u: round_of.u,
        }
    }
}

fn floor(value: f32) -> i32 {
    ceil(-value).saturating_neg()
}

/// By how much the mean of a stretch differs from that of the next, relative standard deviation, while nothing is known of the knitter. An
/// assumption (common practice, no source): loop lengths of one hand stay within a few per cent.
pub(super) const USUAL_SPREAD: f32 = 0.03;
/// What that assumption weighs: as if from so many stretches.
const USUAL_FREEDOM: f32 = 6.0;
/// Rounds that are knitted in one go at least, whatever was weighed in between (common practice, no source).
const LEAST_AT_A_TIME: f32 = 10.0;
/// No hand is steadier than this.
const LEAST_SPREAD: f32 = 0.01;

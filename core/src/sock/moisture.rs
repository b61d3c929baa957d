//! Moisture in a difference of two weighings: how much it can be, and two ways to take it out.
//!
//! A cake of 100 g follows the humidity of the room within hours by 0.2 g for each percent: far more than the scale's own
//! uncertainty. With neither a humidity sensor nor a control skein, the range of a difference is widened by fibre and time.

use super::fibre::{Material, blended};
use super::isotherm::{regain, sensitivity};
use crate::math::{exp, ln, round, rss, sqrt};
use crate::measured::Measured;
use crate::sock::Fibre;
use crate::units::Milligrams;

/// The parts of a yarn by what its band says, shares of the dry mass in %.
#[must_use]
pub const fn parts(fibre: Fibre) -> &'static [(Material, u8)] {
    match fibre {
        Fibre::WoolPolyamide => &[(Material::Wool, 75), (Material::Polyamide, 25)],
        Fibre::Wool => &[(Material::Wool, 100)],
        Fibre::Cotton => &[(Material::Cotton, 100)],
        Fibre::Silk => &[(Material::Silk, 100)],
        Fibre::Synthetic => &[(Material::Acrylic, 100)],
    }
}

/// Water held by a yarn in balance with air of `humidity` %, % of the dry mass.
#[must_use]
pub fn yarn_regain(fibre: Fibre, humidity: f32) -> f32 {
    blended(parts(fibre), |material| regain(material, humidity)).unwrap_or(0.0)
}

/// By how much a yarn's mass changes, as a share of its mass, for each % of relative humidity.
#[must_use]
pub fn yarn_sensitivity(fibre: Fibre, humidity: f32) -> f32 {
    blended(parts(fibre), |material| sensitivity(material, humidity)).unwrap_or(0.0)
}

/// Hours in which a ball of this mass takes up 63 % of what a change of humidity makes it take up.
///
/// Six hours for 100 g, an engineering assumption; by mass as diffusion goes, with the square of the ball's diameter.
#[must_use]
pub fn hours_to_follow(mass: Milligrams) -> f32 {
    let of_100_g = mass.0.max(1) as f32 * 1e-5;
    6.0 * exp(ln(of_100_g) * (2.0 / 3.0))
}

/// The humidity to which a ball's water corresponds, after `hours` in air of `humidity` %, from `before` %.
#[must_use]
pub fn followed(before: f32, humidity: f32, hours: f32, hours_to_follow: f32) -> f32 {
    humidity + (before - humidity) * exp(-hours / hours_to_follow)
}

/// What a weight would be if its water corresponded to `then` % of humidity instead of `now`.
///
/// With it a weight is compared with an earlier one by the humidity sensor. `humidity_u` is the standard uncertainty of the
/// change of humidity, %: [`SENSOR_HOURLY_U`] or [`SENSOR_AT_MARKS_U`].
#[must_use]
pub fn by_humidity(weight: Measured, fibre: Fibre, now: f32, then: f32, humidity_u: f32) -> Measured {
    let factor = (100.0 + yarn_regain(fibre, then)) / (100.0 + yarn_regain(fibre, now));
    let mass = weight.value.0 as f32;
    // The change alone is rounded, so that no change of humidity changes nothing.
    let change = Milligrams(round(mass * (factor - 1.0)));
    Measured {
        value: weight.value + change,
        u: rss(
            weight.u,
            mass * yarn_sensitivity(fibre, 0.5 * (now + then)) * humidity_u,
        ),
    }
}

/// What a weight would be if a control skein of the same fibre, weighed beside it, weighed what it weighed `then`, `hours` ago.
///
/// `None` if the control skein weighs nothing. Its weighings count by the ratio of the masses, and a lighter skein follows
/// the room before the cake does: a control skein should be wound like the cake and not be much lighter.
#[must_use]
pub fn by_control(weight: Measured, fibre: Fibre, hours: f32, then: Measured, now: Measured) -> Option<Measured> {
    if now.value.0 <= 0 || then.value.0 <= 0 {
        return None;
    }
    let mass = weight.value.0 as f32;
    let (then_mass, now_mass) = (then.value.0 as f32, now.value.0 as f32);
    let change = (then.value - now.value).0 as f32 / now_mass;
    let of_weighing = mass * rss(then.u / then_mass, now.u / now_mass);
    let ahead = 1.0 - hours_to_follow(now.value) / hours_to_follow(weight.value);
    let ahead = if ahead < 0.0 { -ahead } else { ahead };
    let of_lag = mass * yarn_sensitivity(fibre, USUAL_HUMIDITY) * SKEIN_AHEAD * ahead * settled(hours, SKEIN_AHEAD_H);
    Some(Measured {
        value: weight.value + Milligrams(round(mass * change)),
        u: rss(weight.u, rss(of_weighing, of_lag)),
    })
}

/// Standard uncertainty, mg, that moisture brings into the difference of two weights of a yarn, `hours` apart, with neither
/// sensor nor control skein. `remaining` is the later weight: what was knitted off took its water along.
#[must_use]
pub fn moisture_u(remaining: Milligrams, fibre: Fibre, hours: f32) -> f32 {
    let mass = remaining.0.max(0) as f32;
    // The room wanders, and what lies in it follows with its lag.
    let change = ROOM_WANDERS * sqrt(settled(hours, ROOM_FORGETS_H) * follows(remaining, hours));
    mass * yarn_sensitivity(fibre, USUAL_HUMIDITY) * change
}

/// What share of a change of the room, of which only the end is known, a ball of this mass has followed after so many `hours`.
fn follows(mass: Milligrams, hours: f32) -> f32 {
    let hours = hours.max(0.0);
    hours / (hours + hours_to_follow(mass))
}

/// How a moisture correction was made.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub enum Correction {
    /// Not at all; the range was widened by fibre and time.
    Widened,
    /// By the humidity sensor.
    Humidity,
    /// By the control skein.
    ControlSkein,
}

/// What is known of the moisture at two weighings.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct MoistureKnown {
    /// Humidity in % at the earlier and the later weighing, and its standard uncertainty as a change.
    pub humidity: Option<(f32, f32, f32)>,
    /// The control skein at the earlier and the later weighing.
    pub control: Option<(Measured, Measured)>,
}

/// What went from a yarn between two weighings `hours` apart, by whichever way leaves the least uncertainty.
///
/// Within an hour or two of each other nothing is as good as no correction: the cake has not followed the room yet. What a sensor saw change
/// is taken as far as the cake can have followed it, and if that is more than a room does as a rule, it counts as not known without the sensor.
#[must_use]
pub fn went(
    before: Measured,
    after: Measured,
    fibre: Fibre,
    hours: f32,
    known: MoistureKnown,
) -> (Measured, Correction) {
    let follows = follows(after.value, hours);
    let mut unseen = moisture_u(after.value, fibre, hours);
    let sensed = known.humidity.map(|(then, now, u)| {
        let change = now - then;
        let followed = change * follows;
        // The room has wandered as far as it is seen to have.
        let seen = after.value.0.max(0) as f32 * yarn_sensitivity(fibre, 0.5 * (now + then)) * followed;
        unseen = unseen.max(if seen < 0.0 { -seen } else { seen });
        let when = WHEN_U * followed * sqrt(1.0 - follows);
        by_humidity(after, fibre, then + followed, then, rss(u, when))
    });
    let plain = Measured {
        u: rss(after.u, unseen),
        ..after
    };
    let controlled = known
        .control
        .and_then(|(then, now)| by_control(after, fibre, hours, then, now));
    let ways = [(sensed, Correction::Humidity), (controlled, Correction::ControlSkein)];
    let mut best = (plain, Correction::Widened);
    for (corrected, way) in ways {
        if let Some(corrected) = corrected.filter(|corrected| corrected.u < best.0.u) {
            best = (corrected, way);
        }
    }
    (before.minus(best.0), best.1)
}

/// Whether the page should say "damp?": moisture can make more than a division of the difference, and more than half of its
/// uncertainty.
#[must_use]
pub fn is_damp_in_doubt(instrument_u: f32, moisture_u: f32) -> bool {
    1.96 * moisture_u > 100.0 && moisture_u > instrument_u
}

/// How much of a change has come about after `hours`, of one that comes about with this time constant.
fn settled(hours: f32, time_constant: f32) -> f32 {
    1.0 - exp(-hours.max(0.0) / time_constant)
}

// The figures below were found with the simulated heating season (`yarn-scale-lab season`), so that the stated ranges hold there.

/// Standard uncertainty of a change of humidity, %, by a sensor in the scale that is read every hour, so that the cake's
/// lag can be followed ([`followed`]): mostly that wool holds more water when it dries than when it takes up.
pub const SENSOR_HOURLY_U: f32 = 1.6;

/// The same for a sensor that is read at the marks only: the cake may not have followed the room yet.
pub const SENSOR_AT_MARKS_U: f32 = 3.0;

/// How much of what a ball has followed hangs on when the room changed, which a sensor that is read at the marks only does not tell.
const WHEN_U: f32 = 0.6;

/// Standard deviation of the difference of humidity between two days far apart in a heated room, %.
const ROOM_WANDERS: f32 = 10.5;

/// Hours after which 63 % of the variance of that difference is reached.
const ROOM_FORGETS_H: f32 = 96.0;

/// Standard deviation of the lead of a very light control skein before the cake, % of humidity.
const SKEIN_AHEAD: f32 = 2.5;

/// Hours after which 63 % of that lead is reached.
const SKEIN_AHEAD_H: f32 = 4.0;

/// Humidity for which the range of an unknown change is stated, %: heated rooms.
const USUAL_HUMIDITY: f32 = 45.0;

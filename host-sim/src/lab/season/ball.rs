//! A ball of sock yarn in that room: its water follows the air with a lag, and never quite the same way up and down.

use yarn_scale_core::sock::{
    Fibre,
    moisture::{hours_to_follow, yarn_regain},
};
use yarn_scale_core::units::Milligrams;

/// The mass of a ball for each hour of a season, as multiples of its dry mass.
#[must_use]
pub fn moist(room: &[f64], fibre: Fibre, grams: f64) -> Vec<f64> {
    let hours = f64::from(hours_to_follow(Milligrams((grams * 1_000.0) as i32)));
    let follow = 1.0 - (-1.0 / hours).exp();
    let mut soaked = room[0];
    let mut held = f64::from(yarn_regain(fibre, room[0] as f32));
    room.iter()
        .map(|humidity| {
            soaked += (humidity - soaked) * follow;
            let balance = f64::from(yarn_regain(fibre, soaked as f32));
            // Between uptake and loss the regain stays where it is for a while.
            held = held.clamp(balance - HYSTERESIS, balance + HYSTERESIS);
            1.0 + 0.01 * held
        })
        .collect()
}

/// Half the difference of the regain between uptake and loss, points of %, for the small loops of a room: a quarter of what
/// handbooks give for full ones (engineering assumption).
const HYSTERESIS: f64 = 0.25;

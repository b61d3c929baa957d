//! A room in a heating season, hour by hour: humidity by weather, airing and what people give off.
//!
//! Invented weather of a temperate climate. Physics: a heated room holds the water of the air outside plus what is given off
//! inside; warming it makes it dry.

use rand::{RngExt, SeedableRng};
use rand_distr::{Distribution, StandardNormal};
use rand_pcg::Pcg64Mcg;

/// Hours from the first of October to the end of April.
pub const HOURS: usize = 212 * 24;

/// Relative humidity in the room, %, for each hour of a season.
#[must_use]
pub fn humidity(seed: u64) -> Vec<f64> {
    let mut random = Pcg64Mcg::seed_from_u64(seed);
    let mut weather = 0.0;
    let mut dampness = 0.0;
    let mut inside = 10.0;
    let mut laundry = 0;
    let step = |random: &mut Pcg64Mcg, state: f64, memory_h: f64, spread: f64| {
        let keep = (-1.0 / memory_h).exp();
        let fresh: f64 = StandardNormal.sample(random);
        state * keep + spread * (1.0 - keep * keep).sqrt() * fresh
    };
    (0..HOURS)
        .map(|hour| {
            let hour_of_day = (hour % 24) as f64;
            let of_year = hour as f64 / HOURS as f64;
            // Fronts come and go within days; some air is damper than other.
            weather = step(&mut random, weather, 84.0, 3.0);
            dampness = step(&mut random, dampness, 30.0, 0.05);
            let season = 5.0 + 5.0 * (std::f64::consts::TAU * of_year).cos();
            let day = -2.0 * (std::f64::consts::TAU * (hour_of_day - 3.0) / 24.0).cos();
            let outside = (0.84 + dampness).clamp(0.5, 1.0) * saturation(season + weather + day);
            if laundry == 0 && random.random_bool(1.0 / 72.0) {
                laundry = 10;
            }
            let given_off = match hour % 24 {
                7 | 8 => 3.0,
                12 | 18 | 19 => 4.0,
                9..=17 => 1.5,
                20..=22 => 3.0,
                _ => 2.0,
            } + if laundry > 0 { 3.0 } else { 0.0 };
            laundry = usize::saturating_sub(laundry, 1);
            // Walls and furniture take part: most of a day in the whole, some hours when the windows are open.
            let airing = hour % 24 == 8;
            inside += (outside + given_off - inside) * if airing { 0.3 } else { 0.06 };
            let warmth = if (7..23).contains(&(hour % 24)) { 21.0 } else { 19.5 };
            (100.0 * inside / saturation(warmth)).clamp(10.0, 90.0)
        })
        .collect()
}

/// Saturation vapour pressure over water, hPa (Magnus formula; constants from memory).
fn saturation(celsius: f64) -> f64 {
    6.112 * (17.62 * celsius / (243.12 + celsius)).exp()
}

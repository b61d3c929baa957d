//! Metres from grams, by the length per mass on the band.

use crate::math::{round, rss};
use crate::measured::Measured;
use crate::sock::Decitex;

/// A length of yarn with its standard uncertainty.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Length {
    /// The best estimate, millimetres.
    pub millimetres: i32,
    /// Its standard uncertainty, mm.
    pub u: f32,
}

/// The length of a mass of yarn of which 100 g have `metres_per_100_g`; `None` where the band says nothing.
///
/// `band_tolerance` is the share by which the band may be off either way ([`BAND_TOLERANCE`]); it counts as rectangular
/// (GUM 4.3.7). Lengths beyond 2,147 km saturate.
#[must_use]
pub fn length_of(mass: Measured, metres_per_100_g: u16, band_tolerance: f32) -> Option<Length> {
    if metres_per_100_g == 0 {
        return None;
    }
    // One milligram of a yarn of m metres per 100 g is m/100 mm long.
    let hundredths = i64::from(mass.value.0).saturating_mul(i64::from(metres_per_100_g));
    let half = if hundredths < 0 { -50 } else { 50 };
    let millimetres = hundredths.saturating_add(half).checked_div(100)?;
    let millimetres = i32::try_from(millimetres).unwrap_or(if hundredths < 0 { i32::MIN } else { i32::MAX });
    let of_mass = mass.u * f32::from(metres_per_100_g) * 0.01;
    let of_band = millimetres as f32 * band_tolerance * RECTANGULAR;
    Some(Length {
        millimetres,
        u: rss(of_mass, of_band),
    })
}

/// What the band says, from grams and metres of the put-up: metres per 100 g, rounded; `None` for no grams or if it does not
/// fit. 50 g and 210 m give 420.
#[must_use]
pub fn metres_per_100_g(grams: u16, metres: u16) -> Option<u16> {
    let half = grams.checked_div(2)?;
    let product = u32::from(metres).checked_mul(100)?.checked_add(half.into())?;
    u16::try_from(product.checked_div(grams.into())?).ok()
}

impl Decitex {
    /// From tex, grams per kilometre; saturates at 6,553.5 tex.
    #[must_use]
    pub fn from_tex(tex: f32) -> Self {
        Self(u16::try_from(round(tex * 10.0)).unwrap_or(u16::MAX))
    }
}

/// Share by which the length per mass of one cake may differ from its band, either way. Common practice, no source: put-ups
/// of one yarn were seen from 92 to 104 g for 100 g.
pub const BAND_TOLERANCE: f32 = 0.02;

/// Standard uncertainty of a rectangular distribution of half-width one: 1/sqrt(3).
const RECTANGULAR: f32 = 0.577_350_26;

//! How much water a fibre holds in air of some humidity: sorption isotherms.
//!
//! | fibre | source |
//! |---|---|
//! | wool, cotton, silk | International Critical Tables (Wilson and Fuwa) as reprinted in handbooks of air conditioning, about 24 C, between uptake and loss; from memory |
//! | polyamide, acrylic | a published shape common to all fibres, times the regain at 65 %; that regain from memory |
//!
//! Absolute values may be a point or two off, and differ by that much between uptake and loss. What is used is the change with
//! humidity, and the range stated for it is wide enough for that.

use super::fibre::Material;
use crate::math::whole;

/// Water held by a fibre in balance with air of `humidity` % at room temperature, % of the dry mass.
///
/// Humidity is limited to 0 to 95 %: beyond, water condenses between the fibres.
#[must_use]
pub(super) fn regain(material: Material, humidity: f32) -> f32 {
    let humidity = humidity.clamp(0.0, 95.0);
    match isotherm(material) {
        Isotherm::Table(table) => interpolate(table, humidity),
        Isotherm::Shape { at_65 } => at_65 * shape(humidity * 0.01) / shape(0.65),
    }
}

/// By how much a fibre's mass changes with the humidity, as a share of its mass, for each % of relative humidity.
///
/// Over the ten points around `humidity`, since within them a table is no more than a straight line.
#[must_use]
pub(super) fn sensitivity(material: Material, humidity: f32) -> f32 {
    let middle = humidity.clamp(5.0, 90.0);
    let [below, at, above] = [middle - 5.0, middle, middle + 5.0].map(|humidity| regain(material, humidity));
    (above - below) / (10.0 * (100.0 + at))
}

enum Isotherm {
    /// Regain at 0, 10 .. 90 %.
    Table(&'static [f32; 10]),
    Shape {
        at_65: f32,
    },
}

fn isotherm(material: Material) -> Isotherm {
    match material {
        Material::Wool => Isotherm::Table(&WOOL),
        Material::Silk => Isotherm::Table(&SILK),
        Material::Cotton => Isotherm::Table(&COTTON),
        Material::Polyamide => Isotherm::Shape { at_65: 4.1 },
        Material::Acrylic => Isotherm::Shape { at_65: 1.5 },
    }
}

fn interpolate(table: &[f32; 10], humidity: f32) -> f32 {
    let step = humidity * 0.1;
    // The last step also stands for what lies beyond it.
    let lower = usize::try_from(whole(step)).unwrap_or_default();
    let lower = lower.min(table.len().saturating_sub(2));
    let at = |place: usize| table.get(place).copied().unwrap_or(0.0);
    let (low, high) = (at(lower), at(lower.saturating_add(1)));
    low + (high - low) * (step - lower as f32)
}

/// Regain at a relative humidity, as a multiple of that at 65 %, nearly. Source: the relation used in models of heat and
/// moisture transport through clothing (read in an open one).
fn shape(humidity: f32) -> f32 {
    0.55 * humidity * (1.0 / (0.25 + humidity) + 1.0 / (1.25 - humidity))
}

const WOOL: [f32; 10] = [0.0, 4.7, 7.0, 8.9, 10.8, 12.8, 14.9, 17.2, 19.9, 23.4];
const COTTON: [f32; 10] = [0.0, 2.5, 3.7, 4.6, 5.5, 6.6, 7.9, 9.5, 11.5, 14.1];
const SILK: [f32; 10] = [0.0, 3.2, 5.5, 6.9, 8.0, 8.9, 10.2, 11.9, 14.3, 18.8];

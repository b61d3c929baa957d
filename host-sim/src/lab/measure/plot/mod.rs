//! The figures as pictures.

mod coverage;
mod distribution;
mod placement;
mod tradeoff;

use std::error::Error;
use std::path::Path;

use plotters::style::RGBColor;

use super::benchmark::Outcome;
use super::recording::Recording;
use crate::files;

/// What a plotting library may complain about.
pub type PlotError = Box<dyn Error>;

/// Writes the pictures of the main table into `folder`, which exists.
///
/// # Errors
/// If one cannot be written.
pub fn all(outcome: &Outcome, example: &Recording, folder: &Path) -> Result<(), PlotError> {
    write(&folder.join("placement.svg"), |svg| placement::placement(example, svg))?;
    write(&folder.join("latency.svg"), |svg| distribution::latency(outcome, svg))?;
    write(&folder.join("error.svg"), |svg| distribution::error(outcome, svg))?;
    write(&folder.join("coverage.svg"), |svg| coverage::coverage(outcome, svg))
}

/// Writes the picture of a trade-off into `folder`, which exists.
///
/// # Errors
/// If it cannot be written.
pub fn tradeoff(outcome: &Outcome, folder: &Path) -> Result<(), PlotError> {
    write(&folder.join("tradeoff.svg"), |svg| tradeoff::tradeoff(outcome, svg))
}

fn write(path: &Path, draw: impl FnOnce(&mut String) -> Result<(), PlotError>) -> Result<(), PlotError> {
    let mut svg = String::new();
    draw(&mut svg)?;
    Ok(files::write_new(path, svg.as_bytes())?)
}

/// Distinct on white, also in print and for most colour-blind eyes.
const fn color_of(number: usize) -> RGBColor {
    match number {
        0 => RGBColor(0, 90, 181),
        1 => RGBColor(220, 50, 32),
        2 => RGBColor(0, 128, 90),
        3 => RGBColor(230, 140, 0),
        4 => RGBColor(130, 60, 160),
        5 => RGBColor(120, 120, 120),
        _ => RGBColor(0, 0, 0),
    }
}

const SIZE: (u32, u32) = (900, 560);
const FONT: (&str, u32) = ("sans-serif", 20);

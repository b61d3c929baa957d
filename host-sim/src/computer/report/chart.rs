//! Charts as SVG within the page: in its ink, light or dark, with hatching beside colour and a text for who cannot see them.

use plotters::coord::Shift;
use plotters::prelude::*;
use plotters::style::RGBColor;
use plotters::style::text_anchor::{HPos, Pos, VPos};

use super::markup::escaped;
use crate::failure::Failure;

/// Where a chart is drawn.
pub(super) type Area<'a> = DrawingArea<SVGBackend<'a>, Shift>;

/// What a plotting library may complain about.
pub(super) type PlotError = Box<dyn std::error::Error>;

/// Width and height in units of the page.
pub(super) const SIZE: (u32, u32) = (720, 300);

// The library knows fixed colours only. These stand for the page's own, which follow the reader's light or dark, and for a pattern.
pub(super) const INK: RGBColor = RGBColor(0, 0, 1);
pub(super) const FAINT: RGBColor = RGBColor(0, 0, 2);
pub(super) const PLAIN: RGBColor = RGBColor(0, 0, 3);
pub(super) const HATCHED: RGBColor = RGBColor(0, 0, 4);

/// Draws a chart. `id` is used once on the page; `description` says in words what the chart shows.
///
/// # Errors
/// If the library cannot draw it.
pub(super) fn chart(
    id: &str,
    title: &str,
    description: &str,
    draw: impl FnOnce(&Area<'_>) -> Result<(), PlotError>,
) -> Result<String, Failure> {
    let mut svg = String::new();
    let drawn = {
        let area = SVGBackend::with_string(&mut svg, SIZE).into_drawing_area();
        draw(&area).and_then(|()| Ok(area.present()?))
    };
    drawn.map_err(|error| Failure::Here(format!("{title} cannot be drawn: {error}")))?;
    let inside = svg.find('>').map_or("", |end| &svg[end + 1..]);
    let inside = inside
        .replace("\"#000001\"", "\"currentColor\"")
        .replace("\"#000002\"", "\"var(--line)\"")
        .replace("\"#000003\"", "\"var(--yarn)\"")
        .replace("\"#000004\"", &format!("\"url(#{id}-hatch)\""));
    let (width, height) = SIZE;
    Ok(format!(
        "<svg viewBox=\"0 0 {width} {height}\" role=\"img\" aria-labelledby=\"{id}-title {id}-text\">\
         <title id=\"{id}-title\">{}</title><desc id=\"{id}-text\">{}</desc>\
         <defs><pattern id=\"{id}-hatch\" width=\"6\" height=\"6\" patternUnits=\"userSpaceOnUse\" \
         patternTransform=\"rotate(45)\"><rect width=\"6\" height=\"6\" fill=\"var(--paper)\"/>\
         <rect width=\"2.5\" height=\"6\" fill=\"var(--yarn)\"/></pattern></defs>{inside}",
        escaped(title),
        escaped(description)
    ))
}

/// Small print in the page's ink.
pub(super) fn small() -> TextStyle<'static> {
    ("sans-serif", 13).into_font().color(&INK)
}

/// The same, hung up by its middle or its start.
pub(super) fn hung(horizontal: HPos, vertical: VPos) -> TextStyle<'static> {
    small().pos(Pos::new(horizontal, vertical))
}

/// The whisker of a 95 % interval from `low` to `high` on the chart's second axis, at pixels `x`.
pub(super) fn whisker(area: &Area<'_>, x: i32, low: i32, high: i32) -> Result<(), PlotError> {
    for line in [
        [(x, low), (x, high)],
        [(x - CAP, low), (x + CAP, low)],
        [(x - CAP, high), (x + CAP, high)],
    ] {
        area.draw(&PathElement::new(line, INK.stroke_width(2)))?;
    }
    Ok(())
}

/// Half the width of a whisker's ends.
const CAP: i32 = 5;

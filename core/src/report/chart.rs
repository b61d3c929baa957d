//! Charts as SVG within the page: in its ink, light or dark, with hatching beside colour and a text for who cannot see them.

use core::fmt::{self, Write};

use super::markup::{Fixed, Grams};
use super::words::Words;
use crate::measured::Measured;
use crate::units::Milligrams;

/// Width and height in units of the page.
pub(super) const SIZE: (i32, i32) = (720, 300);

/// Above this the axis begins: room for the names of what is drawn, where they stand above it.
pub(super) const NAMES: i32 = 18;

/// The left, upper and lower edges of what is drawn within the axes.
pub(super) const LEFT: i32 = 48;
const TOP: i32 = 30;
pub(super) const BOTTOM: i32 = 258;

/// Masses from bottom to top.
#[derive(Clone, Copy, Debug)]
pub(super) struct Scale {
    most: i32,
}

impl Scale {
    /// From nothing to a little above the most that is shown.
    pub(super) fn to(most: Milligrams) -> Self {
        let most = most.0.clamp(1_000, 1_000_000);
        Self {
            most: most.saturating_add(most / 12),
        }
    }

    /// Where a mass stands.
    pub(super) fn y(self, mass: Milligrams) -> i32 {
        let height = i64::from(BOTTOM.saturating_sub(TOP));
        let part = i64::from(mass.0.clamp(0, self.most)).saturating_mul(height);
        let above = part.checked_div(self.most.into()).unwrap_or_default();
        BOTTOM.saturating_sub(i32::try_from(above).unwrap_or_default())
    }

    /// Lines with their masses in grams, and the axis, up to `right`.
    pub(super) fn draw(self, out: &mut impl Write, right: i32, words: &'static Words) -> fmt::Result {
        let step = STEPS.into_iter().find(|step| self.most <= step.saturating_mul(6));
        let step = step.unwrap_or(200_000);
        let mut mass = 0_i32;
        while mass <= self.most {
            let (y, tenths) = (self.y(Milligrams(mass)), mass.unsigned_abs() / 100);
            let places = u32::from(step < 1_000);
            let figure = if places > 0 { tenths } else { tenths / 10 };
            write!(
                out,
                "<line class=\"g\" x1=\"{LEFT}\" x2=\"{right}\" y1=\"{y}\" y2=\"{y}\"/>\
                 <text class=\"e\" x=\"{}\" y=\"{}\">{}</text>",
                LEFT.saturating_sub(8),
                y.saturating_add(5),
                Fixed(figure, places, words)
            )?;
            mass = mass.saturating_add(step);
        }
        write!(out, "<path class=\"a\" d=\"M{LEFT} {TOP}V{BOTTOM}H{right}\"/>")
    }

    /// The whisker of a 95 % interval at `x`, if it is taller than `least`; gives its upper end.
    pub(super) fn whisker(self, out: &mut impl Write, x: i32, mass: Measured, least: i32) -> Result<i32, fmt::Error> {
        let half = mass.expanded();
        let (low, high) = (self.y(mass.value - half), self.y(mass.value + half));
        if low.saturating_sub(high) > least {
            let (from, to) = (x.saturating_sub(CAP), x.saturating_add(CAP));
            write!(
                out,
                "<path class=\"w\" d=\"M{x} {low}V{high}M{from} {low}H{to}M{from} {high}H{to}\"/>"
            )?;
        }
        Ok(high)
    }
}

/// Begins a chart, without what is above `top`. The name is used once on the page; what follows, up to [`described`], says in words what the
/// chart shows.
#[inline(never)]
pub(super) fn begin(out: &mut impl Write, (pair, name): (u16, &str), title: &str, top: i32) -> fmt::Result {
    let (width, height) = (SIZE.0, SIZE.1.saturating_sub(top));
    write!(
        out,
        "<figure><svg viewBox=\"0 {top} {width} {height}\" role=\"img\" aria-labelledby=\"p{pair}{name} p{pair}{name}-text\">\
         <title id=\"p{pair}{name}\">{title}</title><desc id=\"p{pair}{name}-text\">"
    )
}

/// Ends the words that say what the chart shows.
pub(super) fn described(out: &mut impl Write) -> fmt::Result {
    out.write_str("</desc>")
}

/// Ends it, with a line under it.
pub(super) fn end(out: &mut impl Write, title: &str, whiskers: &str) -> fmt::Result {
    writeln!(out, "</svg><figcaption>{title}. {whiskers}</figcaption></figure>")
}

/// A mass beside a sign, in grams.
pub(super) fn label(out: &mut impl Write, (x, y): (i32, i32), mass: Milligrams, words: &'static Words) -> fmt::Result {
    write!(
        out,
        "<text class=\"m\" x=\"{x}\" y=\"{y}\">{}</text>",
        Grams(mass, words)
    )
}

/// Distances between lines, mg.
const STEPS: [i32; 9] = [200, 500, 1_000, 2_000, 5_000, 10_000, 20_000, 50_000, 100_000];

/// Half the width of a whisker's ends.
const CAP: i32 = 5;

//! What is left of each yarn, weighing by weighing.

use core::fmt::{self, Write};

use heapless::Vec;

use super::calendar::Calendar;
use super::chart::{self, BOTTOM, LEFT, SIZE, Scale};
use super::markup::{Else, Grams, Metres, PlusMinus, Titled};
use super::pair::{Pair, Yarn};
use super::sections::head;
use super::words::{Words, words};
use crate::forecast::{BAND_TOLERANCE, length_of};
use crate::journal::Language;
use crate::ledger::MAX_STEPS;
use crate::sock::{YARNS, YarnLetter};
use crate::units::Stamp;

/// Where a weight stands from left to right.
#[derive(Clone, Copy, Debug)]
struct Axis<'a> {
    pair: &'a Pair,
    calendar: &'a Calendar,
    /// By days, of which the first and the last weighing's seconds are these; otherwise one after the other, for of a scale without a
    /// clock the order is all there is.
    days: Option<(u64, u64)>,
}

impl<'a> Axis<'a> {
    fn of(pair: &'a Pair, calendar: &'a Calendar) -> Self {
        let mut days = Some((u64::MAX, 0));
        for weight in &pair.weights {
            let unix = calendar.unix(weight.at);
            days = days
                .zip(unix)
                .map(|((first, last), unix)| (first.min(unix), last.max(unix)));
        }
        Self { pair, calendar, days }
    }

    const fn title(&self, words: &'static Words) -> &'static str {
        match self.days {
            Some(_) => words.left_by_days,
            None => words.left_by_order,
        }
    }

    fn x(&self, at: Stamp) -> i32 {
        let (part, whole) = match self.days {
            Some((first, last)) => {
                let unix = self.calendar.unix(at).unwrap_or(first);
                (unix.saturating_sub(first), last.saturating_sub(first))
            }
            None => (self.place(at), self.places().saturating_sub(1)),
        };
        let width = RIGHT.saturating_sub(LEFT).unsigned_abs();
        let across = part.saturating_mul(width.into()).checked_div(whole.max(1));
        LEFT.saturating_add(i32::try_from(across.unwrap_or_default()).unwrap_or_default())
    }

    /// Weighings before this one, those at one time counted once.
    fn place(&self, at: Stamp) -> u64 {
        let mut places = 0_u64;
        for (weight, place) in self.pair.weights.iter().zip(0..MAX_STEPS) {
            let before = self.pair.weights.get(..place).unwrap_or_default();
            let is_first = !before.iter().any(|other| other.at == weight.at);
            places = places.saturating_add(u64::from(is_first && weight.at < at));
        }
        places
    }

    fn places(&self) -> u64 {
        let last = self.pair.weights.iter().map(|weight| weight.at).max();
        last.map_or(1, |last| self.place(last).saturating_add(1))
    }
}

/// The chart of a pair's yarns.
pub(super) fn draw(out: &mut impl Write, pair: &Pair, calendar: &Calendar, language: Language) -> fmt::Result {
    let words = words(language);
    let axis = Axis::of(pair, calendar);
    chart::begin(out, (pair.number, "left"), axis.title(words), chart::NAMES)?;
    write!(out, "{} ", words.a_line_each)?;
    for yarn in &pair.yarns {
        write!(out, "{} {}: ", words.yarn, yarn.letter.symbol())?;
        for (weight, place) in pair.weights_of(yarn.letter).zip(0..u8::MAX) {
            let between = if place > 0 { "; " } else { "" };
            write!(out, "{between}{}", Grams(weight.mass.value, words))?;
        }
        out.write_str(" g. ")?;
    }
    chart::described(out)?;
    let most = pair.weights.iter().map(|weight| weight.mass.value).max();
    let scale = Scale::to(most.unwrap_or_default());
    scale.draw(out, RIGHT, words)?;
    ticks(out, &axis, words)?;
    for (yarn, place) in pair.yarns.iter().zip(0..u8::MAX) {
        line(out, pair, yarn.letter, place, (&axis, scale))?;
    }
    ends(out, pair, &axis, scale, words)?;
    chart::end(out, axis.title(words), words.whiskers)
}

/// Where the axis begins and ends, and what it counts.
fn ticks(out: &mut impl Write, axis: &Axis<'_>, words: &'static Words) -> fmt::Result {
    let (from, to, name) = match axis.days {
        Some((first, last)) => (0, last.saturating_sub(first).div_ceil(86_400), words.days),
        None => (1, axis.places(), words.order),
    };
    let (y, below) = (BOTTOM.saturating_add(17), BOTTOM.saturating_add(33));
    write!(
        out,
        "<text class=\"m\" x=\"{LEFT}\" y=\"{y}\">{from}</text><text class=\"m\" x=\"{RIGHT}\" y=\"{y}\">{to}</text>\
         <text class=\"m\" x=\"336\" y=\"{below}\">{name}</text>"
    )
}

/// A yarn's line, with signs that are told apart without colour.
fn line(
    out: &mut impl Write,
    pair: &Pair,
    yarn: YarnLetter,
    place: u8,
    (axis, scale): (&Axis<'_>, Scale),
) -> fmt::Result {
    out.write_str("<path class=\"l\" d=\"")?;
    for (weight, place) in pair.weights_of(yarn).zip(0..u8::MAX) {
        let letter = if place == 0 { 'M' } else { 'L' };
        write!(out, "{letter}{} {}", axis.x(weight.at), scale.y(weight.mass.value))?;
    }
    out.write_str("\"/>")?;
    for weight in pair.weights_of(yarn) {
        let (x, y) = (axis.x(weight.at), scale.y(weight.mass.value));
        // Behind a sign that is taller it would only blur it.
        scale.whisker(out, x, weight.mass, 12)?;
        match place % 4 {
            0 => write!(out, "<circle class=\"f\" cx=\"{x}\" cy=\"{y}\" r=\"4\"/>")?,
            1 => write!(out, "<path class=\"f\" d=\"M{x} {y}m0 -5l5 9h-10z\"/>")?,
            2 => write!(out, "<circle class=\"o\" cx=\"{x}\" cy=\"{y}\" r=\"4\"/>")?,
            _ => write!(out, "<path class=\"w\" d=\"M{x} {y}m-4 -4l8 8m0 -8l-8 8\"/>")?,
        }
    }
    Ok(())
}

/// What is left, beside each line's end; one below the other where they would overlap.
fn ends(out: &mut impl Write, pair: &Pair, axis: &Axis<'_>, scale: Scale, words: &'static Words) -> fmt::Result {
    let mut ends: Vec<(i32, i32, &Yarn), YARNS> = Vec::new();
    for yarn in &pair.yarns {
        if let Some(last) = pair.weights_of(yarn.letter).last()
            && yarn.goes_on.is_none()
        {
            // There is room for each yarn.
            let _ = ends.push((scale.y(last.mass.value), axis.x(last.at), yarn));
        }
    }
    let mut taken: Vec<(i32, i32), YARNS> = Vec::new();
    // From the top downwards; there are too few to sort them.
    while let Some(place) = (0..ends.len()).min_by_key(|&place| ends.get(place).map(|&(y, ..)| y)) {
        let (y, x, yarn) = ends.swap_remove(place);
        let near = taken.iter().filter(|(other, _)| other.abs_diff(x) < LABEL.0);
        let free = near.map(|(_, other)| other.saturating_add(LABEL.1)).max();
        let y = y.max(free.unwrap_or_default());
        let _ = taken.push((x, y));
        write!(
            out,
            "<text x=\"{}\" y=\"{}\">{} {} g</text>",
            x.saturating_add(10),
            y.saturating_add(5),
            yarn.letter.symbol(),
            Grams(yarn.account.left, words)
        )?;
    }
    Ok(())
}

/// The table of a pair's yarns.
pub(super) fn table(out: &mut impl Write, pair: &Pair, language: Language) -> fmt::Result {
    let words = words(language);
    head(out, words.yarns_caption, &words.yarns_heads)?;
    out.write_str("<tbody>\n")?;
    for yarn in &pair.yarns {
        let length = length_of(yarn.left, yarn.metres_per_100_g, BAND_TOLERANCE);
        write!(out, "<tr><th scope=\"row\">{}", Titled(yarn.letter, yarn.name.as_ref()))?;
        if yarn.doubtful {
            write!(out, "<br><small class=\"doubt\">{}</small>", words.in_doubt)?;
        }
        if let Some(pair) = yarn.goes_on {
            write!(out, "<br><small>{} {pair}</small>", words.goes_on)?;
        }
        writeln!(
            out,
            "</th><td class=\"n\">{}</td><td class=\"n\">{}</td><td class=\"n\">{}</td><td class=\"n\">{}</td><td class=\"n\">{}</td></tr>",
            Grams(yarn.account.weighed_in, words),
            Grams(yarn.account.used, words),
            Grams(yarn.account.unplanned, words),
            PlusMinus(yarn.left, words),
            Else(length.map(|length| Metres(length, words)), words.not_known)
        )?;
    }
    out.write_str("</tbody>\n</table>\n")
}

/// The right edge of what is drawn within the axes: behind it stands what is left.
const RIGHT: i32 = SIZE.0.saturating_sub(96);

/// Width and height of a label at a line's end.
const LABEL: (u32, i32) = (90, 15);

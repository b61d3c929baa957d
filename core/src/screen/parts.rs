//! What several pages are made of.

use super::canvas::{Align, Canvas, Ink, Style};
use super::fonts::{HEADING, SIGNS, TEXT};
use super::layout::{COLUMNS, Field};
use super::speech::joined;
use super::view::{Sign, Status};
use crate::screen::frame::Surface;
use crate::sock::YarnLetter;
use crate::units::Milligrams;

/// The heading line: 16 rows, with one dark row above the letters.
pub(super) const HEAD: Field = Field::new(0, 0, COLUMNS, 16);

/// A letter or sign, dark on a lit ground, at the left end of a heading; gives the field that remains.
pub(super) fn badge<D: Surface>(canvas: &mut Canvas<'_, D>, field: Field, letter: &str) -> Field {
    let width = HEADING.width(letter).saturating_add(4).max(12);
    let ground = Field {
        height: 15,
        ..field.first(width)
    };
    canvas.fill(ground);
    let inside = Field {
        top: field.below(1).top,
        ..ground
    };
    canvas.text(inside, letter, Style::of(&HEADING).align(Align::Middle).ink(Ink::Dark));
    field.after(width.saturating_add(3))
}

/// A yarn's letter as a badge.
pub(super) fn yarn_badge<D: Surface>(canvas: &mut Canvas<'_, D>, field: Field, yarn: YarnLetter) -> Field {
    let mut letter = [0; 4];
    badge(canvas, field, yarn.symbol().encode_utf8(&mut letter))
}

/// A heading's words, in what remains of the heading line.
pub(super) fn heading<D: Surface>(canvas: &mut Canvas<'_, D>, field: Field, text: &str) {
    canvas.text(field.below(1), text, Style::of(&HEADING))
}

/// The sign of what is over; what is missing has one of its own.
pub(super) const fn plus(mass: Milligrams) -> &'static str {
    if mass.0 > 0 { "+" } else { "" }
}

/// A number at the right end of the heading line, with its sign; gives the field that remains to its left.
pub(super) fn signed_number<D: Surface>(canvas: &mut Canvas<'_, D>, field: Field, mass: Milligrams) -> Field {
    let number = joined(&[plus(mass), &canvas.speech.mass(mass)]);
    canvas.text(field.below(1), &number, Style::of(&HEADING).align(Align::Right));
    let taken = HEADING.width(&number).saturating_add(2);
    field.first(field.width.saturating_sub(taken))
}

/// Whether a sign is on the home page now.
pub(super) const fn is_lit(sign: Sign, status: Status) -> bool {
    match sign {
        Sign::Doubtful => status.doubtful,
        Sign::Journal => status.journal_filling,
        Sign::Zero => status.zero_unproven,
        Sign::Supply => status.supply_low,
        Sign::OfDoubtfulMark | Sign::OfCorrectedMark | Sign::HeldZero => false,
    }
}

/// The small signs at the right end of the top line; gives the field that remains to their left.
pub(super) fn signs<D: Surface>(canvas: &mut Canvas<'_, D>, field: Field, status: Status) -> Field {
    let lit = Sign::ALL.into_iter().filter(|&sign| is_lit(sign, status));
    // Four signs, four places.
    let mut text = heapless::String::<4>::new();
    for sign in lit {
        let _ = text.push_str(sign.picture().1);
    }
    canvas.text(field.below(1), &text, Style::of(&SIGNS).align(Align::Right));
    let width = SIGNS.width(&text).saturating_add(5);
    field.first(field.width.saturating_sub(if text.is_empty() { 0 } else { width }))
}

/// A line of a list: dark on a lit bar if it is the highlighted one. `value` stands at its right end.
pub(super) fn row<D: Surface>(canvas: &mut Canvas<'_, D>, field: Field, [label, value]: [&str; 2], highlighted: bool) {
    let ink = if highlighted { Ink::Dark } else { Ink::Lit };
    if highlighted {
        canvas.fill(Field { height: 10, ..field });
    }
    let style = Style::of(&TEXT).ink(ink);
    let inside = field.below(1).after(1).first(field.width.saturating_sub(2));
    canvas.text(inside, value, style.align(Align::Right));
    let beside = match TEXT.width(value) {
        0 => 0,
        width => width.saturating_add(3),
    };
    canvas.text(inside.first(inside.width.saturating_sub(beside)), label, style)
}

/// The lines of a list that are visible: `rows` of them, the highlighted one among them, or the first ones if
/// none is.
pub(super) const fn first_visible(selected: usize, count: usize, rows: usize) -> usize {
    if selected >= count {
        return 0;
    }
    let last_start = count.saturating_sub(rows);
    // One line before the highlighted one stays in sight.
    let start = selected.saturating_sub(rows.saturating_sub(2));
    if start > last_start { last_start } else { start }
}

/// How far down a long list the visible lines are: a bar at the right edge.
pub(super) fn scroll_bar<D: Surface>(canvas: &mut Canvas<'_, D>, field: Field, [start, shown, count]: [usize; 3]) {
    if count <= shown {
        return;
    }
    let height = usize::from(field.height);
    let part = |of: usize| of.saturating_mul(height).checked_div(count).unwrap_or(0);
    let bar = Field {
        left: field.right().saturating_sub(2),
        top: field.top.saturating_add(i32::try_from(part(start)).unwrap_or(0)),
        width: 2,
        height: u16::try_from(part(shown)).unwrap_or(0),
    };
    canvas.fill(bar)
}

//! The pairs on the needles, and what one of them took.

use super::list::{LINES, ago, label, lines, title, value};
use crate::screen::canvas::{Align, Canvas, Ink, Style};
use crate::screen::fonts::TEXT;
use crate::screen::frame::Surface;
use crate::screen::layout::{COLUMNS, Field};
use crate::screen::number::whole;
use crate::screen::parts::{first_visible, row, scroll_bar};
use crate::screen::speech::{Speech, Text, joined};
use crate::screen::view::{PairRow, PairSummary, Pairs};
use crate::screen::words::Word;

/// Rows from one pair to the next.
const PITCH: u16 = 21;
/// Pairs that are visible at once.
const VISIBLE: usize = 2;
/// The thinnest gap between what stands at the left and at the right.
const GAP: u16 = 4;

/// Draws the list of pairs, two lines each.
pub(in crate::screen) fn pairs<D: Surface>(canvas: &mut Canvas<'_, D>, list: &Pairs) {
    let speech = canvas.speech;
    let count = list.rows.len();
    let heading = if list.are_full {
        Word::FinishOne
    } else {
        Word::PairsOnNeedles
    };
    title(canvas, speech.word(heading), "");
    // A new pair stands behind the others; it needs one of its two lines.
    let all = count.saturating_add(usize::from(!list.are_full));
    let start = first_visible(list.selected, all, VISIBLE).min(all.saturating_sub(VISIBLE));
    scroll_bar(canvas, LINES, [start, VISIBLE, all]);
    let bar = if all > VISIBLE { 4 } else { 0 };
    let mut field = LINES.first(LINES.width.saturating_sub(bar));
    for place in (start..all).take(VISIBLE) {
        let highlighted = place == usize::from(list.selected);
        match list.rows.get(place) {
            Some(pair) => self::pair(canvas, field, pair, highlighted),
            None => row(canvas, field, [speech.word(Word::NewPair), ""], highlighted),
        }
        field = field.below(PITCH);
    }
}

/// Number or name over what comes next, at the left; when it was weighed over its yarns, at the right.
fn pair<D: Surface>(canvas: &mut Canvas<'_, D>, field: Field, pair: &PairRow, highlighted: bool) {
    let speech = canvas.speech;
    let ink = if highlighted { Ink::Dark } else { Ink::Lit };
    if highlighted {
        canvas.fill(Field { height: 20, ..field });
    }
    let style = Style::of(&TEXT).ink(ink);
    let upper = field.below(1).after(1).first(field.width.saturating_sub(2));
    let weighed = pair.minutes_ago.map_or_else(Text::new, |minutes| ago(speech, minutes));
    let next = match pair.next {
        _ if pair.finished => joined(&[speech.word(Word::Finished)]),
        Some(line) => speech.line(line),
        None => joined(&[speech.word(Word::AllDone)]),
    };
    let name = named(speech, pair.number, pair.name.as_deref());
    for (line, left, right) in [
        (upper, &name, &weighed),
        (upper.below(10), &next, &yarns(speech, pair, upper, &next)),
    ] {
        canvas.text(line, right, style.align(Align::Right));
        let room = line.width.saturating_sub(TEXT.width(right).saturating_add(GAP));
        canvas.text(line.first(room), left, style);
    }
}

/// As many of the yarns as there is room for beside `left`: `A 62.3  B 14.1`.
fn yarns(speech: Speech, pair: &PairRow, field: Field, left: &str) -> Text {
    let mut text = Text::new();
    for (yarn, mass) in &pair.yarns {
        let gap = if text.is_empty() { "" } else { "  " };
        let one = joined(&[gap, yarn.symbol().encode_utf8(&mut [0; 4]), " ", &speech.number(*mass)]);
        let longer = joined(&[&text, &one]);
        if TEXT.width(&longer).saturating_add(TEXT.width(left)).saturating_add(GAP) > field.width {
            break;
        }
        text = longer;
    }
    text
}

/// `Pair 3`, or `3 Schlehe`.
fn named(speech: Speech, number: u16, name: Option<&str>) -> Text {
    let number = whole(i32::from(number));
    match name {
        Some(name) => joined(&[&number, " ", name]),
        None => joined(&[speech.word(Word::PairOf), " ", &number]),
    }
}

/// Draws what a pair took.
pub(in crate::screen) fn pair_summary<D: Surface>(canvas: &mut Canvas<'_, D>, summary: &PairSummary) {
    let speech = canvas.speech;
    let finished = if summary.finished {
        speech.word(Word::Finished)
    } else {
        ""
    };
    let right = summary.days.map_or_else(
        || joined(&[finished]),
        |days| {
            let word = speech.word(if days == 1 { Word::Day } else { Word::Days });
            joined(&[&whole(i32::from(days)), " ", word])
        },
    );
    let mut left = named(speech, summary.number, summary.name.as_deref());
    // Bold letters are a column wider. A name that is too long loses its end.
    let width = |text: &Text| usize::from(TEXT.width(text)).saturating_add(text.chars().count());
    let room = usize::from(COLUMNS.saturating_sub(TEXT.width(&right).saturating_add(GAP)));
    while width(&left) > room && left.pop().is_some() {}
    title(canvas, &left, &right);
    let items = summary
        .items
        .iter()
        .map(|item| [label(speech, item), value(speech, item.value)]);
    lines(canvas, LINES, items, summary.selected)
}

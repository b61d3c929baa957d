//! The pairs on the needles, and what one of them took.

use super::list::{LINES, ago, double_lines, lines, text, title};
use crate::screen::canvas::Canvas;
use crate::screen::fonts::TEXT;
use crate::screen::frame::Surface;
use crate::screen::layout::COLUMNS;
use crate::screen::number::whole;
use crate::screen::speech::{Speech, Text, joined};
use crate::screen::view::{PairRow, PairSummary, Pairs, YarnNames};
use crate::screen::words::Word;

/// Columns of a line, beside the scroll bar.
const WIDTH: u16 = COLUMNS - 6;
/// The thinnest gap between what stands at the left and at the right.
const GAP: u16 = 4;

/// Draws the list of pairs, two lines each.
pub(in crate::screen) fn pairs<D: Surface>(canvas: &mut Canvas<'_, D>, list: &Pairs) {
    let speech = canvas.speech;
    let heading = if list.are_full {
        Word::FinishOne
    } else {
        Word::PairsOnNeedles
    };
    title(canvas, speech.word(heading), "");
    // A new pair stands behind the others.
    let all = list.rows.len().saturating_add(usize::from(!list.are_full));
    let line_of = |line: usize| match list.rows.get(line / 2) {
        Some(pair) => pair_line(speech, pair, line.is_multiple_of(2)),
        None if line.is_multiple_of(2) => [joined(&[speech.word(Word::NewPair)]), Text::new()],
        None => [Text::new(), Text::new()],
    };
    double_lines(canvas, [all, list.selected.into()], &line_of)
}

/// Number or name over what comes next, at the left; when it was weighed over its yarns, at the right.
fn pair_line(speech: Speech, pair: &PairRow, upper: bool) -> [Text; 2] {
    if upper {
        let weighed = pair.minutes_ago.map_or_else(Text::new, |minutes| ago(speech, minutes));
        let mut name = named(speech, pair.number, pair.name.as_deref());
        // One that is too long loses its end.
        let room = WIDTH.saturating_sub(GAP).saturating_sub(TEXT.width(&weighed));
        while TEXT.width(&name) > room && name.pop().is_some() {}
        return [name, weighed];
    }
    let next = match pair.next {
        _ if pair.finished => joined(&[speech.word(Word::Finished)]),
        Some(line) => speech.line(line),
        None => joined(&[speech.word(Word::AllDone)]),
    };
    let yarns = yarns(speech, pair, &next);
    [next, yarns]
}

/// As many of the yarns as there is room for beside `left`: `A 62.3  B 14.1`.
fn yarns(speech: Speech, pair: &PairRow, left: &str) -> Text {
    let mut text = Text::new();
    for (yarn, mass) in &pair.yarns {
        let gap = if text.is_empty() { "" } else { "  " };
        let one = joined(&[gap, yarn.symbol().encode_utf8(&mut [0; 4]), " ", &speech.number(*mass)]);
        let longer = joined(&[&text, &one]);
        if TEXT.width(&longer).saturating_add(TEXT.width(left)).saturating_add(GAP) > WIDTH {
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
pub(in crate::screen) fn pair_summary<D: Surface>(
    canvas: &mut Canvas<'_, D>,
    summary: &PairSummary,
    names: &YarnNames,
) {
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
    let line_of = |place: usize| text(speech, (&summary.items, names), place);
    lines(canvas, LINES, [summary.items.len(), summary.selected.into()], &line_of)
}

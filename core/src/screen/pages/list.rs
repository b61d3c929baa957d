//! A list to choose from.

use crate::forecast::RoundsLeft;
use crate::screen::canvas::{Align, Canvas, Style};
use crate::screen::fonts::TEXT;
use crate::screen::frame::Surface;
use crate::screen::layout::{COLUMNS, Field, PAGE};
use crate::screen::number::whole;
use crate::screen::parts::{first_visible, row, scroll_bar};
use crate::screen::speech::{Speech, Text, joined};
use crate::screen::view::{Item, ItemLabel, List, Value, YarnNames};
use crate::screen::words::Word;
use crate::units::Milligrams;

/// The lines of a list, below its title.
pub(super) const LINES: Field = Field::new(0, 11, COLUMNS, 41);
/// Rows from one line to the next.
pub(super) const PITCH: u16 = 10;

/// Draws a list.
pub(in crate::screen) fn list<D: Surface>(canvas: &mut Canvas<'_, D>, list: &List, names: &YarnNames) {
    let speech = canvas.speech;
    title(canvas, speech.word(list.title), "");
    let text = |place: usize| text(speech, (&list.items, names), place);
    lines(canvas, LINES, [list.items.len(), list.selected.into()], &text)
}

/// The title line, with something at its right end.
pub(super) fn title<D: Surface>(canvas: &mut Canvas<'_, D>, left: &str, right: &str) {
    canvas.text(PAGE, right, Style::of(&TEXT).align(Align::Right));
    let beside = COLUMNS.saturating_sub(TEXT.width(right).saturating_add(3));
    canvas.text(PAGE.first(beside), left, Style::of(&TEXT).bold())
}

/// What stands in a line, by its place: at the left and at the right.
pub(super) type LineOf<'a> = &'a dyn Fn(usize) -> [Text; 2];

/// The text of an item. Behind its letter a yarn has its name, as much of it as there is room for.
pub(super) fn text(speech: Speech, (items, names): (&[Item], &YarnNames), place: usize) -> [Text; 2] {
    let Some(item) = items.get(place) else {
        return [Text::new(), Text::new()];
    };
    let value = value(speech, item.value);
    if let ItemLabel::Yarn(yarn) | ItemLabel::YarnLeft(yarn) = item.label
        && let Some((_, name)) = names.iter().find(|(named, _)| *named == yarn)
    {
        let left = if let ItemLabel::YarnLeft(_) = item.label {
            speech.word(Word::Left)
        } else {
            ""
        };
        let room = NAMED.saturating_sub(TEXT.width(&value));
        let (mut name, letter) = (name.clone(), &mut [0; 4]);
        let letter = yarn.symbol().encode_utf8(letter);
        loop {
            let label = joined(&[letter, " ", &name, " ", left]);
            if TEXT.width(&label) <= room || name.pop().is_none() {
                return [label, value];
            }
        }
    }
    [label(speech, item), value]
}

/// Columns for a yarn with its name and what stands at its right, beside the scroll bar.
const NAMED: u16 = COLUMNS - 10;

/// The visible lines around the highlighted one: how many there are, and which one that is.
pub(super) fn lines<D: Surface>(canvas: &mut Canvas<'_, D>, field: Field, count: [usize; 2], line_of: LineOf<'_>) {
    rows(canvas, field, count, false, line_of)
}

/// The same where two lines make a row: those of row 1 are 2 and 3.
pub(super) fn double_lines<D: Surface>(canvas: &mut Canvas<'_, D>, count: [usize; 2], line_of: LineOf<'_>) {
    rows(canvas, LINES, count, true, line_of)
}

fn rows<D: Surface>(
    canvas: &mut Canvas<'_, D>,
    field: Field,
    [count, selected]: [usize; 2],
    double: bool,
    line_of: LineOf<'_>,
) {
    // Between double lines there is a dark one.
    let (each, pitch) = if double { (2, 2 * PITCH + 1) } else { (1, PITCH) };
    let visible = usize::from(field.height.saturating_add(1).checked_div(pitch).unwrap_or(1));
    let start = first_visible(selected, count, visible);
    scroll_bar(canvas, field, [start, visible, count]);
    let bar = if count > visible { 4 } else { 0 };
    let mut field = field.first(field.width.saturating_sub(bar));
    for place in (start..count).take(visible) {
        let mut line = field;
        for part in 0..each {
            let [label, value] = line_of(place.saturating_mul(each).saturating_add(part));
            row(canvas, line, [&label, &value], place == selected);
            line = line.below(PITCH);
        }
        field = field.below(pitch);
    }
}

pub(super) fn label(speech: Speech, item: &Item) -> Text {
    let bowl = |word, number: u8| joined(&[speech.word(word), " ", &whole(i32::from(number))]);
    match item.label {
        ItemLabel::Word(word) => joined(&[speech.word(word)]),
        ItemLabel::Name(name) => joined(&[name]),
        ItemLabel::Yarn(yarn) => joined(&[yarn.symbol().encode_utf8(&mut [0; 4])]),
        ItemLabel::YarnLeft(yarn) => {
            let letter = &mut [0; 4];
            joined(&[yarn.symbol().encode_utf8(letter), " ", speech.word(Word::Left)])
        }
        ItemLabel::Bowl(number) => bowl(Word::BowlOf, number.0),
        ItemLabel::NewBowl(number) => bowl(Word::NewBowl, number.0),
        ItemLabel::MinutesAgo(minutes) => ago(speech, minutes),
        ItemLabel::Kind(kind) => joined(&[speech.word(kind.word())]),
        ItemLabel::KindIn(kind, yarn) => {
            let mut letter = [0; 4];
            joined(&[yarn.symbol().encode_utf8(&mut letter), " ", speech.word(kind.word())])
        }
        ItemLabel::Section(kind, sock) => speech.section(kind, sock),
    }
}

/// `5 min ago`, `3 h ago`, `12 days ago`: the largest unit of which there are two at least.
pub(super) fn ago(speech: Speech, minutes: u32) -> Text {
    let (count, word) = match minutes {
        0..120 => (minutes, Word::MinutesAgo),
        120..2_880 => (minutes / 60, Word::HoursAgo),
        _ => (minutes / 1_440, Word::DaysAgo),
    };
    joined(&[&whole(i32::try_from(count).unwrap_or(i32::MAX)), " ", speech.word(word)])
}

/// A value as text.
pub(super) fn value(speech: Speech, value: Value) -> Text {
    match value {
        Value::Nothing => Text::new(),
        Value::Word(word) => joined(&[speech.word(word)]),
        Value::Kind(kind) => joined(&[speech.word(kind.word())]),
        Value::Number(number) => joined(&[&whole(number)]),
        Value::Rounds(RoundsLeft { least, most, .. }) if least < most => {
            joined(&[&whole(least.into()), "–", &whole(most.into())])
        }
        Value::Rounds(rounds) => joined(&[&whole(rounds.likely.into())]),
        Value::Small(mass) => speech.small(mass),
        Value::Halves(halves) => speech.halves(halves),
        Value::Mass(mass) => speech.mass(mass),
        Value::Measured(mass) => speech.measured(mass),
        // Without blanks: at its left stands how long ago that was.
        Value::Both(one, two) => joined(&[&speech.number(one), "+", &speech.mass(two)]),
        Value::Change(before, after) => {
            let said = |mass: Option<Milligrams>| mass.map_or_else(|| joined(&["–"]), |mass| speech.number(mass));
            joined(&[&said(before), " → ", &said(after)])
        }
        Value::PlusMinus(mass) => joined(&["±", &speech.mass_rounded_up(mass)]),
        Value::Name(name) => joined(&[name]),
        Value::Yarn(yarn) => joined(&[yarn.symbol().encode_utf8(&mut [0; 4])]),
        Value::Judged(mass, word) => joined(&[&speech.mass_rounded_up(mass), " ", speech.word(word)]),
        Value::Quantity(number, word) => joined(&[&whole(number), " ", speech.word(word)]),
        Value::Checked(number, unit, word) => joined(&[&whole(number), " ", speech.word(unit), " ", speech.word(word)]),
    }
}

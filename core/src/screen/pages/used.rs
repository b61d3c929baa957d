//! What each section took: sock 1, sock 2 and their difference.

use super::list::title;
use crate::screen::canvas::{Align, Canvas, Style};
use crate::screen::fonts::TEXT;
use crate::screen::frame::Surface;
use crate::screen::layout::{COLUMNS, Field, PAGE};
use crate::screen::parts::scroll_bar;
use crate::screen::speech::{Text, joined};
use crate::screen::view::{Used, UsedCell, UsedRow};
use crate::screen::words::Word;

/// The sections that are visible at once, two lines each.
const ROWS: Field = Field::new(0, 11, COLUMNS, 41);
/// Rows from one section to the next.
const PITCH: u16 = 22;
/// Sections that are visible at once.
const VISIBLE: usize = 2;

/// A line between the two.
const BETWEEN: Field = Field::new(0, 31, COLUMNS - 4, 1);
/// Columns that bold type and the space behind it take more.
const BOLD: u16 = 12;
/// The heading of the differences in short.
const TWO_LESS_ONE: &str = "2−1";
/// Columns of the left part: name and difference.
const LEFT: u16 = 55;

/// Draws the used table. In it `?` marks what is doubtful, `*` what the empty pan has corrected.
pub(in crate::screen) fn used<D: Surface>(canvas: &mut Canvas<'_, D>, used: &Used) {
    let speech = canvas.speech;
    let total = speech.measured(used.total);
    if used.rows.is_empty() {
        title(canvas, speech.word(Word::UsedTitle), &total);
        return canvas.word(PAGE.below(20), Word::Nothing, Style::of(&TEXT));
    }
    // The heading of the differences stands above them, in short where the total leaves little room; the total has its word if there is
    // some left.
    let room = COLUMNS.saturating_sub(TEXT.width(&total));
    let fits = |text: &str| TEXT.width(text).saturating_add(BOLD) <= room;
    let long = speech.word(Word::TwoLessOne);
    let heading = if fits(long) { long } else { TWO_LESS_ONE };
    let with_word = joined(&[speech.word(Word::UsedTitle), " ", &total]);
    let has_room = fits(&joined(&[heading, speech.word(Word::UsedTitle), " "]));
    title(canvas, heading, if has_room { &with_word } else { &total });
    let start = usize::from(used.top);
    scroll_bar(canvas, ROWS, [start, VISIBLE, used.rows.len()]);
    canvas.fill(BETWEEN);
    let mut field = ROWS.first(COLUMNS.saturating_sub(4));
    for row in used.rows.iter().skip(start).take(VISIBLE) {
        section(canvas, field, row);
        field = field.below(PITCH);
    }
}

/// The name over the difference at the left, sock 1 over sock 2 at the right.
fn section<D: Surface>(canvas: &mut Canvas<'_, D>, field: Field, row: &UsedRow) {
    let speech = canvas.speech;
    let style = Style::of(&TEXT);
    let mut letter = [0; 4];
    let name = joined(&[
        row.yarn.symbol().encode_utf8(&mut letter),
        " ",
        speech.word(row.kind.word()),
    ]);
    let difference = match (row.first, row.second) {
        (Some(first), Some(second)) => speech.difference(second.used.minus(first.used)),
        _ => Text::new(),
    };
    let left = field.first(LEFT);
    canvas.text(left, &name, style);
    canvas.text(left.below(10), &difference, style);
    let right = field.after(LEFT.saturating_add(3));
    for (line, sock, cell) in [(right, "1", row.first), (right.below(10), "2", row.second)] {
        let (mark, used) = match cell {
            Some(UsedCell {
                used, doubtful: true, ..
            }) => ("?", speech.interval(used)),
            Some(UsedCell {
                used, amended: true, ..
            }) => ("*", speech.interval(used)),
            Some(UsedCell { used, .. }) => ("", speech.interval(used)),
            None => ("", joined(&["–"])),
        };
        canvas.text(line, &joined(&[sock, mark]), style);
        canvas.text(line.after(13), &used, style.align(Align::Right));
    }
}

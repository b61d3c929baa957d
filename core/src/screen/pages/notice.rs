//! Something has just happened.

use super::advice::{advice, refused, restarted};
use crate::screen::canvas::{Align, Canvas, Style};
use crate::screen::fonts::{HEADING, TEXT};
use crate::screen::frame::Surface;
use crate::screen::layout::{COLUMNS, Field, PAGE};
use crate::screen::number::whole;
use crate::screen::parts::{HEAD, badge, heading, yarn_badge};
use crate::screen::speech::joined;
use crate::screen::view::Notice;
use crate::screen::words::Word;

/// The two lines below the heading.
const LINES: [Field; 2] = [Field::new(0, 19, COLUMNS, 15), Field::new(0, 36, COLUMNS, 15)];

/// Draws a notice.
pub(in crate::screen) fn notice<D: Surface>(canvas: &mut Canvas<'_, D>, notice: &Notice) {
    let speech = canvas.speech;
    let [upper, lower] = LINES;
    match *notice {
        Notice::WeighedIn { yarn, weight, short } => {
            let head = yarn_badge(canvas, HEAD, yarn);
            heading(canvas, head, speech.word(Word::WeighedIn));
            labelled(canvas, upper, Word::Has, &speech.measured(weight));
            if let Some(missing) = short {
                labelled(canvas, lower, Word::LikelyShort, &speech.mass(missing));
            }
        }
        Notice::WeightAmended { yarn, weight } => {
            let head = yarn_badge(canvas, HEAD, yarn);
            heading(canvas, head, speech.word(Word::Amended));
            labelled(canvas, upper, Word::Has, &speech.measured(weight))
        }
        Notice::Noted { line, used, left } => {
            let head = badge(canvas, HEAD, "✓");
            heading(canvas, head, &speech.line(line));
            labelled(canvas, upper, Word::Used, &speech.measured(used));
            labelled(canvas, lower, Word::Left, &speech.mass(left))
        }
        Notice::Started {
            yarn,
            weight,
            unplanned,
        } => {
            let head = yarn_badge(canvas, HEAD, yarn);
            heading(canvas, head, speech.word(Word::StartedHere));
            labelled(canvas, upper, Word::Has, &speech.measured(weight));
            labelled(canvas, lower, Word::Unplanned, &speech.mass(unplanned))
        }
        Notice::Amended { line, used } => {
            let head = badge(canvas, HEAD, "✓");
            match line {
                Some(line) => heading(canvas, head, &speech.line(line)),
                None => heading(canvas, head, speech.word(Word::Amended)),
            }
            canvas.paragraph(PAGE.below(17), speech.word(Word::AmendedWhy), 10, Style::of(&TEXT));
            labelled(canvas, Field { top: 37, ..lower }, Word::Used, &speech.measured(used))
        }
        Notice::Undone { line } => {
            let head = badge(canvas, HEAD, "✓");
            heading(canvas, head, speech.word(Word::TakenBack));
            match line {
                Some(line) => {
                    canvas.text(upper, &speech.line(line), Style::of(&HEADING));
                    canvas.word(lower, Word::OpenAgain, Style::of(&TEXT))
                }
                None => canvas.paragraph(PAGE.below(19), speech.word(Word::WeightTakenBack), 11, Style::of(&TEXT)),
            }
        }
        Notice::Skipped { line } => {
            let head = badge(canvas, HEAD, "✓");
            heading(canvas, head, &speech.line(line));
            canvas.word(upper, Word::LeftOut, Style::of(&HEADING))
        }
        Notice::BowlNoted { number, mass } => {
            let head = badge(canvas, HEAD, "✓");
            let title = joined(&[speech.word(Word::BowlOf), " ", &whole(i32::from(number.0))]);
            heading(canvas, head, &title);
            labelled(canvas, upper, Word::Has, &speech.measured(mass));
            canvas.word(lower.below(2), Word::BowlSubtracted, Style::of(&TEXT))
        }
        Notice::ZeroSet => {
            let head = badge(canvas, HEAD, "✓");
            heading(canvas, head, speech.word(Word::ZeroSet))
        }
        Notice::Drive => {
            heading(canvas, HEAD, speech.word(Word::Drive));
            canvas.paragraph(PAGE.below(17), speech.word(Word::DriveAsOfNow), 11, Style::of(&TEXT))
        }
        Notice::Restarted(why) => restarted(canvas, why),
        Notice::Refused(why) => refused(canvas, why),
        Notice::Restoring => advice(canvas, Word::Restoring, speech.word(Word::LeaveCable)),
    }
}

/// A small word at the left and its large number at the right, on one base line.
fn labelled<D: Surface>(canvas: &mut Canvas<'_, D>, field: Field, label: Word, number: &str) {
    canvas.text(field, number, Style::of(&HEADING).align(Align::Right));
    let beside = field.width.saturating_sub(HEADING.width(number).saturating_add(2));
    canvas.word(field.below(5).first(beside), label, Style::of(&TEXT))
}

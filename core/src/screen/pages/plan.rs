//! The plan with its cursor.

use super::list::{LINES, lines, title};
use crate::screen::canvas::Canvas;
use crate::screen::frame::Surface;
use crate::screen::speech::{THIN_SPACE, Text, joined};
use crate::screen::view::{LineState, PlanPage, PlanRow};
use crate::screen::words::Word;

/// Draws the plan: a tick for what is done, an arrow for the section that the next mark closes.
pub(in crate::screen) fn plan<D: Surface>(canvas: &mut Canvas<'_, D>, plan: &PlanPage) {
    title(canvas, canvas.speech.word(Word::Plan), "");
    let speech = canvas.speech;
    let line_of = |place: usize| {
        let Some(PlanRow { line, state }) = plan.rows.get(place) else {
            return [Text::new(), Text::new()];
        };
        let next = plan.cursor.map(usize::from) == Some(place);
        let sign = match state {
            _ if next => "→",
            LineState::Done(_) => "✓",
            LineState::Skipped => "×",
            LineState::Open => "·",
        };
        let mut letter = [0; 4];
        let letter = line.yarn.symbol().encode_utf8(&mut letter);
        let label = joined(&[sign, THIN_SPACE, letter, THIN_SPACE, &speech.line(*line)]);
        let value = match state {
            LineState::Done(used) => speech.interval(*used),
            LineState::Skipped => joined(&[speech.word(Word::LeftOut)]),
            LineState::Open => Text::new(),
        };
        [label, value]
    };
    lines(canvas, LINES, [plan.rows.len(), plan.selected.into()], &line_of)
}

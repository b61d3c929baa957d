//! The finished pair: whether it weighs what its sections took, and whether it is dry. A word, a number, and what to make
//! of them.

use crate::forecast::{DryWord, Dryness, Gap, PairCheck};
use crate::measured::Measured;
use crate::screen::canvas::{Canvas, Style};
use crate::screen::fonts::TEXT;
use crate::screen::frame::Surface;
use crate::screen::layout::{COLUMNS, Field};
use crate::screen::parts::{HEAD, heading, signed_number};
use crate::screen::speech::Blanks;
use crate::screen::words::Word;

/// Three lines of advice below the heading.
const ADVICE: Field = Field::new(0, 19, COLUMNS, 33);

/// The third of them: for how long it has not fallen, where the advice takes two.
const STILL: Field = Field::new(0, 41, COLUMNS, 10);

/// Draws the pair check.
pub(in crate::screen) fn pair_check<D: Surface>(canvas: &mut Canvas<'_, D>, check: &PairCheck) {
    let (word, advice) = match check.meaning {
        Gap::None => (Word::GapNone, Word::GapNoneWhy),
        Gap::EndsCutOff => (Word::GapEnds, Word::GapEndsWhy),
        Gap::Damp => (Word::GapDamp, Word::GapDampWhy),
        Gap::MissedMark => (Word::GapMissed, Word::GapMissedWhy),
        Gap::TooMuchMarked => (Word::GapTooMuch, Word::GapTooMuchWhy),
    };
    page(canvas, word, check.gap, advice)
}

/// Draws "dry yet".
pub(in crate::screen) fn dry<D: Surface>(canvas: &mut Canvas<'_, D>, dryness: &Dryness) {
    let (word, advice) = match dryness.word {
        DryWord::WeighAgain => (Word::DryAgain, Word::DryAgainWhy),
        DryWord::Drying => (Word::Drying, Word::DryingWhy),
        DryWord::Stalled => (Word::DryStalled, Word::DryStalledWhy),
        DryWord::Dry => (Word::Dry, Word::DryWhy),
    };
    let hours = match dryness.word {
        DryWord::Dry | DryWord::Stalled => u8::try_from(dryness.still.div_euclid(3_600)).unwrap_or(u8::MAX),
        DryWord::WeighAgain | DryWord::Drying => 0,
    };
    if hours > 0 {
        let blanks = Blanks {
            number: hours.into(),
            ..Blanks::default()
        };
        let still = canvas.speech.sentence(Word::DryStill, blanks);
        canvas.text(STILL, &still, Style::of(&TEXT));
    }
    page(canvas, word, dryness.above, advice)
}

fn page<D: Surface>(canvas: &mut Canvas<'_, D>, word: Word, number: Measured, advice: Word) {
    let speech = canvas.speech;
    let head = signed_number(canvas, HEAD, number.value);
    heading(canvas, head, speech.word(word));
    canvas.paragraph(ADVICE, speech.word(advice), 11, Style::of(&TEXT))
}

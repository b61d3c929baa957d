//! The scale asks which of a few things is meant.

use super::list::lines;
use crate::ledger::{Choice, WhyAsked};
use crate::screen::canvas::{Canvas, Style};
use crate::screen::fonts::TEXT;
use crate::screen::frame::Surface;
use crate::screen::layout::{COLUMNS, Field, PAGE};
use crate::screen::speech::{Blanks, Text};
use crate::screen::view::Question;
use crate::screen::words::Word;
use crate::units::Milligrams;

/// The choices, below the two lines that say why.
const CHOICES: Field = Field::new(0, 21, COLUMNS, 31);

/// Draws a question.
pub(in crate::screen) fn question<D: Surface>(canvas: &mut Canvas<'_, D>, question: &Question) {
    let speech = canvas.speech;
    let (word, blanks) = question.why.word();
    let why = Field { height: 20, ..PAGE };
    canvas.paragraph(why, &speech.sentence(word, blanks), 10, Style::of(&TEXT));
    let choices = question.choices.iter().map(|choice| {
        let (word, blanks) = choice.word();
        let used = choice.used().map_or_else(Text::new, |used| speech.mass(used));
        [speech.sentence(word, blanks), used]
    });
    lines(canvas, CHOICES, choices, question.selected)
}

impl WhyAsked {
    /// The sentence and what stands in its blanks.
    fn word(self) -> (Word, Blanks) {
        let of = |yarn, mass| Blanks {
            yarn,
            mass,
            ..Blanks::default()
        };
        match self {
            Self::Ambiguous => (Word::WhyAmbiguous, Blanks::default()),
            Self::Heavier { yarn, by } => (Word::WhyHeavier, of(yarn, by)),
            Self::Lighter { yarn, by } => (Word::WhyLighter, of(yarn, by)),
            Self::Unchanged { yarn } => (Word::WhyUnchanged, of(yarn, Default::default())),
            Self::UsedUp { yarn } => (Word::WhyUsedUp, of(yarn, Default::default())),
            Self::OtherYarn { planned, found } => {
                let blanks = Blanks {
                    yarn: planned,
                    other: found,
                    ..Blanks::default()
                };
                (Word::WhyOtherYarn, blanks)
            }
        }
    }
}

impl Choice {
    /// The line and what stands in its blanks.
    fn word(self) -> (Word, Blanks) {
        let of = |yarn| Blanks {
            yarn,
            ..Blanks::default()
        };
        match self {
            Self::Section { yarn, .. } => (Word::ChoiceSection, of(yarn)),
            Self::OtherBowl { bowl: None, yarn, .. } => (Word::ChoiceNoBowl, of(yarn)),
            Self::OtherBowl {
                bowl: Some(bowl), yarn, ..
            } => {
                let blanks = Blanks {
                    number: bowl.0,
                    ..of(yarn)
                };
                (Word::ChoiceBowl, blanks)
            }
            Self::WeighIn(yarn) => (Word::ChoiceWeighIn, of(yarn)),
            Self::StartFromHere(yarn) => (Word::ChoiceStart, of(yarn)),
            Self::NotNow => (Word::ChoiceNotNow, Blanks::default()),
        }
    }

    /// What the section would have taken, if the choice closes it.
    const fn used(self) -> Option<Milligrams> {
        match self {
            Self::Section { used, .. } | Self::OtherBowl { used, .. } => Some(used),
            Self::WeighIn(_) | Self::StartFromHere(_) | Self::NotNow => None,
        }
    }
}

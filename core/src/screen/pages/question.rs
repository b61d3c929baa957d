//! The scale asks which of a few things is meant.

use super::list::lines;
use crate::recognise::{Choice, Late, Source, WhyAsked};
use crate::screen::canvas::{Canvas, Style, lines_of};
use crate::screen::fonts::TEXT;
use crate::screen::frame::Surface;
use crate::screen::layout::{COLUMNS, Field, PAGE};
use crate::screen::speech::{Blanks, Text, joined};
use crate::screen::view::Question;
use crate::screen::words::Word;
use crate::sock::Sock;
use crate::units::Milligrams;

/// The choices, below the two lines that say why.
const CHOICES: Field = Field::new(0, 21, COLUMNS, 31);

/// Draws a question.
pub(in crate::screen) fn question<D: Surface>(canvas: &mut Canvas<'_, D>, question: &Question) {
    let speech = canvas.speech;
    let (word, blanks) = question.why.word();
    let why = Field { height: 20, ..PAGE };
    let style = Style::of(&TEXT);
    let sentence = speech.sentence(word, blanks);
    // The load that it is about stands in front, as fully as there is room.
    let in_front = |weight: Text| joined(&[&weight, ": ", &sentence]);
    let fully = question.weight.map(|weight| in_front(speech.mass(weight)));
    let shorter = question.weight.map(|weight| in_front(speech.number(weight)));
    let fits = |text: &Text| lines_of(text, style, why.width) <= 2;
    let text = fully.filter(fits).or(shorter.filter(fits));
    canvas.paragraph(why, text.as_ref().unwrap_or(&sentence), 10, style);
    let line_of = |place: usize| {
        let Some(choice) = question.choices.get(place) else {
            return [Text::new(), Text::new()];
        };
        let (word, blanks) = choice.word();
        let amount = choice.amount(question.weight);
        [
            speech.sentence(word, blanks),
            amount.map_or_else(Text::new, |amount| speech.mass(amount)),
        ]
    };
    let count = [question.choices.len(), question.selected.into()];
    lines(canvas, CHOICES, count, &line_of)
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
            Self::Amount {
                section,
                used,
                expected,
                source,
            } => {
                let word = match source {
                    Source::OtherSock if section.kind.is_part() => Word::WhyOtherPiece,
                    Source::OtherSock => Word::WhyOtherSock,
                    Source::History => Word::WhyEarlierPairs,
                    Source::Estimate => Word::WhyEstimate,
                    Source::Usual => Word::WhyUsual,
                };
                let number = match section.sock {
                    Sock::First => 2,
                    Sock::Second => 1,
                };
                let blanks = Blanks {
                    mass: used,
                    other_mass: expected,
                    number,
                    section: Some(section),
                    ..Blanks::default()
                };
                (word, blanks)
            }
            Self::Heavier { yarn, by } => (Word::WhyHeavier, of(yarn, by)),
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
            Self::OtherPair { pair, yarn } => {
                let blanks = Blanks {
                    number: pair,
                    ..of(yarn, Default::default())
                };
                (Word::WhyOtherPair, blanks)
            }
            Self::TwoCakes => (Word::WhyTwoCakes, Blanks::default()),
            Self::BowlMissing => (Word::WhyBowlMissing, Blanks::default()),
            Self::TakeBackMore { count } => {
                let blanks = Blanks {
                    number: count.into(),
                    ..Blanks::default()
                };
                (Word::WhyTakeBackMore, blanks)
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
            Self::Section { section, yarn, .. } => {
                let blanks = Blanks {
                    section: Some(section),
                    ..of(yarn)
                };
                (Word::ChoiceSection, blanks)
            }
            Self::OtherBowl { bowl: None, yarn, .. } => (Word::ChoiceNoBowl, of(yarn)),
            Self::OtherBowl {
                bowl: Some(bowl), yarn, ..
            } => {
                let blanks = Blanks {
                    number: bowl.0.into(),
                    ..of(yarn)
                };
                (Word::ChoiceBowl, blanks)
            }
            Self::Both(late) => {
                let blanks = Blanks {
                    section: Some(late.section),
                    other_mass: late.used,
                    ..Blanks::default()
                };
                (Word::ChoiceBoth, blanks)
            }
            Self::WeighIn(yarn) => (Word::ChoiceWeighIn, of(yarn)),
            Self::OtherPair(pair) => {
                let blanks = Blanks {
                    number: pair,
                    ..Blanks::default()
                };
                (Word::ChoiceOtherPair, blanks)
            }
            Self::GoesOn { from, was, yarn } => {
                let blanks = Blanks {
                    number: from,
                    other: yarn,
                    ..of(was)
                };
                (Word::ChoiceGoesOn, blanks)
            }
            Self::NothingUsed(yarn) => (Word::ChoiceNothingUsed, of(yarn)),
            Self::StartFromHere { yarn, unplanned } if unplanned.0 < 0 => (Word::ChoiceRippedBack, of(yarn)),
            Self::StartFromHere { yarn, .. } => (Word::ChoiceStart, of(yarn)),
            Self::TakeBack { section: None, .. } => (Word::ChoiceTakeBackWeight, Blanks::default()),
            Self::TakeBack { section, .. } => {
                let blanks = Blanks {
                    section,
                    ..Blanks::default()
                };
                (Word::ChoiceTakeBack, blanks)
            }
            Self::NotNow => (Word::ChoiceNotNow, Blanks::default()),
        }
    }

    /// What it would note, with `on_pan` on the pan; nothing where it notes nothing.
    const fn amount(self, on_pan: Option<Milligrams>) -> Option<Milligrams> {
        match self {
            Self::Section { used, .. } | Self::OtherBowl { used, .. } => Some(used),
            Self::Both(Late {
                then: Some((_, _, used)),
                ..
            }) => Some(used),
            Self::WeighIn(_) | Self::GoesOn { .. } => on_pan,
            // What was put back, or what went to no section.
            Self::StartFromHere { unplanned, .. } => Some(unplanned.abs()),
            Self::TakeBack { used, .. } => used,
            Self::Both(_) | Self::OtherPair(_) | Self::NothingUsed(_) | Self::NotNow => None,
        }
    }
}

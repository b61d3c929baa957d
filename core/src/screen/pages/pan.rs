//! The home page: whether the reading holds, the number, and what it means for the section.

use crate::screen::canvas::{Align, Canvas, Ink, Style};
use crate::screen::fonts::{FIGURES, HEADING, TEXT};
use crate::screen::frame::Surface;
use crate::screen::layout::{COLUMNS, Field};
use crate::screen::number::{figures, whole};
use crate::screen::parts::{HEAD, heading, signs, yarn_badge};
use crate::screen::speech::{Blanks, Text, joined};
use crate::screen::view::{Idle, Pan, Status};
use crate::screen::words::Word;
use crate::sock::Sock;
use crate::units::Milligrams;
use crate::weighing::Indication;

/// The steady sign: a pan at rest, or one that swings.
const STEADY: Field = Field::new(0, 17, 24, 25);
/// The main number; the two lowest rows are the comma's tail.
const NUMBER: Field = Field::new(26, 17, 84, 25);
/// Its unit, above the same base line.
const UNIT: Field = Field::new(113, 26, 15, 15);
/// The bowl, above the unit: rim, sides, bottom and foot.
const BOWL: [Field; 4] = [
    Field::new(113, 17, 15, 2),
    Field::new(114, 19, 13, 6),
    Field::new(116, 25, 9, 2),
    Field::new(118, 27, 5, 1),
];
/// Its number, on the sides.
const BOWL_NUMBER: Field = Field::new(114, 18, 13, 9);
/// The line below the number.
const INFORMATION: Field = Field::new(0, 43, COLUMNS, 9);

/// Draws the home page.
pub(in crate::screen) fn pan<D: Surface>(canvas: &mut Canvas<'_, D>, pan: &Pan, status: Status) {
    let mut head = signs(canvas, HEAD, status);
    if let Some((yarn, _)) = pan.yarn {
        head = yarn_badge(canvas, head, yarn);
    }
    let title = match pan.section {
        Some(line) => canvas.speech.line(line),
        None => joined(&[canvas.speech.word(Word::Weigh)]),
    };
    heading(canvas, head, &title);
    beside(canvas, head.after(HEADING.width(&title).saturating_add(4)), pan);
    number(canvas, pan);
    information(canvas, pan, status)
}

/// Which pair it is, where there are several, and what is left in metres, above the grams. They give way to the signs, the metres first,
/// then the word for a pair.
fn beside<D: Surface>(canvas: &mut Canvas<'_, D>, field: Field, pan: &Pan) {
    let pair = canvas.speech.word(Word::PairOf);
    let metres = pan
        .metres
        .map_or_else(Text::new, |metres| joined(&[&whole(i32::from(metres)), " m"]));
    let choices = match pan.pair.map(|number| whole(i32::from(number))) {
        None => [metres, Text::new(), Text::new()],
        Some(number) => {
            let in_full = joined(&[pair, " ", &number]);
            let in_short = joined(&[pair.get(..1).unwrap_or_default(), &number]);
            let gap = if metres.is_empty() { "" } else { "  " };
            [joined(&[&in_full, gap, &metres]), in_full, in_short]
        }
    };
    let fits = |text: &&Text| TEXT.width(text) <= field.width;
    if let Some(text) = choices.iter().find(fits) {
        canvas.text(field.below(4), text, Style::of(&TEXT).align(Align::Right))
    }
}

/// The number, its unit, its sign and its bowl. What is not steady is hollow: a full number can be trusted.
fn number<D: Surface>(canvas: &mut Canvas<'_, D>, pan: &Pan) {
    let style = Style::of(&FIGURES);
    canvas.text(STEADY, if pan.steady { "✓" } else { "~" }, style);
    let style = style.align(Align::Right);
    match pan.shown {
        Some(shown) => {
            let ink = if pan.steady { Ink::Lit } else { Ink::Outline };
            canvas.text(NUMBER, &figures(shown, canvas.speech.language, '-'), style.ink(ink));
            canvas.text(UNIT, canvas.speech.unit(), Style::of(&HEADING));
        }
        None => canvas.text(NUMBER, "- - -", style),
    }
    if let Some(bowl) = pan.bowl {
        for slice in BOWL {
            canvas.fill(slice);
        }
        let number = whole(i32::from(bowl.0));
        canvas.text(
            BOWL_NUMBER,
            &number,
            Style::of(&TEXT).align(Align::Middle).ink(Ink::Dark),
        );
    }
}

/// What a bare bowl may weigh since it was tared, and still be the bowl.
const BARE_BOWL: Milligrams = Milligrams(-300);

/// One line: what stands in the way, else what has gone, else what to see to, else what comes next.
fn information<D: Surface>(canvas: &mut Canvas<'_, D>, pan: &Pan, status: Status) {
    let style = Style::of(&TEXT);
    let speech = canvas.speech;
    if pan.mark_waits {
        canvas.fill(Field::new(0, 42, COLUMNS, 10));
        return canvas.word(INFORMATION, Word::MarkWaits, style.align(Align::Middle).ink(Ink::Dark));
    }
    if pan.shown.is_none() && !pan.lifted {
        return canvas.word(INFORMATION, Word::Starting, style);
    }
    if !pan.steady {
        return canvas.word(INFORMATION, Word::NotSteady, style);
    }
    if pan.perhaps_empty {
        return canvas.word(INFORMATION, Word::PerhapsEmpty, style);
    }
    let without_bowl = |shown: Indication| shown.mass() < BARE_BOWL;
    if pan.bowl.is_some() && !pan.empty && pan.shown.is_some_and(without_bowl) {
        return canvas.word(INFORMATION, Word::WhyBowlMissing, style);
    }
    if let Some((number, yarn)) = pan.proposal {
        let blanks = Blanks {
            number,
            yarn,
            ..Blanks::default()
        };
        return canvas.text(INFORMATION, &speech.sentence(Word::OfOtherPair, blanks), style);
    }
    if let Some(used) = pan.used {
        let bare = speech.measured(used);
        let used = joined(&[speech.word(Word::Used), " ", &bare]);
        let room = COLUMNS.saturating_sub(TEXT.width(&used));
        let damp = TEXT.width(speech.word(Word::GapDamp));
        // The doubt goes before the word for what has gone, and the number before both.
        let beside_damp = |text: &&Text| pan.damp && damp.saturating_add(TEXT.width(text)) < COLUMNS;
        if let Some(text) = [&used, &bare].into_iter().find(beside_damp) {
            canvas.word(INFORMATION, Word::GapDamp, style.align(Align::Right));
            return canvas.text(INFORMATION, text, style);
        }
        if let Some((sock, mass)) = pan.other_sock {
            other_sock(canvas, room, sock, mass);
        }
        return canvas.text(INFORMATION, &used, style);
    }
    let (word, blanks) = match pan.yarn {
        _ if status.zero_unproven => (Word::SignZero, Blanks::default()),
        _ if status.supply_low => (Word::SignSupply, Blanks::default()),
        None => (pan.idle.word(), Blanks::default()),
        Some((yarn, None)) => {
            let word = if pan.empty { Word::PutItOn } else { Word::WeighInFirst };
            (
                word,
                Blanks {
                    yarn,
                    ..Blanks::default()
                },
            )
        }
        Some((yarn, Some(mass))) => {
            let blanks = Blanks {
                yarn,
                mass,
                ..Blanks::default()
            };
            (Word::LastWeighed, blanks)
        }
    };
    canvas.text(INFORMATION, &speech.sentence(word, blanks), style)
}

impl Idle {
    /// What is to be done.
    const fn word(self) -> Word {
        match self {
            Self::NoPair => Word::NoSection,
            Self::OtherPairs => Word::OtherPairs,
            Self::AllDone => Word::AllDone,
        }
    }
}

/// What the other sock's section took, at the right: the sock's number and the mass, where there is room beside what this one has used.
fn other_sock<D: Surface>(canvas: &mut Canvas<'_, D>, room: u16, sock: Sock, mass: Milligrams) {
    let number = match sock {
        Sock::First => "1: ",
        Sock::Second => "2: ",
    };
    let text = joined(&[number, &canvas.speech.number(mass)]);
    if TEXT.width(&text).saturating_add(4) < room {
        canvas.text(INFORMATION, &text, Style::of(&TEXT).align(Align::Right));
    }
}

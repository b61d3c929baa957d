//! What the small signs mean: each with what to do about it. Those that are lit on the home page now stand first, on a lit ground.

use crate::screen::canvas::{Align, Canvas, Ink, Style};
use crate::screen::font::Font;
use crate::screen::fonts::{SIGNS, TEXT};
use crate::screen::frame::Surface;
use crate::screen::layout::{COLUMNS, Field, PAGE};
use crate::screen::parts::{is_lit, scroll_bar};
use crate::screen::view::{SIGNS_VISIBLE, Sign, Status};
use crate::screen::words::Word;

/// Columns for a sign.
const SIGN: u16 = 11;
/// Rows from one sign to the next: as many as are visible at once fill the page.
const PITCH: u16 = 13;

/// Draws the signs from `top` on.
pub(in crate::screen) fn signs<D: Surface>(canvas: &mut Canvas<'_, D>, top: u8, status: Status) {
    let lit = |&&sign: &&Sign| is_lit(sign, status);
    let dark = |sign: &&Sign| !lit(sign);
    let in_order = Sign::ALL.iter().filter(lit).chain(Sign::ALL.iter().filter(dark));
    let start = usize::from(top);
    scroll_bar(canvas, PAGE, [start, SIGNS_VISIBLE, Sign::ALL.len()]);
    let mut line = PAGE.first(COLUMNS.saturating_sub(4));
    for sign in in_order.skip(start).take(SIGNS_VISIBLE) {
        let lit = is_lit(*sign, status);
        let ink = if lit { Ink::Dark } else { Ink::Lit };
        if lit {
            canvas.fill(Field {
                height: 12,
                ..line.first(SIGN)
            });
        }
        let (font, text): (&Font, &str) = sign.picture();
        let down = if font.rows > 9 { 0 } else { 1 };
        canvas.text(
            line.first(SIGN).below(down),
            text,
            Style::of(font).align(Align::Middle).ink(ink),
        );
        let meaning = line.after(SIGN.saturating_add(4)).below(1);
        canvas.word(meaning, sign.meaning(), Style::of(&TEXT));
        line = line.below(PITCH);
    }
}

impl Sign {
    pub(in crate::screen) fn picture(self) -> (&'static Font, &'static str) {
        match self {
            Self::Doubtful => (&SIGNS, "!"),
            Self::Journal => (&SIGNS, "j"),
            Self::Zero => (&SIGNS, "0"),
            Self::Supply => (&SIGNS, "b"),
            Self::OfDoubtfulMark => (&TEXT, "?"),
            Self::OfCorrectedMark => (&TEXT, "*"),
            Self::HeldZero => (&TEXT, "↑"),
        }
    }

    const fn meaning(self) -> Word {
        match self {
            Self::Doubtful => Word::SignDoubtful,
            Self::Journal => Word::SignJournal,
            Self::Zero => Word::SignZero,
            Self::Supply => Word::SignSupply,
            Self::OfDoubtfulMark => Word::SignOfDoubtfulMark,
            Self::OfCorrectedMark => Word::SignOfCorrectedMark,
            Self::HeldZero => Word::SignHeldZero,
        }
    }
}

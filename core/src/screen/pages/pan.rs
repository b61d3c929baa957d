//! The home page.

use embedded_graphics::draw_target::DrawTarget;
use embedded_graphics::pixelcolor::BinaryColor;
use heapless::String;

use crate::screen::canvas::{Align, Canvas, Ink};
use crate::screen::fonts::{FIGURES, TEXT};
use crate::screen::layout;
use crate::screen::number::figures;
use crate::screen::view::{Pan, View};
use crate::screen::words::Word;
use crate::section::{SectionKind, Sock};
use crate::weighing::{Indication, Unit};

/// Draws the home page.
pub(in crate::screen) fn pan<D: DrawTarget<Color = BinaryColor>>(
    canvas: &mut Canvas<'_, D>,
    view: &View,
    pan: &Pan,
) -> Result<(), D::Error> {
    let language = view.language;
    let mut head: String<24> = String::new();
    if let Some((yarn, _)) = pan.yarn {
        let _ = head.push(yarn.symbol());
        let _ = head.push_str("  ");
    }
    if let Some(line) = pan.section {
        let _ = head.push_str(line.kind.word().text(language));
        let _ = head.push_str(match line.sock {
            Sock::First => " 1",
            Sock::Second => " 2",
        });
    }
    canvas.text(layout::HEAD, &head, TEXT, Align::Left, Ink::Lit)?;
    if let Some(shown) = pan.shown {
        let ink = if pan.steady { Ink::Lit } else { Ink::Outline };
        canvas.text(
            layout::NUMBER,
            &figures(shown, language, '-'),
            FIGURES,
            Align::Right,
            ink,
        )?;
        let unit = match view.unit {
            Unit::Gram => "g",
            Unit::Ounce => "oz",
        };
        canvas.text(layout::UNIT, unit, TEXT, Align::Left, Ink::Lit)?;
    }
    if pan.steady {
        canvas.fill(layout::STEADY)?;
    } else {
        canvas.text(
            layout::INFORMATION,
            Word::Wait.text(language),
            TEXT,
            Align::Left,
            Ink::Lit,
        )?;
        return Ok(());
    }
    if let Some(used) = pan.used {
        let mut line: String<40> = String::new();
        for part in [
            Word::Used.text(language),
            " ",
            &figures(Indication::rounded(used.value, view.unit), language, '−'),
            " ±",
            &figures(Indication::rounded_up(used.expanded(), view.unit), language, '−'),
        ] {
            let _ = line.push_str(part);
        }
        canvas.text(layout::INFORMATION, &line, TEXT, Align::Left, Ink::Lit)?;
    }
    Ok(())
}

impl SectionKind {
    /// Its name.
    pub(in crate::screen) const fn word(self) -> Word {
        match self {
            Self::Cuff => Word::Cuff,
            Self::Leg => Word::Leg,
            Self::Heel => Word::Heel,
            Self::Gusset => Word::Gusset,
            Self::Foot => Word::Foot,
            Self::Toe => Word::Toe,
        }
    }
}

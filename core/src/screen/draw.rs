//! One view, one frame.

use embedded_graphics::draw_target::DrawTarget;
use embedded_graphics::pixelcolor::BinaryColor;

use super::canvas::{Align, Canvas, Field, Ink};
use super::fonts::TEXT;
use super::view::{Body, KeyWord, View};
use super::words::Word;
use super::{layout, pages};

/// What became of a drawing.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Drawn {
    /// Texts that were cut because their field was too narrow: none, if every text fits its place.
    pub cut: u8,
}

/// Draws `view` on a display of 128 by 64 pixels, all of it.
///
/// # Errors
/// Those of the target.
pub fn draw<D: DrawTarget<Color = BinaryColor>>(view: &View, target: &mut D) -> Result<Drawn, D::Error> {
    let mut canvas = Canvas::new(target);
    canvas.clear()?;
    match &view.body {
        Body::Dark => return Ok(Drawn::default()),
        Body::Pan(pan) => pages::pan(&mut canvas, view, pan)?,
        _ => {}
    }
    for (field, word) in layout::KEYS.into_iter().zip(view.keys) {
        key(&mut canvas, field, word, view)?;
    }
    Ok(Drawn { cut: canvas.cut })
}

fn key<D: DrawTarget<Color = BinaryColor>>(
    canvas: &mut Canvas<'_, D>,
    field: Field,
    word: KeyWord,
    view: &View,
) -> Result<(), D::Error> {
    let Some(word) = word.word() else { return Ok(()) };
    canvas.fill(field)?;
    let inside = Field::new(
        field.left.saturating_add(1),
        field.top.saturating_add(1),
        field.width.saturating_sub(2),
        field.height.saturating_sub(1),
    );
    canvas.text(inside, word.text(view.language), TEXT, Align::Middle, Ink::Dark)
}

impl KeyWord {
    /// Its text, if the key does anything.
    const fn word(self) -> Option<Word> {
        Some(match self {
            Self::Nothing => return None,
            Self::Zero => Word::Zero,
            Self::Bowl => Word::Bowl,
            Self::Mark => Word::Mark,
            Self::WeighIn => Word::WeighIn,
            Self::Undo => Word::Undo,
            Self::Next => Word::Next,
            Self::Up => Word::Up,
            Self::Down => Word::Down,
            Self::Choose => Word::Choose,
            Self::Less => Word::Less,
            Self::More => Word::More,
            Self::Back => Word::Back,
            Self::Ok => Word::Ok,
            Self::Skip => Word::Skip,
            Self::Take => Word::Take,
            Self::Calibrate => Word::Calibrate,
            Self::Plan => Word::Plan,
            Self::Accept => Word::Accept,
            Self::Yarn => Word::Yarn,
        })
    }
}

//! Drawing into fields: no text leaves the field it was given, and what had to be cut is counted.

use embedded_graphics::Pixel;
use embedded_graphics::draw_target::DrawTarget;
use embedded_graphics::geometry::{Point, Size};
use embedded_graphics::pixelcolor::BinaryColor;
use embedded_graphics::primitives::Rectangle;

use super::font::{Font, Glyph};

/// A rectangle of the display that one thing is drawn into, in pixels from the upper left corner.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Field {
    /// First column.
    pub left: i32,
    /// First row.
    pub top: i32,
    /// Columns.
    pub width: u16,
    /// Rows.
    pub height: u16,
}

/// Where a text stands in its field.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Align {
    Left,
    Middle,
    Right,
}

/// How a glyph is put down.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Ink {
    /// Lit on dark.
    Lit,
    /// Dark on a lit ground.
    Dark,
    /// Only its outline, lit.
    Outline,
}

/// A target with the count of texts that did not fit.
#[derive(Debug)]
pub(super) struct Canvas<'t, D> {
    target: &'t mut D,
    /// Texts that were cut because their field was too narrow.
    pub(super) cut: u8,
}

impl Field {
    /// A field.
    #[must_use]
    pub const fn new(left: i32, top: i32, width: u16, height: u16) -> Self {
        Self {
            left,
            top,
            width,
            height,
        }
    }
}

impl<'t, D: DrawTarget<Color = BinaryColor>> Canvas<'t, D> {
    pub(super) fn new(target: &'t mut D) -> Self {
        Self { target, cut: 0 }
    }

    /// Makes the whole display dark.
    pub(super) fn clear(&mut self) -> Result<(), D::Error> {
        self.target.clear(BinaryColor::Off)
    }

    /// Lights a whole field.
    pub(super) fn fill(&mut self, field: Field) -> Result<(), D::Error> {
        self.target.fill_solid(
            &Rectangle::new(
                Point::new(field.left, field.top),
                Size::new(u32::from(field.width), u32::from(field.height)),
            ),
            BinaryColor::On,
        )
    }

    /// Writes one line of `text` from the top of its field; what does not fit is cut at its end, and counted.
    pub(super) fn text(
        &mut self,
        field: Field,
        text: &str,
        font: Font,
        align: Align,
        ink: Ink,
    ) -> Result<(), D::Error> {
        let width = font.width(text);
        let spare = i32::from(field.width.saturating_sub(width));
        let mut left = field.left.saturating_add(match align {
            Align::Left => 0,
            Align::Middle => spare / 2,
            Align::Right => spare,
        });
        let end = field.left.saturating_add(i32::from(field.width));
        if width > field.width || u16::from(font.capital) > field.height {
            self.cut = self.cut.saturating_add(1);
        }
        for glyph in text.chars().filter_map(|character| font.glyph(character)) {
            let next = left.saturating_add(i32::from(glyph.width));
            if next > end {
                break;
            }
            self.glyph(Point::new(left, field.top), glyph, ink)?;
            left = next.saturating_add(i32::from(font.gap));
        }
        Ok(())
    }

    fn glyph(&mut self, at: Point, glyph: Glyph, ink: Ink) -> Result<(), D::Error> {
        let color = match ink {
            Ink::Lit | Ink::Outline => BinaryColor::On,
            Ink::Dark => BinaryColor::Off,
        };
        let pixels = (0..glyph.width)
            .flat_map(|column| (0..glyph.rows()).map(move |row| (column, row)))
            .filter(|&(column, row)| match ink {
                Ink::Lit | Ink::Dark => glyph.lit(column, row),
                Ink::Outline => glyph.edge(column, row),
            })
            .map(|(column, row)| {
                let place = Point::new(
                    at.x.saturating_add(i32::from(column)),
                    at.y.saturating_add(i32::from(row)),
                );
                Pixel(place, color)
            });
        self.target.draw_iter(pixels)
    }
}

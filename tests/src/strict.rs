//! A display that fails the test where a careless one would show a mess: outside its edge, and one text over another.

use std::convert::Infallible;

use embedded_graphics::Pixel;
use embedded_graphics::draw_target::DrawTarget;
use embedded_graphics::geometry::{OriginDimensions, Point, Size};
use embedded_graphics::pixelcolor::BinaryColor;
use embedded_graphics::primitives::Rectangle;
use yarn_scale_core::screen::layout::{COLUMNS, ROWS};
use yarn_scale_core::screen::{View, draw};

/// What has become of a pixel.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Use {
    /// Nothing: dark.
    Free,
    /// Part of a lit ground.
    Ground,
    /// Part of a text.
    Ink,
}

/// The display.
#[derive(Debug)]
pub struct StrictDisplay {
    uses: Vec<Use>,
    lit: Vec<bool>,
    faults: Vec<String>,
}

impl Default for StrictDisplay {
    fn default() -> Self {
        let pixels = usize::from(COLUMNS) * usize::from(ROWS);
        Self {
            uses: vec![Use::Free; pixels],
            lit: vec![false; pixels],
            faults: Vec::new(),
        }
    }
}

/// Draws a view and says what is wrong with it: nothing, if all is well.
#[must_use]
pub fn faults_of(view: &View) -> Vec<String> {
    let mut display = StrictDisplay::default();
    let Ok(drawn) = draw(view, &mut display);
    let mut faults = display.faults;
    if drawn.cut > 0 {
        faults.push(format!("{} texts do not fit", drawn.cut));
    }
    faults
}

impl StrictDisplay {
    /// Pixels that are lit in a rectangle, from the upper left corner, ends not included.
    #[must_use]
    pub fn lit_within(&self, columns: std::ops::Range<usize>, rows: std::ops::Range<usize>) -> usize {
        let width = usize::from(COLUMNS);
        let pixels = rows.flat_map(|y| columns.clone().map(move |x| (x, y)));
        pixels.filter(|(x, y)| self.lit[y * width + x]).count()
    }

    fn place(&mut self, Point { x, y }: Point) -> Option<usize> {
        let inside = (0..i32::from(COLUMNS)).contains(&x) && (0..i32::from(ROWS)).contains(&y);
        if !inside {
            self.faults.push(format!("drawn outside at {x}, {y}"));
            return None;
        }
        usize::try_from(y * i32::from(COLUMNS) + x).ok()
    }
}

impl OriginDimensions for StrictDisplay {
    fn size(&self) -> Size {
        Size::new(COLUMNS.into(), ROWS.into())
    }
}

impl DrawTarget for StrictDisplay {
    type Color = BinaryColor;
    type Error = Infallible;

    fn draw_iter<I: IntoIterator<Item = Pixel<BinaryColor>>>(&mut self, pixels: I) -> Result<(), Infallible> {
        for Pixel(point, colour) in pixels {
            let Some(place) = self.place(point) else { continue };
            match (self.uses[place], colour) {
                (Use::Free, BinaryColor::On) | (Use::Ground, BinaryColor::Off) => {}
                (Use::Ink, _) => self.faults.push(format!("one text over another at {point}")),
                _ => self.faults.push(format!("ink of its ground's colour at {point}")),
            }
            self.uses[place] = Use::Ink;
            self.lit[place] = colour.is_on();
        }
        Ok(())
    }

    fn fill_solid(&mut self, area: &Rectangle, colour: BinaryColor) -> Result<(), Infallible> {
        for point in area.rows().flat_map(|y| area.columns().map(move |x| Point::new(x, y))) {
            let Some(place) = self.place(point) else { continue };
            if self.uses[place] != Use::Free {
                self.faults.push(format!("a ground over something else at {point}"));
            }
            self.uses[place] = Use::Ground;
            self.lit[place] = colour.is_on();
        }
        Ok(())
    }

    fn clear(&mut self, colour: BinaryColor) -> Result<(), Infallible> {
        self.uses.fill(Use::Free);
        self.lit.fill(colour.is_on());
        Ok(())
    }
}

//! The 128 x 64 display: what is drawn into it, and what it shows once that has been sent.

use std::convert::Infallible;

use embedded_graphics::draw_target::DrawTarget;
use embedded_graphics::geometry::{Dimensions, Point, Size};
use embedded_graphics::pixelcolor::BinaryColor;
use embedded_graphics::primitives::Rectangle;
use embedded_graphics::{Pixel, geometry::OriginDimensions};
use yarn_scale_core::board::{Screen, ScreenFault};

/// Columns.
pub const WIDTH: usize = 128;
/// Rows.
pub const HEIGHT: usize = 64;

/// One picture in the memory layout of an SSD1306: eight pages of 128 columns, bit 0 on top.
#[derive(Clone, Copy, PartialEq, Eq, Hash)]
pub struct Frame(pub [u8; WIDTH * HEIGHT / 8]);

/// The display: the frame being drawn, the frame being sent and the frame that is seen.
#[derive(Clone, Debug)]
pub struct Panel {
    drawn: Frame,
    sending: Option<(Frame, usize)>,
    shown: Frame,
    brightness: u8,
    frames_sent: u64,
}

impl Frame {
    /// Nothing lit.
    pub const DARK: Self = Self([0; WIDTH * HEIGHT / 8]);

    /// Whether the pixel in column `x`, row `y` is lit; outside, nothing is.
    #[must_use]
    pub fn is_lit(&self, x: usize, y: usize) -> bool {
        x < WIDTH && y < HEIGHT && self.0[y / 8 * WIDTH + x] & (1 << (y % 8)) != 0
    }

    fn set(&mut self, x: usize, y: usize, lit: bool) {
        let byte = &mut self.0[y / 8 * WIDTH + x];
        let bit = 1 << (y % 8);
        if lit {
            *byte |= bit;
        } else {
            *byte &= !bit;
        }
    }
}

impl std::fmt::Debug for Frame {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let lit: u32 = self.0.iter().map(|byte| byte.count_ones()).sum();
        write!(f, "Frame({lit} pixels lit)")
    }
}

impl Default for Panel {
    fn default() -> Self {
        Self {
            drawn: Frame::DARK,
            sending: None,
            shown: Frame::DARK,
            brightness: 0,
            frames_sent: 0,
        }
    }
}

impl Panel {
    /// What an eye sees: nothing while the brightness is 0.
    #[must_use]
    pub fn seen(&self) -> Frame {
        if self.brightness == 0 { Frame::DARK } else { self.shown }
    }

    /// What stands in the panel's memory, dark or not.
    #[must_use]
    pub fn shown(&self) -> &Frame {
        &self.shown
    }

    /// Brightness, 0 to 255.
    #[must_use]
    pub fn level(&self) -> u8 {
        self.brightness
    }

    /// How many frames were sent completely.
    #[must_use]
    pub fn frames_sent(&self) -> u64 {
        self.frames_sent
    }
}

impl OriginDimensions for Panel {
    fn size(&self) -> Size {
        Size::new(WIDTH as u32, HEIGHT as u32)
    }
}

impl DrawTarget for Panel {
    type Color = BinaryColor;
    type Error = Infallible;

    fn draw_iter<I: IntoIterator<Item = Pixel<BinaryColor>>>(&mut self, pixels: I) -> Result<(), Infallible> {
        for Pixel(Point { x, y }, colour) in pixels {
            if let (Ok(x @ 0..WIDTH), Ok(y @ 0..HEIGHT)) = (usize::try_from(x), usize::try_from(y)) {
                self.drawn.set(x, y, colour.is_on());
            }
        }
        Ok(())
    }

    fn fill_solid(&mut self, area: &Rectangle, colour: BinaryColor) -> Result<(), Infallible> {
        let area = area.intersection(&self.bounding_box());
        let columns = area.columns();
        for y in area.rows() {
            for x in columns.clone() {
                // Inside the panel after the intersection, so neither is negative.
                self.drawn.set(x as usize, y as usize, colour.is_on());
            }
        }
        Ok(())
    }

    fn clear(&mut self, colour: BinaryColor) -> Result<(), Infallible> {
        self.drawn.0.fill(if colour.is_on() { 0xFF } else { 0 });
        Ok(())
    }
}

impl Screen for Panel {
    fn begin(&mut self) {
        self.sending = Some((self.drawn, 0));
    }

    fn flush(&mut self) -> nb::Result<(), ScreenFault> {
        let Some((frame, from)) = self.sending else {
            return Ok(());
        };
        let to = from + SLICE;
        self.shown.0[from..to].copy_from_slice(&frame.0[from..to]);
        if to < frame.0.len() {
            self.sending = Some((frame, to));
            return Err(nb::Error::WouldBlock);
        }
        self.sending = None;
        self.frames_sent += 1;
        Ok(())
    }

    fn brightness(&mut self, level: u8) {
        self.brightness = level;
    }
}

/// Bytes sent at a time: one page, as the device does.
const SLICE: usize = WIDTH;

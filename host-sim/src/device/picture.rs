//! Pictures of the display: a frame as PNG, enlarged without blur, and many frames on one sheet.

use std::fs;
use std::io::{self, BufWriter, Cursor, Write};
use std::path::Path;

use yarn_scale_core::screen::TEXT;
use yarn_scale_core::screen::{View, draw};

use crate::device::panel::{Frame, HEIGHT, WIDTH};

/// A picture of two tones, `true` lit.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Picture {
    /// Columns.
    pub width: usize,
    /// Rows.
    pub height: usize,
    pixels: Vec<bool>,
}

/// The frame that the device would show for `view`.
#[must_use]
pub fn frame_of(view: &View) -> Frame {
    let mut frame = Frame::DARK;
    draw(view, &mut frame);
    frame
}

impl Picture {
    /// Everything dark.
    #[must_use]
    pub fn dark(width: usize, height: usize) -> Self {
        Self {
            width,
            height,
            pixels: vec![false; width * height],
        }
    }

    /// Whether a pixel is lit; outside, none is.
    #[must_use]
    pub fn is_lit(&self, x: usize, y: usize) -> bool {
        x < self.width && y < self.height && self.pixels[y * self.width + x]
    }

    /// Lights a pixel or makes it dark; outside, nothing happens.
    pub fn set(&mut self, x: usize, y: usize, lit: bool) {
        if x < self.width && y < self.height {
            self.pixels[y * self.width + x] = lit;
        }
    }

    /// Puts `other` down with its upper left corner at `left`, `top`.
    pub fn place(&mut self, other: &Self, left: usize, top: usize) {
        for y in 0..other.height {
            for x in 0..other.width {
                self.set(left + x, top + y, other.is_lit(x, y));
            }
        }
    }

    /// Every pixel as a square of `scale` by `scale`.
    #[must_use]
    pub fn enlarged(&self, scale: usize) -> Self {
        let mut large = Self::dark(self.width * scale, self.height * scale);
        for y in 0..large.height {
            for x in 0..large.width {
                large.set(x, y, self.is_lit(x / scale, y / scale));
            }
        }
        large
    }

    /// The picture of which this one is an enlargement by `scale`, or `None` where a square is not of one tone.
    #[must_use]
    pub fn reduced(&self, scale: usize) -> Option<Self> {
        let mut small = Self::dark(self.width / scale, self.height / scale);
        for y in 0..small.height {
            for x in 0..small.width {
                small.set(x, y, self.is_lit(x * scale, y * scale));
            }
        }
        (small.enlarged(scale) == *self).then_some(small)
    }

    /// As a PNG file of one bit a pixel.
    ///
    /// # Errors
    /// Those of the writer.
    pub fn write_png(&self, output: impl Write) -> io::Result<()> {
        let (width, height) = (self.width as u32, self.height as u32);
        let mut encoder = png::Encoder::new(output, width, height);
        encoder.set_color(png::ColorType::Grayscale);
        encoder.set_depth(png::BitDepth::One);
        let mut packed = Vec::with_capacity(self.height * self.width.div_ceil(8));
        for row in self.pixels.chunks(self.width) {
            packed.extend(row.chunks(8).map(|eight| {
                let bits = eight.iter().enumerate();
                bits.fold(0_u8, |byte, (place, &lit)| byte | u8::from(lit) << (7 - place))
            }));
        }
        encoder.write_header()?.write_image_data(&packed)?;
        Ok(())
    }

    /// Writes a PNG file.
    ///
    /// # Errors
    /// When the file cannot be written.
    pub fn save(&self, path: &Path) -> io::Result<()> {
        self.write_png(BufWriter::new(fs::File::create(path)?))
    }

    /// Reads a PNG file of one bit a pixel, such as [`Self::save`] writes.
    ///
    /// # Errors
    /// When the file cannot be read, or is not of that kind.
    pub fn load(path: &Path) -> io::Result<Self> {
        let mut reader = png::Decoder::new(Cursor::new(fs::read(path)?)).read_info()?;
        let foreign = || io::Error::other("not a picture of one bit a pixel");
        let mut packed = vec![0; reader.output_buffer_size().ok_or_else(foreign)?];
        let info = reader.next_frame(&mut packed)?;
        if info.color_type != png::ColorType::Grayscale || info.bit_depth != png::BitDepth::One {
            return Err(foreign());
        }
        let mut picture = Self::dark(info.width as usize, info.height as usize);
        for (y, row) in packed.chunks(info.line_size).enumerate() {
            for x in 0..picture.width {
                picture.set(x, y, row[x / 8] >> (7 - x % 8) & 1 == 1);
            }
        }
        Ok(picture)
    }

    /// Writes a line of text in the device's own letters; what the font lacks is left out.
    pub fn write(&mut self, text: &str, left: usize, top: usize) {
        let mut left = left;
        for glyph in text.chars().filter_map(|character| TEXT.glyph(character)) {
            for (column, row) in (0..glyph.width()).flat_map(|column| (0..TEXT.rows).map(move |row| (column, row))) {
                if glyph.column(column) >> row & 1 == 1 {
                    self.set(left + usize::from(column), top + usize::from(row), true);
                }
            }
            left += usize::from(glyph.width()) + usize::from(TEXT.gap);
        }
    }

    /// Pictures of one size on a sheet, row by row, each framed by a lit line and with its name below.
    #[must_use]
    pub fn sheet(pictures: &[(String, Self)], across: usize) -> Self {
        let Some((_, first)) = pictures.first() else {
            return Self::dark(1, 1);
        };
        let (step_x, step_y) = (first.width + GAP, first.height + GAP + CAPTION);
        let down = pictures.len().div_ceil(across);
        let mut sheet = Self::dark(step_x * across + GAP, step_y * down + GAP);
        for (place, (name, picture)) in pictures.iter().enumerate() {
            let (left, top) = (GAP + place % across * step_x, GAP + place / across * step_y);
            sheet.frame(left - 2, top - 2, picture.width + 4, picture.height + 4);
            sheet.place(picture, left, top);
            sheet.write(name, left, top + picture.height + 4);
        }
        sheet
    }

    fn frame(&mut self, left: usize, top: usize, width: usize, height: usize) {
        for x in left..left + width {
            self.set(x, top, true);
            self.set(x, top + height - 1, true);
        }
        for y in top..top + height {
            self.set(left, y, true);
            self.set(left + width - 1, y, true);
        }
    }
}

impl From<&Frame> for Picture {
    fn from(frame: &Frame) -> Self {
        let mut picture = Self::dark(WIDTH, HEIGHT);
        for y in 0..HEIGHT {
            for x in 0..WIDTH {
                picture.set(x, y, frame.is_lit(x, y));
            }
        }
        picture
    }
}

/// Dark pixels between two pictures of a sheet.
const GAP: usize = 8;

/// Rows for a picture's name.
const CAPTION: usize = 12;

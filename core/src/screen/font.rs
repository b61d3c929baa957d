//! Fonts: drawn as text files, packed into bits while compiling.
//!
//! A font file's first line lists its characters. Below it stand bands of glyphs side by side, `#` lit and `.` dark,
//! parted by one blank column; lines that begin with `=` are captions. A band has as many lines as the font has rows.

/// A proportional bitmap font of one colour.
#[derive(Clone, Copy, Debug)]
pub struct Font {
    /// Rows of every glyph, from the top of its highest to the end of its lowest.
    pub rows: u8,
    /// Rows above the base line: the height of a capital or a figure.
    pub capital: u8,
    /// Dark columns between two glyphs.
    pub gap: u8,
    /// Its characters, in the order of the glyphs.
    characters: &'static str,
    /// For each glyph the column after its last.
    ends: &'static [u16],
    /// Pixels, column by column from the top, eight to a byte, the first in the lowest bit.
    bits: &'static [u8],
}

/// One character's picture.
#[derive(Clone, Copy, Debug)]
pub struct Glyph {
    font: &'static Font,
    first: u16,
    /// Its columns.
    pub width: u8,
}

impl Font {
    /// A font from its packed form.
    #[allow(clippy::panic, reason = "runs while compiling only")]
    pub(super) const fn new<const GLYPHS: usize, const BYTES: usize, const NAMES: usize>(
        [rows, capital, gap]: [u8; 3],
        packed: &'static Packed<GLYPHS, BYTES, NAMES>,
    ) -> Self {
        let Ok(characters) = str::from_utf8(&packed.characters) else {
            panic!("a font file's first line is text");
        };
        Self {
            rows,
            capital,
            gap,
            characters,
            ends: &packed.ends,
            bits: &packed.bits,
        }
    }

    /// The glyph of `character`, or `None` where the font has none.
    #[must_use]
    pub fn glyph(&'static self, character: char) -> Option<Glyph> {
        let place = self.characters.chars().position(|known| known == character)?;
        let end = *self.ends.get(place)?;
        let first = place
            .checked_sub(1)
            .and_then(|before| self.ends.get(before).copied())
            .unwrap_or(0);
        let width = u8::try_from(end.saturating_sub(first)).ok()?;
        Some(Glyph {
            font: self,
            first,
            width,
        })
    }

    /// Columns that `text` takes; characters that the font lacks take none.
    #[must_use]
    pub fn width(&'static self, text: &str) -> u16 {
        let columns: u16 = text
            .chars()
            .filter_map(|character| self.glyph(character))
            .map(|glyph| u16::from(glyph.width).saturating_add(u16::from(self.gap)))
            .fold(0, u16::saturating_add);
        columns.saturating_sub(u16::from(self.gap))
    }
}

impl Glyph {
    /// Its rows, the font's.
    #[must_use]
    pub const fn rows(&self) -> u8 {
        self.font.rows
    }

    /// Whether the pixel is lit; outside the glyph none is.
    #[must_use]
    pub fn lit(&self, column: u8, row: u8) -> bool {
        if column >= self.width || row >= self.font.rows {
            return false;
        }
        let column = usize::from(self.first).saturating_add(usize::from(column));
        let bit = column
            .saturating_mul(usize::from(self.font.rows))
            .saturating_add(usize::from(row));
        self.font
            .bits
            .get(bit / 8)
            .is_some_and(|byte| byte >> (bit % 8) & 1 == 1)
    }

    /// Whether the pixel is lit and has a dark neighbour above, below, left or right: the glyph's outline.
    #[must_use]
    pub fn edge(&self, column: u8, row: u8) -> bool {
        let beside = |column: Option<u8>, row: Option<u8>| match (column, row) {
            (Some(column), Some(row)) => self.lit(column, row),
            _ => false,
        };
        self.lit(column, row)
            && !(beside(column.checked_sub(1), Some(row))
                && beside(column.checked_add(1), Some(row))
                && beside(Some(column), row.checked_sub(1))
                && beside(Some(column), row.checked_add(1)))
    }
}

/// A font file's characters and pixels, packed; of the file itself nothing stays in the program.
#[derive(Debug)]
pub(super) struct Packed<const GLYPHS: usize, const BYTES: usize, const NAMES: usize> {
    characters: [u8; NAMES],
    ends: [u16; GLYPHS],
    bits: [u8; BYTES],
}

/// Counts a font file's glyphs, the bytes of its packed pixels, and the bytes of its characters' names.
#[allow(
    clippy::indexing_slicing,
    clippy::arithmetic_side_effects,
    reason = "runs while compiling only: a font file that does not fit its form stops the build"
)]
pub(super) const fn measure(art: &str, rows: usize) -> (usize, usize, usize) {
    let text = art.as_bytes();
    let (mut glyphs, mut columns, mut at) = (0, 0, line_end(text, 0) + 1);
    while at < text.len() {
        let end = line_end(text, at);
        if end == at || text[at] == b'=' {
            at = end + 1;
            continue;
        }
        let mut place = at;
        while place < end {
            if text[place] != b' ' {
                columns += 1;
            }
            if text[place] != b' ' && (place + 1 == end || text[place + 1] == b' ') {
                glyphs += 1;
            }
            place += 1;
        }
        at += rows * (end - at + 1);
    }
    (glyphs, (columns * rows).div_ceil(8), line_end(text, 0))
}

/// Packs a font file's pixels; the sizes are those of [`measure`].
#[allow(
    clippy::indexing_slicing,
    clippy::arithmetic_side_effects,
    clippy::panic,
    reason = "runs while compiling only: a font file that does not fit its form stops the build"
)]
pub(super) const fn pack<const GLYPHS: usize, const BYTES: usize, const NAMES: usize>(
    art: &str,
    rows: usize,
) -> Packed<GLYPHS, BYTES, NAMES> {
    let text = art.as_bytes();
    let mut packed = Packed {
        characters: [0; NAMES],
        ends: [0; GLYPHS],
        bits: [0; BYTES],
    };
    let mut name = 0;
    while name < NAMES {
        packed.characters[name] = text[name];
        name += 1;
    }
    let (mut glyphs, mut columns, mut at) = (0, 0, NAMES + 1);
    while at < text.len() {
        let end = line_end(text, at);
        if end == at || text[at] == b'=' {
            at = end + 1;
            continue;
        }
        let pitch = end - at + 1;
        let mut place = at;
        while place < end {
            if text[place] != b' ' {
                let mut row = 0;
                while row < rows {
                    match text[place + row * pitch] {
                        b'#' => {
                            let bit = columns * rows + row;
                            packed.bits[bit / 8] |= 1 << (bit % 8);
                        }
                        b'.' => {}
                        _ => panic!("a glyph holds only # and ."),
                    }
                    row += 1;
                }
                columns += 1;
                if place + 1 == end || text[place + 1] == b' ' {
                    packed.ends[glyphs] = columns as u16;
                    glyphs += 1;
                }
            }
            place += 1;
        }
        at += rows * pitch;
    }
    packed
}

/// The place of the line feed that ends the line from `at`, or the end of the text.
#[allow(
    clippy::indexing_slicing,
    clippy::arithmetic_side_effects,
    reason = "runs while compiling only"
)]
const fn line_end(text: &[u8], mut at: usize) -> usize {
    while at < text.len() && text[at] != b'\n' {
        at += 1;
    }
    at
}

//! Fonts: drawn as text files, packed into bits while compiling.
//!
//! A font file's first line lists its characters. Below it stand bands of glyphs side by side, `#` lit and `.` dark,
//! parted by one blank column; lines that begin with `=` are captions. A band has as many lines as the font has rows.

/// A proportional bitmap font of one colour.
#[derive(Clone, Copy, Debug)]
pub struct Font {
    /// Rows of every glyph, from the top of its highest to the end of its lowest; 32 at most.
    pub rows: u8,
    /// Rows above the base line: the height of a capital or a figure.
    pub capital: u8,
    /// Dark columns between two glyphs.
    pub gap: u8,
    /// For each character of ASCII the place of its glyph, or [`NONE`].
    ascii: &'static [u8; 128],
    /// For each glyph its character.
    characters: &'static [u16],
    /// For each glyph the column after its last.
    ends: &'static [u16],
    /// Pixels, one word a column, bit 0 on top.
    columns: &'static [u32],
}

/// One character's picture.
#[derive(Clone, Copy, Debug)]
pub struct Glyph {
    columns: &'static [u32],
}

impl Font {
    /// A font from its packed form.
    pub(super) const fn new<const GLYPHS: usize, const COLUMNS: usize>(
        [rows, capital, gap]: [u8; 3],
        packed: &'static Packed<GLYPHS, COLUMNS>,
    ) -> Self {
        Self {
            rows,
            capital,
            gap,
            ascii: &packed.ascii,
            characters: &packed.characters,
            ends: &packed.ends,
            columns: &packed.columns,
        }
    }

    /// The glyph of `character`, or `None` where the font has none.
    #[must_use]
    pub fn glyph(&self, character: char) -> Option<Glyph> {
        let place = match self.ascii.get(character as usize) {
            Some(&place) => usize::from(place),
            None => self
                .characters
                .iter()
                .position(|&known| u32::from(known) == character as u32)?,
        };
        let end = usize::from(*self.ends.get(place)?);
        let first = place.checked_sub(1).and_then(|before| self.ends.get(before));
        let columns = self.columns.get(usize::from(*first.unwrap_or(&0))..end)?;
        Some(Glyph { columns })
    }

    /// Columns that `text` takes; characters that the font lacks take none.
    #[must_use]
    pub fn width(&self, text: &str) -> u16 {
        let columns: u16 = text
            .chars()
            .filter_map(|character| self.glyph(character))
            .map(|glyph| glyph.width().saturating_add(u16::from(self.gap)))
            .fold(0, u16::saturating_add);
        columns.saturating_sub(u16::from(self.gap))
    }
}

impl Glyph {
    /// Its columns.
    #[must_use]
    pub fn width(&self) -> u16 {
        u16::try_from(self.columns.len()).unwrap_or(u16::MAX)
    }

    /// The pixels of a column, bit 0 on top; none outside the glyph.
    #[must_use]
    pub fn column(&self, column: u16) -> u32 {
        self.columns.get(usize::from(column)).copied().unwrap_or(0)
    }

    /// Those of its pixels in a column that have a dark neighbour above, below, left or right: the glyph's outline.
    #[must_use]
    pub fn edge(&self, column: u16) -> u32 {
        let lit = self.column(column);
        let left = column.checked_sub(1).map_or(0, |before| self.column(before));
        lit & !(left & self.column(column.saturating_add(1)) & lit << 1 & lit >> 1)
    }
}

/// A font file's characters and pixels, packed; of the file itself nothing stays in the program.
#[derive(Debug)]
pub(super) struct Packed<const GLYPHS: usize, const COLUMNS: usize> {
    ascii: [u8; 128],
    characters: [u16; GLYPHS],
    ends: [u16; GLYPHS],
    columns: [u32; COLUMNS],
}

/// In the table of ASCII: the font has no such glyph.
const NONE: u8 = u8::MAX;

/// Counts a font file's glyphs and their columns.
#[allow(
    clippy::indexing_slicing,
    clippy::arithmetic_side_effects,
    reason = "runs while compiling only: a font file that does not fit its form stops the build"
)]
pub(super) const fn measure(art: &str, rows: usize) -> (usize, usize) {
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
    (glyphs, columns)
}

/// Packs a font file's pixels; the sizes are those of [`measure`].
#[allow(
    clippy::indexing_slicing,
    clippy::arithmetic_side_effects,
    clippy::cast_possible_truncation,
    clippy::panic,
    reason = "runs while compiling only: a font file that does not fit its form stops the build"
)]
pub(super) const fn pack<const GLYPHS: usize, const COLUMNS: usize>(art: &str, rows: usize) -> Packed<GLYPHS, COLUMNS> {
    let text = art.as_bytes();
    let mut packed = Packed {
        ascii: [NONE; 128],
        characters: [0; GLYPHS],
        ends: [0; GLYPHS],
        columns: [0; COLUMNS],
    };
    let names = line_end(text, 0);
    let (mut at, mut glyph) = (0, 0);
    while at < names {
        let (character, length) = decode(text, at);
        if character < 128 {
            packed.ascii[character as usize] = glyph as u8;
        }
        packed.characters[glyph] = character;
        glyph += 1;
        at += length;
    }
    if glyph != GLYPHS {
        panic!("a font file's first line names its glyphs");
    }
    let (mut glyphs, mut columns, mut at) = (0, 0, names + 1);
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
                        b'#' => packed.columns[columns] |= 1 << row,
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

/// The character of UTF-8 text that begins at `at`, of three bytes at most, and how many it takes (RFC 3629, section 3).
#[allow(
    clippy::indexing_slicing,
    clippy::arithmetic_side_effects,
    reason = "runs while compiling only"
)]
const fn decode(text: &[u8], at: usize) -> (u16, usize) {
    let first = text[at] as u16;
    match first {
        0..0x80 => (first, 1),
        0x80..0xE0 => ((first & 0x1F) << 6 | text[at + 1] as u16 & 0x3F, 2),
        _ => (
            (first & 0xF) << 12 | (text[at + 1] as u16 & 0x3F) << 6 | text[at + 2] as u16 & 0x3F,
            3,
        ),
    }
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

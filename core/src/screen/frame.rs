//! What is drawn on: a surface, and the frame that both shells send to their panel.

use super::layout::{COLUMNS, Field, ROWS};

/// Something to draw on, 128 columns by 64 rows, a column of a glyph at a time.
///
/// On the device and in the simulator it is a [`Frame`]; the tests bring one that finds fault with whoever draws outside or twice.
pub trait Surface {
    /// Makes everything dark.
    fn clear(&mut self);

    /// Lights a whole field.
    fn fill(&mut self, field: Field);

    /// Lights the pixels of `column` that are set in `bits`, or makes them dark; bit 0 is at `row`, the next one below it.
    fn put(&mut self, column: i32, row: i32, bits: u32, lit: bool);
}

/// One picture in the memory layout of the panel: eight pages of 128 columns, eight rows to a byte, bit 0 on top (SSD1306 and SH1106 data
/// sheets, "Graphic Display Data RAM").
#[derive(Clone, Copy, PartialEq, Eq, Hash)]
pub struct Frame([u8; BYTES]);

impl Frame {
    /// Nothing lit.
    pub const DARK: Self = Self([0; BYTES]);

    /// Whether the pixel in column `x`, row `y` is lit; outside, nothing is.
    #[must_use]
    pub fn is_lit(&self, x: usize, y: usize) -> bool {
        self.page(y / 8)
            .get(x)
            .is_some_and(|&byte| byte & ROW_BITS.get(y % 8).copied().unwrap_or(0) != 0)
    }

    /// All pages, one after the other.
    #[must_use]
    pub const fn bytes(&self) -> &[u8; BYTES] {
        &self.0
    }

    /// All pages, to be overwritten.
    pub const fn bytes_mut(&mut self) -> &mut [u8; BYTES] {
        &mut self.0
    }

    /// Eight rows, 128 columns from the left; nothing past the last page.
    #[must_use]
    pub fn page(&self, page: usize) -> &[u8] {
        let first = page.saturating_mul(COLUMNS as usize);
        self.0
            .get(first..first.saturating_add(COLUMNS as usize))
            .unwrap_or_default()
    }

    /// Lights the rows of a column that are set in `rows`, or makes them dark.
    fn put_rows(&mut self, column: i32, rows: u64, lit: bool) {
        let Ok(column @ 0..WIDTH) = usize::try_from(column) else {
            return;
        };
        let bytes = self.0.iter_mut().skip(column).step_by(WIDTH);
        for (byte, bits) in bytes.zip(rows.to_le_bytes()) {
            *byte = if lit { *byte | bits } else { *byte & !bits };
        }
    }
}

impl Surface for Frame {
    fn clear(&mut self) {
        self.0.fill(0);
    }

    fn fill(&mut self, field: Field) {
        let height = u64::BITS.saturating_sub(u32::from(field.height));
        let ground = u64::MAX.checked_shr(height).unwrap_or(0);
        for column in field.left..field.right() {
            self.put_rows(column, down(ground, field.top), true);
        }
    }

    fn put(&mut self, column: i32, row: i32, bits: u32, lit: bool) {
        self.put_rows(column, down(u64::from(bits), row), lit);
    }
}

/// Rows moved down by `by`, or up if it is negative; what leaves the display is gone.
fn down(rows: u64, by: i32) -> u64 {
    let moved = if by < 0 {
        rows.checked_shr(by.unsigned_abs())
    } else {
        rows.checked_shl(by.unsigned_abs())
    };
    moved.unwrap_or(0)
}

impl Default for Frame {
    fn default() -> Self {
        Self::DARK
    }
}

impl core::fmt::Debug for Frame {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        let lit: u32 = self.0.iter().map(|byte| byte.count_ones()).sum();
        write!(f, "Frame({lit} pixels lit)")
    }
}

const WIDTH: usize = COLUMNS as usize;
const BYTES: usize = WIDTH * ROWS as usize / 8;
/// The bit of each row within its page, uppermost first.
const ROW_BITS: [u8; 8] = [1, 2, 4, 8, 16, 32, 64, 128];

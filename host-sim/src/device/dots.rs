//! A frame as text for a terminal, every pixel of it.

use crate::device::panel::{Frame, HEIGHT, WIDTH};

/// 64 columns by 16 rows: each Braille sign is 2 by 4 pixels. Small, and fits any terminal.
#[must_use]
pub fn braille(frame: &Frame) -> Vec<String> {
    let sign = |column: usize, row: usize| {
        let lit = BRAILLE_DOTS
            .iter()
            .zip(0..)
            .filter(|((x, y), _)| frame.is_lit(2 * column + x, 4 * row + y));
        let dots: u32 = lit.map(|(_, dot)| 1 << dot).sum();
        char::from_u32(BRAILLE_BLANK + dots).unwrap_or(' ')
    };
    let line = |row| (0..WIDTH / 2).map(|column| sign(column, row)).collect();
    (0..HEIGHT / 4).map(line).collect()
}

/// 128 columns by 32 rows: each half block is 1 by 2 pixels, as square as a terminal can. Large.
#[must_use]
pub fn half_blocks(frame: &Frame) -> Vec<String> {
    let sign = |x: usize, row: usize| match (frame.is_lit(x, 2 * row), frame.is_lit(x, 2 * row + 1)) {
        (false, false) => ' ',
        (true, false) => '▀',
        (false, true) => '▄',
        (true, true) => '█',
    };
    let line = |row| (0..WIDTH).map(|x| sign(x, row)).collect();
    (0..HEIGHT / 2).map(line).collect()
}

/// 256 columns by 64 rows: two full blocks a pixel. For a wall.
#[must_use]
pub fn blocks(frame: &Frame) -> Vec<String> {
    let sign = |x: usize, y: usize| if frame.is_lit(x, y) { "██" } else { "  " };
    let line = |y| (0..WIDTH).map(|x| sign(x, y)).collect();
    (0..HEIGHT).map(line).collect()
}

/// Column and row of each dot of a Braille sign, in the order of its bits (Unicode, block "Braille Patterns").
const BRAILLE_DOTS: [(usize, usize); 8] = [(0, 0), (0, 1), (0, 2), (1, 0), (1, 1), (1, 2), (0, 3), (1, 3)];
/// The sign without dots.
const BRAILLE_BLANK: u32 = 0x2800;

//! The two fonts, our own: drawn for this panel's pitch and packed while compiling.

use super::font::{Font, Packed, measure, pack};

/// The figures of the main number, 23 rows high, with the minus sign and both decimal marks.
pub const FIGURES: Font = Font::new(FIGURES_ART, [25, 23, 2], &FIGURES_PACKED);

/// Running text: capitals 8 rows high.
pub const TEXT: Font = Font::new(TEXT_ART, [10, 8, 1], &TEXT_PACKED);

const FIGURES_ART: &str = include_str!("figures.txt");
const FIGURES_SIZE: (usize, usize) = measure(FIGURES_ART, 25);
static FIGURES_PACKED: Packed<{ FIGURES_SIZE.0 }, { FIGURES_SIZE.1 }> = pack(FIGURES_ART, 25);

const TEXT_ART: &str = include_str!("text.txt");
const TEXT_SIZE: (usize, usize) = measure(TEXT_ART, 10);
static TEXT_PACKED: Packed<{ TEXT_SIZE.0 }, { TEXT_SIZE.1 }> = pack(TEXT_ART, 10);

//! The fonts, our own: drawn for this panel's pitch and packed while compiling.

use super::font::{Font, Packed, measure, pack};

/// The figures of the main number, 23 rows high, with the minus sign, both decimal marks and the two steady signs.
pub static FIGURES: Font = Font::new([25, 23, 2], &FIGURES_PACKED);

/// Headings and the words that must be read from afar: capitals 13 rows high.
pub static HEADING: Font = Font::new([15, 13, 1], &HEADING_PACKED);

/// Running text: capitals 8 rows high.
pub static TEXT: Font = Font::new([9, 8, 1], &TEXT_PACKED);

/// The small signs of the top line.
pub(super) static SIGNS: Font = Font::new([11, 11, 2], &SIGNS_PACKED);

const FIGURES_ART: &str = include_str!("figures.txt");
const FIGURES_SIZE: (usize, usize) = measure(FIGURES_ART, 25);
static FIGURES_PACKED: Packed<{ FIGURES_SIZE.0 }, { FIGURES_SIZE.1 }> = pack(FIGURES_ART, 25);

const HEADING_ART: &str = include_str!("heading.txt");
const HEADING_SIZE: (usize, usize) = measure(HEADING_ART, 15);
static HEADING_PACKED: Packed<{ HEADING_SIZE.0 }, { HEADING_SIZE.1 }> = pack(HEADING_ART, 15);

const TEXT_ART: &str = include_str!("text.txt");
const TEXT_SIZE: (usize, usize) = measure(TEXT_ART, 9);
static TEXT_PACKED: Packed<{ TEXT_SIZE.0 }, { TEXT_SIZE.1 }> = pack(TEXT_ART, 9);

const SIGNS_ART: &str = include_str!("signs.txt");
const SIGNS_SIZE: (usize, usize) = measure(SIGNS_ART, 11);
static SIGNS_PACKED: Packed<{ SIGNS_SIZE.0 }, { SIGNS_SIZE.1 }> = pack(SIGNS_ART, 11);

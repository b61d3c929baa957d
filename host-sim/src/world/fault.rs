//! Digital faults: words that arrive wrong although the converter measured right.

use super::filter::seen;
use super::random::Stream;

/// What happens to the next word (or words).
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum DigitalFault {
    /// One of 24 bits arrives inverted.
    BitFlip(u8),
    /// Every bit reads one: the data line stayed high.
    AllOnes,
    /// 2^23 - 1, the converter's own mark of overload.
    Saturated,
    /// Every bit reads zero: the data line stayed low.
    Zero,
    /// One clock pulse too many was seen: the word is shifted up by a bit.
    Shifted,
    /// The word never arrives.
    MissingWord,
    /// The converter was reset: five words of a filter that fills anew.
    Reset,
}

impl std::fmt::Display for DigitalFault {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::BitFlip(bit) => write!(f, "bit {bit} inverted"),
            Self::AllOnes => f.write_str("all ones"),
            Self::Saturated => f.write_str("saturated"),
            Self::Zero => f.write_str("all zeros"),
            Self::Shifted => f.write_str("shifted by a bit"),
            Self::MissingWord => f.write_str("missing"),
            Self::Reset => f.write_str("converter reset"),
        }
    }
}

impl DigitalFault {
    /// One of them, all equally likely, bits too.
    pub fn draw(random: &mut Stream) -> Self {
        match random.index(7) {
            0 => Self::BitFlip(u8::try_from(random.index(24)).unwrap_or(0)),
            1 => Self::AllOnes,
            2 => Self::Saturated,
            3 => Self::Zero,
            4 => Self::Shifted,
            5 => Self::MissingWord,
            _ => Self::Reset,
        }
    }

    /// Words it spoils.
    #[must_use]
    pub const fn words(self) -> u8 {
        match self {
            Self::Reset => 5,
            _ => 1,
        }
    }

    /// What arrives instead of `word`, as the `nth` word spoilt (from 0).
    #[must_use]
    pub fn spoil(self, word: i32, nth: u8) -> Option<i32> {
        let bits = word & 0xFF_FFFF;
        match self {
            Self::BitFlip(bit) => Some(signed(bits ^ (1 << bit))),
            Self::AllOnes => Some(-1),
            Self::Saturated => Some(0x7F_FFFF),
            Self::Zero => Some(0),
            Self::Shifted => Some(signed(bits << 1)),
            Self::MissingWord => None,
            // A reset falls half-way between conversions.
            Self::Reset => Some((f64::from(word) * seen(f64::from(nth) - 0.5)) as i32),
        }
    }
}

/// The low 24 bits as a two's complement number.
fn signed(bits: i32) -> i32 {
    (bits << 8) >> 8
}

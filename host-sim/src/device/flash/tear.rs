//! What an operation leaves when power fails in the middle of it.

use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64Mcg;

/// Which of the bits that the operation would have changed it did change.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Tear {
    /// None: power failed before it.
    Nothing,
    /// All: power failed after it, before anybody could learn of it.
    All,
    /// Those of the first half of its bytes.
    Prefix,
    /// Those of the second half.
    Suffix,
    /// Each with even odds.
    Subset(u64),
    /// An erase that had only done its first step, which turns all bits to zero; a program operation is done in full.
    Zeros,
}

impl Tear {
    /// The kinds of tear, the last but one with this seed.
    #[must_use]
    pub const fn all(seed: u64) -> [Self; 6] {
        [
            Self::Nothing,
            Self::All,
            Self::Prefix,
            Self::Suffix,
            Self::Subset(seed),
            Self::Zeros,
        ]
    }

    /// Changes `bytes`, on the way to `wanted`, as far as the operation got.
    pub(super) fn apply(self, bytes: &mut [u8], wanted: &[u8], erasing: bool) {
        let half = bytes.len() / 2;
        match self {
            Self::Nothing => {}
            Self::Zeros if erasing => bytes.fill(0),
            Self::All | Self::Zeros => bytes.copy_from_slice(wanted),
            Self::Prefix => bytes[..half].copy_from_slice(&wanted[..half]),
            Self::Suffix => bytes[half..].copy_from_slice(&wanted[half..]),
            Self::Subset(seed) => {
                let mut random = Pcg64Mcg::seed_from_u64(seed);
                for (byte, wanted) in bytes.iter_mut().zip(wanted) {
                    *byte ^= (*byte ^ wanted) & random.random::<u8>();
                }
            }
        }
    }
}

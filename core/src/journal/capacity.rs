//! How full the journal is, long before it matters.

use super::Journal;
use super::ring::Ring;

/// How full the journal is.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Usage {
    /// Part of the room for condensed pairs that is taken by those that are kept, percent.
    pub pairs_percent: u8,
    /// Part of the room for marks that is taken by marks still needed, percent. Marks of condensed pairs do not count: they
    /// make room when it is wanted.
    pub marks_percent: u8,
}

impl Usage {
    /// From here on the knitter is told to make room: a tenth of it is left, which on a journal of 1 MiB is room for a hundred pairs.
    pub const WARNING_PERCENT: u8 = 90;

    /// The higher of the two.
    #[must_use]
    pub fn percent(self) -> u8 {
        self.pairs_percent.max(self.marks_percent)
    }

    /// Whether to warn.
    #[must_use]
    pub fn is_nearly_full(self) -> bool {
        self.percent() >= Self::WARNING_PERCENT
    }
}

impl Journal {
    /// How full it is, counted in whole sectors.
    #[must_use]
    pub fn usage(&self) -> Usage {
        Usage {
            pairs_percent: percent(&self.pairs, self.begin_of_pairs()),
            marks_percent: percent(&self.marks, self.begin()),
        }
    }
}

/// The sectors from `begin` to the head, which is itself half full on the average, in percent of the ring.
fn percent(ring: &Ring, begin: u16) -> u8 {
    let filled = u32::from(ring.age(begin)).saturating_mul(100);
    let percent = filled
        .checked_div(u32::from(ring.count().saturating_sub(1)))
        .unwrap_or(100);
    u8::try_from(percent).unwrap_or(100)
}

//! What is done to the chip, and how often.

/// One operation of the chip: what a power cut can fall into.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Operation {
    /// A sector is erased.
    Erase {
        /// Its first byte.
        start: u32,
    },
    /// A page, or a part of one, is programmed.
    Program {
        /// The first byte programmed.
        start: u32,
        /// How many bytes.
        length: u32,
    },
}

impl Operation {
    /// The first byte that it is for.
    #[must_use]
    pub const fn start(self) -> u32 {
        match self {
            Self::Erase { start } | Self::Program { start, .. } => start,
        }
    }
}

/// How often what was done since the chip was made or [`super::SimFlash::forget_counts`].
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Counts {
    /// Calls that read.
    pub reads: u64,
    /// Bytes read.
    pub bytes_read: u64,
    /// Pages programmed, in whole or in part.
    pub programs: u64,
    /// Bytes programmed.
    pub bytes_programmed: u64,
    /// Sectors erased.
    pub erases: u64,
    /// Programmed bytes in which a one was asked for where a zero stood already: such a byte is not what was asked for.
    pub overwritten: u64,
}

impl Counts {
    /// Operations that a power cut can fall into.
    #[must_use]
    pub const fn operations(&self) -> u64 {
        self.programs + self.erases
    }
}

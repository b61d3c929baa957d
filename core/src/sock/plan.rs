//! The plan: a pair's sections in knitting order, each with its sock and yarn letter.

use heapless::Vec;
use serde::{Deserialize, Serialize};

use super::yarn::YarnLetter;
use crate::sock::{Construction, SectionKind, Sock};

/// Most sections a pair's plan can have: twelve a sock.
pub const MAX_LINES: usize = 24;

/// One section to knit.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Line {
    /// What is knitted.
    pub kind: SectionKind,
    /// On which sock.
    pub sock: Sock,
    /// From which yarn.
    pub yarn: YarnLetter,
    /// How it is worked.
    pub construction: Construction,
    /// Stitches of a round; 0 where it is not known.
    pub stitches: u8,
}

/// A pair's sections in knitting order.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Plan {
    /// The lines in knitting order.
    pub lines: Vec<Line, MAX_LINES>,
}

impl Plan {
    /// The line at `index`, if the plan goes that far.
    #[must_use]
    pub fn line(&self, index: u8) -> Option<Line> {
        self.lines.get(usize::from(index)).copied()
    }

    /// The same section on the other sock: same kind and yarn, and the same place among such lines.
    #[must_use]
    pub fn counterpart(&self, index: u8) -> Option<u8> {
        let line = self.line(index)?;
        let alike = |other: &Line, sock: Sock| other.kind == line.kind && other.yarn == line.yarn && other.sock == sock;
        let place = self
            .lines
            .iter()
            .take(usize::from(index))
            .filter(|other| alike(other, line.sock))
            .count();
        let other_sock = match line.sock {
            Sock::First => Sock::Second,
            Sock::Second => Sock::First,
        };
        let found = self
            .lines
            .iter()
            .enumerate()
            .filter(|(_, other)| alike(other, other_sock))
            .nth(place)?;
        u8::try_from(found.0).ok()
    }
}

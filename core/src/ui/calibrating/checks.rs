//! Repeatability and corner error: the same load placed again and again, and what the readings differ by.

use heapless::Vec;

use crate::screen::Word;
use crate::units::{FineCounts, Milligrams};

/// Which check.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Check {
    /// The same load on the middle of the pan, three times (OIML R 60 asks for three in class C).
    Repeat,
    /// The same load at the front, the back, the left and the right.
    Corners,
}

/// The placements so far, and the results.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct Checks {
    placed: Vec<FineCounts, 4>,
    running: Option<Check>,
    repeat: Option<Milligrams>,
    corners: Option<Milligrams>,
}

impl Check {
    const fn placements(self) -> usize {
        match self {
            Self::Repeat => 3,
            Self::Corners => 4,
        }
    }

    /// What to do for the placement after `placed` others.
    pub(super) const fn word(self, placed: u8) -> Word {
        match (self, placed) {
            (Self::Repeat, 0) => Word::PlaceInMiddle,
            (Self::Repeat, _) => Word::LiftAndPlaceAgain,
            (Self::Corners, 0) => Word::PlaceInFront,
            (Self::Corners, 1) => Word::PlaceAtBack,
            (Self::Corners, 2) => Word::PlaceAtLeft,
            (Self::Corners, _) => Word::PlaceAtRight,
        }
    }
}

impl Checks {
    /// How many placements of this check are done.
    pub(super) fn placed(&self, check: Check) -> u8 {
        if self.running == Some(check) {
            u8::try_from(self.placed.len()).unwrap_or(u8::MAX)
        } else {
            0
        }
    }

    /// Takes a placement; says whether it was the last.
    pub(super) fn place(&mut self, check: Check, level: FineCounts, mg_per_count: f32) -> bool {
        if self.running != Some(check) {
            self.running = Some(check);
            self.placed.clear();
        }
        // Four fit, the most that a check asks for.
        let _ = self.placed.push(level);
        if self.placed.len() < check.placements() {
            return false;
        }
        let most = self.placed.iter().max().map_or(0, |level| level.0);
        let least = self.placed.iter().min().map_or(0, |level| level.0);
        let spread = most.saturating_sub(least) as f32 / FineCounts::PER_COUNT as f32 * mg_per_count;
        let spread = Some(Milligrams::whole(spread).abs());
        match check {
            Check::Repeat => self.repeat = spread,
            Check::Corners => self.corners = spread,
        }
        self.running = None;
        true
    }

    /// By how much the readings of a finished check differ.
    pub(super) const fn spread(&self, check: Check) -> Option<Milligrams> {
        match check {
            Check::Repeat => self.repeat,
            Check::Corners => self.corners,
        }
    }
}

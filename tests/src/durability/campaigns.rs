//! Which stories are cut where: in a minute as a test, and everywhere in a long run.

use super::scenes::NEARLY_FULL;
use super::{CutCounts, Reach, Step, cut_at_random, cut_everywhere};
use super::{a_pair_with_everything, letting_pairs_go, only_settings, only_visits, round_the_ring};

/// A story, and which of its steps are cut.
#[derive(Clone, Copy, Debug)]
pub struct Campaign {
    /// What it shows.
    pub name: &'static str,
    story: fn() -> Vec<Step>,
    /// The first step that is cut.
    begin: usize,
    reach: Reach,
    kib: usize,
    /// Cuts at least that are tried.
    pub planned: u64,
}

/// All of them.
pub const CAMPAIGNS: [Campaign; 5] = [
    Campaign {
        name: "a pair with everything",
        story: a_pair_with_everything,
        begin: 0,
        reach: Reach::Every,
        kib: 48,
        planned: 2_900,
    },
    // The ring of marks has 15 sectors and is full after some 70 pairs; of the next ones, each fifth makes a checkpoint and
    // frees a sector. A pair has 32 steps.
    Campaign {
        name: "making room",
        story: || round_the_ring(76),
        begin: 70 * 32,
        reach: Reach::Telling,
        kib: 96,
        planned: 1_500,
    },
    // The ring of pairs has six sectors and begins the last; two of the oldest are let go, one after the other, and overwritten.
    Campaign {
        name: "letting pairs go",
        story: || letting_pairs_go(NEARLY_FULL, 32),
        begin: NEARLY_FULL as usize * 32,
        reach: Reach::Telling,
        kib: 96,
        planned: 1_000,
    },
    Campaign {
        name: "settings alone",
        story: || only_settings(1_600),
        begin: 1_000,
        reach: Reach::Telling,
        kib: 48,
        planned: 3_000,
    },
    Campaign {
        name: "visits that overwrite the oldest",
        story: || only_visits(900),
        begin: 500,
        reach: Reach::Telling,
        kib: 48,
        planned: 1_000,
    },
];

impl Campaign {
    /// Cuts the story; every step of the range, if it is to be `thorough`.
    ///
    /// # Errors
    /// As [`cut_everywhere`].
    pub fn cut(&self, thorough: bool) -> Result<CutCounts, String> {
        let reach = if thorough { Reach::Every } else { self.reach };
        cut_everywhere(&(self.story)(), self.begin, reach, self.kib << 10, 1)
    }
}

/// A scale that loses power again and again while pairs are knitted, by seed. Gives the number of cuts.
///
/// # Errors
/// As [`cut_at_random`].
pub fn keep_losing_power(seed: u64) -> Result<u64, String> {
    cut_at_random(&round_the_ring(40), 3, 48 << 10, seed)
}

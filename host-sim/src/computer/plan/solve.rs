//! The best assignment of leftovers to sections, exactly.
//!
//! Every section is knitted from one leftover or from none (then from the main yarn). A leftover may take any set of sections
//! whose *need*, reserve included, it holds. Of all assignments the best is the one that, in this order,
//!
//! 1. knits up most grams of leftovers (expected mass),
//! 2. uses most leftovers up: what is then expected to stay of them is no more than a given scrap,
//! 3. opens fewest leftovers.
//!
//! Leftover by leftover, the best for each set of sections covered so far is kept (dynamic programming over subsets): at most
//! `3^sections` steps a leftover, 6.4 million for twelve and twelve.

use yarn_scale_core::units::Milligrams;

use super::problem::{Leftover, Sections, Set};

/// An assignment: for each leftover the set of sections that it takes.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Assignment {
    /// By leftover.
    pub sets: Vec<Set>,
    /// What it is worth.
    pub worth: Worth,
}

/// What an assignment is worth; compared from the first field on.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub struct Worth {
    /// Grams knitted up, in mg.
    pub knitted: i32,
    /// Leftovers used up.
    pub used_up: i32,
    /// Leftovers opened, negative.
    pub unopened: i32,
}

impl Worth {
    /// What one leftover adds if it takes a set; `None` if it does not hold what that needs.
    #[must_use]
    pub fn of(leftover: &Leftover, sections: &Sections, set: Set, scrap: Milligrams) -> Option<Self> {
        if set == 0 {
            return Some(Self::default());
        }
        if sections.need(set) > leftover.mass {
            return None;
        }
        let knitted = sections.expected(set);
        Some(Self {
            knitted: knitted.0,
            used_up: i32::from(leftover.mass - knitted <= scrap),
            unopened: -1,
        })
    }

    fn plus(self, other: Self) -> Self {
        Self {
            knitted: self.knitted + other.knitted,
            used_up: self.used_up + other.used_up,
            unopened: self.unopened + other.unopened,
        }
    }

    /// All three in one number, such that the numbers of an assignment's leftovers add up and compare as worths do: of at most
    /// 24 leftovers neither count reaches 256.
    fn packed(self) -> i64 {
        (i64::from(self.knitted) << 16) + i64::from(self.used_up << 8) + i64::from(self.unopened)
    }
}

/// The best assignment. Among equally good ones always the same.
#[must_use]
pub fn solve(leftovers: &[Leftover], sections: &Sections, scrap: Milligrams) -> Assignment {
    let sets = usize::from(sections.all()) + 1;
    let mut best = vec![NOT_REACHED; sets];
    best[0] = 0;
    let mut taken = Vec::with_capacity(leftovers.len());
    for leftover in leftovers {
        let (after, by_set) = with_one_more(leftover, sections, scrap, &best);
        best = after;
        taken.push(by_set);
    }
    let mut covered = (0..sets).rev().max_by_key(|&set| best[set]).unwrap_or(0);
    let mut chosen: Vec<Set> = taken
        .iter()
        .rev()
        .map(|by_set| {
            let set = by_set[covered];
            covered &= !usize::from(set);
            set
        })
        .collect();
    chosen.reverse();
    let each = leftovers
        .iter()
        .zip(&chosen)
        .filter_map(|(leftover, &set)| Worth::of(leftover, sections, set, scrap));
    let worth = each.fold(Worth::default(), Worth::plus);
    Assignment { sets: chosen, worth }
}

/// Best worth for each set covered once this leftover may take part, and what it then takes.
fn with_one_more(leftover: &Leftover, sections: &Sections, scrap: Milligrams, before: &[i64]) -> (Vec<i64>, Vec<Set>) {
    let mut after = before.to_vec();
    let mut taken: Vec<Set> = vec![0; before.len()];
    for set in 1..before.len() {
        let Some(worth) = Worth::of(leftover, sections, set as Set, scrap) else {
            continue;
        };
        let worth = worth.packed();
        // All sets that leave this one free.
        let free = (before.len() - 1) & !set;
        let mut covered = free;
        loop {
            let together = before[covered] + worth;
            if together > after[covered | set] {
                after[covered | set] = together;
                taken[covered | set] = set as Set;
            }
            if covered == 0 {
                break;
            }
            covered = (covered - 1) & free;
        }
    }
    (after, taken)
}

/// Less than any sum of worths, so that what rests on it never wins; far from overflowing when worths are added.
const NOT_REACHED: i64 = i64::MIN / 2;

//! Leftovers, sections, and what any set of sections needs.

use yarn_scale_core::forecast::{Rule, Socks, Wanted, answer, student_quantile};
use yarn_scale_core::measured::Measured;
use yarn_scale_core::sock::{Decitex, History};
use yarn_scale_core::units::Milligrams;

/// Most sections that can be planned: all their subsets are looked at.
pub const MOST_SECTIONS: usize = 12;

/// Most leftovers.
pub const MOST_LEFTOVERS: usize = 24;

/// A set of sections, one bit each.
pub type Set = u16;

/// A leftover.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Leftover {
    /// Its name.
    pub name: String,
    /// What it weighs.
    pub mass: Milligrams,
}

/// Sections to knit from leftovers, and what every set of them takes and needs, by set.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Sections {
    names: Vec<String>,
    expected: Vec<i32>,
    need: Vec<i32>,
}

/// A section by numbers alone: what it takes and how much that varies.
#[derive(Clone, Debug, PartialEq)]
pub struct Numbers {
    /// Its name.
    pub name: String,
    /// What it takes, mg.
    pub takes: f64,
    /// Standard deviation, mg, and the number of past pairs that it rests on.
    pub spread: Option<(f64, u8)>,
}

/// Why sections cannot be planned.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Unplannable {
    /// More than [`MOST_SECTIONS`].
    TooMany,
    /// Of one of them nothing is known.
    Unknown,
}

impl Sections {
    /// Sections by numbers. The reserve of each is that of a prediction interval, or a quarter over where no spread is given; for
    /// several sections the reserves add up, since the sections of one pair run over together.
    ///
    /// # Errors
    /// If there are too many.
    pub fn from_numbers(sections: &[Numbers], rule: Rule, ends: u8, yarn: Decitex) -> Result<Self, Unplannable> {
        let each: Vec<(i32, i32)> = sections
            .iter()
            .map(|section| section.takes_and_needs(rule, ends, yarn))
            .collect();
        let sum = |set: Set, of: fn(&(i32, i32)) -> i32| {
            let chosen = each.iter().enumerate().filter(|(place, _)| set & 1 << place != 0);
            chosen.map(|(_, one)| of(one)).fold(0, i32::saturating_add)
        };
        let names = sections.iter().map(|section| section.name.clone()).collect();
        Self::new(names, |set| Some((sum(set, |one| one.0), sum(set, |one| one.1))))
    }

    /// Sections by the knitter's own records: the spread of the sum over her past pairs, whatever the sections have in common.
    ///
    /// The same kind may stand there twice, once for each sock; knitted from one leftover the two count as both socks.
    ///
    /// # Errors
    /// If there are too many, or of one nothing is known.
    pub fn from_history(sections: &[(String, Wanted)], history: &History, rule: Rule) -> Result<Self, Unplannable> {
        let names = sections.iter().map(|(name, _)| name.clone()).collect();
        Self::new(names, |set| {
            let wanted = merged(sections, set);
            let found = answer(Measured::default(), &wanted, history, rule)?;
            Some((found.expected.0, found.need.0))
        })
    }

    /// Sections of several pairs, each as its own pair wants it: both socks of a pair are one already, and those of two pairs are two.
    ///
    /// # Errors
    /// If there are too many, or of one nothing is known.
    pub fn of_pairs(sections: &[(String, Wanted)], history: &History, rule: Rule) -> Result<Self, Unplannable> {
        let names = sections.iter().map(|(name, _)| name.clone()).collect();
        Self::new(names, |set| {
            let chosen = sections.iter().enumerate().filter(|(place, _)| set & 1 << place != 0);
            let wanted: Vec<Wanted> = chosen.map(|(_, (_, wanted))| *wanted).collect();
            let found = answer(Measured::default(), &wanted, history, rule)?;
            Some((found.expected.0, found.need.0))
        })
    }

    fn new(names: Vec<String>, of_set: impl Fn(Set) -> Option<(i32, i32)>) -> Result<Self, Unplannable> {
        if names.len() > MOST_SECTIONS {
            return Err(Unplannable::TooMany);
        }
        let sets = 0..1_u32 << names.len();
        let all: Option<Vec<_>> = sets.map(|set| of_set(set as Set)).collect();
        let (expected, need) = all.ok_or(Unplannable::Unknown)?.into_iter().unzip();
        Ok(Self { names, expected, need })
    }

    /// How many sections there are.
    #[must_use]
    pub fn count(&self) -> usize {
        self.names.len()
    }

    /// What a set takes, as likely more as less.
    #[must_use]
    pub fn expected(&self, set: Set) -> Milligrams {
        Milligrams(self.expected[usize::from(set)])
    }

    /// What a set needs to be sure.
    #[must_use]
    pub fn need(&self, set: Set) -> Milligrams {
        Milligrams(self.need[usize::from(set)])
    }

    /// The names of the sections of a set.
    #[must_use]
    pub fn names(&self, set: Set) -> Vec<&str> {
        let named = self.names.iter().enumerate();
        named
            .filter(|(place, _)| set & 1 << place != 0)
            .map(|(_, name)| name.as_str())
            .collect()
    }

    /// All sections.
    #[must_use]
    pub fn all(&self) -> Set {
        ((1_u32 << self.count()) - 1) as Set
    }
}

impl Numbers {
    fn takes_and_needs(&self, rule: Rule, ends: u8, yarn: Decitex) -> (i32, i32) {
        let Some((spread, pairs)) = self.spread.filter(|&(_, pairs)| pairs >= 2) else {
            return (self.takes.round() as i32, (1.25 * self.takes).ceil() as i32);
        };
        let pairs = f64::from(pairs);
        let factor = f64::from(student_quantile(rule.confidence, pairs as f32 - 1.0));
        let reserve = factor * spread * (1.0 + 1.0 / pairs).sqrt();
        let ends = yarn.mass_of(u32::from(ends) * u32::from(rule.end_mm)).0;
        let takes = self.takes.round() as i32 + ends;
        (takes, (self.takes + reserve).ceil() as i32 + ends)
    }
}

/// The sections of a set, two of one kind as one on both socks.
fn merged(sections: &[(String, Wanted)], set: Set) -> Vec<Wanted> {
    let mut merged: Vec<Wanted> = Vec::new();
    for (place, (_, section)) in sections.iter().enumerate() {
        if set & 1 << place == 0 {
            continue;
        }
        let same = |one: &&mut Wanted| {
            one.kind == section.kind && one.construction == section.construction && one.socks == Socks::One
        };
        match merged.iter_mut().find(same) {
            Some(one) if section.socks == Socks::One => one.socks = Socks::Both,
            _ => merged.push(*section),
        }
    }
    merged
}

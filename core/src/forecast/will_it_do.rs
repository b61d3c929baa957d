//! Will it do? A leftover on the pan, and every choice among the contrast sections.

use core::cmp::{Ordering, Reverse};

use heapless::Vec;

use super::answer::{Answer, Rule, Word, answer};
use super::wanted::{Socks, Wanted};
use crate::measured::Measured;
use crate::sock::{History, SectionKind};

/// Most kinds of sections that are combined; further ones are passed over.
pub(crate) const MOST_KINDS: usize = 4;

/// Most choices: every combination of the kinds but none, on one sock and on both.
pub(crate) const MOST_CHOICES: usize = ((1 << MOST_KINDS) - 1) * 2;

/// A set of section kinds.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct KindSet(u16);

impl KindSet {
    /// The set with one more kind.
    #[must_use]
    pub const fn with(self, kind: SectionKind) -> Self {
        Self(self.0 | 1 << kind as u8)
    }

    /// Whether a kind is in it.
    #[must_use]
    pub const fn has(self, kind: SectionKind) -> bool {
        self.0 & (1 << kind as u8) != 0
    }

    /// The kinds in it, cuff-down.
    pub fn kinds(self) -> impl Iterator<Item = SectionKind> {
        SectionKind::ALL.into_iter().filter(move |&kind| self.has(kind))
    }

    /// Every choice of some of its kinds, at least one.
    pub fn subsets(self) -> impl Iterator<Item = Self> {
        // From all of it downwards: each is the next smaller number with none but its bits.
        let next = move |&Self(chosen): &Self| Some(Self(chosen.wrapping_sub(1) & self.0));
        core::iter::successors(Some(self), next).take_while(|&Self(chosen)| chosen > 0)
    }

    /// How many there are.
    #[must_use]
    pub const fn count(self) -> u32 {
        self.0.count_ones()
    }
}

/// One way to use a leftover, and whether it will do.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Choice {
    /// The sections that would be knitted from it.
    pub kinds: KindSet,
    /// On one sock or on both.
    pub socks: Socks,
    /// Whether it will do.
    pub answer: Answer,
}

/// Every choice among the `sections`, best use first; what is wanted on both socks also on one. `first` and `begun` are not looked at.
///
/// Best use: what will do before what is close before what is short; of that, both socks before one; of that, what uses
/// the leftover up most; of the close and short, what misses least. Choices of which nothing is known are left out.
#[must_use]
pub fn will_it_do(leftover: Measured, sections: &[Wanted], history: &History, rule: Rule) -> Vec<Choice, MOST_CHOICES> {
    let mut choices = Vec::new();
    let count = sections.len().min(MOST_KINDS);
    for chosen in 1_u32..1 << count {
        let twice = of(sections, chosen).all(|section| section.socks == Socks::Both);
        for socks in twice.then_some(Socks::Both).into_iter().chain([Socks::One]) {
            let (wanted, kinds) = combine(sections, chosen, socks);
            if let Some(answer) = answer(leftover, &wanted, history, rule) {
                // The capacity is the number of choices.
                let _ = choices.push(Choice { kinds, socks, answer });
                last_to_its_place(&mut choices);
            }
        }
    }
    choices
}

/// Moves the last of the choices up to where it belongs among the others, which are in order: the library's sort takes 1.7 KB, for
/// what are thirty choices at most.
fn last_to_its_place(choices: &mut [Choice]) {
    let mut rest = choices;
    while let [.., before, last] = rest
        && best_use_first(last, before).is_lt()
    {
        core::mem::swap(before, last);
        rest = rest.split_last_mut().map(|(_, rest)| rest).unwrap_or_default();
    }
}

/// The sections whose bit is set in `chosen`.
fn of(sections: &[Wanted], chosen: u32) -> impl Iterator<Item = &Wanted> {
    let places = sections.iter().take(MOST_KINDS).enumerate();
    places
        .filter(move |(place, _)| chosen & 1 << place != 0)
        .map(|(_, section)| section)
}

/// They and their kinds, wanted on so many socks.
fn combine(sections: &[Wanted], chosen: u32, socks: Socks) -> (Vec<Wanted, MOST_KINDS>, KindSet) {
    let mut wanted = Vec::new();
    let mut kinds = KindSet::default();
    for section in of(sections, chosen) {
        let section = Wanted {
            socks,
            first: None,
            begun: crate::units::Milligrams::ZERO,
            ..*section
        };
        // No more than are taken.
        let _ = wanted.push(section);
        kinds = kinds.with(section.kind);
    }
    (wanted, kinds)
}

fn best_use_first(one: &Choice, other: &Choice) -> Ordering {
    let key = |choice: &Choice| {
        let answer = choice.answer;
        let (both_first, merit) = match answer.word {
            Word::Enough => (choice.socks, answer.expected),
            Word::Close | Word::Short => (Socks::Both, answer.spare()),
        };
        (answer.word, Reverse(both_first), Reverse(merit), choice.kinds)
    };
    key(one).cmp(&key(other))
}

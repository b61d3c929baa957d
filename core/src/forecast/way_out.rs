//! The way out when a yarn runs short: which of its remaining sections would have to change yarn.

use heapless::Vec;

use super::answer::{Answer, Rule, Word, answer};
use super::wanted::Wanted;
use super::will_it_do::KindSet;
use crate::measured::Measured;
use crate::sock::History;

/// Sections to knit from another yarn, and what then holds for this one.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct WayOut {
    /// The kinds of sections that would change yarn, on every sock on which they are still to be knitted.
    pub change: KindSet,
    /// What the other yarn would have to hold: expected mass, and what is needed to be sure.
    pub other: Answer,
    /// Whether this yarn does for the rest.
    pub rest: Answer,
}

/// The least change of yarn after which `left` is enough for the rest of the `wanted` sections.
///
/// `None` if it is enough as it is, if not even the change of all helps, if nothing is known of a section, or if there are
/// more than `MOST_WANTED`. A section that
/// is begun stays. Sections that are often worked in contrast (cuff, heel, toe) change before legs, gussets and feet; of
/// those the fewest kinds, then the least mass, so that the pair stays as planned as far as can be.
#[must_use]
pub fn way_out(left: Measured, wanted: &[Wanted], history: &History, rule: Rule) -> Option<WayOut> {
    if wanted.len() > MOST_WANTED || answer(left, wanted, history, rule)?.word == Word::Enough {
        return None;
    }
    let remaining = changeable(wanted);
    // If not even the change of all that can change helps, nothing less does.
    if answer(left, &split(wanted, remaining).1, history, rule)?.word != Word::Enough {
        return None;
    }
    // The least unwelcome change first: whatever comes later is worse.
    let plain = remaining.kinds().filter(|kind| !kind.is_contrast()).count();
    for plain in 0..=plain {
        for count in 1..=remaining.kinds().count() {
            if let Some(found) = least_of(left, wanted, (plain, count), history, rule) {
                return Some(found);
            }
        }
    }
    None
}

/// The change with the least mass among those of so many kinds, so many of them plain ones, after which it is enough.
fn least_of(
    left: Measured,
    wanted: &[Wanted],
    (plain, count): (usize, usize),
    history: &History,
    rule: Rule,
) -> Option<WayOut> {
    let of_cost = |change: &KindSet| {
        let of_plain = change.kinds().filter(|kind| !kind.is_contrast()).count();
        of_plain == plain && change.kinds().count() == count
    };
    let does = |change: KindSet| {
        let (change_list, rest_list) = split(wanted, change);
        let rest = answer(left, &rest_list, history, rule)?;
        if rest.word != Word::Enough {
            return None;
        }
        let other = answer(Measured::default(), &change_list, history, rule)?;
        Some(WayOut { change, other, rest })
    };
    let ways = changeable(wanted).subsets().filter(of_cost).filter_map(does);
    ways.min_by_key(|way| way.other.need)
}

/// The kinds of sections that are not begun.
fn changeable(wanted: &[Wanted]) -> KindSet {
    let remaining = wanted.iter().filter(|wanted| wanted.begun.0 <= 0);
    remaining.fold(KindSet::default(), |set, wanted| set.with(wanted.kind))
}

/// The sections that change yarn, each then with ends of its own, and the others.
fn split(wanted: &[Wanted], change: KindSet) -> (Vec<Wanted, MOST_WANTED>, Vec<Wanted, MOST_WANTED>) {
    let mut lists = (Vec::new(), Vec::new());
    for one in wanted {
        // Neither list can be longer than `wanted`, whose length was checked.
        let _ = if change.has(one.kind) {
            lists.0.push(Wanted { ends: 2, ..*one })
        } else {
            lists.1.push(*one)
        };
    }
    lists
}

/// Most sections that can be looked at: each kind once for each sock.
pub(crate) const MOST_WANTED: usize = 12;

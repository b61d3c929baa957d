//! Cakes of the other pairs on the needles: how well one of them explains the load.

use heapless::Vec;

use super::habits::Habits;
use super::of_book::habits;
use super::weigh::{Found, MEANINGS, normal};
use super::{Amount, Considered, Meaning, OnPan, Situation, consider, priors};
use crate::book::Book;
use crate::ledger::{KNOWN_PAIRS, Pair};
use crate::measured::Measured;
use crate::sock::{Line, YarnLetter};

/// Another pair, as the owner of what is on the pan.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Elsewhere {
    /// The pair.
    pub pair: u16,
    /// Its letter of the yarn that the load looks most like.
    pub yarn: YarnLetter,
    /// Density of the weight, per mg of net mass, if any yarn of another pair lies on the pan, one as likely as another: this pair's share.
    pub likely: f32,
    /// The same if none of it was knitted since it was last weighed; also of a pair that was finished last.
    pub as_last: f32,
}

/// Each pair that is known, once.
pub(super) type Pairs = Vec<Elsewhere, KNOWN_PAIRS>;

/// Half of those cakes are as they were last weighed, the wrong one out of the bag; of the others the next section is finished, and who
/// presses thinks that their pair is in hand (assumption, no source).
const UNTOUCHED: f32 = 0.5;

/// The other open pairs: each yarn as it was last weighed, or with its next section finished.
pub(super) fn open_pairs(book: &Book, habits: Habits, net: Measured, on_pan: &OnPan) -> Pairs {
    let in_hand = book.ledger().pair();
    likely(book, net, on_pan, &|pair, yarn, used| {
        let untouched = untouched(used);
        let finished = || next(pair, yarn, habits).map_or(untouched, |next| next.density(used.value.0 as f32, used.u));
        let likely = if pair.is_open() {
            UNTOUCHED * untouched + (1.0 - UNTOUCHED) * finished()
        } else {
            0.0
        };
        (pair.number() != in_hand).then_some([likely, untouched])
    })
}

/// The pair that the load on the pan proposes without a press, and its yarn: where nothing of the pair in hand, of which the section at
/// `line` is next, and of no other pair explains it a thirtieth as well.
#[must_use]
pub fn proposed(book: &Book, line: Option<u8>, on_pan: &OnPan) -> Option<(u16, YarnLetter)> {
    let considered = match line.and_then(|line| Situation::of(book, line, on_pan)) {
        Some(situation) => consider(&situation),
        None => without_section(book, on_pan),
    };
    let likeliest = considered.first()?;
    let Meaning::OtherPair { pair, yarn } = likeliest.meaning else {
        return None;
    };
    likeliest.is_certain().then_some((pair, yarn))
}

/// No section is next: what is left of the pair's own yarns, another pair's, or a cake that nobody knows.
fn without_section(book: &Book, on_pan: &OnPan) -> Vec<Considered, MEANINGS> {
    let net = on_pan.net(book, book.bowls().in_use());
    let in_hand = book.ledger().pair();
    let own = likely(book, net, on_pan, &|pair, _, used| {
        (pair.number() == in_hand).then(|| [0.0, untouched(used)])
    });
    let mut found = Found::default();
    for own in &own {
        found.add(Meaning::Untouched(own.yarn), priors::SAME_LOAD, own.as_last);
    }
    found.add_others(&open_pairs(book, habits(book), net, on_pan), net.value.0 as f32);
    found.ranked()
}

fn untouched(used: Measured) -> f32 {
    normal(used.value.0 as f32, used.u)
}

/// Of a pair and its yarn of which so much is gone: the two densities of [`Elsewhere`], if it is one of those that are meant.
type Density<'a> = &'a dyn Fn(Pair<'_>, YarnLetter, Measured) -> Option<[f32; 2]>;

/// The pairs of whose yarns `density` says something.
fn likely(book: &Book, net: Measured, on_pan: &OnPan, density: Density<'_>) -> Pairs {
    let ledger = book.ledger();
    let (mut all, mut count) = (Pairs::new(), 0.0_f32);
    for pair in book.needles().pairs() {
        let (mut best, mut sums) = (None, [0.0; 2]);
        for (yarn, last) in pair.yarns() {
            let fibre = pair.label(yarn).unwrap_or_else(|| ledger.general_label(yarn)).fibre;
            let (used, _) = ledger.would_take_of(fibre, last, net, on_pan.at, (on_pan.humidity, None));
            let Some([likely, as_last]) = density(pair, yarn, used) else {
                continue;
            };
            let [one, two] = sums;
            sums = [one + likely, two + as_last];
            count += 1.0;
            if best.is_none_or(|(_, before)| likely + as_last > before) {
                best = Some((yarn, likely + as_last));
            }
        }
        if let Some((yarn, _)) = best {
            let [likely, as_last] = sums;
            // There are as many places as pairs.
            let _ = all.push(Elsewhere {
                pair: pair.number(),
                yarn,
                likely,
                as_last,
            });
        }
    }
    for pair in &mut all {
        pair.likely /= count;
        pair.as_last /= count;
    }
    all
}

/// What the yarn's next section takes: as on the pair's other sock, else as usual.
fn next(pair: Pair<'_>, yarn: YarnLetter, habits: Habits) -> Option<Amount> {
    let open = |&(place, line): &(u8, &Line)| line.yarn == yarn && !pair.is_done(place) && !pair.is_skipped(place);
    let (place, line) = (0..).zip(&pair.plan().lines).find(open)?;
    let twin = pair.plan().counterpart(place).and_then(|twin| pair.took(twin));
    let as_twin = twin.and_then(|took| Amount::as_other_sock(took, 0.0, habits));
    Some(as_twin.unwrap_or_else(|| Amount::usual(line.kind)))
}

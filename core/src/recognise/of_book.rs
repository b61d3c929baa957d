//! What the book knows for a press: last weights, expected amounts, bowls, moisture.

use heapless::Vec;

use super::{Amount, BowlOn, Cake, Habits, Next, Situation};
use crate::book::Book;
use crate::forecast::estimate::estimate;
use crate::forecast::{Socks, Wanted};
use crate::ledger::{Ledger, Purpose};
use crate::math::sqrt;
use crate::measured::Measured;
use crate::sock::moisture::moisture_u;
use crate::sock::{SectionKind, YARNS, YarnLetter};
use crate::units::{Milligrams, Stamp};

impl Situation {
    /// A press with `gross` on the pan for the section at `line`; `None` if the plan has no such line.
    #[must_use]
    pub fn of(book: &Book, line: u8, gross: Measured, at: Stamp) -> Option<Self> {
        let ledger = book.ledger();
        let planned = ledger.plan().line(line)?.yarn;
        let habits = habits(book);
        let in_use = book.bowls().in_use();
        let net = |bowl| Measured {
            value: gross.value - book.bowls().of(bowl).value,
            u: gross.u,
        };
        let cakes = YarnLetter::ALL
            .into_iter()
            .filter_map(|yarn| cake(book, habits, yarn, line, at));
        let mut fresh: Vec<YarnLetter, YARNS> = Vec::new();
        let unweighed =
            |yarn: YarnLetter| ledger.last(yarn).is_none() && ledger.plan().lines.iter().any(|line| line.yarn == yarn);
        for yarn in core::iter::once(planned).chain(YarnLetter::ALL) {
            if unweighed(yarn) && !fresh.contains(&yarn) {
                // There are as many places as letters.
                let _ = fresh.push(yarn);
            }
        }
        let others = core::iter::once(None).chain(book.bowls().all().map(|(number, _)| Some(number)));
        Some(Self {
            net: net(in_use),
            planned,
            cakes: cakes.collect(),
            fresh,
            bowls: others
                .filter(|&bowl| bowl != in_use)
                .map(|bowl| BowlOn { bowl, net: net(bowl) })
                .collect(),
        })
    }
}

/// The most that the section at `line` could take, roughly and at little cost: what is shown while it is knitted.
#[must_use]
pub fn at_most(ledger: &Ledger, line: u8) -> Option<Milligrams> {
    let section = ledger.plan().line(line)?;
    let twin = ledger.plan().counterpart(line).and_then(|twin| ledger.used(twin));
    Some(match twin.filter(|used| used.value > Milligrams::ZERO) {
        Some(used) => used.value + used.value + Milligrams::from_grams(1),
        None => Milligrams::whole(4.0 * Amount::usual(section.kind).expected),
    })
}

/// What the section at `line` will likely take, by the best of what is known.
fn amount(book: &Book, habits: Habits, line: u8) -> Option<Amount> {
    let ledger = book.ledger();
    let section = ledger.plan().line(line)?;
    let twin = ledger.plan().counterpart(line).and_then(|twin| ledger.used(twin));
    let like_twin = || Amount::as_other_sock(twin?.value, twin?.u, habits);
    let by_history = || {
        let size = ledger.size(section);
        let wanted = Wanted::contrast(section.kind, section.construction, size, Socks::One);
        let prediction = book.history().predict(core::iter::once(&wanted))?;
        Amount::by_history(prediction.expected, sqrt(prediction.variance), prediction.pairs)
    };
    let by_estimate = || {
        let size = ledger.size(section);
        let known = section.stitches > 0;
        Amount::by_estimate(estimate(size, section.kind, section.construction)).filter(|_| known)
    };
    like_twin()
        .or_else(by_history)
        .or_else(by_estimate)
        .or_else(|| Some(Amount::usual(section.kind)))
}

/// How alike the two socks of the knitter's last pairs were.
fn habits(book: &Book) -> Habits {
    let mut habits = Habits::default();
    let pairs = book.history().pairs();
    for pair in pairs.iter().skip(pairs.len().saturating_sub(LEARNED_FROM)) {
        for kind in SectionKind::ALL {
            if let Some([first, second]) = pair.both(kind) {
                habits.learn(first.value.0, second.value.0);
            }
        }
    }
    habits
}

fn cake(book: &Book, habits: Habits, yarn: YarnLetter, line: u8, at: Stamp) -> Option<Cake> {
    let ledger = book.ledger();
    let last = ledger.last(yarn)?;
    let hours = at.0.saturating_sub(last.at.0) as f32 / 3_600.0;
    let net = last.weight.net;
    Some(Cake {
        yarn,
        last: net,
        moisture_u: moisture_u(net.value, ledger.label(yarn).fibre, hours),
        next: next(ledger, yarn, line)
            .into_iter()
            .filter_map(|line| {
                Some(Next {
                    line,
                    amount: amount(book, habits, line)?,
                })
            })
            .collect(),
        before: before(ledger, yarn),
    })
}

/// Open sections of a yarn: the one at `line` if it is of this yarn, then the last one before it that was left out, then those behind it.
fn next(ledger: &Ledger, yarn: YarnLetter, line: u8) -> Vec<u8, 3> {
    let end = u8::try_from(ledger.plan().lines.len()).unwrap_or(u8::MAX);
    let open = |&place: &u8| {
        let of_yarn = ledger.plan().line(place).is_some_and(|section| section.yarn == yarn);
        of_yarn && !ledger.is_done(place) && !ledger.is_skipped(place)
    };
    let here = (line..line.saturating_add(1)).filter(open);
    let left_out = (0..line).rev().filter(open).take(1);
    let later = (line.saturating_add(1)..end).filter(open);
    here.chain(left_out).chain(later).take(3).collect()
}

/// What the last section of a yarn took, mg.
fn before(ledger: &Ledger, yarn: YarnLetter) -> Option<f32> {
    let place = ledger.steps().iter().rposition(|step| step.yarn == yarn)?;
    let is_section = matches!(ledger.steps().get(place)?.purpose, Purpose::Section(_));
    let used = ledger.went(place)?.value.0;
    (is_section && used > 0).then_some(used as f32)
}

/// Pairs of which the socks are compared: hands change.
const LEARNED_FROM: usize = 6;

//! A forgotten mark made good: on which earlier visits of the pan it can have belonged.

use heapless::Vec;

use super::Next;
use crate::book::{Book, KEPT_VISITS, Visit};
use crate::journal::{PairEvent, Sequence};
use crate::ledger::{Purpose, Step};
use crate::measured::Measured;
use crate::sock::{Line, Weight, YarnLetter};
use crate::units::{Milligrams, Stamp};

/// A visit of the pan that can be the end of a section, and what follows from that.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Late {
    /// Place in the plan of the section that ended there.
    pub line: u8,
    /// That section.
    pub section: Line,
    /// Its yarn.
    pub yarn: YarnLetter,
    /// When the visit was.
    pub visited: Stamp,
    /// What the yarn weighed then.
    pub weight: Weight,
    /// What the section would have taken.
    pub used: Milligrams,
    /// The section behind it: its place in the plan, itself, and what it would have taken.
    pub then: Option<(u8, Line, Milligrams)>,
    /// The later mark, if there is one.
    pub before: Option<(Sequence, u8)>,
}

impl Late {
    /// What is noted.
    #[must_use]
    pub const fn event(&self) -> PairEvent {
        PairEvent::LateMark {
            line: self.line,
            yarn: self.yarn,
            weight: self.weight,
            visited: self.visited,
            before: self.before,
        }
    }

    /// Density of both amounts, each per mg, if the first two open sections ended there and now.
    pub(super) fn parted(&self, next: &[Next], u: f32) -> Option<f32> {
        let (first, second) = in_order(next)?;
        let (_, _, then) = self.then?;
        let of = |next: &Next, used: Milligrams| next.amount.density(used.0 as f32, u);
        Some(of(first, self.used) * of(second, then))
    }
}

/// The visits that can be the end of the section at `line`, newest first: those of its own yarn, between that yarn's neighbours in time
/// and in weight, that no mark has used, and on which no other yarn lay as it was noted.
#[must_use]
pub fn late_marks(book: &Book, line: u8) -> Vec<Late, KEPT_VISITS> {
    let visits = book.visits().newest_first();
    visits.filter_map(|visit| at_visit(book, line, visit)).collect()
}

/// Of the visits since the yarn's last weight: the one on which the mark of the first of two open sections fits best if the second ends with
/// `net`, and how many there are.
pub(super) fn between(book: &Book, next: &[Next], net: Measured) -> (Option<Late>, u8) {
    let Some((first, second)) = in_order(next) else {
        return (None, 0);
    };
    let Some(behind) = book.ledger().plan().line(second.line) else {
        return (None, 0);
    };
    let (mut best, mut visits) = (None, 0_u8);
    for late in late_marks(book, first.line) {
        let used = late.weight.net.value - net.value;
        if late.before.is_some() || used <= LEAST {
            continue;
        }
        visits = visits.saturating_add(1);
        let late = Late {
            then: Some((second.line, behind, used)),
            ..late
        };
        let likely = late.parted(next, net.u).unwrap_or(0.0);
        if best.is_none_or(|(_, before)| likely > before) {
            best = Some((late, likely));
        }
    }
    (best.map(|(late, _)| late), visits)
}

/// The first two open sections in the order of the plan: planned here, finished one later; or left out before, finished here.
fn in_order(next: &[Next]) -> Option<(&Next, &Next)> {
    let (one, two) = (next.first()?, next.get(1)?);
    Some(if one.line < two.line { (one, two) } else { (two, one) })
}

fn at_visit(book: &Book, line: u8, visit: &Visit) -> Option<Late> {
    let ledger = book.ledger();
    let section = ledger.plan().line(line)?;
    let yarn = section.yarn;
    let net = visit.gross.minus(book.bowls().of(visit.bowl));
    let mut chain = ledger.steps().iter().filter(|step| step.yarn == yarn);
    let before = chain.clone().rev().find(|step| step.at <= visit.at);
    let before = before.filter(|step| !step.ends())?;
    let after = chain.find(|step| step.at > visit.at);
    let used = before.weight.net.value - net.value;
    let rest = after.map(|after| net.value - after.weight.net.value);
    let fits = net.value > LEAST && used > LEAST && rest.is_none_or(|rest| rest > LEAST);
    if !fits || is_noted(book, visit, net) {
        return None;
    }
    let pushed_on = after.map(|after| (after.sequence, moved_on(book, line, after)));
    let then = pushed_on.and_then(|(_, place)| Some((place, ledger.plan().line(place)?, rest?)));
    Some(Late {
        line,
        section,
        yarn,
        visited: visit.at,
        weight: Weight {
            net,
            bowl: visit.bowl,
            air: None,
        },
        used,
        then,
        before: pushed_on,
    })
}

/// Whether it is what a yarn weighed before the visit, or at its next mark after it: that was noted from this visit, or nothing was knitted
/// between.
fn is_noted(book: &Book, visit: &Visit, net: Measured) -> bool {
    YarnLetter::ALL.into_iter().any(|yarn| {
        let mut steps = book.ledger().steps().iter().filter(|step| step.yarn == yarn);
        let before = steps.clone().rev().find(|step| step.at <= visit.at);
        let after = steps.find(|step| step.at > visit.at);
        let noted = |step: &Step| is_same(step.weight.net, net);
        before.is_some_and(noted) || after.is_some_and(noted)
    })
}

fn is_same(one: Measured, two: Measured) -> bool {
    let apart = one.minus(two);
    apart.value.abs() <= SAME.max(Milligrams::whole(3.0 * apart.u))
}

/// What the mark behind the visit closes from now on: the next open section of its yarn, if it had closed this one.
fn moved_on(book: &Book, line: u8, step: &Step) -> u8 {
    let Purpose::Section(closed) = step.purpose else {
        return line;
    };
    if closed != line {
        return closed;
    }
    let ledger = book.ledger();
    let lines = ledger.plan().lines.iter().zip(0_u8..);
    let mut open = lines.filter(|&(other, place)| {
        place > line && other.yarn == step.yarn && !ledger.is_done(place) && !ledger.is_skipped(place)
    });
    open.next().map_or(line, |(_, place)| place)
}

/// Less than this was not knitted, and is no cake.
const LEAST: Milligrams = Milligrams(300);

/// Weights closer than this are one.
const SAME: Milligrams = Milligrams(250);

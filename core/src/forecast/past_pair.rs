//! What one past pair says of the wanted sections: their sum, and how its two socks differed.
//!
//! In integers as far as it goes: these sums are formed for every past pair at every question, and the processor has no
//! floating point. Only records of another size need it, for their scaling.

use super::wanted::{Socks, Wanted};
use crate::sock::{KindRecord, PairRecord, Shape, Sock, Weighed};

/// The wanted sum as a past pair had it, mg.
pub(super) struct Sum {
    pub(super) mass: f32,
    /// Its variance by the weighings alone.
    pub(super) doubt: f32,
    /// Half the variance by the weighings alone of what is wanted on one sock.
    pub(super) doubt_of_one: f32,
    /// Sock 1 minus sock 2 of the sections that are wanted on one sock, where both were weighed.
    pub(super) difference: Option<f32>,
    /// All sections that are wanted on one sock were weighed on one sock only.
    pub(super) single: bool,
    pub(super) scaled: bool,
}

/// Sock 2 minus sock 1 of the wanted sections in a past pair, mg.
pub(super) struct Difference {
    pub(super) difference: f32,
    /// Variance of sock 2's sections by the weighings alone.
    pub(super) doubt: f32,
    pub(super) scaled: bool,
}

/// The wanted sum; `None` if the pair lacks a section.
pub(super) fn sum_of<'a>(pair: &PairRecord, wanted: impl Iterator<Item = &'a Wanted>) -> Option<Sum> {
    let mut alike = Parts::default();
    let mut other = Scaled::default();
    let mut of_one = 0.0;
    let mut both_weighed = true;
    let mut single = true;
    let mut scaled = false;
    for wanted in wanted {
        let record = pair.kind(wanted.kind, wanted.construction)?;
        let parts = Parts::of(wanted.socks, record.weighed(Sock::First), record.weighed(Sock::Second))?;
        scaled |= wanted.size.differs(record.size);
        if wanted.socks == Socks::One {
            both_weighed &= parts.of_both;
            single &= !parts.of_both;
            of_one += parts.quarters as f32 * 0.25;
        }
        match multiple(wanted, record) {
            None => alike = alike.plus(parts),
            Some(multiple) => other.add(parts, multiple),
        }
    }
    Some(Sum {
        mass: other.mass + alike.halves as f32 * 0.5,
        doubt: other.doubt + alike.quarters as f32 * 0.25,
        doubt_of_one: of_one,
        difference: both_weighed.then_some(other.difference + alike.difference as f32),
        single,
        scaled,
    })
}

/// How the socks differed; `None` if the pair lacks a section on one of them.
pub(super) fn difference_of<'a>(pair: &PairRecord, wanted: impl Iterator<Item = &'a Wanted>) -> Option<Difference> {
    let mut alike = 0_i32;
    let mut found = Difference {
        difference: 0.0,
        doubt: 0.0,
        scaled: false,
    };
    for wanted in wanted {
        let record = pair.kind(wanted.kind, wanted.construction)?;
        let second = record.weighed(Sock::Second)?;
        let difference = second.mass.saturating_sub(record.weighed(Sock::First)?.mass);
        found.doubt += square(second.u) as f32;
        found.scaled |= wanted.size.differs(record.size);
        match multiple(wanted, record) {
            None => alike = alike.saturating_add(difference),
            Some(multiple) => found.difference += difference as f32 * multiple,
        }
    }
    found.difference += alike as f32;
    Some(found)
}

/// What one sock's record is multiplied by to stand for one sock of the wanted section; `None` for one.
fn multiple(wanted: &Wanted, record: &KindRecord) -> Option<f32> {
    if wanted.parts <= 1 && wanted.size == record.size {
        return None;
    }
    Some(wanted.size.multiple_of(record.size, Shape::of(wanted.kind)) / f32::from(wanted.parts.max(1)))
}

/// Sums over sections, exactly.
#[derive(Clone, Copy, Default)]
struct Parts {
    /// Mass on the wanted socks, in halves of a milligram: of one sock it is the mean of two.
    halves: i32,
    /// Its variance by the weighings, in quarters of a square milligram.
    quarters: u32,
    /// Sock 1 minus sock 2 of what is wanted on one sock, mg.
    difference: i32,
    /// Both socks were weighed.
    of_both: bool,
}

impl Parts {
    fn of(socks: Socks, first: Option<Weighed>, second: Option<Weighed>) -> Option<Self> {
        let count = socks.count();
        let (halves, quarters, difference) = match (first, second) {
            (Some(first), Some(second)) => {
                let quarters = square(first.u).saturating_add(square(second.u));
                let difference = first.mass.saturating_sub(second.mass);
                (first.mass.saturating_add(second.mass), quarters, difference)
            }
            (Some(one), None) | (None, Some(one)) => (one.mass.saturating_mul(2), square(one.u).saturating_mul(4), 0),
            (None, None) => return None,
        };
        Some(Self {
            halves: halves.saturating_mul(count.into()),
            quarters: quarters.saturating_mul(count.into()).saturating_mul(count.into()),
            difference: if socks == Socks::One { difference } else { 0 },
            of_both: first.is_some() && second.is_some(),
        })
    }

    fn plus(self, other: Self) -> Self {
        Self {
            halves: self.halves.saturating_add(other.halves),
            quarters: self.quarters.saturating_add(other.quarters),
            difference: self.difference.saturating_add(other.difference),
            of_both: other.of_both,
        }
    }
}

/// Sums over sections of another size.
#[derive(Default)]
struct Scaled {
    mass: f32,
    doubt: f32,
    difference: f32,
}

impl Scaled {
    fn add(&mut self, parts: Parts, multiple: f32) {
        self.mass += parts.halves as f32 * 0.5 * multiple;
        self.doubt += parts.quarters as f32 * 0.25 * multiple * multiple;
        self.difference += parts.difference as f32 * multiple;
    }
}

fn square(u: u16) -> u32 {
    u32::from(u).saturating_mul(u.into())
}

//! The knitter's own records: what each section of her last pairs took.
//!
//! Pairs, not sections, are the unit: the two socks of a pair share yarn, size and hand, so that six toes of three pairs
//! say less than six toes of six. The last [`PAIRS`] pairs are kept, since hands and habits change.

use heapless::Vec;
use serde::{Deserialize, Serialize};

use super::size::Size;
use crate::math::ceil;
use crate::measured::Measured;
use crate::sock::{Construction, SectionKind, Sock};
use crate::units::Milligrams;

/// How many pairs are remembered. With 24 the factor of a 95 % interval is 1.71; with infinitely many 1.64.
pub const PAIRS: usize = 24;

/// What the sections of one pair took.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct PairRecord {
    pair: u16,
    kinds: [Option<KindRecord>; KINDS],
}

/// What one kind of section took on both socks of a pair.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct KindRecord {
    /// How it was worked.
    pub construction: Construction,
    /// Its stitches, rounds and yarn.
    pub size: Size,
    socks: [Use; 2],
}

/// What one section took.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
enum Use {
    Open,
    Weighed(Weighed),
    LeftOut,
}

/// A mass and its standard uncertainty, both in whole milligrams: half the room, and sums of them need no floating point.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub(crate) struct Weighed {
    pub(crate) mass: i32,
    pub(crate) u: u16,
}

/// The last pairs, oldest first.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct History {
    pairs: Vec<PairRecord, PAIRS>,
}

impl PairRecord {
    /// An empty record of the pair with this number.
    #[must_use]
    pub fn new(pair: u16) -> Self {
        Self {
            pair,
            ..Self::default()
        }
    }

    /// Number of the pair.
    #[must_use]
    pub const fn pair(&self) -> u16 {
        self.pair
    }

    /// Adds what a section took. A section worked in two yarns, or in two lines of a plan, is added twice; the first one's
    /// construction and size stand for the kind.
    pub fn add(&mut self, kind: SectionKind, construction: Construction, size: Size, sock: Sock, used: Measured) {
        let Some(place) = self.kinds.get_mut(kind as usize) else {
            return;
        };
        let record = place.get_or_insert(KindRecord {
            construction,
            size,
            socks: [Use::Open; 2],
        });
        let place = record.place(sock);
        *place = match *place {
            Use::Open => Use::Weighed(used.into()),
            Use::Weighed(before) => Use::Weighed(Measured::from(before).plus(used).into()),
            Use::LeftOut => Use::LeftOut,
        };
    }

    /// Leaves a section out of the history: ripped back, a damaged record beside it, or otherwise in doubt.
    pub fn leave_out(&mut self, kind: SectionKind, sock: Sock) {
        if let Some(Some(record)) = self.kinds.get_mut(kind as usize) {
            *record.place(sock) = Use::LeftOut;
        }
    }

    /// What a kind of section took on each sock, if both were weighed; however it was worked.
    #[must_use]
    pub fn both(&self, kind: SectionKind) -> Option<[Measured; 2]> {
        let record = self.kinds.get(kind as usize)?.as_ref()?;
        Some([record.used(Sock::First)?, record.used(Sock::Second)?])
    }

    /// The record of a kind that was worked in this way.
    #[must_use]
    pub fn kind(&self, kind: SectionKind, construction: Construction) -> Option<&KindRecord> {
        let record = self.kinds.get(kind as usize)?.as_ref()?;
        (record.construction == construction).then_some(record)
    }
}

impl KindRecord {
    /// What the section took on a sock; `None` if it was not weighed, was left out or is too uncertain to learn from.
    #[must_use]
    pub fn used(&self, sock: Sock) -> Option<Measured> {
        self.weighed(sock).map(Measured::from)
    }

    pub(crate) fn weighed(&self, sock: Sock) -> Option<Weighed> {
        match self.socks.get(sock as usize)? {
            Use::Weighed(used) if used.mass > 0 && i32::from(used.u) <= used.mass.div_euclid(LEAST_SURE) => Some(*used),
            Use::Weighed(_) | Use::Open | Use::LeftOut => None,
        }
    }

    fn place(&mut self, sock: Sock) -> &mut Use {
        let [first, second] = &mut self.socks;
        match sock {
            Sock::First => first,
            Sock::Second => second,
        }
    }
}

impl From<Measured> for Weighed {
    fn from(used: Measured) -> Self {
        Self {
            mass: used.value.0,
            // What is not a number is as good as unknown. Rounded up: no record gets surer.
            u: if used.u.is_nan() {
                u16::MAX
            } else {
                u16::try_from(ceil(used.u)).unwrap_or(u16::MAX)
            },
        }
    }
}

impl From<Weighed> for Measured {
    fn from(used: Weighed) -> Self {
        Self {
            value: Milligrams(used.mass),
            u: used.u.into(),
        }
    }
}

impl History {
    /// Takes the record of a pair, in place of an earlier record of the same pair. The oldest pair gives way if there are
    /// already [`PAIRS`].
    ///
    /// The running pair can be recorded anew after each mark, undo or amendment.
    pub fn record(&mut self, pair: PairRecord) {
        if let Some(known) = self.pairs.iter_mut().find(|known| known.pair == pair.pair) {
            *known = pair;
            return;
        }
        if self.pairs.is_full() {
            self.pairs.remove(0);
        }
        // There is room now.
        let _ = self.pairs.push(pair);
    }

    /// The pairs, oldest first.
    #[must_use]
    pub fn pairs(&self) -> &[PairRecord] {
        &self.pairs
    }

    /// How many pairs have a section of this kind on one sock at least.
    #[must_use]
    pub fn count(&self, kind: SectionKind, construction: Construction) -> u8 {
        let has = |pair: &&PairRecord| {
            let record = pair.kind(kind, construction);
            record.is_some_and(|record| record.weighed(Sock::First).or(record.weighed(Sock::Second)).is_some())
        };
        u8::try_from(self.pairs.iter().filter(has).count()).unwrap_or(u8::MAX)
    }

    /// What sections of a kind took, one by one, for a table: pair, sock, size and mass.
    pub fn uses(
        &self,
        kind: SectionKind,
        construction: Construction,
    ) -> impl Iterator<Item = (u16, Sock, Size, Measured)> {
        let of_kind = self
            .pairs
            .iter()
            .filter_map(move |pair| Some((pair, pair.kind(kind, construction)?)));
        of_kind.flat_map(|(pair, record)| {
            [Sock::First, Sock::Second]
                .into_iter()
                .filter_map(move |sock| Some((pair.pair, sock, record.size, record.used(sock)?)))
        })
    }
}

const KINDS: usize = SectionKind::ALL.len();

/// A record teaches nothing unless its mass is so many times its standard uncertainty: one that was weighed days apart in a
/// changing room may not be. Common practice, no source.
const LEAST_SURE: i32 = 10;

const _: () = assert!(SectionKind::ALL[KINDS - 1] as usize == KINDS - 1);

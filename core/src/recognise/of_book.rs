//! What the book knows for a press: last weights, expected amounts, bowls, moisture.

use heapless::Vec;

use super::late::between;
use super::{Amount, BowlOn, Cake, Habits, Next, PairSize, Situation, elsewhere};
use crate::book::Book;
use crate::forecast::{Socks, Wanted, estimated};
use crate::ledger::{Ledger, Purpose};
use crate::math::sqrt;
use crate::measured::Measured;
use crate::sock::{BowlNumber, Line, SectionKind, Sock, YARNS, YarnLetter};
use crate::units::{Milligrams, Stamp};

/// What lies on the pan when MARK is pressed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OnPan {
    /// Gross mass.
    pub gross: Measured,
    /// When.
    pub at: Stamp,
    /// Relative humidity of the air, %, where a sensor is fitted.
    pub humidity: Option<f32>,
    /// What went since the planned yarn's last weight has this standard uncertainty, mg, since both stand on one zero.
    pub apart: Option<f32>,
}

impl OnPan {
    /// Net mass, in this bowl.
    pub(super) fn net(&self, book: &Book, bowl: Option<BowlNumber>) -> Measured {
        Measured {
            value: self.gross.value - book.bowls().of(bowl).value,
            u: self.gross.u,
        }
    }
}

impl Situation {
    /// A press for the section at `line`; `None` if the plan has no such line.
    #[must_use]
    pub fn of(book: &Book, line: u8, on_pan: &OnPan) -> Option<Self> {
        let ledger = book.ledger();
        let planned = ledger.plan().line(line)?.yarn;
        let habits = habits(book);
        let in_use = book.bowls().in_use();
        let net = |bowl| on_pan.net(book, bowl);
        let went = |yarn: YarnLetter, bowl| {
            // The zero says nothing of another bowl.
            let apart = on_pan.apart.filter(|_| yarn == planned && bowl == in_use);
            let (went, _) = ledger.would_take(ledger.last(yarn)?, net(bowl), on_pan.at, on_pan.humidity, apart);
            Some(went)
        };
        let cake = |yarn| {
            Some(Cake {
                yarn,
                last: ledger.last(yarn)?.weight.net,
                used: went(yarn, in_use)?,
                next: next(ledger, yarn, line)
                    .into_iter()
                    .filter_map(|line| {
                        let amount = amount(book, habits, line)?;
                        Some(Next { line, amount })
                    })
                    .collect(),
                before: before(ledger, yarn),
            })
        };
        let cakes: Vec<Cake, YARNS> = YarnLetter::ALL.into_iter().filter_map(cake).collect();
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
        let bowls = others.filter(|&bowl| bowl != in_use).filter_map(|bowl| {
            let used = went(planned, bowl)?;
            Some(BowlOn { bowl, used })
        });
        let own = cakes.iter().find(|cake| cake.yarn == planned);
        let (late, visits) = own.map_or((None, 0), |cake| between(book, &cake.next, net(in_use)));
        Some(Self {
            net: net(in_use),
            planned,
            bowls: bowls.collect(),
            cakes,
            fresh,
            elsewhere: elsewhere::open_pairs(book, habits, net(in_use), on_pan),
            late,
            visits,
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
    like_twin()
        .or_else(by_history)
        .or_else(|| Some(unknown(ledger, section).in_pair(&size(ledger))))
}

/// What a section takes before one was knitted.
fn unknown(ledger: &Ledger, section: Line) -> Amount {
    let known = ledger.size(section).stitches > 0;
    let grams = estimated(ledger, section).filter(|_| known);
    grams
        .and_then(Amount::by_estimate)
        .unwrap_or_else(|| Amount::usual(section.kind))
}

/// How large this pair is, by the finished sections of its first sock. Parts of what is no sock have no size in common.
fn size(ledger: &Ledger) -> PairSize {
    let mut size = PairSize::default();
    let lines = ledger.plan().lines.iter().zip(0_u8..);
    for (&section, place) in lines.filter(|(section, _)| section.sock == Sock::First && !section.kind.is_part()) {
        if let Some(used) = ledger.used(place) {
            size.learn(used.value.0 as f32, unknown(ledger, section).expected);
        }
    }
    size
}

/// How alike the two socks of the knitter's last pairs were.
pub(super) fn habits(book: &Book) -> Habits {
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
    let used = ledger.used_at(place)?.value.0;
    (is_section && used > 0).then_some(used as f32)
}

/// Pairs of which the socks are compared: hands change.
const LEARNED_FROM: usize = 6;

//! The finished pair on the pan: does it weigh what its sections took, and is it dry again after washing?

use super::action::{Actions, To};
use super::context::{Context, EMPTY_BELOW};
use super::keys::{Key, Press};
use super::shows::{Shows, guide};
use crate::forecast::{Drying, Dryness, FinishedPair, PairCheck, all_ends, moisture_over_days, pair_check};
use crate::measured::Measured;
use crate::screen::{Body, KeyWord, Value, Word};
use crate::sock::{Decitex, YarnLetter};
use crate::units::Milligrams;

/// Does the finished pair weigh what its sections took?
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct PairCheckPage {
    /// The answer, once the pair is on the pan.
    check: Option<PairCheck>,
}

/// Is the washed pair dry?
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct DryPage {
    /// The answer, once the pair is on the pan.
    dryness: Option<Dryness>,
}

const KEYS: [KeyWord; 3] = [KeyWord::Back, KeyWord::Nothing, KeyWord::Nothing];

impl PairCheckPage {
    /// Asks for what is on the pan.
    pub(super) fn open(context: &Context<'_>) -> Self {
        Self { check: check(context) }
    }

    pub(super) fn press(&mut self, _: &Context<'_>, press: Press) -> Actions {
        back(press)
    }

    pub(super) fn view(&self, context: &Context<'_>) -> Shows {
        let body = self
            .check
            .map_or_else(|| put_on(context, Word::PairCheck), Body::PairCheck);
        (body, KEYS)
    }
}

impl DryPage {
    /// Asks for what is on the pan.
    pub(super) fn open(context: &Context<'_>) -> Self {
        Self {
            dryness: dryness(context),
        }
    }

    pub(super) fn press(&mut self, _: &Context<'_>, press: Press) -> Actions {
        back(press)
    }

    pub(super) fn view(&self, context: &Context<'_>) -> Shows {
        let body = self.dryness.map_or_else(|| put_on(context, Word::DryYet), Body::Dry);
        (body, KEYS)
    }
}

fn back(press: Press) -> Actions {
    if press == Press::Short(Key::Zero) {
        Actions::go(To::Pan)
    } else {
        Actions::none()
    }
}

fn put_on(context: &Context<'_>, title: Word) -> Body {
    let say = if has_marks(context) {
        Word::PutPairOn
    } else {
        Word::NothingToCompare
    };
    guide(context, title, say, Value::Nothing)
}

fn has_marks(context: &Context<'_>) -> bool {
    context.ledger().total_used().value > Milligrams::ZERO
}

/// What is on the pan, bowl taken off, if it can be the pair: there are marks to compare with, and it is no cake that was weighed just so.
fn on_pan(context: &Context<'_>) -> Option<Measured> {
    let load = context.scale.steady()?;
    let net = context.net_of(&load);
    let is_cake = |yarn| {
        let last = context.ledger().last(yarn);
        last.is_some_and(|last| (last.weight.net.value - net.value).abs() < EMPTY_BELOW)
    };
    let can_be = net.value >= EMPTY_BELOW && has_marks(context) && !YarnLetter::ALL.into_iter().any(is_cake);
    can_be.then_some(net)
}

fn check(context: &Context<'_>) -> Option<PairCheck> {
    let pair = on_pan(context)?;
    let sections = context.ledger().total_used();
    let lines = 0..u8::try_from(context.ledger().plan().lines.len()).unwrap_or(u8::MAX);
    let marked = lines
        .clone()
        .filter_map(|line| context.ledger().used(line))
        .map(|used| used.value);
    let unmarked = lines.clone().filter(|&line| !context.ledger().is_done(line)).count();
    let ends = all_ends(context.ledger());
    // The yarn that the sections took most of stands for the ends of all.
    let main = YarnLetter::ALL
        .into_iter()
        .max_by_key(|&yarn| context.ledger().account(yarn).used)?;
    Some(pair_check(FinishedPair {
        pair,
        sections,
        moisture_u: moisture_over_days(context.ledger(), main, sections.value),
        ends,
        yarn: Decitex::from_metres_per_100_g(context.ledger().label(main).metres_per_100_g),
        lightest: marked.min(),
        unmarked: u8::try_from(unmarked).unwrap_or(u8::MAX),
    }))
}

/// How dry, by this pair's own weighings: those since its last mark that can be a pair, between dripping wet and a tenth under its
/// sections.
fn dryness(context: &Context<'_>) -> Option<Dryness> {
    let now = on_pan(context)?;
    let sections = context.ledger().total_used();
    let finished = context.ledger().steps().iter().map(|step| step.at).max()?;
    let least = sections.value.0.saturating_mul(9) / 10;
    let is_pair = |net: Measured| net.value.0 > least && net.value.0 < sections.value.0.saturating_mul(3);
    if !is_pair(now) {
        return None;
    }
    let mut drying = Drying::new(sections);
    for visit in context.book.visits().oldest_first().filter(|visit| visit.at > finished) {
        let net = context.net(visit.gross, visit.bowl);
        if is_pair(net) {
            drying.weigh(visit.at, net);
        }
    }
    drying.weigh(context.now, now);
    drying.dryness()
}

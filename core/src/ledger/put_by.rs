//! A pair that is put by while another is in hand.

use heapless::Vec;

use super::apply::{Applied, Ledger};
use super::counted::Counting;
use super::pair::Pair;
use super::{MAX_STEPS, Step};
use crate::journal::{Gauge, Sequence};
use crate::sock::{Label, MAX_LINES, Plan, YARNS};

/// What a ledger holds of its pair besides the steps: those of all pairs that are put by lie together.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct PutBy {
    pub(super) pair: u16,
    applied: Applied,
    pub(super) open: bool,
    plan: Plan,
    skips: Vec<(Sequence, u8), MAX_LINES>,
    labels: [Option<Label>; YARNS],
    doubt: [bool; YARNS],
    counting: Counting,
    gauge: Gauge,
    /// How many steps it has.
    pub(super) steps: usize,
}

impl PutBy {
    /// The pair, with its steps.
    pub(super) fn as_pair<'a>(&'a self, steps: &'a [Step]) -> Pair<'a> {
        Pair {
            number: self.pair,
            open: self.open,
            plan: &self.plan,
            steps,
            skips: &self.skips,
            labels: &self.labels,
        }
    }
}

impl Ledger {
    /// All that is the pair's own, but for its steps.
    pub(super) fn own(&self) -> PutBy {
        PutBy {
            pair: self.pair,
            applied: self.applied,
            open: self.open,
            plan: self.plan.clone(),
            skips: self.skips.clone(),
            labels: self.labels,
            doubt: self.doubt,
            counting: self.counting.clone(),
            gauge: self.gauge,
            steps: self.steps.len(),
        }
    }

    /// Goes on with a pair that was put by.
    pub(super) fn go_on_with(&mut self, put_by: PutBy, steps: Vec<Step, MAX_STEPS>) {
        let PutBy {
            pair,
            applied,
            open,
            plan,
            skips,
            labels,
            doubt,
            counting,
            gauge,
            steps: _,
        } = put_by;
        self.pair = pair;
        self.applied = applied;
        self.open = open;
        self.plan = plan;
        self.skips = skips;
        self.labels = labels;
        self.doubt = doubt;
        self.counting = counting;
        self.gauge = gauge;
        self.steps = steps;
    }
}

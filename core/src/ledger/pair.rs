//! A pair to look at, whether its ledger is in hand or put by.

use super::{Purpose, Step};
use crate::journal::Sequence;
use crate::sock::{Label, Line, Plan, YARNS, YarnLetter};
use crate::units::{Milligrams, Stamp};

/// A pair on the needles, or one that was finished last.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pair<'a> {
    pub(super) number: u16,
    pub(super) open: bool,
    pub(super) plan: &'a Plan,
    pub(super) steps: &'a [Step],
    pub(super) skips: &'a [(Sequence, u8)],
    pub(super) labels: &'a [Option<Label>; YARNS],
}

impl<'a> Pair<'a> {
    /// Its number.
    #[must_use]
    pub const fn number(self) -> u16 {
        self.number
    }

    /// Whether it is being knitted.
    #[must_use]
    pub const fn is_open(self) -> bool {
        self.open
    }

    /// Its plan.
    #[must_use]
    pub const fn plan(self) -> &'a Plan {
        self.plan
    }

    /// The newest step of a yarn, or `None` if it was not weighed in or goes on in another pair.
    #[must_use]
    pub fn last(self, yarn: YarnLetter) -> Option<&'a Step> {
        newest_of(self.steps, yarn)
    }

    /// The step that a record noted.
    #[must_use]
    pub fn step(self, of: Sequence) -> Option<&'a Step> {
        self.steps.iter().find(|step| step.sequence == of)
    }

    /// The yarns that were weighed in, each with its newest step.
    pub fn yarns(self) -> impl Iterator<Item = (YarnLetter, &'a Step)> {
        let last = move |yarn| Some((yarn, self.last(yarn)?));
        YarnLetter::ALL.into_iter().filter_map(last)
    }

    /// When one of its yarns was weighed last.
    #[must_use]
    pub fn weighed_at(self) -> Option<Stamp> {
        self.steps.iter().map(|step| step.at).max()
    }

    /// What the band of one of its yarns says, where that was said of this very pair.
    #[must_use]
    pub fn label(self, yarn: YarnLetter) -> Option<Label> {
        self.labels.get(yarn.index()).copied().flatten()
    }

    /// What a section took by its weights as they are, moisture left in; `None` if it is not marked.
    #[must_use]
    pub fn took(self, line: u8) -> Option<Milligrams> {
        let went = |(place, step): (usize, &Step)| {
            let before = newest_of(self.steps.get(..place)?, step.yarn)?;
            (step.purpose == Purpose::Section(line)).then_some(before.weight.net.value - step.weight.net.value)
        };
        let marks = self.steps.iter().enumerate().filter_map(went);
        marks.reduce(|one, two| one + two)
    }

    /// The section that the next mark closes.
    #[must_use]
    pub fn next_section(self) -> Option<Line> {
        self.cursor().and_then(|line| self.plan.line(line))
    }

    /// Whether a line of the plan was skipped.
    #[must_use]
    pub fn is_skipped(self, line: u8) -> bool {
        self.skips.iter().any(|&(_, skipped)| skipped == line)
    }

    /// Whether a mark closed the line.
    #[must_use]
    pub fn is_done(self, line: u8) -> bool {
        self.steps.iter().any(|step| step.purpose == Purpose::Section(line))
    }

    /// What the next mark closes: the first open line behind the last one marked or skipped, else the first open one.
    #[must_use]
    pub fn cursor(self) -> Option<u8> {
        let marked = self.steps.iter().filter_map(|step| match step.purpose {
            Purpose::Section(line) => Some((step.sequence, line)),
            Purpose::WeighIn | Purpose::Unplanned | Purpose::Carried(_) => None,
        });
        let last = marked
            .chain(self.skips.iter().copied())
            .max_by_key(|&(sequence, _)| sequence);
        let from = last.map_or(0, |(_, line)| line.saturating_add(1));
        self.next_open(from).or_else(|| self.next_open(0))
    }

    /// The first line from `from` on that is neither marked nor skipped.
    #[must_use]
    pub fn next_open(self, from: u8) -> Option<u8> {
        let end = u8::try_from(self.plan.lines.len()).unwrap_or(u8::MAX);
        (from..end).find(|&line| !self.is_done(line) && !self.is_skipped(line))
    }
}

/// The newest of these steps of a yarn, if its chain goes on from there.
pub(super) fn newest_of(steps: &[Step], yarn: YarnLetter) -> Option<&Step> {
    let last = steps.iter().rev().find(|step| step.yarn == yarn);
    last.filter(|step| !step.ends())
}

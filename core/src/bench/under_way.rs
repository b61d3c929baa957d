//! What takes time, from its beginning to its end.

use heapless::Vec;

use super::contact::Contacts;
use super::pan::Pan;
use super::task::Task;
use crate::board::Levels;
use crate::journal::BenchCheck;
use crate::units::{Counts, Duration, Instant};

/// What came out of a task.
pub type Outcome = Vec<(BenchCheck, i32), 3>;

/// The check on the bench: what is under way, and where the empty pan stood.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Sheet {
    under_way: Option<UnderWay>,
    /// Counts of the empty pan, since power-on.
    empty: Option<i32>,
}

/// A task that takes time.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct UnderWay {
    /// Which.
    pub task: Task,
    since: Instant,
    until: Instant,
    pan: Pan,
    contacts: Contacts,
}

impl Sheet {
    /// Begins what takes time; ends what is under way.
    pub fn begin(&mut self, task: Task, now: Instant) {
        self.under_way = task.takes().map(|span| {
            // A hand has just left a key.
            let since = now + HAND_LEAVES;
            UnderWay {
                task,
                since,
                until: since + span,
                pan: Pan::new(since, span),
                contacts: Contacts::default(),
            }
        });
    }

    /// What is under way.
    #[must_use]
    pub const fn under_way(&self) -> Option<&UnderWay> {
        self.under_way.as_ref()
    }

    /// Whether the empty pan was watched since power-on: a known mass is weighed against it.
    #[must_use]
    pub const fn has_empty(&self) -> bool {
        self.empty.is_some()
    }

    /// A conversion, as it was read.
    pub fn sample(&mut self, now: Instant, counts: Counts) {
        if let Some(under_way) = self.under_way.as_mut().filter(|under_way| now >= under_way.since) {
            under_way.pan.take(now, counts);
        }
    }

    /// Levels of the keys, bounces included; a contact that kept its level for `settled` is at rest.
    pub fn levels(&mut self, now: Instant, levels: Levels, settled: Duration) {
        if let Some(under_way) = self.under_way.as_mut() {
            under_way.contacts.take(now, levels, settled);
        }
    }

    /// What is under way has ended by `now`: what came out of it.
    pub fn ended(&mut self, now: Instant) -> Option<Outcome> {
        let done = |under_way: &UnderWay| {
            now >= under_way.until || under_way.task == Task::Keys && under_way.contacts.done(now)
        };
        let under_way = self.under_way.take_if(|under_way| done(under_way))?;
        Some(self.outcome(&under_way))
    }

    fn outcome(&mut self, under_way: &UnderWay) -> Outcome {
        let pan = &under_way.pan;
        let mut outcome = Outcome::new();
        let mut note = |check, value| {
            // Three at the most: see [`Outcome`].
            let _ = outcome.push((check, value));
        };
        match under_way.task {
            Task::EmptyPan => {
                self.empty = pan.mean();
                note(BenchCheck::Rate, pan.in_a_thousand_seconds());
                note(BenchCheck::Noise, pan.noise().unwrap_or(-1));
                note(BenchCheck::Empty, self.empty.unwrap_or(i32::MAX));
            }
            Task::Drift => note(BenchCheck::Drift, pan.drift().unwrap_or(i32::MAX)),
            Task::KnownMass(grams) => {
                let counts = pan
                    .mean()
                    .zip(self.empty)
                    .map(|(with, without)| with.saturating_sub(without));
                let span = counts.and_then(|counts| counts.checked_div(grams.into()));
                note(BenchCheck::Span, span.unwrap_or(0));
            }
            Task::Keys => note(BenchCheck::Keys, under_way.contacts.value()),
            Task::Frame
            | Task::Supply(_)
            | Task::Edges(_)
            | Task::Sensor(_)
            | Task::Tone
            | Task::Heard(_)
            | Task::Chip
            | Task::Stop => {}
        }
        outcome
    }
}

impl UnderWay {
    /// Whole seconds until it ends by itself, rounded up.
    #[must_use]
    pub fn seconds_left(&self, now: Instant) -> u16 {
        u16::try_from(self.until.since(now).0.div_ceil(1_000)).unwrap_or(u16::MAX)
    }

    /// Presses of ZERO, MARK and NEXT that were counted.
    #[must_use]
    pub fn presses(&self) -> [u8; 3] {
        self.contacts.presses()
    }
}

impl Task {
    /// How long it takes, if it does.
    const fn takes(self) -> Option<Duration> {
        match self {
            Self::EmptyPan => Some(Duration::from_secs(6)),
            Self::Drift => Some(Duration::from_secs(60)),
            Self::KnownMass(_) => Some(Duration::from_secs(4)),
            Self::Keys | Self::Frame => Some(Duration::from_secs(60)),
            Self::Supply(_)
            | Self::Edges(_)
            | Self::Sensor(_)
            | Self::Tone
            | Self::Heard(_)
            | Self::Chip
            | Self::Stop => None,
        }
    }
}

/// From the press that begins it until the pan has come to rest.
const HAND_LEAVES: Duration = Duration(1_500);

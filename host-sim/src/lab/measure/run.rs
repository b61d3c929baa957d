//! One estimator over one recording.

use super::contender::Contender;
use super::indicator::{Shown, Stated};
use super::recording::{Event, Recording};

/// What an estimator showed after each conversion of a recording; after a word that never arrived, what it showed before.
#[derive(Clone, Debug)]
pub struct Run {
    /// By conversion.
    pub shown: Vec<Shown>,
    /// For each mark but the first: the difference to the mark before, where both were taken.
    pub used: Vec<Option<Stated>>,
    /// The same with every amendment in the end.
    pub used_in_the_end: Vec<Option<Stated>>,
    /// How often it asked whether the pan is empty when it was, for want of knowing.
    pub asked: usize,
}

/// Which words are handed over.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Words {
    /// As they arrived.
    Arrived,
    /// As the converter meant them.
    Meant,
}

impl Run {
    /// Runs a fresh estimator over the recording. A mark is taken at the first reading after it that would do; a question whether the pan is
    /// empty is answered after two seconds if it is.
    #[must_use]
    pub fn of(contender: Contender, recording: &Recording, words: Words) -> Self {
        let mut indicator = contender.build(recording);
        let mut shown = Vec::with_capacity(recording.conversions.len());
        let mut last = Shown::default();
        let mut marks = recording
            .events
            .iter()
            .filter_map(|event| {
                if let Event::Mark(at, _) = event {
                    Some(*at)
                } else {
                    None
                }
            })
            .peekable();
        let bowl = recording
            .events
            .iter()
            .find_map(|event| if let Event::Bowl(at) = event { Some(*at) } else { None });
        let mut bowl = bowl.unwrap_or(f64::INFINITY);
        let mut kept: Vec<Option<usize>> = Vec::new();
        // At the mark, as the device says it: what it learns later belongs to the end.
        let mut used = Vec::new();
        let (mut asked, mut asked_at) = (0, None);
        for conversion in &recording.conversions {
            let raw = match words {
                Words::Arrived => conversion.raw,
                Words::Meant => Some(conversion.truth.word),
            };
            if let Some(raw) = raw {
                last = indicator.sample((conversion.at * 1_000.0).round() as u64, raw);
                if last.steady && conversion.at >= bowl {
                    indicator.bowl();
                    bowl = f64::INFINITY;
                }
                let due = last.steady && marks.peek().is_some_and(|at| *at <= conversion.at);
                let taken = due.then(|| indicator.keep()).flatten();
                if taken.is_some() || marks.peek().is_some_and(|at| conversion.at >= at + GIVEN_UP_S) {
                    marks.next();
                    let pair = kept.last().copied().flatten().zip(taken);
                    used.extend(
                        kept.last()
                            .map(|_| pair.and_then(|(from, to)| indicator.used(from, to))),
                    );
                    kept.push(taken);
                }
                let empty = conversion.truth.load_g == 0.0 && conversion.truth.other_g == 0.0;
                asked_at = (empty && indicator.asks()).then(|| asked_at.unwrap_or(conversion.at));
                if asked_at.is_some_and(|at| conversion.at >= at + ANSWERED_S) {
                    indicator.zero();
                    asked += 1;
                    asked_at = None;
                }
            }
            shown.push(last);
        }
        Self {
            shown,
            used,
            used_in_the_end: kept.windows(2).map(|pair| indicator.used(pair[0]?, pair[1]?)).collect(),
            asked,
        }
    }
}

impl Recording {
    /// Index of the first conversion at or after `t`.
    #[must_use]
    pub fn first_from(&self, t: f64) -> usize {
        self.conversions.partition_point(|c| c.at < t)
    }

    /// Settled truth of a conversion through the unit's calibration, g.
    #[must_use]
    pub fn settled_g(&self, index: usize) -> f64 {
        self.calibration.grams(self.conversions[index].truth.settled_counts)
    }

    /// End of the recording, world seconds.
    #[must_use]
    pub fn end(&self) -> f64 {
        self.conversions.last().map_or(0.0, |c| c.at)
    }
}

/// Time after which a mark that waits is given up, s: as long as the recordings leave the load alone.
const GIVEN_UP_S: f64 = 10.0;
/// Time in which a question is read and answered, s (common practice, no source).
const ANSWERED_S: f64 = 2.0;

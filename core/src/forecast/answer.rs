//! Whether what is left does for what is wanted: one word and one number.

use super::prediction::Prediction;
use super::wanted::Wanted;
use crate::math::ceil;
use crate::measured::Measured;
use crate::sock::History;
use crate::units::Milligrams;

/// The word.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub enum Word {
    /// It will do, at the stated confidence.
    Enough,
    /// It does more likely than not, but not at the stated confidence.
    Close,
    /// It does not do, more likely than not.
    Short,
}

/// An answer and what it rests on.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Answer {
    /// The word.
    pub word: Word,
    /// The number: what will be left over, as likely more as less; negative if that much will be missing.
    pub likely: Milligrams,
    /// What is kept in hand for the word to be "enough": the section may take that much more than expected.
    pub reserve: Milligrams,
    /// What is left now.
    pub left: Measured,
    /// What the sections will take, as likely more as less, ends included.
    pub expected: Milligrams,
    /// The least that they take, at the stated confidence, ends not included.
    pub least: Milligrams,
    /// What is needed to be sure at the stated confidence: the other end of the range.
    pub need: Milligrams,
    /// What the answer rests on.
    pub basis: Basis,
}

/// What an answer rests on: the weakest of its parts.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Basis {
    /// Where the expected mass comes from.
    pub source: Source,
    /// Where the reserve comes from.
    pub reserve: Reserve,
    /// A record was scaled to another stitch count, number of rounds or yarn.
    pub scaled: bool,
}

/// Where an expected mass comes from, the best first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub enum Source {
    /// Nothing is left to knit.
    Nothing,
    /// Sock 1 of this pair.
    FirstSock,
    /// The knitter's own records.
    Records,
    /// Stitches and gauge.
    Estimate,
}

/// Where a reserve comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub enum Reserve {
    /// The spread of this many past pairs: a prediction interval.
    Spread {
        /// How many, at least three.
        pairs: u8,
    },
    /// A quarter over the expected mass, since there are too few records.
    Quarter {
        /// Past pairs that tell of the sections taken from records, the fewest of any; [`u8::MAX`] where none is.
        pairs: u8,
    },
}

/// How sure an answer has to be.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Rule {
    /// Probability that "enough" is right, 0.5 to 0.9995, one-sided.
    pub confidence: f32,
    /// Length that each end of yarn needs for weaving in, millimetres.
    pub end_mm: u16,
}

impl Answer {
    /// What is left beyond all need and reserve, or, negative, what is missing to be sure: tells two answers of one word apart.
    #[must_use]
    pub fn spare(&self) -> Milligrams {
        self.likely - self.reserve
    }
}

impl Default for Rule {
    /// 95 %, and ends of 15 cm (common practice, no source).
    fn default() -> Self {
        Self {
            confidence: 0.95,
            end_mm: 150,
        }
    }
}

/// With fewer pairs than this the spread says next to nothing and the rule of thumb is used: two pairs would ask for 7.7
/// standard deviations.
pub(super) const FEWEST_PAIRS: u8 = 3;

/// Says whether `left` does for all the `wanted` sections together.
///
/// `None` if for one of them nothing is known: no record, no sock 1 and no estimate. Each section is taken from the best
/// source it has: sock 1 of this pair, the records of past pairs, the estimate. The rule of thumb, a quarter over, holds the
/// ends; to a reserve by spread they are added.
#[must_use]
pub fn answer(left: Measured, wanted: &[Wanted], history: &History, rule: Rule) -> Option<Answer> {
    let need = Need::of(wanted, history, rule)?;
    // The uncertainty of what is left belongs to an interval; beside a quarter over it would be spurious, and where nothing
    // is wanted nothing is uncertain.
    let spread = match (need.basis.source, need.basis.reserve) {
        (Source::Nothing, _) | (_, Reserve::Quarter { .. }) => need.by_spread,
        (_, Reserve::Spread { .. }) => need.by_spread.against(left.u),
    };
    let by_spread = spread.reserve(rule.confidence);
    let expected = need.expected();
    let needed = Milligrams(ceil(expected + by_spread + need.quarter)) + need.ends;
    let expected_with_ends = Milligrams(ceil(expected)) + need.ends;
    let likely = left.value - expected_with_ends;
    let reserve = needed - expected_with_ends;
    let word = if likely >= reserve {
        Word::Enough
    } else if likely.0 >= 0 {
        Word::Close
    } else {
        Word::Short
    };
    Some(Answer {
        word,
        likely,
        reserve,
        left,
        expected: expected_with_ends,
        least: Milligrams::whole((expected - by_spread - need.quarter).max(0.0)),
        need: needed,
        basis: need.basis,
    })
}

/// What the wanted sections need, before anything is compared with it.
struct Need {
    by_spread: Prediction,
    /// Expected mass of the sections for which there are too few records, mg.
    by_rule: f32,
    /// A quarter of it.
    quarter: f32,
    ends: Milligrams,
    basis: Basis,
}

impl Need {
    fn expected(&self) -> f32 {
        self.by_spread.expected + self.by_rule
    }

    fn of(wanted: &[Wanted], history: &History, rule: Rule) -> Option<Self> {
        // Which sections have records enough is asked once: the forecasts walk through the sections for each past pair.
        let many = |one: &Wanted| history.count(one.kind, one.construction) >= FEWEST_PAIRS;
        let recorded = Places::of(wanted, |one| one.first.is_none() && many(one));
        let seconds = Places::of(wanted, |one| one.first.is_some());
        let second = history.predict_second(seconds.pick(wanted));
        let together = history.predict(recorded.pick(wanted));
        // The records may be many for each section, yet few where all were knitted in one pair.
        let together = together.filter(|together| together.pairs >= FEWEST_PAIRS);
        let recorded = if together.is_some() { recorded } else { Places::NONE };

        let mut need = Self {
            by_spread: Prediction::NOTHING,
            by_rule: 0.0,
            quarter: 0.0,
            ends: Milligrams::ZERO,
            basis: Basis {
                source: Source::Nothing,
                reserve: Reserve::Spread { pairs: u8::MAX },
                scaled: false,
            },
        };
        let seconds_known = second.pairs >= FEWEST_PAIRS;
        if seconds != Places::NONE {
            let begun = begun(history, seconds.pick(wanted));
            need.take(Source::FirstSock, second, begun, seconds_known);
        }
        if let Some(together) = together {
            need.take(Source::Records, together, begun(history, recorded.pick(wanted)), true);
        }
        for (place, one) in (0_u32..).zip(wanted) {
            let by_spread = match one.first {
                Some(_) => seconds_known,
                None => recorded.has(place),
            };
            if by_spread {
                let length = one.all_ends().saturating_mul(rule.end_mm.into());
                need.ends = need.ends + one.size.yarn.or_usual().mass_of(length);
            } else if one.first.is_none() {
                let (source, prediction) = alone(history, one)?;
                need.take(source, prediction, one.begun.0 as f32, false);
            }
        }
        Some(need)
    }

    fn take(&mut self, source: Source, prediction: Prediction, begun: f32, by_spread: bool) {
        let still = (prediction.expected - begun).max(0.0);
        self.basis.source = self.basis.source.max(source);
        self.basis.scaled |= prediction.scaled;
        let reserve = if by_spread {
            self.by_spread = self.by_spread.plus(Prediction {
                expected: still,
                ..prediction
            });
            Reserve::Spread {
                pairs: self.by_spread.pairs,
            }
        } else {
            self.by_rule += still;
            self.quarter += QUARTER * still;
            let pairs = if source == Source::Records {
                prediction.pairs
            } else {
                u8::MAX
            };
            Reserve::Quarter { pairs }
        };
        self.basis.reserve = match (self.basis.reserve, reserve) {
            (Reserve::Spread { .. }, Reserve::Spread { pairs }) => Reserve::Spread { pairs },
            (Reserve::Quarter { pairs: one }, Reserve::Quarter { pairs: two }) => {
                Reserve::Quarter { pairs: one.min(two) }
            }
            (quarter @ Reserve::Quarter { .. }, _) | (_, quarter) => quarter,
        };
    }
}

/// Places in a list of wanted sections; beyond the 32nd none is in it, so that the rule of thumb stands for those.
#[derive(Clone, Copy, PartialEq, Eq)]
struct Places(u32);

impl Places {
    const NONE: Self = Self(0);

    fn of(wanted: &[Wanted], belongs: impl Fn(&Wanted) -> bool) -> Self {
        let chosen = (0..u32::BITS).zip(wanted).filter(|(_, one)| belongs(one));
        Self(chosen.fold(0, |places, (place, _)| places | 1 << place))
    }

    const fn has(self, place: u32) -> bool {
        place < u32::BITS && self.0 & 1 << place != 0
    }

    fn pick(self, wanted: &[Wanted]) -> impl Iterator<Item = &Wanted> + Clone {
        (0_u32..)
            .zip(wanted)
            .filter(move |&(place, _)| self.has(place))
            .map(|(_, one)| one)
    }
}

/// One section for which there are few records: from those, else from the estimate.
fn alone(history: &History, wanted: &Wanted) -> Option<(Source, Prediction)> {
    if let Some(few) = history.predict(core::iter::once(wanted)) {
        return Some((Source::Records, few));
    }
    let estimate = wanted.estimate?.0 as f32;
    let expected = estimate * f32::from(wanted.socks.count()) / f32::from(wanted.parts.max(1));
    Some((
        Source::Estimate,
        Prediction {
            expected,
            ..Prediction::NOTHING
        },
    ))
}

/// What has been knitted of the sections since their last marks; of each at most what it was expected to take, since what a
/// section takes more than expected does not make the next one smaller.
fn begun<'a>(history: &History, wanted: impl Iterator<Item = &'a Wanted>) -> f32 {
    let of_one = |one: &Wanted| {
        let begun = one.begun.0 as f32;
        if begun <= 0.0 {
            return 0.0;
        }
        let expected = match one.first {
            Some(first) => first.value.0 as f32,
            None => history
                .predict(core::iter::once(one))
                .map_or(0.0, |alone| alone.expected),
        };
        begun.min(expected)
    };
    wanted.map(of_one).sum()
}

/// The knitters' rule of thumb: a quarter over. Common practice, no source.
const QUARTER: f32 = 0.25;

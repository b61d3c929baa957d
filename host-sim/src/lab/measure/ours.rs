//! The core's own scale under test.

use yarn_scale_core::book::{Book, Stay};
use yarn_scale_core::converter::{RawSample, SampleRate};
use yarn_scale_core::journal::{Entry, Record, Sequence};
use yarn_scale_core::measured::Measured;
use yarn_scale_core::signal::Thresholds;
use yarn_scale_core::sock::{Construction, Line, SectionKind, Sock, Weight, YarnLetter};
use yarn_scale_core::units::{Counts, FineCounts, Instant, Milligrams, Stamp};
use yarn_scale_core::weighing::{Calibration, CalibrationFault, Scale, ScaleEvent};

use super::indicator::{Indicator, Shown, Stated};
use crate::world;

/// The device's own way from samples to what a section took: its scale, its book, its marks of a stay. No time passes in the book, so that
/// moisture, which the recordings have none of, widens nothing.
#[derive(Debug)]
pub(crate) struct Ours {
    scale: Scale,
    book: Book,
    stay: Stay,
    /// The records of the marks.
    kept: Vec<Sequence>,
    sequence: Sequence,
}

impl Ours {
    /// Switched on with this calibration; gives the steady sign at `odds`, 64ths of a natural logarithm, or as it usually does.
    ///
    /// # Errors
    /// If the core refuses the calibration.
    pub(crate) fn new(
        calibration: world::Calibration,
        rate: SampleRate,
        odds: Option<i16>,
    ) -> Result<Self, CalibrationFault> {
        let zero = FineCounts((calibration.zero_counts * f64::from(FineCounts::PER_COUNT)).round() as i32);
        let calibration = Calibration::straight(zero, calibration.counts_per_g as f32)?;
        let mut scale = Scale::new(calibration, CAPACITY, rate, None);
        if let Some(give) = odds {
            let usual = Thresholds::usual(rate);
            scale.set_thresholds(Thresholds {
                acquire: give,
                release: usual.release.min(give),
            });
        }
        let mut ours = Self {
            scale,
            book: Book::new(CAPACITY),
            stay: Stay::default(),
            kept: Vec::new(),
            sequence: Sequence(0),
        };
        ours.note(Record::Calibrated(calibration));
        ours.note(Record::PairBegun {
            pair: 1,
            lines: [SECTION].into_iter().collect(),
        });
        Ok(ours)
    }

    fn note(&mut self, record: Record) -> Sequence {
        self.sequence.0 += 1;
        let (sequence, at) = (self.sequence, Stamp(0));
        self.book.apply(&Entry { sequence, at, record });
        sequence
    }

    fn amend(&mut self) {
        while let Some(record) = self.stay.amendment(&self.book, &self.scale) {
            self.note(record);
        }
    }
}

impl Indicator for Ours {
    fn sample(&mut self, t_ms: u64, raw: i32) -> Shown {
        let event = self.scale.sample(Instant(t_ms), Ok(RawSample(Counts(raw))));
        if matches!(event, Some(ScaleEvent::Emptied | ScaleEvent::BowlBare(_))) {
            self.amend();
        }
        self.stay.follow(&self.scale);
        let readout = self.scale.readout();
        Shown {
            grams: readout.gross.map(|net| f64::from(net.value.0) / 1_000.0),
            tenths: readout.shown.map(|shown| i64::from(shown.steps())),
            steady: readout.steady.is_some(),
        }
    }

    fn asks(&self) -> bool {
        self.scale.is_perhaps_empty()
    }

    fn zero(&mut self) {
        if self.scale.zero() {
            self.amend();
        }
    }

    fn bowl(&mut self) {
        if let Some(load) = self.scale.steady() {
            self.scale.tare(self.scale.gross(&load));
        }
    }

    fn keep(&mut self) -> Option<usize> {
        let load = self.scale.stood()?;
        let weight = Weight {
            net: self.scale.gross(&load),
            bowl: None,
            air: None,
        };
        let yarn = SECTION.yarn;
        let record = if self.book.ledger().last(yarn).is_none() {
            Record::WeighIn { yarn, weight }
        } else {
            let mark = (0, yarn, weight);
            self.stay.boundary(&self.book, &self.scale, mark, &load)
        };
        let sequence = self.note(record);
        self.stay.remember(sequence, load);
        self.kept.push(sequence);
        Some(self.kept.len() - 1)
    }

    fn used(&self, before: usize, after: usize) -> Option<Stated> {
        let ledger = self.book.ledger();
        let place = |kept: usize| {
            let sequence = self.kept.get(kept)?;
            ledger.steps().iter().position(|step| step.sequence == *sequence)
        };
        let (before, after) = (place(before)?, place(after)?);
        // The ledger tells what went from one mark to the next.
        (before + 1 == after)
            .then(|| ledger.used_at(after))
            .flatten()
            .map(stated)
    }
}

/// All marks close the same section: what it is called changes nothing.
const SECTION: Line = Line {
    kind: SectionKind::Leg,
    sock: Sock::First,
    yarn: YarnLetter::A,
    construction: Construction::Plain,
    stitches: 0,
};

const CAPACITY: Milligrams = Milligrams::from_grams(500);

fn stated(used: Measured) -> Stated {
    Stated {
        grams: f64::from(used.value.0) / 1_000.0,
        interval: Some(1.96 * f64::from(used.u) / 1_000.0),
    }
}

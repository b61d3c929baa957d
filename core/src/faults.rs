//! What each fault says in one plain sentence: to a log, to a terminal, to whoever builds on core. The knitter reads
//! [`crate::screen`]'s words instead.

use core::error::Error;
use core::fmt::{self, Display, Formatter};

use crate::board::ScreenFault;
use crate::converter::ConverterFault;
use crate::journal::{DecodeFault, JournalFault};
use crate::ledger::ApplyFault;
use crate::link::{FrameFault, Refusal};
use crate::signal::SensorFault;
use crate::weighing::CalibrationFault;

/// An error whose cases each say one sentence.
macro_rules! says {
    ($fault:ty { $($case:pat => $sentence:literal,)+ }) => {
        impl Display for $fault {
            fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
                f.write_str(match self { $($case => $sentence,)+ })
            }
        }

        impl Error for $fault {}
    };
}

says!(ConverterFault {
    Self::Missing => "no conversion came in time",
    Self::StuckLow => "the converter's data line stays low",
    Self::OddRate => "conversions come at a rate that no strap gives",
});

says!(SensorFault {
    Self::Missing => "no conversion came in time",
    Self::Shorted => "the converter's data line stays low",
    Self::OddRate => "conversions come at a rate that no strap gives",
    Self::Stuck => "the converter repeats one word",
    Self::SaturatedHigh => "the converter stands at its upper end",
    Self::SaturatedLow => "the converter stands at its lower end",
    Self::Garbled => "the cell cannot have meant this word",
    Self::TimeBackwards => "this sample is not later than the one before",
});

says!(CalibrationFault {
    Self::TooFewPoints => "a calibration needs two different loads",
    Self::NoZero => "a calibration needs the empty pan",
    Self::TooLight => "the heaviest load is too light to calibrate with",
    Self::NoResponse => "the level does not follow the load",
    Self::NotStraight => "the points lie on no line that a load cell can give",
    Self::Nonsense => "these numbers are no calibration",
});

says!(JournalFault {
    Self::Flash => "the flash did not do what it was told",
    Self::Full => "the journal is full",
    Self::Unwritable => "the schema does not allow this record",
    Self::Uncondensed => "the last pair is not condensed yet",
    Self::Unsuitable => "this flash cannot hold a journal",
    Self::Closed => "the pair is closed for good",
    Self::Restoring => "a backup is being restored",
});

says!(DecodeFault {
    Self::Malformed => "these bytes are no entry",
    Self::Version => "the entry is of a schema that this program does not know",
});

says!(ApplyFault {
    Self::Full => "the pair holds as many weights as it can",
    Self::NoSuchRecord => "it speaks of a record that is not there",
    Self::NoSuchLine => "it speaks of a section that the plan does not have",
    Self::NotWeighedIn => "the yarn was never weighed in",
    Self::NoPair => "no pair is being knitted",
    Self::NoMark => "it speaks of a record that is no mark of a section",
});

says!(ScreenFault {
    Self => "the display does not answer",
});

says!(FrameFault {
    Self::TooLong => "the frame is too long",
    Self::Damaged => "the frame was damaged on its way",
    Self::Unknown => "the frame holds no message that this program knows",
});

impl Display for Refusal {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Busy => "the scale is taking a mark or waits for an answer: finish there, then try again",
            Self::Stale => "the scale has noted something meanwhile: try again",
            Self::Foreign => "the scale's journal holds something else, or more than the backup",
            Self::NotNoted(_) => "the scale's journal did not take it",
            Self::NoSuchPlace => "the scale's journal has no such place",
            Self::NoNeed => "there is room enough on the scale",
            Self::NoJournal => "the scale cannot open its journal: see its diagnostics page",
        })
    }
}

impl Error for Refusal {
    fn source(&self) -> Option<&(dyn Error + 'static)> {
        match self {
            Self::NotNoted(fault) => Some(fault),
            Self::Busy | Self::Stale | Self::Foreign | Self::NoSuchPlace | Self::NoJournal | Self::NoNeed => None,
        }
    }
}

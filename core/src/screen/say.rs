//! Which text belongs to what the view says: no wildcard, so that whatever is new needs its text.

use super::view::{FaultWord, KeyWord, RefusedWord};
use super::words::Word;
use crate::sock::SectionKind;
use crate::weighing::CalibrationFault;

impl KeyWord {
    /// Its text, if the key does anything.
    pub(super) const fn word(self) -> Option<Word> {
        Some(match self {
            Self::Nothing => return None,
            Self::Zero => Word::Zero,
            Self::Bowl => Word::Bowl,
            Self::Mark => Word::Mark,
            Self::WeighIn => Word::WeighIn,
            Self::Next => Word::Next,
            Self::Down => Word::Down,
            Self::Choose => Word::Choose,
            Self::Less => Word::Less,
            Self::More => Word::More,
            Self::Back => Word::Back,
            Self::BackOrUp => Word::BackOrUp,
            Self::DownOrUp => Word::DownOrUp,
            Self::List => Word::ToList,
            Self::Ok => Word::Ok,
            Self::Take => Word::Take,
            Self::Calibrate => Word::Calibrate,
            Self::Plan => Word::ToPlan,
            Self::Accept => Word::Accept,
            Self::Check => Word::ToCheck,
            Self::Pairs => Word::PairsOnNeedles,
            Self::ToPair => Word::ToPair,
            Self::Finish => Word::Finish,
            Self::Yarn => Word::OtherYarn,
        })
    }
}

impl SectionKind {
    /// Its name.
    pub(super) const fn word(self) -> Word {
        match self {
            Self::Cuff => Word::Cuff,
            Self::Leg => Word::Leg,
            Self::Heel => Word::Heel,
            Self::Gusset => Word::Gusset,
            Self::Foot => Word::Foot,
            Self::Toe => Word::Toe,
            Self::Part1 => Word::Part1,
            Self::Part2 => Word::Part2,
            Self::Part3 => Word::Part3,
            Self::Part4 => Word::Part4,
            Self::Part5 => Word::Part5,
            Self::Part6 => Word::Part6,
            Self::Part7 => Word::Part7,
            Self::Part8 => Word::Part8,
        }
    }
}

impl FaultWord {
    /// What is wrong, and the way out.
    pub(super) const fn word(self) -> Word {
        match self {
            Self::SensorMissing => Word::FaultSensorMissing,
            Self::SensorStuck => Word::FaultSensorStuck,
            Self::SensorRate => Word::FaultSensorRate,
            Self::Overload => Word::FaultOverload,
            Self::Underload => Word::FaultUnderload,
            Self::Reversed => Word::FaultReversed,
            Self::Uncalibrated => Word::FaultUncalibrated,
        }
    }
}

impl RefusedWord {
    /// Why it was not done, and the way out.
    pub(super) const fn word(self) -> Word {
        match self {
            Self::NotSteady => Word::RefusedNotSteady,
            Self::ZeroNotSteady => Word::RefusedZeroNotSteady,
            Self::OtherCake => Word::RefusedOtherCake,
            Self::NothingKnitted => Word::RefusedNothingKnitted,
            Self::EmptyPan => Word::RefusedEmptyPan,
            Self::NoPlan => Word::RefusedNoPlan,
            Self::PlanDone => Word::RefusedPlanDone,
            Self::NothingToUndo => Word::RefusedNothingToUndo,
            Self::NotNoted => Word::RefusedNotNoted,
            Self::JournalFull => Word::RefusedJournalFull,
            Self::SupplyLow => Word::RefusedSupplyLow,
            Self::PairFull => Word::RefusedPairFull,
            Self::PairFinished => Word::RefusedPairFinished,
            Self::Faulty => Word::RefusedFaulty,
            Self::Pressed => Word::RefusedPressed,
            Self::Calibration(CalibrationFault::TooLight) => Word::RefusedTooLight,
            Self::Calibration(CalibrationFault::NoResponse) => Word::RefusedNoResponse,
            // The pages of the calibration have an empty pan and a mass before they prove anything: of the last three none comes here.
            Self::Calibration(
                CalibrationFault::NotStraight
                | CalibrationFault::TooFewPoints
                | CalibrationFault::NoZero
                | CalibrationFault::Nonsense,
            ) => Word::RefusedNotStraight,
        }
    }
}

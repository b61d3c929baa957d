//! What has just happened, was refused, or stands in the way of weighing.

use crate::measured::Measured;
use crate::sock::{BowlNumber, Line, YarnLetter};
use crate::units::Milligrams;
use crate::weighing::CalibrationFault;

/// Something has just happened, or could not: shown for a few seconds or until a key is pressed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Notice {
    /// First weight of a yarn is in the journal.
    WeighedIn {
        /// Which yarn.
        yarn: YarnLetter,
        /// What it weighs.
        weight: Measured,
        /// What will likely be missing for all that is planned in it, if it is too little.
        short: Option<Milligrams>,
    },
    /// A mark is in the journal.
    Noted {
        /// The section it closed.
        line: Line,
        /// What it took.
        used: Measured,
        /// What is left of the yarn.
        left: Milligrams,
    },
    /// "Start from here" is in the journal.
    Started {
        /// Which yarn.
        yarn: YarnLetter,
        /// What it weighs.
        weight: Measured,
        /// What goes to no section.
        unplanned: Milligrams,
    },
    /// An earlier mark was corrected by the empty pan.
    Amended {
        /// The section.
        line: Option<Line>,
        /// What it took, corrected.
        used: Measured,
    },
    /// A yarn's first weight was corrected by the empty pan.
    WeightAmended {
        /// Which yarn.
        yarn: YarnLetter,
        /// What it weighs, corrected.
        weight: Measured,
    },
    /// The last mark was taken back.
    Undone {
        /// The section that is open again.
        line: Option<Line>,
    },
    /// A section was skipped.
    Skipped {
        /// Which.
        line: Line,
    },
    /// A bowl is remembered.
    BowlNoted {
        /// Its number.
        number: BowlNumber,
        /// Its mass.
        mass: Measured,
    },
    /// Zero was set.
    ZeroSet,
    /// A computer sees the drive, with all that is noted by now.
    Drive,
    /// The device started after something went wrong.
    Restarted(RestartWord),
    /// Not done, and why.
    Refused(RefusedWord),
    /// A backup is being restored: stands until that is done.
    Restoring,
}

/// Why the device restarted by itself.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RestartWord {
    /// It hung.
    Hang,
    /// It found an error in itself; the code helps its makers.
    Error(u32),
}

/// Why something was not done, in one plain sentence, with the way out.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RefusedWord {
    /// Zero was not set: the pan did not come to rest.
    ZeroNotSteady,
    /// What lies on the pan cannot be the cake whose rounds are counted.
    OtherCake,
    /// Nothing was used since the last weighing.
    NothingKnitted,
    /// The reading did not become steady in time: press MARK again with hands off.
    NotSteady,
    /// There is nothing on the pan to mark.
    EmptyPan,
    /// There is no plan; choose one first.
    NoPlan,
    /// All sections are done.
    PlanDone,
    /// Nothing to undo.
    NothingToUndo,
    /// The journal did not take it; it is not noted.
    NotNoted,
    /// The journal is full.
    JournalFull,
    /// The supply is too low to write safely.
    SupplyLow,
    /// The pair holds as many marks as it can.
    PairFull,
    /// The pair is finished, and all that was noted of it is not there any more.
    PairFinished,
    /// The pan cannot weigh just now.
    Faulty,
    /// The load was pressed down, and a cell remembers that: put it down again.
    Pressed,
    /// The loads and readings make no calibration.
    Calibration(CalibrationFault),
}

/// The scale cannot weigh, in one plain sentence with the way out.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FaultWord {
    /// No sensor answers: check its plug.
    SensorMissing,
    /// The sensor repeats itself: check its wiring.
    SensorStuck,
    /// The scale cannot weigh at the sensor's rate: check the converter's strap.
    SensorRate,
    /// More on the pan than it can carry: take it off.
    Overload,
    /// The pan is missing or lifted.
    Underload,
    /// The load cell is the wrong way round: turn it, or calibrate.
    Reversed,
    /// Not calibrated yet.
    Uncalibrated,
}

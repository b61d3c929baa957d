//! What happens to one pair. Since schema 2 such a record carries the pair's number; one of schema 1 belongs to the pair begun last.

use heapless::String;
use serde::{Deserialize, Serialize};

use super::{Record, Sequence};
use crate::measured;
use crate::sock::{Label, Line, Weight, YarnLetter};
use crate::units::Stamp;

/// What happens to a pair. Variants are only ever appended, as those of [`Record`].
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub enum PairEvent {
    /// A line of the plan was changed, or added at its end.
    LineChanged {
        /// Its place in the plan.
        index: u8,
        /// What it is now.
        line: Line,
    },
    /// A yarn's first weight in the pair.
    WeighIn {
        /// Which yarn.
        yarn: YarnLetter,
        /// What it weighs.
        weight: Weight,
    },
    /// A boundary: the yarn's weight after a section of the plan.
    Mark {
        /// Place in the plan of the section that this closes.
        line: u8,
        /// The yarn it took.
        yarn: YarnLetter,
        /// What is left of it.
        weight: Weight,
        /// Standard uncertainty of what went since the yarn's last weight, mg, where it is known better than from the two weights:
        /// no empty pan was found between them.
        #[serde(deserialize_with = "measured::uncertainty_if_any")]
        used_u: Option<f32>,
    },
    /// "Start from here": what went since the last weight belongs to no section.
    Unplanned {
        /// Which yarn.
        yarn: YarnLetter,
        /// What it weighs now.
        weight: Weight,
    },
    /// The weight of an earlier record, corrected once the empty pan had shown where zero was.
    Amended {
        /// The record that is corrected.
        of: Sequence,
        /// Its corrected weight.
        weight: Weight,
    },
    /// The newest weight, or a skip, taken back.
    Undone {
        /// The record taken back.
        of: Sequence,
    },
    /// A section of the plan that will not be knitted, or not be weighed.
    Skipped {
        /// Its place in the plan.
        line: u8,
    },
    /// A boundary that was forgotten, set afterwards on an earlier visit.
    LateMark {
        /// Place in the plan of the section that this closes.
        line: u8,
        /// The yarn it took.
        yarn: YarnLetter,
        /// What was left of it then.
        weight: Weight,
        /// When the visit was.
        visited: Stamp,
        /// The later mark of the same yarn before which it belongs, if there is one, and the section that that mark
        /// closes from now on.
        before: Option<(Sequence, u8)>,
    },
    /// A mark belongs to another section than was noted.
    Moved {
        /// The mark.
        of: Sequence,
        /// Place in the plan of the section that it closes from now on.
        line: u8,
    },
    /// A mark that need not be the newest, taken back: what it took joins the yarn's next weight.
    TakenBack {
        /// The mark taken back.
        of: Sequence,
    },
    /// A yarn of another pair goes on in this one: its chain ends there with this weight, and begins here with it.
    Carried {
        /// Its letter here.
        yarn: YarnLetter,
        /// The other pair's number.
        from: u16,
        /// Its letter there.
        was: YarnLetter,
        /// What it weighs.
        weight: Weight,
    },
    /// What the band of one of its yarns says.
    Label {
        /// Which yarn.
        yarn: YarnLetter,
        /// What its band says.
        label: Label,
    },
    /// A name given to one of its yarns on a computer.
    YarnNamed {
        /// Which yarn.
        yarn: YarnLetter,
        /// Its name, UTF-8.
        name: String<24>,
    },
    /// Gauge and stitches that hold for every section without its own.
    Gauge(Gauge),
    /// Rounds of a section were counted and the yarn weighed; this divides no section.
    Rounds {
        /// Place in the plan of the section that is being knitted.
        line: u8,
        /// From which yarn.
        yarn: YarnLetter,
        /// What is left of it.
        weight: Weight,
        /// Rounds knitted since the yarn was last weighed by a mark or a record of this kind; 0 where counting begins.
        rounds: u16,
    },
    /// The pair was closed too early and is open again. Only while no other pair was begun or closed since.
    Reopened,
}

/// Every record that says what happened to a pair, whichever schema it is of: a pattern for matches that need to know no more.
macro_rules! of_a_pair {
    () => {
        $crate::journal::Record::LineChanged { .. }
            | $crate::journal::Record::WeighIn { .. }
            | $crate::journal::Record::Mark { .. }
            | $crate::journal::Record::SharedZeroMark { .. }
            | $crate::journal::Record::Unplanned { .. }
            | $crate::journal::Record::Amended { .. }
            | $crate::journal::Record::Undone { .. }
            | $crate::journal::Record::Skipped { .. }
            | $crate::journal::Record::LateMark { .. }
            | $crate::journal::Record::OfPair { .. }
            | $crate::journal::Record::Kept { .. }
    };
}
pub(crate) use of_a_pair;

/// Every record that is of the device itself, and of no pair: a pattern for matches that need to know no more.
macro_rules! of_the_device {
    () => {
        $crate::journal::Record::Reserved
            | $crate::journal::Record::Started(_)
            | $crate::journal::Record::Calibrated(_)
            | $crate::journal::Record::Bowl { .. }
            | $crate::journal::Record::Visit { .. }
            | $crate::journal::Record::Setting(_)
            | $crate::journal::Record::ClockSet { .. }
            | $crate::journal::Record::Named { .. }
            | $crate::journal::Record::Control { .. }
            | $crate::journal::Record::Bench { .. }
    };
}
pub(crate) use of_the_device;

impl PairEvent {
    /// Whether it changes what is done and what is yet to do, as nothing can of a finished pair.
    #[must_use]
    pub const fn is_knitting(&self) -> bool {
        match self {
            Self::WeighIn { .. }
            | Self::Mark { .. }
            | Self::Unplanned { .. }
            | Self::LateMark { .. }
            | Self::Carried { .. }
            | Self::LineChanged { .. }
            | Self::Undone { .. }
            | Self::Skipped { .. }
            | Self::Moved { .. }
            | Self::TakenBack { .. } => true,
            Self::Amended { .. }
            | Self::Label { .. }
            | Self::YarnNamed { .. }
            | Self::Gauge(_)
            | Self::Rounds { .. }
            | Self::Reopened => false,
        }
    }

    /// Whether it is a weight of one of the pair's yarns, which the ledger keeps.
    #[must_use]
    pub const fn adds_a_step(&self) -> bool {
        match self {
            Self::WeighIn { .. }
            | Self::Mark { .. }
            | Self::Unplanned { .. }
            | Self::LateMark { .. }
            | Self::Carried { .. } => true,
            Self::LineChanged { .. }
            | Self::Amended { .. }
            | Self::Undone { .. }
            | Self::Skipped { .. }
            | Self::Moved { .. }
            | Self::TakenBack { .. }
            | Self::Label { .. }
            | Self::YarnNamed { .. }
            | Self::Gauge(_)
            | Self::Rounds { .. }
            | Self::Reopened => false,
        }
    }
}

/// Stitches and gauge of a pair; 0 where one is not known.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Gauge {
    /// Stitches of a round.
    pub stitches: u8,
    /// Stitches across ten centimetres, in halves.
    pub stitches_per_10_cm: u8,
    /// Rounds along ten centimetres, in halves.
    pub rounds_per_10_cm: u8,
}

impl Record {
    /// The same with its pair's number, as it is written since schema 2; what belongs to no pair stays as it is.
    #[must_use]
    pub fn of_pair(self, pair: u16) -> Self {
        match self.pair_event(pair) {
            Some((pair, event)) if !matches!(self, Self::Kept { .. }) => Self::OfPair { pair, event },
            _ => self,
        }
    }

    /// The pair that the record belongs to and what it says of it, whichever schema it is of; `begun_last` is the number of the pair
    /// begun last before it. `None` for a record that belongs to no pair, and for what begins or closes one.
    #[must_use]
    pub fn pair_event(&self, begun_last: u16) -> Option<(u16, PairEvent)> {
        let event = match *self {
            Self::OfPair { pair, ref event } | Self::Kept { pair, ref event, .. } => {
                return Some((pair, event.clone()));
            }
            Self::LineChanged { index, line } => PairEvent::LineChanged { index, line },
            Self::WeighIn { yarn, weight } => PairEvent::WeighIn { yarn, weight },
            Self::Mark { line, yarn, weight } => PairEvent::Mark {
                line,
                yarn,
                weight,
                used_u: None,
            },
            Self::SharedZeroMark {
                line,
                yarn,
                weight,
                used_u,
            } => PairEvent::Mark {
                line,
                yarn,
                weight,
                used_u: Some(used_u),
            },
            Self::Unplanned { yarn, weight } => PairEvent::Unplanned { yarn, weight },
            Self::Amended { of, weight } => PairEvent::Amended { of, weight },
            Self::Undone { of } => PairEvent::Undone { of },
            Self::Skipped { line } => PairEvent::Skipped { line },
            Self::LateMark {
                line,
                yarn,
                weight,
                visited,
                before,
            } => PairEvent::LateMark {
                line,
                yarn,
                weight,
                visited,
                before,
            },
            of_the_device!()
            | Self::PairBegun { .. }
            | Self::PairClosed { .. }
            | Self::Yarn { .. }
            | Self::Lost { .. }
            | Self::Condensed { .. }
            | Self::Checkpoint { .. } => return None,
        };
        Some((begun_last, event))
    }
}

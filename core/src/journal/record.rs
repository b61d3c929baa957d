//! The schema: what the journal can hold, and its history.
//!
//! | version | what was added |
//! |---|---|
//! | 1 | everything up to `SharedZeroMark`, `BowlInUse` |
//! | 2 | `OfPair` with [`PairEvent`](super::PairEvent): what belongs to a pair carries its number; `Kept`, `Bench`; settings from `CellCapacity` on; sections `Part1` to `Part8`, construction `PartOf` |
//!
//! Variants are only ever appended, never reordered or removed: their place is their number on flash. The first is
//! reserved, since a run of zeros decodes as it. Masses are milligrams with their standard uncertainty; `at` is in
//! seconds of the device's own clock.

use heapless::Vec;
use serde::{Deserialize, Serialize};

use super::PairEvent;
use crate::measured::Measured;
use crate::sock::{BowlNumber, Label, Line, MAX_LINES, SectionUse, Weight, YarnLetter};
use crate::units::{FineCounts, Stamp};
use crate::weighing::Unit;

/// The number of a record, counted up from 1 without a gap. Marks, condensed pairs and visits count on their own.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Sequence(pub u32);

/// A record with its number and time, as it stands in the journal.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Entry {
    /// Its number.
    pub sequence: Sequence,
    /// When it was noted.
    pub at: Stamp,
    /// What was noted.
    pub record: Record,
}

impl Entry {
    /// The number by which other records know it: of what a checkpoint noted once more, the one it had at first.
    #[must_use]
    pub const fn number(&self) -> Sequence {
        if let Record::Kept { number, .. } = self.record {
            number
        } else {
            self.sequence
        }
    }
}

/// Why the device started.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub enum StartCause {
    /// Power came on.
    #[default]
    PowerOn,
    /// The watchdog ended a hang.
    Watchdog,
    /// A panic, with the code it left.
    Panic(u32),
    /// A backup was restored.
    Restored,
}

/// What can be noted.
#[allow(clippy::large_enum_variant, reason = "there is no allocator to box a plan with")]
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub enum Record {
    /// Never written: zeros decode as it.
    Reserved,
    /// The device started.
    Started(StartCause),
    /// The pan was calibrated.
    Calibrated(crate::weighing::Calibration),
    /// A bowl was tared under a number, in place of the one that had it.
    Bowl {
        /// Its number.
        number: BowlNumber,
        /// Its mass; nothing if the bowl is forgotten.
        mass: Measured,
    },
    /// A pair was begun with this plan; its number is one more than the last pair's.
    PairBegun {
        /// The pair's number, from 1.
        pair: u16,
        /// Its sections in knitting order.
        lines: Vec<Line, MAX_LINES>,
    },
    /// A line of the running pair's plan was changed, or added at its end.
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
    /// An earlier weigh-in, mark or unplanned use, or a skip, taken back.
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
    /// A steady load that the pan has seen, marked or not.
    Visit {
        /// What it weighed, gross.
        gross: Measured,
        /// The bowl that was set.
        bowl: Option<BowlNumber>,
        /// Where zero was.
        zero: FineCounts,
    },
    /// The pair is finished.
    PairClosed {
        /// Its number.
        pair: u16,
    },
    /// A setting was changed.
    Setting(Setting),
    /// What is known of a yarn.
    Yarn {
        /// Its letter.
        letter: YarnLetter,
        /// What its band says.
        label: Label,
    },
    /// A computer has set the clock.
    ClockSet {
        /// Seconds since 1970-01-01 UTC at the time of this record.
        unix: u64,
    },
    /// A name given on a computer.
    Named {
        /// What is named.
        what: Named,
        /// Its name, UTF-8.
        name: heapless::String<24>,
    },
    /// Records that are missing before this one: refused for want of room, or cut off in the middle of their writing.
    Lost {
        /// How many.
        count: u16,
    },
    /// What a closed pair took, in short. A later one of the same pair replaces it.
    Condensed {
        /// The pair's number.
        pair: u16,
        /// Its marked sections in knitting order.
        sections: Vec<SectionUse, MAX_LINES>,
    },
    /// All that stands has been noted once more; nothing before is needed to go on.
    Checkpoint {
        /// The first of the records that were noted once more.
        from: Sequence,
        /// The last pair that was begun; 0 before the first.
        pair: u16,
        /// That pair is closed, and its marks are not needed either. Otherwise the checkpoint counts from the time that the
        /// next pair is begun.
        alone: bool,
    },
    /// The control skein was weighed: its moisture tells that of the cakes.
    Control {
        /// What it weighs.
        weight: Measured,
    },
    /// A boundary like [`Record::Mark`], with no empty pan found since the yarn's last weight: what went since then is known better than
    /// from the two weights.
    SharedZeroMark {
        /// Place in the plan of the section that this closes.
        line: u8,
        /// The yarn it took.
        yarn: YarnLetter,
        /// What is left of it.
        weight: Weight,
        /// Standard uncertainty of what went since the yarn's last weight, mg.
        #[serde(deserialize_with = "crate::measured::uncertainty")]
        used_u: f32,
    },
    /// Something happened to a pair.
    OfPair {
        /// The pair's number. It stands in front, so that a reader need not understand the rest.
        pair: u16,
        /// What happened.
        event: PairEvent,
    },
    /// What happened to a pair that was open at a checkpoint, noted once more; known by the number that it had at first.
    Kept {
        /// The pair's number.
        pair: u16,
        /// The number under which it was first noted.
        number: Sequence,
        /// What happened.
        event: PairEvent,
    },
    /// A result of the check on the bench. A later one of the same check replaces it.
    Bench {
        /// What was checked.
        check: BenchCheck,
        /// What came out, in the check's unit.
        value: i32,
        /// Whether it is within its limits; `None` where there are none.
        passed: Option<bool>,
    },
}

/// What can have a name.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub enum Named {
    /// A pair, by number.
    Pair(u16),
    /// A yarn of the running pair.
    Yarn(YarnLetter),
}

/// A setting and its value.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub enum Setting {
    /// Units of mass.
    Unit(Unit),
    /// Language of the screen.
    Language(Language),
    /// Brightness in four steps, 1 to 4.
    Brightness(u8),
    /// Minutes without use before the display goes off, 1 to 30.
    SleepMinutes(u8),
    /// Sounds.
    Sound(bool),
    /// The bowl on the pan, or none.
    BowlInUse(Option<BowlNumber>),
    /// Most that the load cell may carry, grams.
    CellCapacity(u16),
    /// Columns of the panel's memory to the left of the picture.
    PanelOffset(u8),
    /// What it is supplied from.
    Supply(SupplyKind),
    /// The language was asked for at the first start.
    LanguageAsked(bool),
    /// The pair that is gone on with; as long as this was never set, the one begun last.
    PairInHand(u16),
    /// Of the closed pairs in short, those from this number on are kept; the older ones go where their room is wanted.
    KeptFrom(Sequence),
}

/// What the scale is supplied from: each is empty at its own voltage.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub enum SupplyKind {
    /// Three alkaline cells.
    #[default]
    Alkaline,
    /// Three nickel-metal hydride cells.
    NickelMetalHydride,
    /// One protected lithium-ion cell.
    Lithium,
    /// A USB supply and nothing else.
    Usb,
}

/// What the check on the bench measures, and in which unit. What passes stands in [`crate::bench`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub enum BenchCheck {
    /// Supply as measured, less what a meter reads, mV.
    Supply,
    /// Conversions in a thousand seconds; 0 if there are none.
    Rate,
    /// Standard deviation of a conversion with the pan at rest, milli-counts; -1 if there is none.
    Noise,
    /// Counts of a known mass, per gram.
    Span,
    /// Drift of the empty pan, milli-counts a minute.
    Drift,
    /// How long the ZERO, MARK and NEXT keys bounce at most, ms, a byte each from the lowest; 255 for one that sticks or was not pressed.
    Keys,
    /// The frame touches all four edges of the panel: 4, or not: 0.
    Panel,
    /// The humidity sensor answers: 1, or not: 0.
    Sensor,
    /// The buzzer was heard: 1, or not: 0.
    Buzzer,
    /// The flash chip's number, its low 31 bits.
    Flash,
    /// Why the chip was reset last, as its register says.
    Reset,
    /// From reset to the first number, ms; the largest number while there is none.
    Boot,
    /// Counts of the empty pan.
    Empty,
}

impl BenchCheck {
    /// All of them, in the order of their numbers.
    pub const ALL: [Self; 13] = [
        Self::Supply,
        Self::Rate,
        Self::Noise,
        Self::Span,
        Self::Drift,
        Self::Keys,
        Self::Panel,
        Self::Sensor,
        Self::Buzzer,
        Self::Flash,
        Self::Reset,
        Self::Boot,
        Self::Empty,
    ];
}

/// Language of the screen.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub enum Language {
    /// English.
    #[default]
    English,
    /// German.
    German,
}

//! What can be asked over the line, and answered.

use heapless::{String, Vec};
use serde::{Deserialize, Serialize};

use crate::bench::Task;
use crate::journal::{JournalFault, Named, RingName, Sequence};
use crate::sock::{Label, YarnLetter};
use crate::units::{Milligrams, Millivolts};

/// Version of the protocol.
pub const PROTOCOL: u8 = 5;

/// Most bytes of entries in one question or answer: a sector of the journal always fits, since an entry takes more beside it there
/// than the two bytes of its length take here.
pub const MAX_ENTRIES: usize = 4_096;

/// A question.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Request {
    /// Comes back with the answer.
    pub id: u8,
    /// What is asked.
    pub ask: Ask,
}

/// An answer.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Response {
    /// The question's.
    pub id: u8,
    /// What is answered.
    pub answer: Answer,
}

/// What can be asked.
#[allow(clippy::large_enum_variant, reason = "there is no allocator to box the entries with")]
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub enum Ask {
    /// Who are you?
    Hello,
    /// Entries of the journal from here on.
    Read(Position),
    /// Note this, if the next record of the marks would have this number.
    Note {
        /// The number.
        expected: Sequence,
        /// What to note.
        note: LinkNote,
    },
    /// Take these entries over from a backup, if they continue their ring and a restore was begun.
    Restore {
        /// The ring.
        ring: RingName,
        /// The entries, encoded as in the backup, each behind its length, most significant byte first.
        entries: Vec<u8, MAX_ENTRIES>,
    },
    /// Do this of the check on the bench, if anything, and say how it stands.
    Check(Option<Task>),
    /// A backup is about to come. Nothing of it counts before its end.
    RestoreBegin,
    /// The backup has come: it counts, if it came whole.
    RestoreEnd {
        /// How many entries it had.
        entries: u32,
        /// Their checksum, as `Journal::end_restore` has it.
        checksum: u32,
    },
    /// Behind the last entry of which rings does something stand that cannot be read?
    Ends,
    /// The conversions since this was asked last: asked again and again, a recording.
    Conversions,
}

/// A place in the journal, as the device gave it; the default is the beginning.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Position {
    /// Which part: 0 closed pairs, 1 marks, 2 visits.
    pub part: u8,
    /// The sector of that part; none is its oldest.
    pub sector: Option<u16>,
    /// Entries passed in that sector: of protocol 1, whose answers held less than a sector. Not looked at since.
    pub entries: u16,
}

/// What a computer may note.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub enum LinkNote {
    /// A name.
    Name {
        /// Of what.
        what: Named,
        /// The name, UTF-8.
        name: String<24>,
    },
    /// The time now, seconds since 1970-01-01 UTC.
    Clock {
        /// The seconds.
        unix: u64,
    },
    /// What a yarn's band says.
    Yarn {
        /// Its letter.
        letter: YarnLetter,
        /// The band.
        label: Label,
    },
    /// That the oldest closed pairs may go, as many as make room: which ones, the record says.
    MakeRoom,
}

/// What can be answered.
#[allow(clippy::large_enum_variant, reason = "there is no allocator to box the entries with")]
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub enum Answer {
    /// This is who I am.
    Device(DeviceInfo),
    /// Entries, each behind its length, most significant byte first, and where to read on; nowhere at the end.
    Entries {
        /// Of which ring.
        ring: RingName,
        /// The entries.
        bytes: Vec<u8, MAX_ENTRIES>,
        /// Where to read on.
        next: Option<Position>,
    },
    /// It is in the journal, under this number.
    Noted(Sequence),
    /// The entries were taken over.
    Restored,
    /// Not done.
    Refused(Refusal),
    /// How the check on the bench stands.
    Checking(Checking),
    /// A restore has begun.
    RestoreBegun {
        /// How many sectors of the flash there are for visits beside those that stand; where a backup has more, its oldest stay away.
        visits: u16,
    },
    /// The rings with something unreadable behind their last entry: a bit for each, 1 closed pairs, 2 marks, 4 visits.
    Ends(u8),
    /// The conversions since the question before, oldest first.
    Conversions {
        /// Whether others came behind them that there was no room for.
        missed: bool,
        /// Those that there was room for, each as [`Conversion::to_bytes`] has it.
        all: Vec<u8, MAX_ENTRIES>,
    },
}

/// A conversion as it was read, not yet checked.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Conversion {
    /// When, on the scale's own clock: the low 32 bits of the milliseconds since it was switched on.
    pub at: u32,
    /// Counts, signed 24 bits.
    pub raw: i32,
}

impl Conversion {
    /// The time and the counts, least significant byte first.
    #[must_use]
    pub const fn to_bytes(self) -> [u8; 8] {
        let ([a, b, c, d], [e, f, g, h]) = (self.at.to_le_bytes(), self.raw.to_le_bytes());
        [a, b, c, d, e, f, g, h]
    }

    /// The same back.
    #[must_use]
    pub const fn from_bytes([a, b, c, d, e, f, g, h]: [u8; 8]) -> Self {
        Self {
            at: u32::from_le_bytes([a, b, c, d]),
            raw: i32::from_le_bytes([e, f, g, h]),
        }
    }
}

/// Conversions that are kept until they are asked for: four fifths of a second at 80 a second.
pub const MAX_CONVERSIONS: usize = 64;

/// How the check on the bench stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Checking {
    /// What is under way.
    pub task: Option<Task>,
    /// Whole seconds until that ends by itself, at the most.
    pub seconds_left: u16,
    /// The supply as the scale measures it, where it does.
    pub supply: Option<Millivolts>,
    /// A humidity sensor answers.
    pub sensor: bool,
    /// The empty pan was watched since power-on.
    pub empty: bool,
}

/// Who the device is.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct DeviceInfo {
    /// Version of the protocol.
    pub protocol: u8,
    /// Version of the journal's schema.
    pub schema: u8,
    /// Version of the program.
    pub program: String<32>,
    /// Most the pan may carry.
    pub capacity: Milligrams,
    /// Number of the running or last pair.
    pub pair: u16,
    /// Number that the next record of the marks will have.
    pub next: Sequence,
    /// Part of the journal that is taken, percent.
    pub used_percent: u8,
}

/// Why something was not done. Nothing has changed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum Refusal {
    /// A mark is being taken, or the scale waits for an answer: try again.
    Busy,
    /// The journal has gone on since, or the frame came twice, or it is another scale's, or no restore was begun: say hello again.
    Stale,
    /// The entry does not continue its ring: the journal holds something else, or more. Or the backup did not come whole.
    Foreign,
    /// The journal did not take it.
    NotNoted(JournalFault),
    /// There is no such place in the journal.
    NoSuchPlace,
    /// The journal cannot be opened.
    NoJournal,
    /// There is room enough.
    NoNeed,
}

//! The files of the volume, by name and in order.

use super::contents::Contents;
use super::snapshot::Snapshot;
use super::volume::{FatTime, File, Kind, Place, Volume};
use crate::journal::Language;
use crate::report::Packed;

/// Files and folders of the volume.
pub(super) const FILES: usize = 11;

/// Texts that are made up from the journal.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Text {
    /// The page that is to be opened first.
    Page,
    /// What each section took.
    Sections,
    /// What is left of each yarn.
    Yarns,
    /// What the pan has seen.
    Visits,
    /// The whole journal.
    Backup,
    /// How the scale is.
    Check,
}

impl Text {
    /// All of them, in order.
    pub(super) const ALL: [Self; 6] = [
        Self::Page,
        Self::Sections,
        Self::Yarns,
        Self::Visits,
        Self::Backup,
        Self::Check,
    ];
}

/// What a file holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Holds {
    /// A text.
    Text(Text),
    /// The knitter's manual.
    Manual,
    /// Nothing: that it is there is all that is wanted of it.
    Nothing,
}

/// What the files hold, in the order of the directory.
pub(super) const HOLDS: [Holds; FILES] = [
    Holds::Text(Text::Page),
    Holds::Text(Text::Sections),
    Holds::Text(Text::Yarns),
    Holds::Text(Text::Visits),
    Holds::Text(Text::Backup),
    Holds::Manual,
    Holds::Text(Text::Check),
    Holds::Nothing,
    Holds::Nothing,
    Holds::Nothing,
    Holds::Nothing,
];

/// The volume of a snapshot whose files have these sizes.
pub(super) fn volume(snapshot: &Snapshot, sizes: &[u32; FILES]) -> Option<Volume> {
    let (files, label) = match snapshot.language {
        Language::English => (&ENGLISH, b"YARN SCALE "),
        Language::German => (&GERMAN, b"GARNWAAGE  "),
    };
    let date = snapshot.calendar.date(snapshot.at);
    let made = date.map_or(FatTime::UNKNOWN, |date| FatTime::new(date.day, date.time));
    // Another volume than the last one, so that no computer takes what it remembers of that for this.
    let serial = snapshot.at.0.rotate_left(12) ^ snapshot.entries;
    Volume::new(files, sizes, label, (serial, made))
}

impl Contents {
    /// Bytes of each file.
    pub(super) fn sizes(&self) -> [u32; FILES] {
        HOLDS.map(|holds| match holds {
            Holds::Text(text) => self.size(text),
            Holds::Manual => Packed::manual(self.snapshot.language).length(),
            Holds::Nothing => 0,
        })
    }
}

const fn shown(name: &'static str, short: &'static [u8; 11]) -> File {
    File {
        name,
        short,
        kind: Kind::Shown,
        place: Place::Root,
    }
}

const fn quiet(name: &'static str, short: &'static [u8; 11], kind: Kind, place: Place) -> File {
    File {
        name,
        short,
        kind,
        place,
    }
}

/// What a Mac makes on every volume that it may write to, and looks for on every other: with these there it leaves the volume alone. A file
/// where it wants a folder keeps it from making one.
const NO_INDEX: File = quiet(".metadata_never_index", b"METADA~1   ", Kind::Hidden, Place::Root);
const NO_TRASH: File = quiet(".Trashes", b"TRASHE~1   ", Kind::Hidden, Place::Root);
const NO_EVENTS: File = quiet(".fseventsd", b"FSEVEN~1   ", Kind::HiddenFolder, Place::Root);
const NO_LOG: File = quiet("no_log", b"NO_LOG~1   ", Kind::Hidden, Place::Folder);

static ENGLISH: [File; FILES] = [
    shown("START HERE.HTM", b"STARTH~1HTM"),
    shown("SECTIONS.CSV", b"SECTIONSCSV"),
    shown("YARNS.CSV", b"YARNS   CSV"),
    shown("WEIGHINGS.CSV", b"WEIGHI~1CSV"),
    shown("BACKUP.BIN", b"BACKUP  BIN"),
    shown("MANUAL.HTM", b"MANUAL  HTM"),
    shown("CHECK.TXT", b"CHECK   TXT"),
    NO_INDEX,
    NO_TRASH,
    NO_EVENTS,
    NO_LOG,
];

static GERMAN: [File; FILES] = [
    shown("HIER ANFANGEN.HTM", b"HIERAN~1HTM"),
    shown("ABSCHNITTE.CSV", b"ABSCHN~1CSV"),
    shown("GARNE.CSV", b"GARNE   CSV"),
    shown("WIEGUNGEN.CSV", b"WIEGUN~1CSV"),
    shown("SICHERUNG.BIN", b"SICHER~1BIN"),
    shown("ANLEITUNG.HTM", b"ANLEIT~1HTM"),
    shown("PRUEFUNG.TXT", b"PRUEFUNGTXT"),
    NO_INDEX,
    NO_TRASH,
    NO_EVENTS,
    NO_LOG,
];

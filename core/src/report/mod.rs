//! What the scale tells of the pairs, in tables and as a page: the drive and the computer program write the same.
//!
//! | file | what it does |
//! |---|---|
//! | `calendar` | the device's time by the calendar |
//! | `chart` | charts as SVG |
//! | `leftovers` | what a yarn that is left is good for |
//! | `markup` | text and numbers as they stand on the page |
//! | `materials` | what to allow for a next pair |
//! | `one_pair` | one pair's records out of a journal of many |
//! | `page` | the page as a whole, part by part |
//! | `pair` | a pair as tables and pages tell it |
//! | `row` | sections by kind, sock 1 beside sock 2 |
//! | `sections` | what each section took |
//! | `tables` | tables for a spreadsheet |
//! | `words` | every word, in both languages |
//! | `yarns` | what is left of each yarn |
//!
//! Everything is written piece by piece into a [`core::fmt::Write`], without memory for the whole.

mod calendar;
mod chart;
mod leftovers;
mod markup;
mod materials;
mod one_pair;
mod packed;
pub mod page;
mod pair;
mod row;
mod sections;
pub mod tables;
mod words;
mod yarns;

pub use calendar::{Calendar, Date};
pub use one_pair::{OnePair, Standing};
pub(crate) use packed::Packed;
pub use page::{PARTS, Part};
pub use pair::{Name, Pair, Section, Weighing, Yarn};

use crate::forecast::Wanted;
use crate::journal::Language;
use crate::sock::{Construction, History, SectionKind};

/// What the answers on a page rest on.
#[derive(Clone, Copy, Debug)]
pub struct Background<'a> {
    /// The knitter's last pairs.
    pub history: &'a History,
    /// The sections that a leftover could go into.
    pub contrast: &'a [Wanted],
    /// The device's time by the calendar.
    pub calendar: &'a Calendar,
    /// Language of the page.
    pub language: Language,
}

/// The name of a part of a sock.
#[must_use]
pub const fn kind_name(kind: SectionKind, language: Language) -> &'static str {
    words::kind(kind, language)
}

/// The name of a way to work a section.
#[must_use]
pub const fn construction_name(construction: Construction, language: Language) -> &'static str {
    words::construction(construction, language)
}

//! The pairs on the needles, and what one of them took.

use heapless::Vec;

use super::{Item, Name};
use crate::ledger::KNOWN_PAIRS;
use crate::sock::{Line, MAX_LINES, YARNS, YarnLetter};
use crate::units::Milligrams;

/// The list of pairs.
#[derive(Clone, Debug, PartialEq)]
pub struct Pairs {
    /// There is no room for another one: one of them has to be finished first.
    pub are_full: bool,
    /// The pairs, the one in hand first, and behind them a new one.
    pub rows: Vec<PairRow, PAIR_ROWS>,
    /// The highlighted one; behind the last pair, a new one.
    pub selected: u8,
}

/// Most pairs of the list.
pub const PAIR_ROWS: usize = KNOWN_PAIRS;

/// Yarns that are told of a pair.
pub const PAIR_YARNS: usize = 3;

/// A pair in the list.
#[derive(Clone, Debug, PartialEq)]
pub struct PairRow {
    /// Its number.
    pub number: u16,
    /// Its name, where a computer gave it one.
    pub name: Option<Name>,
    /// It is finished.
    pub finished: bool,
    /// The section that comes next; none if all are done.
    pub next: Option<Line>,
    /// Its yarns and what they last weighed.
    pub yarns: Vec<(YarnLetter, Milligrams), PAIR_YARNS>,
    /// When it was last weighed, by how many minutes that lies back.
    pub minutes_ago: Option<u32>,
}

/// What a pair took, section by section, and what is left of its yarns.
#[derive(Clone, Debug, PartialEq)]
pub struct PairSummary {
    /// Its number.
    pub number: u16,
    /// Its name, where a computer gave it one.
    pub name: Option<Name>,
    /// It is finished.
    pub finished: bool,
    /// How many days it took, both ends counted, where the calendar knows.
    pub days: Option<u16>,
    /// Sections, then yarns, then what opens it again.
    pub items: Vec<Item, SUMMARY_ITEMS>,
    /// The highlighted one.
    pub selected: u8,
}

/// Most lines of a summary.
pub const SUMMARY_ITEMS: usize = MAX_LINES + YARNS + 1;

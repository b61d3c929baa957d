//! Home, what each section took, the plan.

use heapless::Vec;

use super::MAX_ROWS;
use crate::measured::Measured;
use crate::sock::{BowlNumber, Line, SectionKind, Sock, YarnLetter};
use crate::units::Milligrams;
use crate::weighing::Indication;

/// The home page.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pan {
    /// Net mass as shown, in 0.1 g or 0.005 oz steps; `None` while there is no trusted number (just started, settling after power-up).
    pub shown: Option<Indication>,
    /// A hand lifts the pan: there is no number, and soon there will be.
    pub lifted: bool,
    /// The reading can be trusted.
    pub steady: bool,
    /// The bowl that is subtracted.
    pub bowl: Option<BowlNumber>,
    /// The yarn the plan's cursor expects, and its last weight, if weighed in.
    pub yarn: Option<(YarnLetter, Option<Milligrams>)>,
    /// The section that the next mark closes.
    pub section: Option<Line>,
    /// What has gone since the yarn's last weight, if a steady load that can be that yarn is on the pan.
    pub used: Option<Measured>,
    /// What the same section of the other sock took, and which sock that is.
    pub other_sock: Option<(Sock, Milligrams)>,
    /// Moisture may make most of what has gone, with neither humidity sensor nor control skein to tell.
    pub damp: bool,
    /// What is left, in metres, where the band's length is known and the yarn is on the pan.
    pub metres: Option<u16>,
    /// A mark is waiting for the reading to become steady.
    pub mark_waits: bool,
    /// Another pair that the load belongs to, by its weight, and its yarn there.
    pub proposal: Option<(u16, YarnLetter)>,
    /// The pair in hand, where several are on the needles.
    pub pair: Option<u16>,
    /// What is to be done where no section is next.
    pub idle: Idle,
    /// The pan is known to be empty.
    pub empty: bool,
    /// The pan may be empty and its zero have moved, or something small lies on it: ZERO says which.
    pub perhaps_empty: bool,
}

/// Why no section is next.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Idle {
    /// No pair is on the needles.
    #[default]
    NoPair,
    /// The pair in hand is finished, others are not.
    OtherPairs,
    /// All sections of the pair in hand are done, and it was not finished yet.
    AllDone,
}

/// The used table: one row a section, sock 1, sock 2 and their difference.
#[derive(Clone, Debug, PartialEq)]
pub struct Used {
    /// The rows, in plan order.
    pub rows: Vec<UsedRow, MAX_ROWS>,
    /// Sum over all marked sections.
    pub total: Measured,
    /// First visible row.
    pub top: u8,
}

/// One section of the used table.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct UsedRow {
    /// What was knitted.
    pub kind: SectionKind,
    /// From which yarn.
    pub yarn: YarnLetter,
    /// What sock 1's took.
    pub first: Option<UsedCell>,
    /// What sock 2's took.
    pub second: Option<UsedCell>,
}

/// What one section took.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct UsedCell {
    /// The mass.
    pub used: Measured,
    /// Corrected after the mark, once the empty pan had shown where zero was.
    pub amended: bool,
    /// A record near it was damaged or taken in doubt.
    pub doubtful: bool,
}

/// The plan page.
#[derive(Clone, Debug, PartialEq)]
pub struct PlanPage {
    /// The rows in knitting order.
    pub rows: Vec<PlanRow, MAX_ROWS>,
    /// The section that the next mark closes.
    pub cursor: Option<u8>,
    /// The row that is highlighted.
    pub selected: u8,
}

/// One line of the plan.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PlanRow {
    /// The section.
    pub line: Line,
    /// How far it is.
    pub state: LineState,
}

/// How far a section of the plan is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum LineState {
    /// Not yet marked.
    Open,
    /// Marked; what it took.
    Done(Measured),
    /// Skipped.
    Skipped,
}

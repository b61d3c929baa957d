//! What the screen shows, as plain data: a test can assert it without pixels.

mod answer;
mod ask;
mod daily;
mod happened;
mod list;
mod pairs;

pub use answer::*;
pub use ask::*;
pub use daily::*;
pub use happened::*;
pub use list::*;
pub use pairs::*;

use heapless::{String, Vec};

use crate::forecast::{Dryness, PairCheck};
use crate::journal::Language;
use crate::sock::{YARNS, YarnLetter};
use crate::weighing::Unit;

/// Most rows a list or table can have; more are scrolled through.
pub const MAX_ROWS: usize = 24;

/// A name that a computer gave, UTF-8.
pub type Name = String<24>;

/// Yarns with their names.
pub type YarnNames = Vec<(YarnLetter, Name), YARNS>;

/// One screen.
#[derive(Clone, Debug, PartialEq)]
pub struct View {
    /// What fills it.
    pub body: Body,
    /// What each key does now, left to right: ZERO, MARK, NEXT.
    pub keys: [KeyWord; 3],
    /// Small signs.
    pub status: Status,
    /// Units of mass.
    pub unit: Unit,
    /// Language.
    pub language: Language,
    /// Names of the running pair's yarns, of those that have one.
    pub names: YarnNames,
}

/// Small signs in the top line of the home page; [`Body::Signs`] says what they mean.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Status {
    /// The supply is nearly empty.
    pub supply_low: bool,
    /// Zero has not been proven since power-on: there was a load on the pan.
    pub zero_unproven: bool,
    /// The journal will be full in not too long.
    pub journal_filling: bool,
    /// A record was damaged: some mark is doubtful.
    pub doubtful: bool,
}

/// A small sign: of the home page, of a table, of the bottom line.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sign {
    /// See [`Status::doubtful`].
    Doubtful,
    /// See [`Status::journal_filling`].
    Journal,
    /// See [`Status::zero_unproven`].
    Zero,
    /// See [`Status::supply_low`].
    Supply,
    /// A mark beside a damaged record, in the table.
    OfDoubtfulMark,
    /// A mark that the empty pan has corrected, in the table.
    OfCorrectedMark,
    /// In front of what ZERO does: held, it goes up.
    HeldZero,
}

/// Signs that are visible at once, with what they mean.
pub const SIGNS_VISIBLE: usize = 4;

impl Sign {
    /// All of them, in order of urgency.
    pub const ALL: [Self; 7] = [
        Self::Doubtful,
        Self::Journal,
        Self::Zero,
        Self::Supply,
        Self::OfDoubtfulMark,
        Self::OfCorrectedMark,
        Self::HeldZero,
    ];
}

/// What fills the screen.
#[allow(
    clippy::large_enum_variant,
    reason = "there is no allocator to box the long lists with"
)]
#[derive(Clone, Debug, PartialEq)]
pub enum Body {
    /// Nothing: the display sleeps.
    Dark,
    /// The home page: what is on the pan now, of which yarn, for which section.
    Pan(Pan),
    /// What each section took: sock 1, sock 2, difference.
    Used(Used),
    /// The plan with its cursor.
    Plan(PlanPage),
    /// Something has just happened, or could not.
    Notice(Notice),
    /// The scale asks which of a few things is meant.
    Question(Question),
    /// The scale cannot weigh.
    Fault(FaultWord),
    /// A list to choose from.
    List(List),
    /// A value to set.
    Edit(Edit),
    /// One thing to do now, and whether the pan is steady for it.
    Guide(Guide),
    /// The pairs on the needles.
    Pairs(Pairs),
    /// What one pair took.
    PairSummary(PairSummary),
    /// One answer: the word first.
    Answer(AnswerPage),
    /// All that a leftover would be good for.
    Uses(Uses),
    /// Where to stop winding to halve a cake.
    Halve(Halve),
    /// Whether the finished pair weighs what its sections took.
    PairCheck(PairCheck),
    /// Whether the washed pair is dry.
    Dry(Dryness),
    /// What the small signs mean, from this one on.
    Signs(u8),
    /// A frame along the edges of the display: are all four seen?
    Edges,
}

/// What a key does now, as the bottom line says it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum KeyWord {
    /// Nothing.
    Nothing,
    /// Set zero.
    Zero,
    /// Choose or tare a bowl.
    Bowl,
    /// Note a boundary.
    Mark,
    /// Weigh a yarn in.
    WeighIn,
    /// The next page.
    Next,
    /// One down.
    Down,
    /// Take the highlighted one.
    Choose,
    /// Less.
    Less,
    /// More.
    More,
    /// Leave without a change.
    Back,
    /// The same on a list; held, it goes up.
    BackOrUp,
    /// One down; held, it goes up.
    DownOrUp,
    /// The list of all answers.
    List,
    /// Good.
    Ok,
    /// Take the reading.
    Take,
    /// Begin a calibration.
    Calibrate,
    /// Choose a plan.
    Plan,
    /// Accept the new calibration.
    Accept,
    /// Open the check on the bench.
    Check,
    /// Go to the list of pairs.
    Pairs,
    /// Go on with another pair.
    ToPair,
    /// The pair is finished.
    Finish,
    /// The next yarn's answer.
    Yarn,
}

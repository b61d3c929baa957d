//! What the screen shows, as plain data: a test can assert it without pixels.

use heapless::Vec;

use crate::forecast::{Answer, KindSet, Socks};
use crate::journal::{BowlNumber, Language};
use crate::ledger::{Line, YarnLetter};
use crate::measured::Measured;
use crate::section::{SectionKind, Sock};
use crate::units::Milligrams;
use crate::weighing::{CalibrationFault, Indication, Unit};

/// Most rows a list or table can have; more are scrolled through.
pub const MAX_ROWS: usize = 24;

/// One screen.
#[derive(Clone, Debug, PartialEq)]
pub struct View {
    /// What fills it.
    pub body: Body,
    /// What each key does now, left to right: ZERO, MARK, NEXT.
    pub keys: [KeyWord; 3],
    /// Small signs that any page can carry.
    pub status: Status,
    /// Units of mass.
    pub unit: Unit,
    /// Language.
    pub language: Language,
}

/// Small signs that any page can carry, in the top line.
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
    /// One answer: the word first.
    Answer(AnswerPage),
    /// Where to stop winding to halve a cake.
    Halve(Halve),
}

/// The home page.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pan {
    /// Net mass as shown, in 0.1 g or 0.005 oz steps; `None` while there is no trusted number (just started, settling after power-up).
    pub shown: Option<Indication>,
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
    /// What is left, in metres, where the band's length is known and the yarn is on the pan.
    pub metres: Option<u16>,
    /// A mark is waiting for the reading to become steady.
    pub mark_waits: bool,
    /// The pan is known to be empty.
    pub empty: bool,
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

/// Something has just happened, or could not: shown for a few seconds or until a key is pressed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Notice {
    /// First weight of a yarn is in the journal.
    WeighedIn {
        /// Which yarn.
        yarn: YarnLetter,
        /// What it weighs.
        weight: Measured,
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
        /// What goes to nobody's section.
        unplanned: Milligrams,
    },
    /// An earlier mark was corrected by the empty pan.
    Amended {
        /// The section.
        line: Option<Line>,
        /// What it took, corrected.
        used: Measured,
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
    /// The device started after something went wrong.
    Restarted(RestartWord),
    /// Not done, and why.
    Refused(RefusedWord),
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
    /// The reading did not become steady in time: press MARK again with hands off.
    NotSteady,
    /// There is nothing on the pan to mark.
    EmptyPan,
    /// There is a load on the pan, too heavy to be called zero.
    ZeroLoaded,
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
    /// The pan cannot weigh just now.
    Faulty,
    /// The loads and readings make no calibration.
    Calibration(CalibrationFault),
}

/// The scale asks which of a few things is meant.
#[derive(Clone, Debug, PartialEq)]
pub struct Question {
    /// Why it asks.
    pub why: WhyAsked,
    /// What is on the pan.
    pub weight: Milligrams,
    /// What can be meant.
    pub choices: Vec<Choice, 6>,
    /// The highlighted one.
    pub selected: u8,
}

/// Why the scale asks.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum WhyAsked {
    /// More than one yarn can weigh this.
    Ambiguous,
    /// Heavier than the yarn last weighed: another cake, another bowl, damp?
    Heavier {
        /// The section's yarn.
        yarn: YarnLetter,
        /// By how much.
        by: Milligrams,
    },
    /// Much lighter than expected: a forgotten press, or another cake?
    Lighter {
        /// The section's yarn.
        yarn: YarnLetter,
        /// By how much in all.
        by: Milligrams,
    },
    /// The same as at the last mark: pressed twice?
    Unchanged {
        /// The section's yarn.
        yarn: YarnLetter,
    },
    /// The pan is empty: is the yarn used up?
    UsedUp {
        /// The section's yarn.
        yarn: YarnLetter,
    },
    /// It weighs what another yarn last weighed.
    OtherYarn {
        /// The section's yarn.
        planned: YarnLetter,
        /// The yarn it looks like.
        found: YarnLetter,
    },
}

/// What can be meant.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Choice {
    /// The planned section took it, from this yarn.
    Section {
        /// The yarn.
        yarn: YarnLetter,
        /// What it would have taken.
        used: Milligrams,
    },
    /// The planned section took it, and it stands in another bowl, or in none.
    OtherBowl {
        /// The bowl.
        bowl: Option<BowlNumber>,
        /// The yarn.
        yarn: YarnLetter,
        /// What it would have taken.
        used: Milligrams,
    },
    /// A yarn that is weighed in now.
    WeighIn(YarnLetter),
    /// Start from here: nobody's section.
    StartFromHere(YarnLetter),
    /// Forget the press.
    NotNow,
}

/// The scale cannot weigh, in one plain sentence with the way out.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FaultWord {
    /// No sensor answers: check its plug.
    SensorMissing,
    /// The sensor repeats itself: check its wiring.
    SensorStuck,
    /// More on the pan than it can carry: take it off.
    Overload,
    /// The pan is missing or lifted.
    Underload,
    /// The load cell is the wrong way round: turn it, or calibrate.
    Reversed,
    /// Not calibrated yet.
    Uncalibrated,
}

/// A list to choose from.
#[derive(Clone, Debug, PartialEq)]
pub struct List {
    /// Its title.
    pub title: crate::screen::Word,
    /// Its items.
    pub items: Vec<Item, MAX_ROWS>,
    /// The highlighted one; none if it is behind the last.
    pub selected: u8,
}

/// A line of a list: words and, at its right end, a value.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Item {
    /// What it is.
    pub label: ItemLabel,
    /// Its value now, if it has one.
    pub value: Value,
}

/// What a line of a list is about.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum ItemLabel {
    /// A fixed word.
    Word(crate::screen::Word),
    /// A name that is the same in every language.
    Name(&'static str),
    /// A yarn.
    Yarn(YarnLetter),
    /// A bowl.
    Bowl(BowlNumber),
    /// A bowl to be tared now.
    NewBowl(BowlNumber),
    /// A time, by how many minutes it lies back.
    MinutesAgo(u32),
    /// A section of a sock.
    Section(SectionKind, Sock),
}

/// A value at the right end of a line, or large on an edit page.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Value {
    /// None.
    Nothing,
    /// A fixed word.
    Word(crate::screen::Word),
    /// A part of a sock.
    Kind(SectionKind),
    /// A whole number.
    Number(i32),
    /// A mass.
    Mass(Milligrams),
    /// A mass with its 95 % uncertainty.
    Measured(Measured),
    /// A half-width: plus or minus this mass.
    PlusMinus(Milligrams),
    /// A name that is the same in every language.
    Name(&'static str),
    /// A yarn.
    Yarn(YarnLetter),
    /// A number with its unit's word, such as metres per 100 g.
    Quantity(i32, crate::screen::Word),
}

/// A value to set.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Edit {
    /// What is set.
    pub title: crate::screen::Word,
    /// Its value now.
    pub value: Value,
    /// A line of advice.
    pub hint: Option<crate::screen::Word>,
}

/// One thing to do now.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Guide {
    /// What it is part of.
    pub title: crate::screen::Word,
    /// What to do.
    pub say: crate::screen::Word,
    /// With how much, or for the how manyth time.
    pub value: Value,
    /// The reading is steady: it can be taken.
    pub steady: bool,
}

/// One answer of the forecasts.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AnswerPage {
    /// What was asked.
    pub about: About,
    /// The answer; `None` if nothing is known to answer from.
    pub answer: Option<Answer>,
    /// Sections that would have to change yarn, where that helps.
    pub way_out: Option<KindSet>,
    /// Which of how many answers this is, from 1; best use, or most urgent, first.
    pub place: (u8, u8),
}

/// What an answer is about.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum About {
    /// Does this yarn do for the rest of the pair?
    RestOf(YarnLetter),
    /// Would what is on the pan do for these sections?
    Leftover {
        /// The sections.
        kinds: KindSet,
        /// On one sock or on both.
        socks: Socks,
    },
}

/// Where to stop winding.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Halve {
    /// The whole cake, once it was taken.
    pub whole: Option<Milligrams>,
    /// What is on the pan now.
    pub shown: Option<Indication>,
    /// What is still to be wound off; negative if too much is.
    pub to_go: Option<Milligrams>,
    /// The reading can be trusted.
    pub steady: bool,
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
    /// Take the last mark back.
    Undo,
    /// The next page.
    Next,
    /// One up.
    Up,
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
    /// Good.
    Ok,
    /// Skip this section.
    Skip,
    /// Take the reading.
    Take,
    /// Begin a calibration.
    Calibrate,
    /// Choose a plan.
    Plan,
    /// Accept the new calibration.
    Accept,
    /// The next yarn's answer.
    Yarn,
}

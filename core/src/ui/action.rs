//! What a press asks the application to do. A page cannot do it itself.

use heapless::Vec;

use super::change::Change;
use crate::bench::Task;
use crate::journal::Record;
use crate::recognise::Choice;
use crate::screen::RefusedWord;
use crate::sock::{Order, Preset, YarnLetter};
use crate::weighing::SteadyLoad;

/// One thing to do.
#[allow(clippy::large_enum_variant, reason = "there is no allocator to box a record with")]
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Action {
    /// Open a page.
    Go(To),
    /// Note a record in the journal.
    Note(Record),
    /// Note the load that the press means as a boundary, or ask.
    Mark,
    /// Take the newest weight or skip back.
    Undo,
    /// Begin the next pair.
    BeginPair(Preset, Order),
    /// The pair in hand is finished.
    FinishPair,
    /// The pair that was finished last is not finished after all.
    ReopenPair,
    /// A question was answered.
    Answer(Choice, Option<SteadyLoad>),
    /// The next mark closes this line of the plan.
    Choose(u8),
    /// Take what is on the pan for nothing.
    Zero,
    /// Look anew for the lowest and the highest level.
    SweepAnew,
    /// Find out which pairs go if room is made.
    LookForRoom,
    /// Let the drive show what has been noted by now.
    BringNews,
    /// Begin the display's picture in this column of its controller's memory.
    PanelBegins(u8),
    /// Do this of the check on the bench.
    Check(Task),
    /// Say why it cannot be done.
    Refuse(RefusedWord),
}

/// Where to go. What the page shows first, it finds out when it opens.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum To {
    /// Home.
    Pan,
    /// What each section took.
    Used,
    /// Whether this yarn does for the rest of the pair; without one, the yarn of the next section.
    Rest(Option<YarnLetter>),
    /// The plan, at a line; without one, at the next section.
    Plan(Option<u8>),
    /// What can be done with a line.
    Line(u8),
    /// Setting the stitches of a line.
    Stitches(u8, u8),
    /// Earlier visits for a line.
    Visits(u8),
    /// What taking back or moving a line's mark will change.
    Change(u8, Change),
    /// To which section a line's mark is given.
    Moving(u8),
    /// The bowls.
    Bowls,
    /// Everything else.
    Everything,
    /// The pairs on the needles.
    Pairs,
    /// What the pair in hand took.
    Summary,
    /// A plan to begin a pair with; where there are as many pairs as can be, which one is finished.
    Presets,
    /// In which order the socks are knitted.
    Order(Preset),
    /// What the leftover would be good for.
    Leftover,
    /// How many rounds the cake still gives.
    HowFar,
    /// Where to stop winding.
    Halve,
    /// Does the pair weigh what its sections took?
    PairCheck,
    /// Is the washed pair dry?
    Dry,
    /// Grams from stitches.
    Estimate,
    /// The control skein.
    Control,
    /// For how long the battery lasts.
    Battery,
    /// How the scale is.
    Diagnostics,
    /// The check on the bench.
    Bench,
    /// Making room where the memory is nearly full.
    Room,
    /// What the small signs mean.
    Signs,
    /// A calibration.
    Calibrate,
    /// Which parts it was built with.
    Parts,
    /// In which language it speaks.
    Language,
    /// What is known of the yarns.
    Yarns,
}

/// What one press asks for, in order.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct Actions(Vec<Action, MOST>);

/// Most that one press asks for: a bowl is noted under another number, forgotten under the old one, put in use, and the page left.
const MOST: usize = 4;

impl Actions {
    /// Nothing.
    #[must_use]
    pub(crate) const fn none() -> Self {
        Self(Vec::new())
    }

    /// Opens a page.
    #[must_use]
    pub(crate) fn go(to: To) -> Self {
        Action::Go(to).into()
    }

    /// Notes a record.
    #[must_use]
    pub(crate) fn note(record: Record) -> Self {
        Action::Note(record).into()
    }

    /// And then this.
    #[must_use]
    pub(crate) fn and(mut self, action: Action) -> Self {
        // There is room: see [`MOST`].
        let _ = self.0.push(action);
        self
    }

    /// And then opens a page.
    #[must_use]
    pub(crate) fn and_go(self, to: To) -> Self {
        self.and(Action::Go(to))
    }
}

impl From<Action> for Actions {
    fn from(action: Action) -> Self {
        Self::none().and(action)
    }
}

impl IntoIterator for Actions {
    type Item = Action;
    type IntoIter = <Vec<Action, MOST> as IntoIterator>::IntoIter;

    fn into_iter(self) -> Self::IntoIter {
        self.0.into_iter()
    }
}

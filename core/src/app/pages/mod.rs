//! One file a page: what its keys do and what it shows.
//!
//! NEXT goes round the daily pages: pan, used, rest of the pair. Holding NEXT opens the list of everything else, so that
//! nothing is more than three presses from home. On every list ZERO goes back without a change, MARK takes the
//! highlighted line, NEXT moves on and moves fast while held.

mod bowls;
mod control;
mod diagnostics;
mod estimate;
mod everything;
pub(super) mod finished;
mod halve;
pub(super) mod leftover;
mod line;
mod notice;
mod pan;
mod plan;
mod presets;
mod question;
pub(super) mod rest;
mod signs;
mod used;
mod visits;

use super::dispatch::App;
use heapless::Vec;

use super::keys::{Key, Press};
use super::setup::calibrating::{self, Calibrating};
use super::setup::yarn::{self, YarnStage};
use crate::forecast::{Choice, MOST_CHOICES, drying::Dryness, pair_check::PairCheck};
use crate::measured::Measured;
use crate::screen::{AnswerPage, Body, KeyWord, Question};
use crate::sock::{BowlNumber, Preset, YarnLetter};
use crate::weighing::SteadyLoad;

pub(super) use notice::notice_view;

/// What a page shows: its body and what the three keys do.
pub(super) type Shows = (Body, [KeyWord; 3]);

/// Which page is open, and where on it the highlight is.
#[allow(
    clippy::large_enum_variant,
    reason = "there is no allocator to box the long lists with"
)]
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Page {
    /// Home: what is on the pan.
    Pan,
    /// What each section took.
    Used {
        /// First visible row.
        top: u8,
    },
    /// The plan.
    Plan {
        /// Highlighted row.
        selected: u8,
    },
    /// What can be done with one line of the plan.
    Line {
        /// Which line.
        line: u8,
        /// Highlighted row.
        selected: u8,
    },
    /// Earlier visits, one of which was the end of a section.
    Visits {
        /// The section.
        line: u8,
        /// Highlighted row.
        selected: u8,
    },
    /// The bowls.
    Bowls {
        /// Highlighted row.
        selected: u8,
        /// The load that can be tared as a new bowl.
        load: Option<(BowlNumber, SteadyLoad)>,
    },
    /// The scale asks.
    Question {
        /// What it asks.
        question: Question,
        /// The load that it is about.
        load: SteadyLoad,
    },
    /// The list of everything else.
    Everything {
        /// Highlighted row.
        selected: u8,
    },
    /// In which order the socks of a new pair are knitted.
    Order {
        /// What is knitted.
        preset: Preset,
        /// Highlighted row.
        selected: u8,
    },
    /// Setting the stitches of a round.
    Stitches {
        /// Of which line.
        line: u8,
        /// How many.
        stitches: u8,
    },
    /// Whether a yarn does for the rest of the pair.
    Rest {
        /// Which yarn.
        yarn: YarnLetter,
        /// The answer as it was when the pan or the ledger last changed.
        page: AnswerPage,
    },
    /// What the leftover on the pan would be good for.
    Leftover {
        /// Best use first.
        choices: Vec<Choice, MOST_CHOICES>,
        /// The one that is shown.
        selected: u8,
    },
    /// Where to stop winding.
    Halve {
        /// The whole cake.
        whole: Option<Measured>,
    },
    /// Does the finished pair weigh what its sections took?
    PairCheck {
        /// The answer, once the pair is on the pan.
        check: Option<PairCheck>,
    },
    /// Is the washed pair dry?
    Dry {
        /// The answer, once the pair is on the pan.
        dryness: Option<Dryness>,
    },
    /// Grams from stitches.
    Estimate {
        /// Stitches of a round.
        stitches: u8,
    },
    /// Weighing the control skein.
    Control,
    /// How the scale is.
    Diagnostics {
        /// First visible row.
        top: u8,
    },
    /// What the small signs mean.
    Signs,
    /// A calibration under way.
    Calibrate(Calibrating),
    /// What is known of the yarns.
    Yarns(YarnStage),
    /// A plan to begin a pair with.
    Presets {
        /// Highlighted row.
        selected: u8,
    },
}

/// What the open page shows.
pub(super) fn view(app: &App) -> Shows {
    match &app.page {
        Page::Pan => pan::view(app),
        Page::Used { top } => used::view(app, *top),
        Page::Plan { selected } => plan::view(app, *selected),
        Page::Line { line, selected } => line::view(app, *line, *selected),
        Page::Visits { line, selected } => visits::view(app, *line, *selected),
        Page::Bowls { selected, load } => bowls::view(app, *selected, *load),
        Page::Question { question, .. } => question::view(question),
        Page::Everything { selected } => everything::view(app, *selected),
        Page::Rest { page, .. } => rest::view(*page),
        Page::Leftover { choices, selected } => leftover::view(app, choices, *selected),
        Page::Halve { whole } => halve::view(app, *whole),
        Page::PairCheck { check } => finished::check_view(app, *check),
        Page::Dry { dryness } => finished::dry_view(app, *dryness),
        Page::Estimate { stitches } => estimate::view(app, *stitches),
        Page::Control => control::view(app),
        Page::Diagnostics { top } => diagnostics::view(app, *top),
        Page::Signs => signs::view(),
        Page::Calibrate(calibrating) => calibrating::view(app, calibrating),
        Page::Yarns(stage) => yarn::view(app, *stage),
        Page::Presets { selected } => presets::view(*selected),
        Page::Order { selected, .. } => presets::order_view(*selected),
        Page::Stitches { stitches, .. } => line::stitches_view(*stitches),
    }
}

/// A press on the open page.
pub(super) fn press(app: &mut App, press: Press) {
    match app.page.clone() {
        Page::Pan => pan::press(app, press),
        Page::Used { top } => used::press(app, press, top),
        Page::Plan { selected } => plan::press(app, press, selected),
        Page::Line { line, selected } => line::press(app, press, line, selected),
        Page::Visits { line, selected } => visits::press(app, press, line, selected),
        Page::Bowls { selected, load } => bowls::press(app, press, selected, load),
        Page::Question { question, load } => question::press(app, press, question, load),
        Page::Everything { selected } => everything::press(app, press, selected),
        Page::Rest { yarn, .. } => rest::press(app, press, yarn),
        Page::Leftover { choices, selected } => leftover::press(app, press, choices, selected),
        Page::Halve { whole } => halve::press(app, press, whole),
        Page::PairCheck { .. } | Page::Dry { .. } => finished::press(app, press),
        Page::Estimate { stitches } => estimate::press(app, press, stitches),
        Page::Control => control::press(app, press),
        Page::Diagnostics { top } => diagnostics::press(app, press, top),
        Page::Signs => signs::press(app, press),
        Page::Calibrate(calibrating) => calibrating::press(app, press, calibrating),
        Page::Yarns(stage) => yarn::press(app, press, stage),
        Page::Presets { selected } => presets::press(app, press, selected),
        Page::Order { preset, selected } => presets::order_press(app, press, preset, selected),
        Page::Stitches { line, stitches } => line::stitches_press(app, press, line, stitches),
    }
}

/// What the keys do on every list.
pub(super) const LIST_KEYS: [KeyWord; 3] = [KeyWord::Back, KeyWord::Choose, KeyWord::Down];

/// What a press on a list comes to.
pub(super) enum OnList {
    /// Leave it without a change.
    Back,
    /// Take the highlighted line.
    Take,
    /// Highlight this one.
    Highlight(u8),
    /// Nothing.
    Nothing,
}

/// Reads a press as one on a list of `rows`. A held NEXT runs on, but stops at the end; a short one goes round.
pub(super) fn on_list(press: Press, selected: u8, rows: usize) -> OnList {
    let last = u8::try_from(rows.saturating_sub(1)).unwrap_or(u8::MAX);
    match press {
        Press::Short(Key::Zero) => OnList::Back,
        Press::Short(Key::Mark) => OnList::Take,
        Press::Short(Key::Next) if selected >= last => OnList::Highlight(0),
        Press::Short(Key::Next) | Press::Held(Key::Next) | Press::Again(Key::Next) => {
            OnList::Highlight(selected.saturating_add(1).min(last))
        }
        Press::Down(_) | Press::Held(_) | Press::Again(_) => OnList::Nothing,
    }
}

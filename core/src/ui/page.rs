//! Which page is open: each is a value with `press` and `view`.

use super::action::{Actions, To};
use super::battery::BatteryPage;
use super::bench::BenchPage;
use super::bowls::BowlsPage;
use super::calibrating::Calibrating;
use super::change::{ChangePage, MoveToPage};
use super::context::Context;
use super::control::ControlPage;
use super::diagnostics::DiagnosticsPage;
use super::estimate::EstimatePage;
use super::everything::EverythingPage;
use super::finished::{DryPage, PairCheckPage};
use super::halve::HalvePage;
use super::how_far::HowFarPage;
use super::keys::Press;
use super::language::LanguagePage;
use super::leftover::LeftoverPage;
use super::line::LinePage;
use super::pairs::PairsPage;
use super::pan::PanPage;
use super::parts::PartsPage;
use super::plan::PlanPage;
use super::presets::{OrderPage, PresetsPage};
use super::question::QuestionPage;
use super::rest::RestPage;
use super::room::RoomPage;
use super::shows::Shows;
use super::signs::SignsPage;
use super::stitches::StitchesPage;
use super::summary::SummaryPage;
use super::used::UsedPage;
use super::visits::VisitsPage;
use super::yarn::YarnsPage;

/// The open page.
#[allow(
    clippy::large_enum_variant,
    reason = "there is no allocator to box the long lists with"
)]
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Page {
    /// Home: what is on the pan.
    Pan(PanPage),
    /// What each section took.
    Used(UsedPage),
    /// The plan.
    Plan(PlanPage),
    /// What can be done with one line of the plan.
    Line(LinePage),
    /// Setting the stitches of a round.
    Stitches(StitchesPage),
    /// Earlier visits, one of which was the end of a section.
    Visits(VisitsPage),
    /// What taking back or moving a mark will change.
    Change(ChangePage),
    /// To which section a mark is given.
    MoveTo(MoveToPage),
    /// The bowls.
    Bowls(BowlsPage),
    /// The scale asks.
    Question(QuestionPage),
    /// The list of everything else.
    Everything(EverythingPage),
    /// The pairs on the needles.
    Pairs(PairsPage),
    /// What the pair in hand took.
    Summary(SummaryPage),
    /// A plan to begin a pair with.
    Presets(PresetsPage),
    /// In which order the socks of a new pair are knitted.
    Order(OrderPage),
    /// Whether a yarn does for the rest of the pair.
    Rest(RestPage),
    /// What the leftover on the pan would be good for.
    Leftover(LeftoverPage),
    /// How many rounds the cake still gives.
    HowFar(HowFarPage),
    /// Where to stop winding.
    Halve(HalvePage),
    /// Does the finished pair weigh what its sections took?
    PairCheck(PairCheckPage),
    /// Is the washed pair dry?
    Dry(DryPage),
    /// Grams from stitches.
    Estimate(EstimatePage),
    /// Weighing the control skein.
    Control(ControlPage),
    /// For how long the battery lasts.
    Battery(BatteryPage),
    /// How the scale is.
    Diagnostics(DiagnosticsPage),
    /// The check on the bench.
    Bench(BenchPage),
    /// Making room where the memory is nearly full.
    Room(RoomPage),
    /// What the small signs mean.
    Signs(SignsPage),
    /// A calibration under way.
    Calibrate(Calibrating),
    /// Which parts it was built with.
    Parts(PartsPage),
    /// In which language it speaks.
    Language(LanguagePage),
    /// What is known of the yarns.
    Yarns(YarnsPage),
}

/// The same call on whichever page is open.
macro_rules! on_each {
    ($page:expr, $open:ident => $call:expr) => {
        match $page {
            Page::Pan($open) => $call,
            Page::Used($open) => $call,
            Page::Plan($open) => $call,
            Page::Line($open) => $call,
            Page::Stitches($open) => $call,
            Page::Visits($open) => $call,
            Page::Change($open) => $call,
            Page::MoveTo($open) => $call,
            Page::Bowls($open) => $call,
            Page::Question($open) => $call,
            Page::Everything($open) => $call,
            Page::Pairs($open) => $call,
            Page::Summary($open) => $call,
            Page::Presets($open) => $call,
            Page::Order($open) => $call,
            Page::Rest($open) => $call,
            Page::Leftover($open) => $call,
            Page::HowFar($open) => $call,
            Page::Halve($open) => $call,
            Page::PairCheck($open) => $call,
            Page::Dry($open) => $call,
            Page::Estimate($open) => $call,
            Page::Control($open) => $call,
            Page::Battery($open) => $call,
            Page::Diagnostics($open) => $call,
            Page::Bench($open) => $call,
            Page::Room($open) => $call,
            Page::Signs($open) => $call,
            Page::Calibrate($open) => $call,
            Page::Parts($open) => $call,
            Page::Language($open) => $call,
            Page::Yarns($open) => $call,
        }
    };
}

impl Default for Page {
    fn default() -> Self {
        Self::Pan(PanPage)
    }
}

impl Page {
    /// Opens a page.
    #[must_use]
    pub(crate) fn open(to: To, context: &Context<'_>) -> Self {
        match to {
            To::Pan => Self::Pan(PanPage),
            To::Used => Self::Used(UsedPage::default()),
            To::Rest(yarn) => Self::Rest(RestPage::of(yarn, context)),
            To::Plan(line) => Self::Plan(PlanPage::at(line.or(context.cursor).unwrap_or(0))),
            To::Line(line) => Self::Line(LinePage::of(line)),
            To::Stitches(line, stitches) => Self::Stitches(StitchesPage { line, stitches }),
            To::Visits(line) => Self::Visits(VisitsPage::of(line)),
            To::Change(line, change) => Self::Change(ChangePage { line, change }),
            To::Moving(line) => Self::MoveTo(MoveToPage::of(line)),
            To::Bowls => Self::Bowls(BowlsPage::open(context)),
            To::Everything => Self::Everything(EverythingPage::default()),
            To::Pairs => Self::Pairs(PairsPage::open(context)),
            To::Summary => Self::Summary(SummaryPage::default()),
            To::Presets if PairsPage::is_full(context) => Self::Pairs(PairsPage::which_is_finished()),
            To::Presets => Self::Presets(PresetsPage::default()),
            To::Order(preset) => Self::Order(OrderPage::of(preset)),
            To::Leftover => Self::Leftover(LeftoverPage::open(context)),
            To::HowFar => Self::HowFar(HowFarPage::open(context)),
            To::Halve => Self::Halve(HalvePage::default()),
            To::PairCheck => Self::PairCheck(PairCheckPage::open(context)),
            To::Dry => Self::Dry(DryPage::open(context)),
            To::Estimate => Self::Estimate(EstimatePage::open(context)),
            To::Control => Self::Control(ControlPage::default()),
            To::Battery => Self::Battery(BatteryPage),
            To::Diagnostics => Self::Diagnostics(DiagnosticsPage::default()),
            To::Bench => Self::Bench(BenchPage::default()),
            To::Room => Self::Room(RoomPage::default()),
            To::Signs => Self::Signs(SignsPage::default()),
            To::Calibrate => Self::Calibrate(Calibrating::new()),
            To::Parts => Self::Parts(PartsPage::open(context)),
            To::Language => Self::Language(LanguagePage::default()),
            To::Yarns => Self::Yarns(YarnsPage::new()),
        }
    }

    /// What a press comes to.
    #[must_use]
    pub(crate) fn press(&mut self, context: &Context<'_>, press: Press) -> Actions {
        on_each!(self, page => page.press(context, press))
    }

    /// What it shows.
    #[must_use]
    pub(crate) fn view(&self, context: &Context<'_>) -> Shows {
        on_each!(self, page => page.view(context))
    }

    /// Asks its question anew: the pan has changed.
    pub(crate) fn refresh(&mut self, context: &Context<'_>) {
        match self {
            Self::Rest(page) => *page = RestPage::of(Some(page.yarn()), context),
            Self::Leftover(page) => *page = LeftoverPage::open(context),
            Self::PairCheck(page) => *page = PairCheckPage::open(context),
            Self::Dry(page) => *page = DryPage::open(context),
            Self::Pan(_)
            | Self::Used(_)
            | Self::Plan(_)
            | Self::Line(_)
            | Self::Stitches(_)
            | Self::Visits(_)
            | Self::Change(_)
            | Self::MoveTo(_)
            | Self::Bowls(_)
            | Self::Question(_)
            | Self::Everything(_)
            | Self::Pairs(_)
            | Self::Summary(_)
            | Self::Presets(_)
            | Self::Order(_)
            | Self::HowFar(_)
            | Self::Halve(_)
            | Self::Estimate(_)
            | Self::Control(_)
            | Self::Battery(_)
            | Self::Diagnostics(_)
            | Self::Bench(_)
            | Self::Room(_)
            | Self::Signs(_)
            | Self::Calibrate(_)
            | Self::Parts(_)
            | Self::Language(_)
            | Self::Yarns(_) => {}
        }
    }

    /// It waits for an answer: the scale does not leave it by itself, and a computer waits.
    #[must_use]
    pub(crate) const fn asks(&self) -> bool {
        matches!(self, Self::Question(_) | Self::Calibrate(_))
    }
}

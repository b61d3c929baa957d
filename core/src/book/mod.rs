//! The book: what the records of the journal mean, the only place where they mean something.
//!
//! Whoever reads a journal reads it through a [`Book`]: the device at start-up and in use, and on a computer the plan, the
//! tables, the report and whatever replays a recording. So they agree about every record, and about what is in doubt where one is missing.
//!
//! | file | what it holds |
//! |---|---|
//! | `bowls` | bowls that were tared, and the one in use |
//! | `calendar` | the calendar, as far as a computer has told it |
//! | `checks` | what came out of the check on the bench |
//! | `clock` | the device's own time, across power-offs |
//! | `names` | names of pairs and of their yarns |
//! | `past` | what a pair adds to the knitter's history |
//! | `settings` | the settings in force |
//! | `stay` | marks of one stay on the pan, until they are corrected by the empty pan |
//! | `troubles` | what went wrong, as far as the journal tells |
//! | `visits` | the latest loads that the pan has seen |

mod bowls;
mod calendar;
mod checks;
mod clock;
mod names;
mod past;
mod settings;
mod stay;
mod troubles;
mod visits;

pub use bowls::Bowls;
pub use checks::{Checked, Checks};
pub use settings::Settings;
pub(crate) use stay::KEPT_MARKS;
pub use stay::Stay;
pub use troubles::Troubles;
pub(crate) use visits::KEPT_VISITS;
pub use visits::{Visit, Visits};

use heapless::Vec;

use self::calendar::Calendar;
use self::clock::DeviceClock;
use self::names::Names;
use crate::journal::{Entry, Record, Replayed, RingName, Sequence, Setting, StartCause, of_a_pair};
use crate::ledger::{KNOWN_PAIRS, Ledger, Needles, Pair, Step, condense};
use crate::sock::{History, YarnLetter};
use crate::units::{FineCounts, Instant, Milligrams, Stamp};
use crate::weighing::{Calibration, Conditions};

/// All that the records of a journal add up to.
#[derive(Clone, Debug, PartialEq)]
pub struct Book {
    needles: Needles,
    /// Pairs that the history does not know yet as they are now.
    touched: Vec<u16, KNOWN_PAIRS>,
    history: History,
    bowls: Bowls,
    settings: Settings,
    visits: Visits,
    clock: DeviceClock,
    calendar: Calendar,
    names: Names,
    /// The latest calibration, and when it was noted.
    calibrated: Option<(Calibration, Stamp)>,
    /// Where the empty pan last stood under that calibration.
    zero: Option<FineCounts>,
    troubles: Troubles,
    checks: Checks,
    capacity: Milligrams,
}

impl Book {
    /// An empty book of a scale that carries so much at most, bowl included.
    #[must_use]
    pub fn new(capacity: Milligrams) -> Self {
        Self {
            needles: Needles::default(),
            touched: Vec::new(),
            history: History::default(),
            bowls: Bowls::default(),
            settings: Settings::default(),
            visits: Visits::default(),
            clock: DeviceClock::default(),
            calendar: Calendar::default(),
            names: Names::default(),
            calibrated: None,
            zero: None,
            troubles: Troubles::default(),
            checks: Checks::default(),
            capacity,
        }
    }

    /// Takes what reading the journal has given. After the last of it call [`Self::settle`].
    pub fn take(&mut self, replayed: Replayed<'_>) {
        match replayed {
            Replayed::Entry(entry) => self.apply(entry),
            Replayed::Gap { among, .. } | Replayed::Unreadable { among } => self.gap(among),
        }
    }

    /// Takes a record of the journal: the same for one that is replayed and one that was noted just now.
    pub fn apply(&mut self, entry: &Entry) {
        self.clock.learn(entry.at);
        if matches!(entry.record, Record::PairBegun { .. } | Record::PairClosed { .. }) {
            // The last moment of the pair closed before.
            self.learn_of_pairs();
        }
        // A record that contradicts the ledger stays in the journal and out of the sums; the sign says so.
        if self.needles.apply(entry).is_err() {
            self.troubles.doubtful = true;
        }
        self.touch();
        self.names.learn(&entry.record, self.ledger().begun());
        match &entry.record {
            Record::Bowl { number, mass } => {
                self.bowls.remember(*number, *mass, entry.at);
                // What was weighed in the bowl that had the number before cannot be told any more.
                let bowls = &self.bowls;
                self.visits.retain(|visit| bowls.knows(visit.bowl, visit.at));
            }
            Record::Calibrated(calibration) => {
                self.calibrated = Some((*calibration, entry.at));
                // An older zero says nothing on another calibration's empty pan.
                self.zero = None;
                self.weighed_on(Conditions::of(calibration, self.capacity));
            }
            Record::Setting(Setting::BowlInUse(bowl)) => self.bowls.use_bowl(*bowl),
            Record::Setting(setting) => {
                self.settings.set(*setting);
                if let Setting::CellCapacity(grams) = *setting {
                    self.carries(Milligrams::from_grams(grams.into()));
                }
            }
            Record::Condensed { pair, sections } => {
                self.history
                    .record(past::condensed_record(self.needles.in_hand(), *pair, sections));
            }
            Record::Started(cause) => {
                self.troubles.started(*cause);
                self.calendar.started(entry.at);
            }
            Record::ClockSet { unix } => self.calendar.set(entry.at, *unix),
            Record::Bench { check, value, passed } => self.checks.learn(entry.at, *check, *value, *passed),
            Record::Visit { gross, bowl, zero } => {
                // Replay gives visits after all else.
                if self.bowls.knows(*bowl, entry.at) {
                    self.visits.push(Visit {
                        at: entry.at,
                        gross: *gross,
                        bowl: *bowl,
                    });
                }
                // Replay gives visits after all else, also those from before the calibration.
                if self.calibrated.is_none_or(|(_, since)| entry.at >= since) {
                    self.zero = Some(*zero);
                }
            }
            // The ledger's own, names, and what the journal keeps for itself.
            Record::Reserved
            | Record::PairBegun { .. }
            | of_a_pair!()
            | Record::PairClosed { .. }
            | Record::Yarn { .. }
            | Record::Named { .. }
            | Record::Lost { .. }
            | Record::Checkpoint { .. }
            | Record::Control { .. } => {}
        }
    }

    /// Records of this ring are missing or damaged before what comes next.
    pub fn gap(&mut self, among: RingName) {
        match among {
            // One of them may have been a mark that was confirmed.
            RingName::Marks => {
                self.lost();
                self.troubles.gaps = self.troubles.gaps.saturating_add(1);
                self.troubles.doubtful = true;
            }
            // A pair is condensed anew as long as its marks are there; a visit is only an offer.
            RingName::Pairs | RingName::Visits => {}
        }
    }

    /// A mark was refused by the journal, and the knitter was told. Replaying the [`Record::Lost`] that will follow does the same.
    pub fn lost(&mut self) {
        self.needles.gap();
    }

    /// Pairs as far as they are knitted join the history, and the one to be gone on with is in hand. Due once the journal is replayed and
    /// after each record in use; it would cost too much for each of thousands of records.
    pub fn settle(&mut self) {
        self.learn_of_pairs();
        self.needles.settle();
    }

    /// The pair in hand is not any more what the history knows of it.
    fn touch(&mut self) {
        let pair = self.ledger().pair();
        if pair > 0 && !self.touched.contains(&pair) {
            // There are as many places as pairs.
            let _ = self.touched.push(pair);
        }
    }

    fn learn_of_pairs(&mut self) {
        for pair in core::mem::take(&mut self.touched) {
            if self.needles.take_in_hand(pair) {
                self.history.record(past::pair_record(self.needles.in_hand()));
            }
        }
    }

    /// The journal is replayed, and the device starts: [`Self::stamp`] goes on from here.
    pub fn start(&mut self, cause: StartCause) {
        self.clock.start(cause);
    }

    /// The device's clock has stood still for an unknown time: it counts as a power-off does.
    pub const fn lose_time(&mut self) {
        self.clock.lose();
    }

    /// Says on what scale the pair is weighed before a calibration is in the journal.
    pub fn weighed_on(&mut self, conditions: Conditions) {
        self.needles.weighed_on(conditions);
    }

    /// Another cell is fitted, which carries so much.
    fn carries(&mut self, capacity: Milligrams) {
        self.capacity = capacity;
        if let Some((calibration, _)) = &self.calibrated {
            self.weighed_on(Conditions::of(calibration, capacity));
        }
    }

    /// Most the pan may carry, bowl included.
    #[must_use]
    pub const fn capacity(&self) -> Milligrams {
        self.capacity
    }

    /// The ledger of the pair in hand.
    #[must_use]
    pub const fn ledger(&self) -> &Ledger {
        self.needles.in_hand()
    }

    /// All pairs on the needles, and the one that was closed last.
    #[must_use]
    pub const fn needles(&self) -> &Needles {
        &self.needles
    }

    /// The pairs that are being knitted.
    pub fn open_pairs(&self) -> impl Iterator<Item = Pair<'_>> {
        self.needles.pairs().filter(|pair| pair.is_open())
    }

    /// What a computer has called a yarn of a pair.
    #[must_use]
    pub fn yarn_name(&self, pair: u16, yarn: YarnLetter) -> Option<&heapless::String<24>> {
        self.names.of(pair, Some(yarn))
    }

    /// What a computer has called a pair.
    #[must_use]
    pub fn pair_name(&self, pair: u16) -> Option<&heapless::String<24>> {
        self.names.of(pair, None)
    }

    /// Days from one time to another, begun ones counted; `None` where no computer has told the calendar for both.
    #[must_use]
    pub fn days(&self, from: Stamp, to: Stamp) -> Option<u16> {
        self.calendar.days(from, to)
    }

    /// Number of the pair begun last; the next one has the number behind it.
    #[must_use]
    pub const fn begun(&self) -> u16 {
        self.ledger().begun()
    }

    /// The step that a record noted, and its pair.
    #[must_use]
    pub fn step(&self, of: Sequence) -> Option<(u16, &Step)> {
        self.needles.step(of)
    }

    /// What the sections of the last pairs took.
    #[must_use]
    pub const fn history(&self) -> &History {
        &self.history
    }

    /// The remembered bowls, and the one in use.
    #[must_use]
    pub const fn bowls(&self) -> &Bowls {
        &self.bowls
    }

    /// The settings in force.
    #[must_use]
    pub const fn settings(&self) -> &Settings {
        &self.settings
    }

    /// The latest loads that the pan has seen.
    #[must_use]
    pub const fn visits(&self) -> &Visits {
        &self.visits
    }

    /// What went wrong, as far as the journal tells.
    #[must_use]
    pub const fn troubles(&self) -> Troubles {
        self.troubles
    }

    /// What came out of the check on the bench.
    #[must_use]
    pub const fn checks(&self) -> &Checks {
        &self.checks
    }

    /// The device's own calibration, once it has one.
    #[must_use]
    pub fn calibration(&self) -> Option<&Calibration> {
        self.calibrated.as_ref().map(|(calibration, _)| calibration)
    }

    /// Where the empty pan last stood, if that was under the calibration in force.
    #[must_use]
    pub const fn zero(&self) -> Option<FineCounts> {
        self.zero
    }

    /// Nothing was ever noted.
    #[must_use]
    pub fn is_blank(&self) -> bool {
        self.clock.is_blank()
    }

    /// The device's own time at `now` of a clock that began with [`Self::start`].
    #[must_use]
    pub fn stamp(&self, now: Instant) -> Stamp {
        self.clock.stamp(now)
    }

    /// The last pair in short, if it is closed and that is still to be noted.
    #[must_use]
    pub fn to_condense(&mut self) -> Option<Record> {
        let due = self.needles.due()?;
        let record = self.needles.take_in_hand(due).then(|| condense(self.ledger()));
        self.needles.settle();
        record
    }
}

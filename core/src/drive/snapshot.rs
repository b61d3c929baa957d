//! The state that a volume shows: what the journal held when it was made, and how the scale was then.

use embedded_storage::nor_flash::NorFlash;
use heapless::Vec;

use super::backup;
use super::roll::Roll;
use super::source::{Source, Spot};
use super::window::Window;
use crate::app::App;
use crate::book::Checks;
use crate::forecast::{MOST_KINDS, Wanted, contrast_sections};
use crate::journal::{Extent, Journal, Language, Record, Replayed, RingName, Sequence, SequenceChecker, Usage, decode};
use crate::link::{DeviceInfo, device_info};
use crate::report::{Calendar, Name, OnePair, Pair, Standing};
use crate::sock::History;
use crate::ui::Health;
use crate::units::{Milligrams, Stamp};

/// The state that a volume shows.
#[derive(Clone, Debug)]
pub(super) struct Snapshot {
    pub(super) at: Stamp,
    pub(super) language: Language,
    /// Closed pairs, marks, visits; none without a journal.
    pub(super) extents: [Option<Extent>; 3],
    pub(super) roll: Roll,
    pub(super) calendar: Calendar,
    /// Entries of all rings.
    pub(super) entries: u32,
    pub(super) device: Option<DeviceInfo>,
    pub(super) history: History,
    pub(super) contrast: Vec<Wanted, MOST_KINDS>,
    pub(super) scale: ScaleState,
    /// Places among the marks at which something is missing.
    pub(super) gaps: u16,
    /// Behind the last mark something cannot be read.
    torn: bool,
    standing: Standing,
    checker: SequenceChecker,
    /// The ring and the sector of it to be looked at next.
    next: (usize, u16),
}

/// How the scale was.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(super) struct ScaleState {
    pub(super) version: &'static str,
    pub(super) capacity: Milligrams,
    pub(super) health: Health,
    pub(super) usage: Option<Usage>,
    /// mg.
    pub(super) noise: f32,
    /// mg a minute.
    pub(super) drift: f32,
    /// Relative standard uncertainty of the calibration's span; `None` without a calibration of its own.
    pub(super) span: Option<f32>,
    pub(super) is_in_doubt: bool,
    pub(super) is_zero_proven: bool,
    /// What the check on the bench has found.
    pub(super) checks: Checks,
    pub(super) mg_per_count: f32,
}

impl ScaleState {
    fn of(app: &App, journal: Option<&Journal>) -> Self {
        let scale = app.scale();
        Self {
            version: app.version(),
            capacity: app.capacity(),
            health: app.health(),
            usage: journal.map(Journal::usage),
            noise: scale.noise(),
            drift: scale.drift(),
            span: app.is_calibrated().then(|| scale.calibration().u_span()),
            is_in_doubt: app.book().troubles().doubtful,
            is_zero_proven: scale.zero_point().proven,
            checks: *app.book().checks(),
            mg_per_count: scale.calibration().mg_per_count(),
        }
    }
}

impl Default for Snapshot {
    fn default() -> Self {
        Self {
            at: Stamp(0),
            language: Language::default(),
            extents: [None; 3],
            roll: Roll::default(),
            calendar: Calendar::default(),
            entries: 0,
            device: None,
            history: History::default(),
            contrast: Vec::new(),
            scale: ScaleState::default(),
            gaps: 0,
            torn: false,
            standing: Standing::new(Milligrams(0)),
            checker: SequenceChecker::new(RingName::Marks, None),
            next: (0, 0),
        }
    }
}

impl Snapshot {
    /// Takes the scale as it is now.
    // In place: it is larger than a stack should hold twice.
    pub(super) fn take(&mut self, app: &App, journal: Option<&Journal>) {
        self.refresh(app, journal);
        self.language = app.book().settings().language;
        self.extents = RINGS.map(|ring| journal.map(|journal| journal.extent(ring)));
        self.roll.clear();
        self.calendar = Calendar::default();
        self.entries = 0;
        self.device = journal.map(|journal| device_info(app, journal));
        self.history.clone_from(app.book().history());
        self.contrast = contrast_sections(app.book().ledger());
        self.gaps = 0;
        self.torn = journal.is_some_and(|journal| journal.missing() > 0);
        self.standing = Standing::new(app.capacity());
        self.checker = SequenceChecker::new(RingName::Marks, None);
        self.next = (0, 0);
    }

    /// Takes the scale as it is now, where the journal is as it was.
    pub(super) fn refresh(&mut self, app: &App, journal: Option<&Journal>) {
        self.at = app.stamp();
        self.scale = ScaleState::of(app, journal);
    }

    /// Whether all that the files are made from is as it was then: the journal, the pair in hand, the language.
    pub(super) fn is_of(&self, app: &App, journal: Option<&Journal>) -> bool {
        let pair = self.device.as_ref().map_or(0, |device| device.pair);
        pair == app.book().ledger().pair()
            && self.language == app.book().settings().language
            && self.torn == journal.is_some_and(|journal| journal.missing() > 0)
            && !self.is_old(journal)
            && self.still_stands(journal)
    }

    /// Whether all that it was made from still stands in the journal.
    pub(super) fn still_stands(&self, journal: Option<&Journal>) -> bool {
        self.extents.into_iter().zip(RINGS).all(|(then, ring)| {
            let now = journal.map(|journal| journal.extent(ring));
            then.zip(now)
                .map_or(then.is_none(), |(then, now)| then.still_stands(&now))
        })
    }

    /// Whether something was noted since.
    pub(super) fn is_old(&self, journal: Option<&Journal>) -> bool {
        self.extents.into_iter().zip(RINGS).any(|(then, ring)| {
            let now = journal.map(|journal| journal.extent(ring));
            then.zip(now).is_some_and(|(then, now)| then.next() != now.next())
        })
    }

    /// Looks at the next sector of the journal, and writes its part of the backup; `false` once all were.
    pub(super) fn look<F: NorFlash>(&mut self, source: &mut Source<'_, F>, backup: &mut Window<'_>) -> bool {
        let (extent, ring, name, sector) = loop {
            let (ring, sector) = self.next;
            let Some((&extent, &name)) = self.extents.get(ring).zip(RINGS.get(ring)) else {
                return false;
            };
            if extent.is_some_and(|extent| sector < extent.sectors()) {
                break (extent, ring, name, sector);
            }
            self.next = (ring.saturating_add(1), 0);
        };
        self.next.1 = sector.saturating_add(1);
        let mut item: u16 = 0;
        source.entries(extent, sector, |bytes| {
            backup::put(name, bytes, backup);
            match ring {
                0 => {
                    if let Ok(entry) = decode(bytes) {
                        self.roll.closed(&entry, Spot::at(sector, item));
                    }
                }
                1 => self.mark(bytes, sector),
                _ => self.visit(bytes, sector == 0 && item == 0),
            }
            item = item.saturating_add(1);
            self.entries = self.entries.saturating_add(1);
        });
        true
    }

    fn mark(&mut self, bytes: &[u8], sector: u16) {
        let mut checker = self.checker;
        checker.take(bytes, &mut |replayed| match replayed {
            Replayed::Entry(entry) => {
                self.roll.mark(entry, sector, &self.standing);
                self.standing.learn(entry);
                self.calendar.learn(entry);
            }
            Replayed::Gap { .. } | Replayed::Unreadable { .. } => {
                self.gaps = self.gaps.saturating_add(1);
                self.roll.gap(sector);
            }
        });
        self.checker = checker;
    }

    fn visit(&mut self, bytes: &[u8], is_oldest: bool) {
        let Ok(entry) = decode(bytes) else { return };
        if is_oldest && entry.sequence > Sequence(1) {
            self.calendar.forget_before(entry.at);
        }
        self.calendar.learn(&entry);
    }

    /// A listed pair, with all that is left of it.
    pub(super) fn pair<F: NorFlash>(&self, number: u16, source: &mut Source<'_, F>) -> Pair {
        let listed = self.roll.listed().iter().find(|listed| listed.number == number);
        let (condensed, name) = listed.map_or((Spot::NONE, Spot::NONE), |listed| (listed.condensed, listed.name));
        let [pairs, ..] = self.extents;
        let mut pair = self
            .whole_pair(number, condensed, source)
            .unwrap_or_else(|| Pair::condensed(number, &[]));
        if pair.sections.is_empty() && pair.yarns.is_empty() && condensed.is_there() {
            source.entry(pairs, condensed, |bytes| {
                if let Ok(Record::Condensed { sections, .. }) = decode(bytes).map(|entry| entry.record) {
                    pair = Pair::condensed(number, &sections);
                }
            });
        }
        pair.name = self.name(name, source);
        pair
    }

    /// The name that stands at a place of the ring of closed pairs.
    pub(super) fn name<F: NorFlash>(&self, spot: Spot, source: &mut Source<'_, F>) -> Option<Name> {
        let [pairs, ..] = self.extents;
        let mut found = None;
        if spot.is_there() {
            source.entry(pairs, spot, |bytes| {
                if let Ok(Record::Named { name, .. }) = decode(bytes).map(|entry| entry.record) {
                    found = Some(name);
                }
            });
        }
        found
    }

    /// The pair by its marks; `None` if they are not all there and its short record is, which was noted while they were.
    #[inline(never)]
    fn whole_pair<F: NorFlash>(&self, number: u16, condensed: Spot, source: &mut Source<'_, F>) -> Option<Pair> {
        let whole = self.roll.whole(number)?;
        let [_, marks, _] = self.extents;
        let mut reading = OnePair::new(number, whole.standing.clone());
        let mut checker = SequenceChecker::new(RingName::Marks, None);
        for sector in whole.first..whole.last.saturating_add(1) {
            source.entries(marks, sector, |bytes| {
                checker.take(bytes, &mut |replayed| reading.take(replayed));
            });
        }
        if self.torn && whole.is_open {
            reading.take(Replayed::Unreadable { among: RingName::Marks });
        }
        (!reading.is_better_in_short() || !condensed.is_there()).then(|| reading.pair())
    }
}

/// In the order in which a journal is read.
pub(super) const RINGS: [RingName; 3] = [RingName::Pairs, RingName::Marks, RingName::Visits];

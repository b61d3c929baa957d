//! What a backup tells: pairs with their sections and yarns, and visits. The same book as on the scale reads it.

use std::collections::{BTreeMap, BTreeSet};

use yarn_scale_core::book::Book;
use yarn_scale_core::journal::{Entry, Named, Record, Replayed, RingName};
use yarn_scale_core::ledger::{Account, Ledger, Purpose, Step};
use yarn_scale_core::measured::Measured;
use yarn_scale_core::sock::{Line, SectionUse, YarnLetter};
use yarn_scale_core::units::Stamp;

use super::backup::Backup;

/// All that a backup tells.
#[derive(Clone, Debug, PartialEq)]
pub struct Story {
    /// The pairs, oldest first.
    pub pairs: Vec<Pair>,
    /// The visits, oldest first.
    pub visits: Vec<Visit>,
    /// When the device's clock was tied to the calendar: its time, and seconds since 1970 UTC.
    pub clocks: Vec<(Stamp, u64)>,
    /// When the power came on, or the device restarted.
    pub starts: Vec<Stamp>,
    /// What it adds up to: the running pair and the knitter's history.
    pub book: Book,
}

/// A pair.
#[derive(Clone, Debug, PartialEq)]
pub struct Pair {
    /// Its number.
    pub number: u16,
    /// Its name, if it was given one.
    pub name: Option<String>,
    /// Its marked sections, in plan order.
    pub sections: Vec<Section>,
    /// Its yarns; none for a pair of which only the sections are left.
    pub yarns: Vec<Yarn>,
}

/// A marked section.
#[derive(Clone, Debug, PartialEq)]
pub struct Section {
    /// Its place in the plan, from 1; of a condensed pair the place among its marked sections.
    pub place: usize,
    /// Its line of the plan.
    pub line: Line,
    /// What it took.
    pub used: Measured,
    /// When it was marked; not known of a condensed pair.
    pub at: Option<Stamp>,
    /// The mark was corrected by the empty pan.
    pub amended: bool,
    /// The mark was set afterwards.
    pub late: bool,
    /// A record beside it is damaged.
    pub doubtful: bool,
}

/// A yarn of a pair.
#[derive(Clone, Debug, PartialEq)]
pub struct Yarn {
    /// Its letter.
    pub letter: YarnLetter,
    /// Its name, if it was given one.
    pub name: Option<String>,
    /// Metres of 100 g; 0 where it is not known.
    pub metres_per_100_g: u16,
    /// Weighed in, used, unplanned, left.
    pub account: Account,
    /// Every weight, in order.
    pub weights: Vec<(Stamp, Measured)>,
}

/// A steady load that the pan has seen.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Visit {
    /// When.
    pub at: Stamp,
    /// What it weighed, gross.
    pub gross: Measured,
    /// The bowl's number; 0 without.
    pub bowl: u8,
}

impl Story {
    /// Reads a backup.
    #[must_use]
    pub fn of(backup: &Backup) -> Self {
        let mut reading = Reading::default();
        let mut story = Self {
            pairs: Vec::new(),
            visits: Vec::new(),
            clocks: Vec::new(),
            starts: Vec::new(),
            book: backup.blank_book(),
        };
        backup.replay(|replayed| {
            match replayed {
                Replayed::Entry(entry) => story.read(entry, &mut reading),
                Replayed::Gap { among, .. } | Replayed::Unreadable { among } => {
                    if among == RingName::Marks {
                        reading.in_doubt.extend(story.book.needles().numbers());
                    }
                }
            }
            story.book.take(replayed);
        });
        story.book.each_ledger(|ledger| reading.finish(ledger));
        story.book.settle();
        let Reading { pairs, mut names, .. } = reading;
        story.pairs = pairs.into_values().collect();
        for pair in &mut story.pairs {
            pair.name = names.remove(&pair.number);
        }
        story
    }

    /// Takes from a record what the book does not keep.
    fn read(&mut self, entry: &Entry, reading: &mut Reading) {
        match &entry.record {
            // What was closed before is gone from the book after it.
            Record::PairBegun { .. } | Record::PairClosed { .. } => {
                self.book.each_ledger(|ledger| reading.finish(ledger))
            }
            Record::Condensed { pair, sections } => {
                reading.pairs.insert(*pair, condensed(*pair, sections));
            }
            Record::Named { what, name } => {
                let name = name.to_string();
                match what {
                    Named::Pair(pair) => reading.names.insert(*pair, name),
                    Named::Yarn(yarn) => reading.yarns.insert(*yarn, name),
                };
            }
            Record::ClockSet { unix } => self.clocks.push((entry.at, *unix)),
            Record::Started(_) => self.starts.push(entry.at),
            Record::Visit { gross, bowl, .. } => self.visits.push(Visit {
                at: entry.at,
                gross: *gross,
                bowl: bowl.map_or(0, |bowl| bowl.0),
            }),
            _ => {}
        }
    }

    /// The calendar time of a device time, seconds since 1970 UTC: only while the device has run since its clock was set.
    #[must_use]
    pub fn unix(&self, at: Stamp) -> Option<u64> {
        let &(set_at, unix) = self.clocks.iter().rev().find(|(set_at, _)| *set_at <= at)?;
        let ran = !self.starts.iter().any(|&start| start > set_at && start <= at);
        ran.then(|| unix + u64::from(at.0 - set_at.0))
    }
}

/// What has been read so far, by number or letter.
#[derive(Default)]
struct Reading {
    pairs: BTreeMap<u16, Pair>,
    names: BTreeMap<u16, String>,
    yarns: BTreeMap<YarnLetter, String>,
    /// Pairs among whose marks something is missing.
    in_doubt: BTreeSet<u16>,
}

impl Reading {
    /// The pair that the ledger holds is at its end, or is all that there is of it.
    fn finish(&mut self, ledger: &Ledger) {
        if ledger.steps().is_empty() {
            return;
        }
        // In short it was noted while all its marks were there.
        if self.in_doubt.contains(&ledger.pair()) && self.pairs.contains_key(&ledger.pair()) {
            return;
        }
        let lines = ledger.plan().lines.iter().zip(0_u8..);
        let sections = lines
            .filter_map(|(&line, place)| section(ledger, line, place))
            .collect();
        let weighed = |yarn: &YarnLetter| ledger.last(*yarn).is_some();
        let yarns = YarnLetter::ALL.into_iter().filter(weighed);
        let pair = Pair {
            number: ledger.pair(),
            name: None,
            sections,
            yarns: yarns.map(|yarn| self.yarn(ledger, yarn)).collect(),
        };
        self.pairs.insert(pair.number, pair);
    }

    fn yarn(&self, ledger: &Ledger, letter: YarnLetter) -> Yarn {
        let steps = ledger.steps().iter().filter(|step| step.yarn == letter);
        Yarn {
            letter,
            name: self.yarns.get(&letter).cloned(),
            metres_per_100_g: ledger.label(letter).metres_per_100_g,
            account: ledger.account(letter),
            weights: steps.map(|step| (step.at, step.weight.net)).collect(),
        }
    }
}

fn section(ledger: &Ledger, line: Line, place: u8) -> Option<Section> {
    let used = ledger.used(place)?;
    let closes = |step: &&Step| step.purpose == Purpose::Section(place);
    let marks = || ledger.steps().iter().filter(closes);
    Some(Section {
        place: usize::from(place) + 1,
        line,
        used,
        at: marks().next_back().map(|step| step.at),
        amended: marks().any(|step| step.amended),
        late: marks().any(|step| step.late),
        doubtful: marks().any(|step| step.doubtful),
    })
}

fn condensed(number: u16, sections: &[SectionUse]) -> Pair {
    let sections = (1..).zip(sections).map(|(place, section)| Section {
        place,
        line: section.line,
        used: section.used,
        at: None,
        amended: false,
        late: false,
        doubtful: section.doubtful,
    });
    Pair {
        number,
        name: None,
        sections: sections.collect(),
        yarns: Vec::new(),
    }
}

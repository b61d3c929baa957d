//! What a backup tells: pairs with their sections and yarns, and visits. The same ledger as on the scale replays it.

use std::collections::BTreeMap;

use yarn_scale_core::journal::{Entry, Named, Record, RingName};
use yarn_scale_core::ledger::{Account, Ledger, Purpose};
use yarn_scale_core::measured::Measured;
use yarn_scale_core::sock::{Line, SectionUse, YarnLetter};
use yarn_scale_core::units::{Milligrams, Stamp};
use yarn_scale_core::weighing::Conditions;

use super::backup::Backup;

/// All that a backup tells.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Story {
    /// The pairs, oldest first.
    pub pairs: Vec<Pair>,
    /// The visits, oldest first.
    pub visits: Vec<Visit>,
    /// When the device's clock was tied to the calendar: its time, and seconds since 1970 UTC.
    pub clocks: Vec<(Stamp, u64)>,
    /// When the power came on, or the device restarted.
    pub starts: Vec<Stamp>,
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
        let mut story = Self::default();
        let mut names = BTreeMap::new();
        let mut pairs = BTreeMap::new();
        for entry in backup.entries_of(RingName::Pairs) {
            match entry.record {
                Record::Condensed { pair, sections } => {
                    pairs.insert(pair, condensed(pair, &sections));
                }
                Record::Named {
                    what: Named::Pair(pair),
                    name,
                } => {
                    names.insert(pair, name.to_string());
                }
                _ => {}
            }
        }
        let mut reading = Reading::default();
        for entry in backup.entries_of(RingName::Marks) {
            if let Record::PairBegun { .. } = entry.record {
                reading.finish(&mut pairs);
            }
            if let Record::ClockSet { unix } = entry.record {
                story.clocks.push((entry.at, unix));
            }
            reading.take(&entry);
        }
        reading.finish(&mut pairs);
        for entry in backup.entries_of(RingName::Visits) {
            match entry.record {
                Record::Started(_) => story.starts.push(entry.at),
                Record::Visit { gross, bowl, .. } => {
                    story.visits.push(Visit {
                        at: entry.at,
                        gross,
                        bowl: bowl.map_or(0, |bowl| bowl.0),
                    });
                }
                _ => {}
            }
        }
        story.pairs = pairs.into_values().collect();
        for pair in &mut story.pairs {
            pair.name = names.remove(&pair.number);
        }
        story
    }

    /// The calendar time of a device time, seconds since 1970 UTC: only while the device has run since its clock was set.
    #[must_use]
    pub fn unix(&self, at: Stamp) -> Option<u64> {
        let &(set_at, unix) = self.clocks.iter().rev().find(|(set_at, _)| *set_at <= at)?;
        let ran = !self.starts.iter().any(|&start| start > set_at && start <= at);
        ran.then(|| unix + u64::from(at.0 - set_at.0))
    }
}

/// What the scale can carry, as far as it matters to the uncertainty of a difference.
const CAPACITY: Milligrams = Milligrams::from_grams(500);

/// The ledger of the pair that is being read.
#[derive(Default)]
struct Reading {
    ledger: Ledger,
    names: BTreeMap<YarnLetter, String>,
}

impl Reading {
    fn take(&mut self, entry: &Entry) {
        if let Record::Calibrated(calibration) = &entry.record {
            self.ledger.weighed_on(Conditions::of(calibration, CAPACITY));
        }
        if let Record::Named {
            what: Named::Yarn(yarn),
            name,
        } = &entry.record
        {
            self.names.insert(*yarn, name.to_string());
        }
        // What contradicts the ledger is left out of the sums, as on the scale.
        let _ = self.ledger.apply(entry);
    }

    fn finish(&mut self, pairs: &mut BTreeMap<u16, Pair>) {
        let number = self.ledger.pair();
        if self.ledger.steps().is_empty() {
            return;
        }
        let lines = self.ledger.plan().lines.iter().zip(0_u8..);
        let sections = lines.filter_map(|(&line, place)| self.section(line, place)).collect();
        let weighed = |yarn: &YarnLetter| self.ledger.last(*yarn).is_some();
        let yarns = YarnLetter::ALL
            .into_iter()
            .filter(weighed)
            .map(|yarn| self.yarn(yarn))
            .collect();
        pairs.insert(
            number,
            Pair {
                number,
                name: None,
                sections,
                yarns,
            },
        );
    }

    fn section(&self, line: Line, place: u8) -> Option<Section> {
        let used = self.ledger.used(place)?;
        let marks: Vec<_> = self
            .ledger
            .steps()
            .iter()
            .filter(|step| step.purpose == Purpose::Section(place))
            .collect();
        Some(Section {
            line,
            used,
            at: marks.last().map(|step| step.at),
            amended: marks.iter().any(|step| step.amended),
            late: marks.iter().any(|step| step.late),
            doubtful: marks.iter().any(|step| step.doubtful),
        })
    }

    fn yarn(&self, letter: YarnLetter) -> Yarn {
        let steps = self.ledger.steps().iter().filter(|step| step.yarn == letter);
        Yarn {
            letter,
            name: self.names.get(&letter).cloned(),
            metres_per_100_g: self.ledger.label(letter).metres_per_100_g,
            account: self.ledger.account(letter),
            weights: steps.map(|step| (step.at, step.weight.net)).collect(),
        }
    }
}

fn condensed(number: u16, sections: &[SectionUse]) -> Pair {
    let sections = sections.iter().map(|section| Section {
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

//! Invented journals by seed: pairs with everything that can happen to them, in either schema, whole or with something missing.

use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64Mcg;
use yarn_scale_core::journal::{Entry, Journal, Named, PairEvent, Record, RingName, Setting};
use yarn_scale_core::ledger::{Ledger, Purpose, condense};
use yarn_scale_core::sock::{
    BowlNumber, Construction, HeelConstruction, Line, MAX_LINES, Ribbing, SectionKind, Sock, ToeConstruction, Weight,
    YarnLetter,
};
use yarn_scale_core::units::Stamp;
use yarn_scale_sim::computer::Backup;
use yarn_scale_sim::device::flash::SimFlash;

use crate::knitting::{visit, weight};

/// A journal and what was done to it.
#[derive(Debug)]
pub struct RandomJournal {
    /// The chip, where it is one that a chip can hold: not of schema 1, which is written no more.
    pub image: Option<Vec<u8>>,
    /// As it is backed up.
    pub backup: Backup,
}

/// The journal of this seed.
///
/// # Panics
/// If a story contradicts itself.
#[must_use]
pub fn random_journal(seed: u64) -> RandomJournal {
    let mut random = Pcg64Mcg::seed_from_u64(seed);
    let is_old = random.random_ratio(1, 4);
    let mut story = Story {
        flash: SimFlash::blank([48, 64, 256][random.random_range(0..3)] << 10),
        journal: None,
        ledger: Ledger::default(),
        random,
        is_old,
        now: 0,
    };
    let pairs = story.random.random_range(1..9);
    for number in 1..=pairs {
        story.pair(number, number == pairs);
    }
    let Story {
        mut random, mut flash, ..
    } = story;
    if random.random_ratio(1, 4) {
        // One bit of a byte that was written.
        let written: Vec<usize> = (0..flash.content().len())
            .filter(|&byte| flash.content()[byte] != 0xFF)
            .collect();
        let byte = written[random.random_range(0..written.len())];
        flash.flip(byte, random.random_range(0..8));
    }
    let mut backup = Backup::from_image(flash.content().to_vec()).expect("a journal");
    let mut image = Some(flash.content().to_vec());
    if is_old {
        image = None;
        for (_, entry) in &mut backup.entries {
            entry[0] = 0xA1;
        }
    }
    if random.random_ratio(1, 4) {
        image = None;
        for _ in 0..random.random_range(1..4) {
            if backup.entries.len() > 1 {
                backup.entries.remove(random.random_range(0..backup.entries.len()));
            }
        }
        if random.random_ratio(1, 3) {
            backup.unreadable = vec![RingName::Marks];
        }
    }
    RandomJournal { image, backup }
}

struct Story {
    flash: SimFlash,
    journal: Option<Journal>,
    ledger: Ledger,
    random: Pcg64Mcg,
    /// Of schema 1.
    is_old: bool,
    now: u32,
}

impl Story {
    /// Notes a record, as the schema has it.
    fn note(&mut self, record: Record) -> Entry {
        let journal = self
            .journal
            .get_or_insert_with(|| Journal::open(&mut self.flash, |_| {}).expect("a blank chip"));
        let record = if self.is_old {
            record
        } else {
            record.of_pair(self.ledger.pair())
        };
        let entry = journal.append(&mut self.flash, Stamp(self.now), record).expect("room");
        self.ledger.apply(&entry).expect("a sound story");
        entry
    }

    fn event(&mut self, event: PairEvent) {
        let pair = self.ledger.pair();
        self.note(Record::OfPair { pair, event });
    }

    fn below(&mut self, end: usize) -> usize {
        self.random.random_range(0..end)
    }

    fn line(&mut self) -> Line {
        let constructions = [
            Construction::Plain,
            Construction::Ribbed(Ribbing::OneByOne),
            Construction::Ribbed(Ribbing::TwoByTwo),
            Construction::Ribbed(Ribbing::Twisted),
            Construction::Heel(HeelConstruction::FlapAndGusset),
            Construction::Heel(HeelConstruction::ShortRow),
            Construction::Heel(HeelConstruction::Afterthought),
            Construction::Toe(ToeConstruction::Wedge),
            Construction::Toe(ToeConstruction::Rounded),
            Construction::Toe(ToeConstruction::Asymmetric),
        ];
        Line {
            kind: SectionKind::ALL[self.below(6)],
            sock: [Sock::First, Sock::Second][self.below(2)],
            yarn: YarnLetter::ALL[self.below(4)],
            construction: constructions[self.below(10)],
            stitches: self.below(256) as u8,
        }
    }

    /// The air is left out: what moisture is worth is no matter of the journal.
    fn weight(&mut self) -> Weight {
        let mut weight = weight(self.random.random_range(0..150_000));
        if self.random.random_ratio(1, 8) {
            weight.bowl = Some(BowlNumber(1 + self.below(9) as u8));
        }
        weight
    }

    fn pair(&mut self, number: u16, is_last: bool) {
        let lines: heapless::Vec<Line, MAX_LINES> = (0..3 + self.below(10)).map(|_| self.line()).collect();
        self.note(Record::PairBegun { pair: number, lines });
        for yarn in &YarnLetter::ALL[..1 + self.below(3)] {
            let weight = self.weight();
            self.note(Record::WeighIn { yarn: *yarn, weight });
        }
        for _ in 0..self.below(40) {
            self.now += self.random.random_range(1..20_000);
            self.happens();
        }
        if self.random.random_ratio(1, 2) {
            let name = ["Toes", "für \"Sonntag\", rot", "x"][self.below(3)];
            let what = Named::Pair(number);
            let name = name.try_into().expect("a short name");
            self.note(Record::Named { what, name });
        }
        if !is_last || self.random.random_ratio(1, 2) {
            self.note(Record::PairClosed { pair: number });
            self.note(condense(&self.ledger));
        }
    }

    /// One thing of all that can happen to a pair.
    #[allow(clippy::too_many_lines, reason = "a list")]
    fn happens(&mut self) {
        let places = self.ledger.plan().lines.len() as u8;
        let line = self.below(usize::from(places)) as u8;
        let steps = self.ledger.steps().to_vec();
        let step = (!steps.is_empty()).then(|| steps[self.below(steps.len())]);
        let yarn = step.map_or(YarnLetter::A, |step| step.yarn);
        let weighed = self.ledger.last(yarn).is_some();
        let weight = self.weight();
        match self.below(18) {
            0..=4 if weighed => {
                self.note(Record::Mark { line, yarn, weight });
            }
            5 if weighed => {
                let used_u = 4.5;
                self.note(Record::SharedZeroMark {
                    line,
                    yarn,
                    weight,
                    used_u,
                });
            }
            6 => {
                let yarn = YarnLetter::ALL[self.below(8)];
                self.note(Record::WeighIn { yarn, weight });
            }
            7 if weighed => {
                self.note(Record::Unplanned { yarn, weight });
            }
            8 | 9 => {
                if let Some(step) = step {
                    let of = step.sequence;
                    self.note(Record::Amended { of, weight });
                }
            }
            10 => {
                if let Some(of) = self.ledger.newest() {
                    self.note(Record::Undone { of });
                }
            }
            11 if self.ledger.is_skipped(line) => {}
            11 => {
                self.note(Record::Skipped { line });
            }
            12 | 13 if weighed => {
                let marks = |step: &&yarn_scale_core::ledger::Step| {
                    step.yarn == yarn && matches!(step.purpose, Purpose::Section(_))
                };
                let later = steps.iter().rfind(marks).map(|step| step.sequence);
                let place = self.below(usize::from(places)) as u8;
                let before = later
                    .filter(|_| self.random.random_ratio(2, 3))
                    .map(|later| (later, place));
                let visited = Stamp(self.now / 2);
                self.note(Record::LateMark {
                    line,
                    yarn,
                    weight,
                    visited,
                    before,
                });
            }
            14 => {
                let index = self.below(usize::from(places)) as u8;
                let line = self.line();
                let index = if usize::from(places) < MAX_LINES && self.random.random_ratio(1, 3) {
                    places
                } else {
                    index
                };
                self.note(Record::LineChanged { index, line });
            }
            15 => {
                self.note(visit(self.now as i32 % 90_000));
                let minutes = 1 + self.below(30) as u8;
                self.note(Record::Setting(Setting::SleepMinutes(minutes)));
            }
            16 if !self.is_old => {
                if let Some(step) = step.filter(|step| step.purpose != Purpose::WeighIn) {
                    let of = step.sequence;
                    self.event(PairEvent::TakenBack { of });
                }
            }
            17 if !self.is_old => {
                if let Some(step) = step.filter(|step| step.purpose != Purpose::WeighIn) {
                    let of = step.sequence;
                    self.event(PairEvent::Moved { of, line });
                }
            }
            _ => {}
        }
    }
}

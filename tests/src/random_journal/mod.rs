//! Invented journals by seed: pairs with everything that can happen to them, in either schema, several of them open at a time since the second,
//! whole or with something missing.

mod happens;

use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64Mcg;
use yarn_scale_core::journal::{Journal, JournalFault, Named, PairEvent, Record, RingName, Setting};
use yarn_scale_core::ledger::{Ledger, Needles, condense};
use yarn_scale_core::sock::{Line, MAX_LINES, YarnLetter};
use yarn_scale_core::units::Stamp;
use yarn_scale_sim::computer::Backup;
use yarn_scale_sim::device::flash::SimFlash;

/// A journal and what was done to it.
#[derive(Debug)]
pub struct RandomJournal {
    /// The chip, where it is one that a chip can hold: not of schema 1, which is written no more.
    pub image: Option<Vec<u8>>,
    /// As it is backed up.
    pub backup: Backup,
    /// Most pairs that were open at a time.
    pub open: usize,
    /// How often one was opened again.
    pub reopened: usize,
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
        needles: Needles::default(),
        random,
        is_old,
        now: 0,
        open: 0,
        reopened: 0,
    };
    let pairs = story.random.random_range(1..9);
    if is_old {
        for number in 1..=pairs {
            story.begin(number);
            story.knit(40);
            if number < pairs || story.random.random_ratio(1, 2) {
                story.close();
            }
        }
    } else {
        story.side_by_side(pairs);
    }
    let Story {
        mut random,
        mut flash,
        open,
        reopened,
        ..
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
    RandomJournal {
        image,
        backup,
        open,
        reopened,
    }
}

struct Story {
    flash: SimFlash,
    journal: Option<Journal>,
    needles: Needles,
    random: Pcg64Mcg,
    /// Of schema 1.
    is_old: bool,
    now: u32,
    open: usize,
    reopened: usize,
}

impl Story {
    /// Notes a record, as the schema has it; says whether it was. Of a full journal, and of a pair that cannot be opened again, it is not.
    fn note(&mut self, record: Record) -> bool {
        let journal = self
            .journal
            .get_or_insert_with(|| Journal::open(&mut self.flash, |_| {}).expect("a blank chip"));
        let record = if self.is_old {
            record
        } else {
            record.of_pair(self.needles.in_hand().pair())
        };
        match journal.append(&mut self.flash, Stamp(self.now), record) {
            Ok(entry) => {
                self.needles.apply(&entry).expect("a sound story");
                self.open = self.open.max(self.needles.open());
                true
            }
            Err(JournalFault::Full | JournalFault::Closed) => false,
            Err(fault) => panic!("{fault}"),
        }
    }

    fn event(&mut self, event: PairEvent) -> bool {
        let pair = self.ledger().pair();
        self.note(Record::OfPair { pair, event })
    }

    fn ledger(&self) -> &Ledger {
        self.needles.in_hand()
    }

    fn below(&mut self, end: usize) -> usize {
        self.random.random_range(0..end)
    }

    fn begin(&mut self, number: u16) {
        let lines: heapless::Vec<Line, MAX_LINES> = (0..3 + self.below(10)).map(|_| self.line()).collect();
        if !self.note(Record::PairBegun { pair: number, lines }) {
            return;
        }
        for yarn in &YarnLetter::ALL[..1 + self.below(3)] {
            let weight = self.weight();
            self.note(Record::WeighIn { yarn: *yarn, weight });
        }
    }

    fn knit(&mut self, most: usize) {
        for _ in 0..self.below(most) {
            self.now += self.random.random_range(1..20_000);
            if self.needles.has_room() {
                self.happens();
            }
        }
        if self.random.random_ratio(1, 4) {
            let what = Named::Pair(self.ledger().pair());
            let name = ["Toes", "für \"Sonntag\", rot", "x"][self.below(3)];
            let name = name.try_into().expect("a short name");
            self.note(Record::Named { what, name });
        }
    }

    fn close(&mut self) {
        if self.note(Record::PairClosed {
            pair: self.ledger().pair(),
        }) {
            self.note(condense(self.ledger()));
        }
    }

    /// Pairs that are begun, taken in hand, finished and opened again in any order.
    fn side_by_side(&mut self, pairs: u16) {
        let mut begun = 1;
        self.begin(begun);
        for _ in 0..4 * pairs {
            match self.below(8) {
                0..=2 if begun < pairs => {
                    begun += 1;
                    self.begin(begun);
                }
                3 if self.ledger().is_open() => self.close(),
                4 => {
                    if let Some(pair) = self.needles.closed().filter(|&pair| self.needles.is_known(pair)) {
                        self.needles.take_in_hand(pair);
                        self.reopened += usize::from(self.event(PairEvent::Reopened));
                    }
                }
                _ => {
                    let open: Vec<u16> = self
                        .needles
                        .pairs()
                        .filter(|pair| pair.is_open())
                        .map(|pair| pair.number())
                        .collect();
                    if !open.is_empty() {
                        let pair = open[self.below(open.len())];
                        if self.random.random_ratio(1, 2) {
                            self.note(Record::Setting(Setting::PairInHand(pair)));
                        }
                        self.needles.take_in_hand(pair);
                    }
                }
            }
            if self.ledger().is_open() {
                self.knit(14);
            }
        }
    }
}

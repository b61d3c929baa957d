//! Several pairs at a time, as a real knitter notes them: an evening on one, the next on another.

use yarn_scale_core::book::Book;
use yarn_scale_core::journal::{Entry, Gauge, Journal, JournalFault, Named, PairEvent, Record, Setting};
use yarn_scale_core::sock::{Fibre, Label, Weight, YarnLetter};
use yarn_scale_core::units::{Milligrams, Stamp};
use yarn_scale_sim::device::flash::SimFlash;

use super::DEVICE;
use crate::knitting;

/// A scale with several pairs on the needles.
#[derive(Debug)]
pub struct SeveralPairs {
    /// Its flash.
    pub flash: SimFlash,
    /// Its journal.
    pub journal: Journal,
    book: Book,
    second: u32,
    open: Vec<OnNeedles>,
    begun: u16,
    named: bool,
}

/// One of them: its number, what is left of its yarns, and the section that comes next.
#[derive(Debug)]
struct OnNeedles {
    pair: u16,
    left: [i32; 3],
    next: u8,
}

impl SeveralPairs {
    /// A new scale, on which each pair is given a name of twelve letters if they are to be `named`.
    ///
    /// # Panics
    /// If a blank chip does not open.
    #[must_use]
    pub fn new(named: bool) -> Self {
        let mut flash = SimFlash::blank(DEVICE);
        let journal = Journal::open(&mut flash, |_| {}).expect("a blank chip");
        Self {
            flash,
            journal,
            book: Book::new(Milligrams::from_grams(500)),
            second: 0,
            open: Vec::new(),
            begun: 0,
            named,
        }
    }

    /// Knits with so many pairs on the needles until the journal takes no more: how many are in short then, at how many the warning came,
    /// and why there is no more.
    ///
    /// # Panics
    /// If there is no end.
    pub fn until_full(&mut self, at_once: usize) -> (u16, u16, JournalFault) {
        let mut warned = None;
        for evening in 0..1_000_000 {
            if self.journal.usage().is_nearly_full() {
                warned.get_or_insert(self.journal.condensed());
            }
            if let Err(fault) = self.knit(evening, at_once) {
                let full = self.journal.condensed();
                return (full, warned.unwrap_or(full), fault);
            }
        }
        unreachable!("a journal that takes everything");
    }

    /// An evening: a section of one of the pairs, and its amendment; what was visited, too.
    fn knit(&mut self, evening: usize, at_once: usize) -> Result<(), JournalFault> {
        if self.open.len() < at_once {
            return self.begin();
        }
        let place = evening % self.open.len();
        let OnNeedles { pair, mut left, next } = self.open[place];
        self.note(Record::Setting(Setting::PairInHand(pair)))?;
        let lines = knitting::plan();
        let line = lines[usize::from(next)];
        let yarn = line.yarn;
        left[yarn.index()] -= knitting::takes(next);
        let weight = knitting::weight(left[yarn.index()]);
        self.note(knitting::visit(weight.net.value.0))?;
        let marked = self.of(
            pair,
            PairEvent::Mark {
                line: next,
                yarn,
                weight,
                used_u: (next % 3 == 0).then_some(12.5),
            },
        )?;
        self.of(
            pair,
            PairEvent::Amended {
                of: marked.sequence,
                weight: lighter(weight),
            },
        )?;
        (self.open[place].left, self.open[place].next) = (left, next + 1);
        if usize::from(next) + 1 == lines.len() {
            self.open.remove(place);
            self.note(Record::PairClosed { pair })?;
            let record = self.book.to_condense().expect("it is closed");
            self.note(record)?;
        }
        self.journal.tidy(&mut self.flash)
    }

    fn begin(&mut self) -> Result<(), JournalFault> {
        self.begun += 1;
        let pair = self.begun;
        let lines = knitting::plan();
        self.note(Record::PairBegun { pair, lines })?;
        self.note(Record::Setting(Setting::PairInHand(pair)))?;
        let gauge = Gauge {
            stitches: 64,
            stitches_per_10_cm: 60,
            rounds_per_10_cm: 84,
        };
        self.of(pair, PairEvent::Gauge(gauge))?;
        let left = knitting::AT_FIRST.map(|mg| mg + i32::from(pair));
        for yarn in [YarnLetter::A, YarnLetter::B, YarnLetter::C] {
            let label = Label {
                metres_per_100_g: 420,
                fibre: Fibre::WoolPolyamide,
            };
            self.of(pair, PairEvent::Label { yarn, label })?;
            let weight = knitting::weight(left[yarn.index()]);
            self.of(pair, PairEvent::WeighIn { yarn, weight })?;
        }
        if self.named {
            let (what, name) = (Named::Pair(pair), "Sonntagspaar".try_into().expect("short"));
            self.note(Record::Named { what, name })?;
        }
        self.open.push(OnNeedles { pair, left, next: 0 });
        Ok(())
    }

    fn of(&mut self, pair: u16, event: PairEvent) -> Result<Entry, JournalFault> {
        self.note(Record::OfPair { pair, event })
    }

    fn note(&mut self, record: Record) -> Result<Entry, JournalFault> {
        self.second += 1_800;
        let entry = self.journal.append(&mut self.flash, Stamp(self.second), record)?;
        self.book.apply(&entry);
        self.book.settle();
        Ok(entry)
    }
}

fn lighter(mut weight: Weight) -> Weight {
    weight.net.value.0 -= 7;
    weight
}

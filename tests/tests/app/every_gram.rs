//! Whatever is pressed, put on the pan, held or torn off: every gram of a yarn is in exactly one place, a section, no section, or left, and
//! no weight is noted that did not lie on the pan. Beside the device stands an account of its journal that shares nothing with the ledger.

use proptest::prelude::*;
use proptest::test_runner::{Config, RngAlgorithm, TestRng, TestRunner};
use yarn_scale_core::journal::{Entry, Record, Setting};
use yarn_scale_core::ledger::Ledger;
use yarn_scale_core::screen::{Body, Word};
use yarn_scale_core::sock::YarnLetter;
use yarn_scale_tests::account::{Account, Link, Went};
use yarn_scale_tests::bench::{Bench, Key};

/// What is lighter can be taken for the pan's own after a start with a load on it, g: what then is noted is too light by as much.
const LIGHTEST: f64 = 3.0;

/// What the knitter does.
#[derive(Clone, Copy, Debug)]
enum Deed {
    /// Knits from a cake so many tenths of a gram.
    Knit(usize, u16),
    /// Puts a cake on the pan, perhaps with something beside it, in tenths of a gram.
    Put(usize, u16),
    /// Puts something unknown on the pan.
    Unknown(u16),
    /// Knits so many tenths of a gram from the yarn that is planned, and marks it; what is asked is answered after so many times NEXT.
    Section(u16, u8),
    Take,
    Press(Key),
    Hold(Key),
    /// Answers a question, or takes what stands in a list, after so many times NEXT.
    Answer(u8),
    /// Something about a line of the plan: the line, and the place in the list of what can be done.
    Plan(u8, u8),
    NewPair,
    /// Goes on with the pair at this place of the list.
    GoOnWith(u8),
    /// Puts a cake on the pan as it is, marks it, and answers after so many times NEXT.
    Mark(usize, u8),
    PowerCut,
    /// The power fails while a press is still being weighed.
    PowerCutWhile(Key),
}

fn deed() -> impl Strategy<Value = Deed> {
    let key = || prop_oneof![Just(Key::Mark), Just(Key::Next), Just(Key::Zero)];
    prop_oneof![
        6 => (0..3_usize, 1..170_u16).prop_map(|(cake, tenths)| Deed::Knit(cake, tenths)),
        8 => (0..3_usize, prop_oneof![4 => Just(0_u16), 1 => 3..2_000_u16]).prop_map(|(cake, beside)| Deed::Put(cake, beside)),
        1 => (30..4_800_u16).prop_map(Deed::Unknown),
        12 => (prop_oneof![3 => 30..90_u16, 1 => 0..170_u16], 0..3_u8).prop_map(|(tenths, next)| Deed::Section(tenths, next)),
        3 => Just(Deed::Take),
        10 => Just(Deed::Press(Key::Mark)),
        3 => key().prop_map(Deed::Press),
        2 => Just(Deed::Hold(Key::Mark)),
        1 => key().prop_map(Deed::Hold),
        8 => (0..6_u8).prop_map(Deed::Answer),
        3 => (0..10_u8, 0..9_u8).prop_map(|(line, what)| Deed::Plan(line, what)),
        1 => Just(Deed::NewPair),
        2 => (0..4_u8).prop_map(Deed::GoOnWith),
        4 => (0..3_usize, 0..4_u8).prop_map(|(cake, next)| Deed::Mark(cake, next)),
        1 => Just(Deed::PowerCut),
        1 => key().prop_map(Deed::PowerCutWhile),
    ]
}

/// A bag of cakes and a scale.
struct Evening {
    bench: Bench,
    cakes: [f64; 3],
    /// All that ever lay on the pan, g.
    lay: Vec<f64>,
}

impl Evening {
    fn put(&mut self, grams: f64) {
        self.lay.push(grams);
        self.bench.put(grams);
    }

    fn happen(mut self, deed: Deed) -> Self {
        match deed {
            Deed::Knit(cake, tenths) => {
                let cake = &mut self.cakes[cake];
                *cake = (*cake - 0.1 * f64::from(tenths)).max(LIGHTEST);
            }
            Deed::Put(cake, beside) => self.put(self.cakes[cake] + 0.1 * f64::from(beside)),
            Deed::Unknown(tenths) => self.put(0.1 * f64::from(tenths)),
            Deed::Section(tenths, next) => {
                let ledger = self.bench.app.book().ledger();
                let planned = ledger.cursor().and_then(|line| ledger.plan().line(line));
                let cake = planned.map_or(0, |line| line.yarn.index().min(2));
                self = self.happen(Deed::Knit(cake, tenths)).happen(Deed::Put(cake, 0));
                self.bench.press(Key::Mark);
                self.answer(next);
            }
            Deed::Take => self.bench.take(),
            Deed::Press(key) => self.bench.press(key),
            Deed::Hold(key) => self.bench.hold(key),
            Deed::Answer(next) => self.answer(next),
            Deed::Plan(line, what) => {
                if self.home() {
                    self.bench.open(Word::Plan);
                    for next in [line, what, 0, 0] {
                        self.answer(next);
                    }
                }
            }
            Deed::NewPair => {
                if self.home() {
                    self.bench.open(Word::NewPair);
                    for _ in 0..3 {
                        self.bench.press(Key::Mark);
                    }
                }
            }
            Deed::GoOnWith(next) => {
                if self.home() {
                    self.bench.open(Word::PairsOnNeedles);
                    for _ in 0..next {
                        self.bench.press(Key::Next);
                    }
                    self.bench.press(Key::Mark);
                }
                // The pair in hand shows what it took; MARK would finish it.
                self.home();
            }
            Deed::Mark(cake, next) => {
                if self.home() {
                    self.put(self.cakes[cake]);
                    self.bench.press(Key::Mark);
                    self.answer(next);
                }
            }
            Deed::PowerCut => self.bench = self.bench.power_cycle(),
            Deed::PowerCutWhile(key) => {
                self.bench.press(key);
                self.bench = self.bench.power_cycle();
            }
        }
        self
    }

    fn answer(&mut self, next: u8) {
        if matches!(self.bench.body(), Body::Question(_) | Body::List(_) | Body::Plan(_)) {
            for _ in 0..next {
                self.bench.press(Key::Next);
            }
            self.bench.press(Key::Mark);
        }
    }

    /// Back to the pan, whatever is open.
    fn home(&mut self) -> bool {
        for _ in 0..20 {
            self.bench.wait(1.0);
            match self.bench.body() {
                Body::Pan(_) => return true,
                Body::Edit(_) => self.bench.hold(Key::Mark),
                // "Not now".
                Body::Question(_) => self.bench.press(Key::Mark),
                _ => self.bench.press(Key::Zero),
            }
        }
        false
    }

    fn check(&self, account: &Account) -> Result<(), TestCaseError> {
        // Exactly, yarn by yarn, of all pairs that are known.
        let mut needles = self.bench.app.book().needles().clone();
        for pair in needles.numbers() {
            needles.take_in_hand(pair);
            check_pair(needles.in_hand(), account)?;
        }
        let yarns = || {
            account
                .pairs
                .keys()
                .flat_map(|pair| YarnLetter::ALL.map(|yarn| account.sums(*pair, yarn)))
        };
        let [came, used, none, left] = [0, 1, 2, 3].map(|place| yarns().map(|sums| sums[place]).sum::<i64>());
        // What went from pair to pair came in once, and is left once.
        let between = account.between_pairs();
        prop_assert_eq!(came - between, used + (none - between) + left);
        for pair in account.pairs.keys() {
            for yarn in YarnLetter::ALL {
                let [came, used, none, left] = account.sums(*pair, yarn);
                prop_assert_eq!(came, used + none + left);
            }
            // Nothing is noted that did not lie there: to a division, and what is used up to its end.
            for link in &account.pairs[pair] {
                let lay = self
                    .lay
                    .iter()
                    .any(|lay| (lay * 1_000.0 - link.gross as f64).abs() < 150.0);
                prop_assert!(lay || link.mass == 0, "{:?} of {:?}", link, self.lay);
            }
        }
        Ok(())
    }
}

fn check_pair(ledger: &Ledger, account: &Account) -> Result<(), TestCaseError> {
    let pair = ledger.pair();
    for yarn in YarnLetter::ALL {
        let says = ledger.account(yarn);
        let says = [says.weighed_in, says.used, says.unplanned, says.left].map(|mass| i64::from(mass.0));
        prop_assert_eq!(says, account.sums(pair, yarn), "{:?} of pair {}", yarn, pair);
    }
    for line in 0..ledger.plan().lines.len() as u8 {
        let used = ledger.used(line).map_or(0, |used| i64::from(used.value.0));
        prop_assert_eq!(used, account.section(pair, line), "line {} of pair {}", line, pair);
    }
    Ok(())
}

/// Deterministic, so that what is counted at the end is always the same: marks, late marks, changes of marks, pairs were really made.
#[test]
fn every_gram_is_in_exactly_one_place() {
    let config = Config {
        failure_persistence: None,
        ..Config::with_cases(256)
    };
    let rng = TestRng::deterministic_rng(RngAlgorithm::ChaCha);
    let mut runner = TestRunner::new_with_rng(config, rng);
    let (marks, late, changed, pairs, carried, gone_on) = (
        std::cell::Cell::new(0),
        std::cell::Cell::new(0),
        std::cell::Cell::new(0),
        std::cell::Cell::new(0),
        std::cell::Cell::new(0),
        std::cell::Cell::new(0),
    );
    let run = runner.run(&prop::collection::vec(deed(), 20..90), |deeds| {
        let mut bench = Bench::new();
        bench.begin_pair();
        let mut evening = Evening {
            bench,
            cakes: [98.0, 41.0, 24.0],
            lay: vec![0.0],
        };
        let mut seen = 0;
        for &deed in &deeds {
            evening = evening.happen(deed);
            if evening.bench.journal.len() != seen {
                seen = evening.bench.journal.len();
                evening.check(&Account::of(&evening.bench.journal))?;
            }
        }
        let account = Account::of(&evening.bench.journal);
        let of_sections = |link: &&Link| matches!(link.went, Went::Section(_));
        marks.set(marks.get() + account.pairs.values().flatten().filter(of_sections).count());
        late.set(late.get() + account.late);
        changed.set(changed.get() + account.changed);
        pairs.set(pairs.get() + account.pairs.len());
        carried.set(carried.get() + account.carried);
        let goes_on = |entry: &&Entry| matches!(entry.record, Record::Setting(Setting::PairInHand(_)));
        gone_on.set(gone_on.get() + evening.bench.journal.iter().filter(goes_on).count());
        Ok(())
    });
    if let Err(reason) = run {
        panic!("{reason}");
    }
    let counts = [&marks, &late, &changed, &pairs, &carried, &gone_on].map(std::cell::Cell::get);
    println!("marks, late marks, changes, pairs, yarns that went on in another, changes of pair: {counts:?}");
    let least = [700, 50, 250, 300, 10, 100];
    assert!(
        counts.iter().zip(least).all(|(&count, least)| count > least),
        "{counts:?}"
    );
}

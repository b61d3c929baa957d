//! The ledger under any sequence of records: no milligram appears or vanishes, what is refused changes nothing, taking back
//! undoes exactly, and replaying the journal gives the live state.

use proptest::prelude::*;
use proptest::sample::Index;
use yarn_scale_core::journal::{Entry, PairEvent, Record, Sequence};
use yarn_scale_core::ledger::{ApplyFault, Ledger};
use yarn_scale_core::measured::Measured;
use yarn_scale_core::sock::{Line, Weight, YarnLetter, moisture::Correction};
use yarn_scale_core::units::{Milligrams, Stamp};
use yarn_scale_sim::device::flash::SimFlash;
use yarn_scale_tests::durability::Found;
use yarn_scale_tests::knitting;
use yarn_scale_tests::records::{any_letter, any_line};

/// What can happen to a pair; an [`Index`] chooses among the records so far.
#[derive(Clone, Debug)]
enum Move {
    Amend(Index, i32),
    Begin,
    Change(u8, Line),
    Close,
    Late(u8, YarnLetter, i32, Option<(Index, u8)>),
    Lost,
    Mark(u8, YarnLetter, i32),
    Reassign(Index, u8),
    Skip(u8),
    TakeBack(Index),
    Undo(Index),
    Unplanned(YarnLetter, i32),
    WeighIn(YarnLetter, i32),
}

fn any_move() -> impl Strategy<Value = Move> {
    // Lines beyond the plan and yarns that were not weighed in are refused: they come, but seldom.
    let line = || 0..14_u8;
    let yarn = || prop_oneof![6 => Just(YarnLetter::A), 3 => Just(YarnLetter::B), 1 => any_letter()];
    let mg = || -5_000..500_000;
    prop_oneof![
        1 => Just(Move::Begin),
        1 => Just(Move::Close),
        1 => Just(Move::Lost),
        2 => (line(), any_line()).prop_map(|(index, line)| Move::Change(index, line)),
        2 => line().prop_map(Move::Skip),
        4 => (any::<Index>(), mg()).prop_map(|(of, mg)| Move::Amend(of, mg)),
        4 => any::<Index>().prop_map(Move::Undo),
        4 => any::<Index>().prop_map(Move::TakeBack),
        4 => (any::<Index>(), line()).prop_map(|(of, line)| Move::Reassign(of, line)),
        4 => (yarn(), mg()).prop_map(|(yarn, mg)| Move::Unplanned(yarn, mg)),
        8 => (yarn(), mg()).prop_map(|(yarn, mg)| Move::WeighIn(yarn, mg)),
        8 => (line(), yarn(), mg(), proptest::option::of((any::<Index>(), line())))
            .prop_map(|(line, yarn, mg, before)| Move::Late(line, yarn, mg, before)),
        20 => (line(), yarn(), mg()).prop_map(|(line, yarn, mg)| Move::Mark(line, yarn, mg)),
    ]
}

fn moves() -> impl Strategy<Value = Vec<Move>> {
    prop::collection::vec(any_move(), 1..120)
}

/// A ledger that is told moves.
struct Told {
    ledger: Ledger,
    next: u32,
    pair: u16,
}

impl Told {
    /// A pair has been begun.
    fn new() -> Self {
        let mut told = Self {
            ledger: Ledger::default(),
            next: 1,
            pair: 0,
        };
        let begin = told.entry(&Move::Begin);
        told.ledger.apply(&begin).expect("a pair begins");
        told
    }

    fn entry(&mut self, what: &Move) -> Entry {
        let known = self.next.max(2) - 1;
        let of = |index: &Index| Sequence(1 + index.index(known as usize) as u32);
        let record = match what {
            Move::Amend(index, mg) => Record::Amended {
                of: of(index),
                weight: weight(*mg),
            },
            Move::Begin => {
                self.pair += 1;
                Record::PairBegun {
                    pair: self.pair,
                    lines: knitting::plan(),
                }
            }
            Move::Change(index, line) => Record::LineChanged {
                index: *index,
                line: *line,
            },
            Move::Close => Record::PairClosed { pair: self.pair },
            Move::Late(line, yarn, mg, before) => Record::LateMark {
                line: *line,
                yarn: *yarn,
                weight: weight(*mg),
                visited: Stamp(0),
                before: before.as_ref().map(|(index, line)| (of(index), *line)),
            },
            Move::Lost => Record::Lost { count: 1 },
            Move::Mark(line, yarn, mg) => Record::Mark {
                line: *line,
                yarn: *yarn,
                weight: weight(*mg),
            },
            Move::Skip(line) => Record::Skipped { line: *line },
            Move::Undo(index) => Record::Undone { of: of(index) },
            Move::TakeBack(index) => Record::OfPair {
                pair: self.pair,
                event: PairEvent::TakenBack { of: of(index) },
            },
            Move::Reassign(index, line) => Record::OfPair {
                pair: self.pair,
                event: PairEvent::Moved {
                    of: of(index),
                    line: *line,
                },
            },
            Move::Unplanned(yarn, mg) => Record::Unplanned {
                yarn: *yarn,
                weight: weight(*mg),
            },
            Move::WeighIn(yarn, mg) => Record::WeighIn {
                yarn: *yarn,
                weight: weight(*mg),
            },
        };
        let sequence = Sequence(self.next);
        self.next += 1;
        let at = Stamp(sequence.0);
        Entry { sequence, at, record }
    }
}

fn weight(mg: i32) -> Weight {
    let net = Measured {
        value: Milligrams(mg),
        u: 30.0,
    };
    Weight {
        net,
        ..knitting::weight(0)
    }
}

/// For each yarn `weighed_in = used + unplanned + left`, and what the sections took is what the yarns gave to them.
fn check_conservation(ledger: &Ledger) -> Result<(), TestCaseError> {
    let mut given = 0_i64;
    for yarn in YarnLetter::ALL {
        let account = ledger.account(yarn);
        let [weighed_in, used, unplanned, left] =
            [account.weighed_in, account.used, account.unplanned, account.left].map(|mass| i64::from(mass.0));
        prop_assert_eq!(weighed_in, used + unplanned + left, "{:?}: {:?}", yarn, account);
        given += used;
    }
    let raw = ledger.steps().iter().enumerate().filter_map(|(place, step)| {
        use yarn_scale_core::ledger::Purpose;
        let took = ledger.before(place)?.weight.net.value.0 - step.weight.net.value.0;
        matches!(step.purpose, Purpose::Section(_)).then_some(i64::from(took))
    });
    prop_assert_eq!(raw.sum::<i64>(), given);
    // The air is the same at all these weighings: there is no moisture to take out of the total.
    prop_assert_eq!(i64::from(ledger.total_used().value.0), given);
    Ok(())
}

proptest! {
    #[test]
    fn no_milligram_appears_or_vanishes(moves in moves()) {
        let mut told = Told::new();
        for what in &moves {
            let entry = told.entry(what);
            // What is refused is another property's matter.
            let _ = told.ledger.apply(&entry);
            check_conservation(&told.ledger)?;
        }
    }

    #[test]
    fn what_is_refused_changes_nothing(moves in moves()) {
        let mut told = Told::new();
        for what in &moves {
            let entry = told.entry(what);
            let before = told.ledger.clone();
            if told.ledger.apply(&entry).is_err() {
                prop_assert_eq!(&told.ledger, &before, "{:?}", entry);
            }
        }
    }

    #[test]
    fn taking_back_undoes_exactly(moves in moves()) {
        let mut told = Told::new();
        for what in &moves {
            let entry = told.entry(what);
            let before = told.ledger.clone();
            let done = told.ledger.apply(&entry).is_ok();
            let can_be_undone = !matches!(
                what,
                Move::Amend(..) | Move::Begin | Move::Change(..) | Move::Close | Move::Lost | Move::Reassign(..) | Move::TakeBack(_) | Move::Undo(_)
            );
            if done && can_be_undone {
                let mut back = told.ledger.clone();
                let undone = Record::Undone { of: entry.sequence };
                let undone = Entry { sequence: Sequence(u32::MAX), record: undone, ..entry.clone() };
                prop_assert_eq!(back.apply(&undone), Ok(()));
                prop_assert_eq!(&back, &before, "{:?}", entry);
            }
        }
    }

    #[test]
    fn a_mark_gives_its_section_what_went(first in 0..400_000_i32, then in 0..400_000_i32, line in 0..12_u8) {
        let mut told = Told::new();
        for what in [Move::WeighIn(YarnLetter::A, first), Move::Mark(line, YarnLetter::A, then)] {
            let entry = told.entry(&what);
            prop_assert_eq!(told.ledger.apply(&entry), Ok(()));
        }
        let account = told.ledger.account(YarnLetter::A);
        prop_assert_eq!((account.used, account.left), (Milligrams(first - then), Milligrams(then)));
        prop_assert!(told.ledger.is_done(line));
    }
}

#[test]
fn a_late_mark_never_goes_before_a_first_weight() {
    let mut told = Told::new();
    let weigh_in = told.entry(&Move::WeighIn(YarnLetter::A, 50_000));
    told.ledger.apply(&weigh_in).expect("a first weight");
    let mut late = told.entry(&Move::Late(0, YarnLetter::A, 60_000, None));
    let Record::LateMark { before, .. } = &mut late.record else {
        unreachable!("a late mark");
    };
    *before = Some((weigh_in.sequence, 1));
    assert_eq!(told.ledger.apply(&late), Err(ApplyFault::NoSuchRecord));
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    #[test]
    fn replaying_the_journal_gives_the_live_state(moves in moves(), restart in 1..20_usize) {
        let mut flash = SimFlash::blank(64 << 10);
        let (mut journal, _) = Found::open(&mut flash).expect("a flash that works");
        let mut told = Told { ledger: Ledger::default(), next: 1, pair: 0 };
        let begin = core::iter::once(&Move::Begin);
        for (number, what) in begin.chain(moves.iter().filter(|what| !matches!(what, Move::Begin))).enumerate() {
            let record = told.entry(what).record;
            let entry = journal.append(&mut flash, Stamp(number as u32), record).expect("room");
            // A record that contradicts the ledger is kept, and contradicts it again in replay.
            let _ = told.ledger.apply(&entry);
            if number % restart == 0 {
                let (reopened, found) = Found::open(&mut flash).expect("a flash that works");
                journal = reopened;
                prop_assert_eq!(&found.ledger().0, &told.ledger);
            }
        }
    }
}

/// A pair whose control skein was weighed at the weigh-in, and `apart` seconds before a mark a week later, 2 % damper.
fn with_control_skein(apart: u32) -> (Measured, Correction) {
    const WEEK: u32 = 7 * 24 * 3_600;
    let mut told = Told::new();
    let dry = |mg| Weight {
        air: None,
        ..weight(mg)
    };
    let control = |mg| Record::Control { weight: weight(mg).net };
    let yarn = YarnLetter::A;
    for (at, record) in [
        (10, control(50_000)),
        (
            10,
            Record::WeighIn {
                yarn,
                weight: dry(100_000),
            },
        ),
        (10 + WEEK - apart, control(51_000)),
        (
            10 + WEEK,
            Record::Mark {
                line: 0,
                yarn,
                weight: dry(80_000),
            },
        ),
    ] {
        let sequence = Sequence(told.next);
        told.next += 1;
        let at = Stamp(at);
        assert_eq!(told.ledger.apply(&Entry { sequence, at, record }), Ok(()));
    }
    told.ledger.used_with_correction(1).expect("a mark after a weigh-in")
}

#[test]
fn a_control_skein_weighed_beside_a_mark_takes_the_moisture_out() {
    // By hand: of the 80 g, 80 g / 51 are water that the room added since; 100 g - (80 g - 1.569 g).
    let (went, way) = with_control_skein(3_600);
    assert_eq!((went.value, way), (Milligrams(21_569), Correction::ControlSkein));
    // Weighed longer than an hour before, it says nothing of the mark.
    let (went, way) = with_control_skein(3_601);
    assert_eq!((went.value, way), (Milligrams(20_000), Correction::Widened));
}

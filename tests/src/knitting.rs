//! Invented pairs, as the records that a knitter's day leaves in the journal.

use heapless::Vec;
use yarn_scale_core::journal::{Journal, Record, Sequence};
use yarn_scale_core::ledger::{Ledger, condense};
use yarn_scale_core::measured::Measured;
use yarn_scale_core::sock::{
    Construction, HeelConstruction, Line, MAX_LINES, Ribbing, SectionKind, Sock, ToeConstruction, Weight, YarnLetter,
};
use yarn_scale_core::units::{FineCounts, Milligrams, Stamp};
use yarn_scale_sim::device::flash::SimFlash;

/// The sections of one sock with contrast cuff, heel and toe, cuff-down: kind, yarn, construction, and what it takes, mg.
const SOCK: [(SectionKind, YarnLetter, Construction, i32); 6] = [
    (
        SectionKind::Cuff,
        YarnLetter::B,
        Construction::Ribbed(Ribbing::TwoByTwo),
        4_000,
    ),
    (SectionKind::Leg, YarnLetter::A, Construction::Plain, 14_200),
    (
        SectionKind::Heel,
        YarnLetter::B,
        Construction::Heel(HeelConstruction::FlapAndGusset),
        6_900,
    ),
    (SectionKind::Gusset, YarnLetter::A, Construction::Plain, 4_100),
    (SectionKind::Foot, YarnLetter::A, Construction::Plain, 12_300),
    (
        SectionKind::Toe,
        YarnLetter::C,
        Construction::Toe(ToeConstruction::Wedge),
        5_200,
    ),
];

/// The plan of a pair with contrast cuffs, heels and toes.
#[must_use]
pub fn plan() -> Vec<Line, MAX_LINES> {
    [Sock::First, Sock::Second]
        .into_iter()
        .flat_map(|sock| {
            SOCK.map(|(kind, yarn, construction, _)| Line {
                kind,
                sock,
                yarn,
                construction,
                stitches: 64,
            })
        })
        .collect()
}

/// What the section at this place of the plan takes, mg; places beyond its end go round.
#[must_use]
pub fn takes(place: u8) -> i32 {
    SOCK[usize::from(place) % SOCK.len()].3
}

/// What a pair's yarns A, B and C weigh at first, mg: more than its sections take.
pub const AT_FIRST: [i32; 3] = [100_000, 25_000, 20_000];

/// A weight of this many milligrams, not in a bowl.
#[must_use]
pub fn weight(mg: i32) -> Weight {
    Weight {
        net: Measured {
            value: Milligrams(mg),
            u: 31.5,
        },
        bowl: None,
        air: None,
    }
}

/// A visit of a load of this many milligrams.
#[must_use]
pub fn visit(mg: i32) -> Record {
    Record::Visit {
        gross: weight(mg).net,
        bowl: None,
        zero: FineCounts(1_234_567),
    }
}

/// All records of one pair after [`Record::PairBegun`], given the number of the first: three yarns weighed in, twelve
/// sections marked and each mark amended, and the pair closed.
#[must_use]
pub fn pair(number: u16, first: Sequence) -> std::vec::Vec<Record> {
    let mut left = AT_FIRST;
    left[0] += i32::from(number);
    let letters = [YarnLetter::A, YarnLetter::B, YarnLetter::C];
    let mut records = vec![Record::PairBegun {
        pair: number,
        lines: plan(),
    }];
    records.extend(letters.map(|yarn| Record::WeighIn {
        yarn,
        weight: weight(left[yarn.index()]),
    }));
    for (line, (_, yarn, _, takes)) in (0_u8..).zip(SOCK.into_iter().chain(SOCK)) {
        left[yarn.index()] -= takes;
        let of = Sequence(first.0 + records.len() as u32);
        let weight = weight(left[yarn.index()]);
        records.push(Record::Mark { line, yarn, weight });
        let mut weight = weight;
        weight.net.value.0 += 7;
        records.push(Record::Amended { of, weight });
    }
    records.push(Record::PairClosed { pair: number });
    records
}

/// A chip with so many finished pairs on it, and a visit for each.
///
/// # Panics
/// If the chip is too small.
#[must_use]
pub fn knitted(capacity: usize, pairs: u16) -> SimFlash {
    let mut flash = SimFlash::blank(capacity);
    let mut journal = Journal::open(&mut flash, |_| {}).expect("a blank chip");
    let mut ledger = Ledger::default();
    for number in 1..=pairs {
        let mut note = |journal: &mut Journal, record| {
            let entry = journal.append(&mut flash, Stamp(number.into()), record).expect("room");
            ledger.apply(&entry).expect("a sound story");
            entry.sequence
        };
        // A checkpoint may come before it: the numbers of the pair's records count from where it then stands.
        let begun = note(&mut journal, pair(number, Sequence(1)).remove(0));
        for record in pair(number, begun).split_off(1) {
            note(&mut journal, record);
        }
        journal
            .append(&mut flash, Stamp(number.into()), condense(&ledger))
            .expect("room");
        journal
            .append(&mut flash, Stamp(number.into()), visit(i32::from(number) * 100))
            .expect("room");
    }
    flash
}

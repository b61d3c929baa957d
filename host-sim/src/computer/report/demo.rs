//! An invented knitter's journal: five pairs that were never knitted, with the spread that such pairs may have.

use yarn_scale_core::journal::{Entry, Journal, JournalFault, Named, Record, Sequence};
use yarn_scale_core::ledger::{Ledger, condense};
use yarn_scale_core::measured::Measured;
use yarn_scale_core::sock::{
    Construction, Fibre, HeelConstruction, Humidity, Label, Line, Ribbing, SectionKind, Sock, ToeConstruction, Weight,
    YarnLetter,
};
use yarn_scale_core::units::{Milligrams, Stamp};

use crate::computer::backup::Backup;
use crate::device::flash::SimFlash;
use crate::device::simulator::JOURNAL_BYTES;
use crate::failure::Failure;

/// A section of the invented plan: what it is, in which yarn, and what it took on sock 1 and 2 of the newest pair, mg.
struct Part(SectionKind, YarnLetter, Construction, [i32; 2]);

/// The backup of the invented scale.
///
/// # Errors
/// If the journal does not take it.
pub(crate) fn backup() -> Result<Backup, Failure> {
    let failed = |_| Failure::Here("the invented journal cannot be written".to_owned());
    let mut writer = Writer {
        flash: SimFlash::blank(JOURNAL_BYTES),
        ledger: Ledger::default(),
        now: Stamp(60),
    };
    let mut journal = Journal::open(&mut writer.flash, |_| {}).map_err(failed)?;
    // 2027-01-09, about noon.
    writer
        .note(&mut journal, Record::ClockSet { unix: 1_799_496_000 })
        .map_err(failed)?;
    for (number, (name, share)) in (1_u16..).zip(PAIRS) {
        writer.pair(&mut journal, number, name, share).map_err(failed)?;
    }
    Backup::from_image(writer.flash.content().to_vec())
        .ok_or_else(|| Failure::Here("the invented journal cannot be read".to_owned()))
}

struct Writer {
    flash: SimFlash,
    ledger: Ledger,
    now: Stamp,
}

impl Writer {
    fn note(&mut self, journal: &mut Journal, record: Record) -> Result<Entry, JournalFault> {
        let entry = journal.append(&mut self.flash, self.now, record)?;
        // The invented story is sound: the test reads all of it back.
        let _ = self.ledger.apply(&entry);
        Ok(entry)
    }

    /// A pair in which everything took `share` per mille of the newest pair, sock by sock a little more or less.
    fn pair(
        &mut self,
        journal: &mut Journal,
        number: u16,
        name: &str,
        share: [i32; 2],
    ) -> Result<Sequence, JournalFault> {
        let lines = [Sock::First, Sock::Second].into_iter().flat_map(|sock| {
            PARTS.iter().map(move |Part(kind, yarn, construction, _)| Line {
                kind: *kind,
                sock,
                yarn: *yarn,
                construction: *construction,
                stitches: 64,
            })
        });
        let lines = lines.collect();
        self.note(journal, Record::PairBegun { pair: number, lines })?;
        let mut left = WEIGHED_IN;
        for ((letter, name), mass) in YARNS.into_iter().zip(left) {
            let label = Label {
                metres_per_100_g: 420,
                fibre: Fibre::WoolPolyamide,
            };
            self.note(journal, Record::Yarn { letter, label })?;
            self.name(journal, Named::Yarn(letter), name)?;
            let weight = weight(mass, 100);
            self.note(journal, Record::WeighIn { yarn: letter, weight })?;
            self.now.0 += 40;
        }
        for (place, (sock, part)) in (0_u8..).zip((0..2).flat_map(|sock| PARTS.iter().map(move |part| (sock, part)))) {
            let Part(_, yarn, _, took) = part;
            // Evenings with the sock, now and then one without.
            self.now.0 += HOUR * (20 + 7 * (u32::from(place) % 3));
            left[yarn.index()] -= took[sock] * share[sock] / 1_000;
            // The air of a room in which the window is opened now and then.
            let weight = weight(left[yarn.index()], 96 + 3 * (place % 4));
            let mark = Record::Mark {
                line: place,
                yarn: *yarn,
                weight,
            };
            self.note(journal, mark)?;
        }
        self.now.0 += HOUR;
        self.note(journal, Record::PairClosed { pair: number })?;
        let condensed = condense(&self.ledger);
        self.note(journal, condensed)?;
        self.now.0 += 90 * HOUR;
        self.name(journal, Named::Pair(number), name)
    }

    fn name(&mut self, journal: &mut Journal, what: Named, name: &str) -> Result<Sequence, JournalFault> {
        // All names here are short enough.
        let name = name.try_into().unwrap_or_default();
        self.note(journal, Record::Named { what, name })
            .map(|entry| entry.sequence)
    }
}

/// A weight, and the air's humidity in halves of a percent.
fn weight(milligrams: i32, air: u8) -> Weight {
    Weight {
        net: Measured {
            value: Milligrams(milligrams),
            u: 31.5,
        },
        bowl: None,
        air: Some(Humidity(air)),
    }
}

const HOUR: u32 = 3_600;

/// Names of the invented pairs, and their shares of the newest one, per mille, sock 1 and sock 2.
const PAIRS: [(&str, [i32; 2]); 5] = [
    ("Invented, plain grey", [972, 965]),
    ("Invented, birthday", [1_021, 1_034]),
    ("Invented, stripes", [994, 1_003]),
    ("Invented, moss", [1_012, 1_006]),
    ("Invented, evening blue", [1_000, 1_000]),
];

const YARNS: [(YarnLetter, &str); 3] = [
    (YarnLetter::A, "invented blue"),
    (YarnLetter::B, "invented rust"),
    (YarnLetter::C, "invented cream"),
];

/// What the yarns weigh at first, mg.
const WEIGHED_IN: [i32; 3] = [101_300, 25_400, 16_400];

const PARTS: [Part; 6] = [
    Part(
        SectionKind::Cuff,
        YarnLetter::B,
        Construction::Ribbed(Ribbing::TwoByTwo),
        [4_020, 3_940],
    ),
    Part(SectionKind::Leg, YarnLetter::A, Construction::Plain, [14_210, 14_380]),
    Part(
        SectionKind::Heel,
        YarnLetter::B,
        Construction::Heel(HeelConstruction::FlapAndGusset),
        [6_870, 6_790],
    ),
    Part(SectionKind::Gusset, YarnLetter::A, Construction::Plain, [4_110, 4_050]),
    Part(SectionKind::Foot, YarnLetter::A, Construction::Plain, [12_290, 12_530]),
    Part(
        SectionKind::Toe,
        YarnLetter::C,
        Construction::Toe(ToeConstruction::Wedge),
        [5_190, 5_080],
    ),
];

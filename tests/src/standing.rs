//! What stands in the journal until something else of its kind is noted, and must outlive the sector that it is in.

use yarn_scale_core::journal::{BenchCheck, Language, Named, Record, Sequence, Setting};
use yarn_scale_core::sock::{BowlNumber, Fibre, Label, YarnLetter};
use yarn_scale_core::units::FineCounts;
use yarn_scale_core::weighing::{Calibration, Unit};

use crate::knitting;
use crate::records::SUPPLIES;

/// Every kind of record that stands until a later one replaces it, in an older (0) and a newer (1) version, with names as
/// long as they may be.
///
/// # Panics
/// For another version.
#[must_use]
pub fn standing(version: u8) -> Vec<Record> {
    let number = f32::from(version);
    let mut records = vec![
        Record::Calibrated(Calibration::straight(FineCounts(0), 1_000.0 + number).expect("a calibration")),
        Record::ClockSet {
            unix: 1_700_000_000 + u64::from(version),
        },
        Record::Control {
            weight: knitting::weight(50_000 + i32::from(version)).net,
        },
        Record::Setting(Setting::Unit([Unit::Gram, Unit::Ounce][usize::from(version)])),
        Record::Setting(Setting::Language(
            [Language::English, Language::German][usize::from(version)],
        )),
        Record::Setting(Setting::Brightness(version)),
        Record::Setting(Setting::SleepMinutes(version)),
        Record::Setting(Setting::Sound(version == 1)),
        Record::Setting(Setting::BowlInUse(Some(BowlNumber(version)))),
        Record::Setting(Setting::CellCapacity(500 + u16::from(version))),
        Record::Setting(Setting::PanelOffset(version)),
        Record::Setting(Setting::Supply(SUPPLIES[usize::from(version)])),
        Record::Setting(Setting::LanguageAsked(version == 1)),
        Record::Setting(Setting::PairInHand(60_000 + u16::from(version))),
        Record::Setting(Setting::KeptFrom(Sequence(1_000_000 + u32::from(version)))),
    ];
    records.extend(BenchCheck::ALL.map(|check| Record::Bench {
        check,
        value: i32::MAX - i32::from(version),
        passed: Some(true),
    }));
    records.extend((1..=9).map(|number| Record::Bowl {
        number: BowlNumber(number),
        mass: knitting::weight(100_000 * i32::from(number) + i32::from(version)).net,
    }));
    for letter in YarnLetter::ALL {
        let label = Label {
            metres_per_100_g: 400 + u16::from(version),
            fibre: Fibre::Cotton,
        };
        records.push(Record::Yarn { letter, label });
        records.push(Record::Named {
            what: Named::Yarn(letter),
            name: if version == 0 {
                "an older name"
            } else {
                "a name of 24 characters!"
            }
            .try_into()
            .expect("short"),
        });
    }
    records
}

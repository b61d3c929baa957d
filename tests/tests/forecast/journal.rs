//! From the journal to the answers: what replaying pairs leaves in the history, and the plan by a copy of the journal.

use std::fs;
use std::path::Path;

use heapless::Vec as BoundedVec;
use yarn_scale_core::app::{App, Chip, Configuration, Input};
use yarn_scale_core::forecast::{Reserve, Rule, Socks, Source, Word, answer, contrast_sections, will_it_do};
use yarn_scale_core::journal::{Entry, Journal, Record, Replayed, Sequence, StartCause};
use yarn_scale_core::ledger::{Ledger, condense};
use yarn_scale_core::measured::Measured;
use yarn_scale_core::sock::{SectionKind, Sock};
use yarn_scale_core::units::{FineCounts, Instant, Milligrams, Stamp};
use yarn_scale_core::weighing::Calibration;
use yarn_scale_sim::computer::plan::{Numbers, PlanArgs, Section, leftover, section, text};
use yarn_scale_sim::computer::{Backup, SourceArgs};
use yarn_scale_sim::device::flash::SimFlash;
use yarn_scale_tests::knitting::pair;

const FLASH: usize = 1 << 20;

fn app() -> App {
    App::new(Configuration {
        capacity: Milligrams::from_grams(500),
        calibration: Calibration::straight(FineCounts(0), 1_000.0).unwrap(),
        calibrated: true,
        version: "test",
        chip: Chip::default(),
    })
}

/// The records of so many whole pairs.
fn pairs(count: u16) -> Vec<Record> {
    let mut records: Vec<Record> = Vec::new();
    for number in 1..=count {
        let first = Sequence(records.len() as u32 + 1);
        records.extend(pair(number, first));
    }
    records
}

fn replayed(records: &[Record]) -> App {
    let mut app = app();
    for (number, record) in (1..).zip(records) {
        let entry = Entry {
            sequence: Sequence(number),
            at: Stamp(number * 60),
            record: record.clone(),
        };
        app.handle(Instant(0), Input::Replayed(Replayed::Entry(&entry)));
    }
    app.handle(Instant(0), Input::Ready(StartCause::PowerOn));
    app
}

#[test]
fn replayed_pairs_are_the_history() {
    let app = replayed(&pairs(4));
    assert_eq!(app.book().history().pairs().len(), 4);
    let sections = contrast_sections(app.book().ledger());
    let toe = sections
        .iter()
        .find(|section| section.kind == SectionKind::Toe)
        .unwrap();
    let toes: Vec<_> = app.book().history().uses(toe.kind, toe.construction).collect();
    assert_eq!(toes.len(), 8);
    // Each mark was amended by 7 mg after the next weight was taken; what a section took hardly changes.
    assert!(
        toes.iter().all(|(_, _, _, used)| (used.value.0 - 5_200).abs() <= 7),
        "{toes:?}"
    );
    assert_eq!(toes.iter().filter(|(_, sock, _, _)| *sock == Sock::First).count(), 4);
}

#[test]
fn leftover_is_answered_from_records_and_before_that_from_an_estimate() {
    let leftover = Measured {
        value: Milligrams::from_grams(20),
        u: 30.0,
    };
    let ask = |app: &App| {
        will_it_do(
            leftover,
            &contrast_sections(app.book().ledger()),
            app.book().history(),
            Rule::default(),
        )
    };
    let new = ask(&replayed(&[]));
    assert_eq!(new.len(), 14);
    assert!(new.iter().all(|choice| choice.answer.basis.source == Source::Estimate));
    let known = ask(&replayed(&pairs(3)));
    assert!(
        known
            .iter()
            .all(|choice| choice.answer.basis.reserve == Reserve::Spread { pairs: 3 })
    );
    // Two toes of 5.2 g: enough of 20 g; all sections of both socks, 32.2 g, are not.
    let of = |kinds: u32, socks| {
        let fits = known
            .iter()
            .filter(|choice| choice.kinds.count() == kinds && choice.socks == socks);
        fits.map(|choice| choice.answer.word).collect::<Vec<_>>()
    };
    assert_eq!(of(3, Socks::Both), [Word::Short]);
    assert!(of(1, Socks::Both).contains(&Word::Enough));
    let two = known.first().unwrap().answer;
    assert!(
        two.expected > Milligrams::from_grams(17),
        "the best use takes most: {two:?}"
    );
}

#[test]
fn running_pair_answers_for_its_second_sock() {
    // Half a pair: the records up to the end of sock 1.
    let mut records = pairs(3);
    let fourth = pair(4, Sequence(records.len() as u32 + 1));
    records.extend(fourth.into_iter().take(1 + 3 + 12));
    let app = replayed(&records);
    assert_eq!(app.book().history().pairs().len(), 4);
    let sections: BoundedVec<_, 4> = contrast_sections(app.book().ledger());
    let toe = sections
        .iter()
        .find(|section| section.kind == SectionKind::Toe)
        .unwrap();
    let first = app.book().ledger().used(5).unwrap();
    let left = Measured {
        value: Milligrams::from_grams(6),
        u: 30.0,
    };
    let found = answer(left, &[toe.like_first(first)], app.book().history(), Rule::default()).unwrap();
    assert_eq!((found.basis.source, found.word), (Source::FirstSock, Word::Enough));
    assert_eq!(found.basis.reserve, Reserve::Spread { pairs: 3 });
}

fn arguments(file: Option<&Path>, sections: &[&str]) -> PlanArgs {
    PlanArgs {
        leftovers: vec![leftover("green=12").unwrap()],
        sections: sections.iter().map(|text| section(text).unwrap()).collect(),
        pairs: Vec::new(),
        source: SourceArgs {
            device: None,
            file: file.map(Path::to_owned),
        },
        confidence: 95,
        scrap: Milligrams(1_000),
        ends: 4,
        metres: 420,
        json: false,
    }
}

#[test]
fn plan_reads_a_copy_of_the_journal() {
    let mut flash = SimFlash::blank(FLASH);
    let mut journal = Journal::open(&mut flash, |_| {}).unwrap();
    // As the device does: every pair is condensed once it is closed.
    let mut ledger = Ledger::default();
    for record in pairs(4) {
        let closed = matches!(record, Record::PairClosed { .. });
        let entry = journal.append(&mut flash, Stamp(60), record).unwrap();
        ledger.apply(&entry).unwrap();
        if closed {
            journal.append(&mut flash, Stamp(60), condense(&ledger)).unwrap();
        }
    }
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("journal.bin");
    fs::write(&file, flash.content()).unwrap();
    let found = text(&arguments(Some(&file), &["toes", "cuffs"])).unwrap();
    // Toes take 10.4 g and ends, cuffs 8: of 12 g the toes are the better use.
    assert!(
        found.contains("from other yarn: cuffs") && found.contains("10.5"),
        "{found}"
    );
    assert!(found.contains("toes: records of 4 of your pairs"), "{found}");
    assert_eq!(fs::read(&file).unwrap(), flash.content(), "only read");
    let backup = folder.path().join("socks.backup");
    Backup::read(&file).unwrap().write(&backup).unwrap();
    assert_eq!(text(&arguments(Some(&backup), &["toes", "cuffs"])).unwrap(), found);
    let one_sock = text(&arguments(Some(&file), &["toe", "cuff"])).unwrap();
    assert!(
        one_sock.contains("toe, cuff") && !one_sock.contains("other yarn"),
        "{one_sock}"
    );

    let blank = folder.path().join("blank.bin");
    fs::write(&blank, vec![0xFF; FLASH]).unwrap();
    let nowhere = folder.path().join("nowhere.bin");
    let refused = [
        (Some(nowhere.as_path()), "toes", "nowhere.bin"),
        (
            Some(blank.as_path()),
            "toes",
            "neither a backup nor an image of a journal",
        ),
        (Some(file.as_path()), "sleeves", "name cuffs, heels, toes"),
    ];
    for (journal, section, reason) in refused {
        let failure = text(&arguments(journal, &[section])).unwrap_err();
        assert!(format!("{failure:?}").contains(reason), "{failure:?} for {reason}");
    }
    let mixed = text(&arguments(Some(&file), &["toes=4", "cuffs"])).unwrap_err();
    assert!(format!("{mixed:?}").contains("for every section or for none"));
}

/// Two pairs on the needles: of one the second sock is open, of the other both. What they need adds up; a closed one needs nothing.
#[test]
fn plan_counts_what_all_open_pairs_still_need() {
    let mut flash = SimFlash::blank(FLASH);
    let mut journal = Journal::open(&mut flash, |_| {}).unwrap();
    let mut ledger = Ledger::default();
    let mut note = |flash: &mut SimFlash, record: Record| {
        let entry = journal.append(flash, Stamp(60), record).unwrap();
        ledger.apply(&entry).unwrap();
        if let Record::PairClosed { .. } = entry.record {
            journal.append(flash, Stamp(60), condense(&ledger)).unwrap();
        }
        entry.sequence
    };
    for number in 1..=3 {
        let mut begun = Sequence(0);
        for (place, record) in pair(number, Sequence(0)).into_iter().enumerate() {
            // Of the second pair the first sock is knitted, three yarns and six sections; of the third nothing.
            let is_noted = [usize::MAX, 4 + 6 * 2, 4][usize::from(number) - 1] > place;
            let record = match record {
                Record::Amended { weight, .. } => Record::Amended { of: begun, weight },
                record => record,
            };
            if is_noted {
                begun = note(&mut flash, record);
            }
        }
    }
    // The fourth was begun and given up.
    let begun = pair(4, Sequence(0)).swap_remove(0);
    note(&mut flash, begun);
    note(&mut flash, Record::PairClosed { pair: 4 });
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("journal.bin");
    fs::write(&file, flash.content()).unwrap();
    let all = PlanArgs {
        json: true,
        ..arguments(Some(&file), &[])
    };
    let plan: serde_json::Value = serde_json::from_str(&text(&all).unwrap()).unwrap();
    let taken = |plan: &serde_json::Value| {
        let of = |part: &serde_json::Value| part["takes_mg"].as_i64().unwrap();
        of(&plan["plan"][0]) + of(&plan["other_yarn"])
    };
    // Sock 2 of the second pair 4.0, 6.9 and 5.2 g, and both socks of the third; ends are some hundredths of a gram.
    let grams = taken(&plan) as f64 / 1_000.0;
    assert!((grams - 3.0 * 16.1).abs() < 0.5, "{grams}: {plan}");
    let lines: Vec<&str> = plan["records"]
        .as_array()
        .unwrap()
        .iter()
        .map(|line| line.as_str().unwrap())
        .collect();
    let begins = [
        "cuff of pair 2: as sock 1",
        "heel of pair 2",
        "toe of pair 2",
        "cuffs of pair 3: records of",
        "heels of pair 3",
        "toes of pair 3",
    ];
    for begin in begins {
        assert!(lines.iter().any(|line| line.starts_with(begin)), "{begin}: {lines:?}");
    }
    assert_eq!(lines.len(), begins.len(), "{lines:?}");

    let one = PlanArgs {
        pairs: vec![2],
        ..all.clone()
    };
    let plan: serde_json::Value = serde_json::from_str(&text(&one).unwrap()).unwrap();
    let grams = taken(&plan) as f64 / 1_000.0;
    assert!((grams - 16.1).abs() < 0.3, "{grams}: {plan}");
    let closed = PlanArgs {
        pairs: vec![1, 4],
        ..all
    };
    let failure = text(&closed).unwrap_err();
    assert!(format!("{failure:?}").contains("no pair on the needles"), "{failure:?}");
}

/// Before the first pair is knitted nothing passes for a record of the knitter's.
#[test]
fn plan_says_that_there_are_no_records() {
    let mut flash = SimFlash::blank(FLASH);
    let mut journal = Journal::open(&mut flash, |_| {}).unwrap();
    let begun = pairs(1).into_iter().next().expect("a pair begins");
    journal.append(&mut flash, Stamp(60), begun).unwrap();
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("journal.bin");
    fs::write(&file, flash.content()).unwrap();
    let found = text(&arguments(Some(&file), &["toes"])).unwrap();
    assert!(found.contains("toes: no records; estimated by stitches"), "{found}");
}

#[test]
fn plan_by_numbers_says_that_no_records_were_asked() {
    let found = text(&arguments(None, &["toes=4.8", "cuffs=4.1:0.3:5"])).unwrap();
    assert!(
        found.contains("toes: as given, no records: a reserve of 25 %\n"),
        "{found}"
    );
    assert!(
        found.contains("cuffs: as given, with the spread of 5 earlier pairs\n"),
        "{found}"
    );
}

#[test]
fn words_of_the_command_line_are_read_or_refused_in_one_line() {
    assert_eq!(leftover("green=12.4").unwrap().mass, Milligrams(12_400));
    for bad in ["green", "green=", "green=x", "green=-1", "green=NaN", "green=9999"] {
        assert!(leftover(bad).is_err_and(|reason| !reason.contains('\n')), "{bad}");
    }
    let numbers = Numbers {
        name: "toes".to_owned(),
        takes: 4_800.0,
        spread: Some((300.0, 5)),
    };
    assert_eq!(section("toes=4.8:0.3:5"), Ok(Section::Numbers(numbers)));
    assert_eq!(section("toes"), Ok(Section::Name("toes".to_owned())));
    for bad in [
        "toes=",
        "toes=4.8:0.3",
        "toes=4.8:0.3:1",
        "toes=4.8:0.3:x",
        "toes=inf",
        "toes=1:2:3:4",
    ] {
        assert!(section(bad).is_err(), "{bad}");
    }
}

//! A record that was cut off or damaged casts the same doubt on the scale, in the plan, the table and the report.

use std::path::Path;

use yarn_scale_core::app::{App, Chip, Configuration, Input};
use yarn_scale_core::journal::{Journal, Record, RingName, StartCause};
use yarn_scale_core::ledger::Purpose;
use yarn_scale_core::units::{FineCounts, Instant, Milligrams, Stamp};
use yarn_scale_core::weighing::Calibration;
use yarn_scale_sim::computer::plan::{PlanArgs, leftover, section, text};
use yarn_scale_sim::computer::{Backup, SourceArgs, TableArgs, report};
use yarn_scale_sim::device::flash::SimFlash;
use yarn_scale_sim::failure::Failure;
use yarn_scale_tests::knitting::{pair, visit};

/// Where the damage is.
#[derive(Clone, Copy)]
enum Damage {
    None,
    /// The last record of the ring was cut off in its writing.
    CutOff(RingName),
    /// A record in the middle of the ring has lost its bits.
    Lost(RingName),
}

/// A running pair, all its sections marked, with visits between; and the damage.
fn flash(damage: Damage) -> SimFlash {
    let mut flash = SimFlash::blank(1 << 18);
    let mut journal = Journal::open(&mut flash, |_| {}).expect("a blank chip");
    let calibration = Calibration::straight(FineCounts(0), 1_000.0).expect("a plain calibration");
    let mut note = |record: Record| {
        let before = flash.content().to_vec();
        journal.append(&mut flash, Stamp(60), record).expect("room");
        let differs = |(one, two): (&u8, &u8)| one != two;
        let first = before.iter().zip(flash.content()).position(differs).expect("written");
        let last = before.iter().zip(flash.content()).rposition(differs).expect("written");
        first..last
    };
    note(Record::Calibrated(calibration));
    let first = yarn_scale_core::journal::Sequence(2);
    let mut written = Vec::new();
    for (place, record) in pair(1, first).into_iter().take(28).enumerate() {
        let is_mark = matches!(record, Record::Mark { .. });
        let mark = note(record);
        if is_mark && place == 14 {
            written.push((RingName::Marks, mark));
            written.push((RingName::Visits, note(visit(30_000))));
            note(visit(40_000));
        }
    }
    let again = Record::Yarn {
        letter: yarn_scale_core::sock::YarnLetter::A,
        label: yarn_scale_core::sock::Label::default(),
    };
    let last = [(RingName::Marks, note(again)), (RingName::Visits, note(visit(50_000)))];
    let mut content = flash.content().to_vec();
    match damage {
        Damage::None => {}
        Damage::CutOff(ring) => {
            let (_, range) = last.into_iter().find(|(of, _)| *of == ring).expect("one of each");
            content[range.start + range.len() / 2..=range.end].fill(0xFF);
        }
        Damage::Lost(ring) => {
            let (_, range) = written.into_iter().find(|(of, _)| *of == ring).expect("one of each");
            content[range.start + range.len() / 2..range.end].fill(0);
        }
    }
    SimFlash::with_content(content)
}

/// The scale that starts with this chip.
fn device(mut flash: SimFlash) -> App {
    let capacity = Milligrams::from_grams(500);
    let mut app = App::new(Configuration {
        capacity,
        calibration: Calibration::nominal(capacity),
        calibrated: false,
        version: "test",
        chip: Chip::default(),
    });
    Journal::open(&mut flash, |replayed| {
        app.handle(Instant(0), Input::Replayed(replayed));
    })
    .expect("a journal");
    app.handle(Instant(0), Input::Ready(StartCause::PowerOn));
    app
}

/// Places of the plan, from 1, of which the scale says that they are in doubt.
fn doubtful(app: &App) -> Vec<usize> {
    let steps = app.book().ledger().steps().iter().filter(|step| step.doubtful);
    let mut places: Vec<usize> = steps
        .filter_map(|step| match step.purpose {
            Purpose::Section(line) => Some(usize::from(line) + 1),
            Purpose::WeighIn | Purpose::Unplanned | Purpose::Carried(_) => None,
        })
        .collect();
    places.sort_unstable();
    places
}

/// The same of the table.
fn in_the_table(file: &Path) -> Vec<usize> {
    use clap::Parser;
    #[derive(Debug, Parser)]
    struct Command {
        #[command(flatten)]
        table: TableArgs,
    }
    let mut out = Vec::new();
    let file = file.to_str().expect("a plain path");
    let command = Command::parse_from(["table", "--json", "--file", file]);
    // That something is missing is said after the table.
    match command.table.run(&mut out) {
        Ok(()) => {}
        Err(Failure::Unmet(reason)) => assert!(reason.contains("the journal is damaged"), "{reason}"),
        Err(other) => panic!("{other:?}"),
    }
    let rows: Vec<serde_json::Value> = serde_json::from_slice(&out).expect("JSON");
    let doubtful = rows.iter().filter(|row| row["doubtful"] == true);
    doubtful
        .map(|row| row["place"].as_u64().expect("a number") as usize)
        .collect()
}

fn plan(file: &Path) -> String {
    let sections = ["heels", "toes"].map(|name| section(name).expect("a name"));
    text(&PlanArgs {
        leftovers: vec![leftover("green=30").expect("a leftover")],
        sections: sections.to_vec(),
        pairs: Vec::new(),
        source: SourceArgs {
            device: None,
            file: Some(file.to_owned()),
        },
        confidence: 95,
        scrap: Milligrams(1_000),
        ends: 4,
        metres: 420,
        json: false,
    })
    .expect("a plan")
}

#[test]
fn the_same_doubt_on_the_scale_in_plan_table_and_report() {
    let folder = tempfile::tempdir().expect("a folder");
    let image = folder.path().join("image");
    std::fs::write(&image, flash(Damage::None).content()).expect("a file");
    let sound = plan(&image);
    let cases = [
        (Damage::None, vec![], false),
        (Damage::CutOff(RingName::Visits), vec![], false),
        (Damage::Lost(RingName::Visits), vec![], false),
        // The last mark of each yarn: the record may have taken it back. The plan has the other sock's, which took as much.
        (Damage::CutOff(RingName::Marks), vec![9, 11, 12], false),
        // The sixth mark, a toe, is lost: of each yarn the mark before it and the next, so that the plan knows of no toe.
        (Damage::Lost(RingName::Marks), vec![3, 5, 7, 8, 12], true),
    ];
    for (place, (damage, expected, replanned)) in cases.into_iter().enumerate() {
        let chip = flash(damage);
        std::fs::write(&image, chip.content()).expect("a file");
        let backup = Backup::read(&image).expect("a journal");
        let app = device(chip);
        assert_eq!(doubtful(&app), expected, "case {place}");
        assert_eq!(app.view().status.doubtful, !expected.is_empty(), "case {place}");
        assert_eq!(in_the_table(&image), expected, "case {place}");
        let page = report(&backup, None, false).expect("a page");
        let kinds = expected.iter().map(|place| (place - 1) % 6);
        let kinds: std::collections::BTreeSet<_> = kinds.collect();
        let (sections, yarns) = page.split_once("<caption>The yarns of the pair").expect("both tables");
        assert_eq!(sections.matches("doubtful:").count(), kinds.len(), "case {place}");
        // What is left of a yarn is in doubt where its last weight is.
        assert_eq!(yarns.contains("doubtful:"), !expected.is_empty(), "case {place}");
        assert_eq!(backup.book().history(), app.book().history(), "case {place}");
        assert_eq!(plan(&image) != sound, replanned, "case {place}");
        // What was saved says the same as what it was saved from.
        let file = folder.path().join(format!("backup {place}"));
        backup.write(&file).expect("a new file");
        assert_eq!(Backup::read(&file).expect("a backup"), backup);
        assert_eq!(in_the_table(&file), expected, "case {place}");
        assert_eq!(plan(&file), plan(&image), "case {place}");
    }
}

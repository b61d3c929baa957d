//! What stands on the drive: the same as the computer program writes, byte for byte, whatever the journal holds.

use std::process::Command;

use clap::Parser;
use rand::SeedableRng;
use rand_pcg::Pcg64Mcg;
use yarn_scale_core::app::Key;
use yarn_scale_core::converter::SampleRate;
use yarn_scale_core::journal::{BenchCheck, Journal, Language, Named, Record, Sequence, Setting};
use yarn_scale_core::link::{Ask, LinkNote, MAX_FRAME, Request, encode};
use yarn_scale_core::screen::{Body as Body_, ItemLabel, Notice, Value, Word};
use yarn_scale_core::units::Stamp;
use yarn_scale_sim::computer::{Backup, TableArgs};
use yarn_scale_sim::device::flash::SimFlash;
use yarn_scale_sim::device::simulator::{JOURNAL_BYTES, Simulator, calibrated_flash};
use yarn_scale_sim::world::{Body, Room, Unit, World};
use yarn_scale_tests::disk::{Computer, FAILED, file};
use yarn_scale_tests::knitting::{knitted, pair};

#[derive(Parser)]
struct Table {
    #[command(flatten)]
    table: TableArgs,
}

fn world() -> World {
    World::new(Unit::typical(3), SampleRate::Ten, Room::constant())
}

/// The volume of a scale with this journal, and the journal's bytes when it was made.
fn volume(flash: SimFlash) -> (Vec<u8>, Vec<u8>) {
    let mut scale = Simulator::with_flash(world(), flash);
    scale.switch_on();
    scale.pass(3.0, |_| {});
    let mut computer = Computer::with(scale);
    computer.ready();
    let journal = computer.scale.board.flash.content().to_vec();
    let image = computer.dump();
    assert!(
        journal == computer.scale.board.flash.content(),
        "reading has changed the flash"
    );
    (image, journal)
}

fn table(journal: &[u8], what: &[&str]) -> String {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("journal.bin");
    std::fs::write(&path, journal).expect("written");
    let path = path.to_str().expect("a name");
    let from = ["--file", path];
    let arguments = ["table"].iter().chain(what).chain(&from);
    let mut out = Vec::new();
    // What is damaged is complained of besides.
    let _ = Table::parse_from(arguments).table.run(&mut out);
    String::from_utf8(out).expect("text")
}

fn noted(mut flash: SimFlash, records: &[Record]) -> SimFlash {
    let mut journal = Journal::open(&mut flash, |_| {}).expect("a journal");
    for record in records {
        journal.append(&mut flash, Stamp(90_000), record.clone()).expect("room");
    }
    flash
}

fn name(what: Named, name: &str) -> Record {
    let name = name.try_into().expect("short");
    Record::Named { what, name }
}

const NAMES: [[&str; 7]; 2] = [
    [
        "START HERE.HTM",
        "SECTIONS.CSV",
        "YARNS.CSV",
        "WEIGHINGS.CSV",
        "BACKUP.BIN",
        "MANUAL.HTM",
        "CHECK.TXT",
    ],
    [
        "HIER ANFANGEN.HTM",
        "ABSCHNITTE.CSV",
        "GARNE.CSV",
        "WIEGUNGEN.CSV",
        "SICHERUNG.BIN",
        "ANLEITUNG.HTM",
        "PRUEFUNG.TXT",
    ],
];

fn hold(flash: SimFlash, language: Language) {
    let flash = noted(flash, &[Record::Setting(Setting::Language(language))]);
    let (image, journal) = volume(flash);
    let names = NAMES[language as usize];
    let text = |place: usize| String::from_utf8(file(&image, names[place])).expect("UTF-8");
    assert_eq!(text(1), table(&journal, &["sections"]));
    assert_eq!(text(2), table(&journal, &["yarns"]));
    assert_eq!(text(3), table(&journal, &["weighings"]));
    let backup = Backup::from_bytes(file(&image, names[4])).expect("a backup");
    let expected = Backup::from_image(journal).expect("a journal");
    assert_eq!(backup.entries, expected.entries);
    // The program writes what it has read out; the device it has read out from the scale itself.
    assert_eq!(backup.to_bytes().expect("bytes"), file(&image, names[4]));
    assert!(backup.device.is_some());
    let page = text(0);
    assert!(
        page.starts_with("<!DOCTYPE html>") && page.ends_with("</html>\n"),
        "{page}"
    );
    assert!(!page.contains('\0') && !text(6).contains('\0'));
}

#[test]
fn of_a_blank_scale_there_is_a_drive() {
    let (image, _) = volume(calibrated_flash(&world(), JOURNAL_BYTES));
    let text = |name| String::from_utf8(file(&image, name)).expect("UTF-8");
    assert!(text("START HERE.HTM").contains("No pair has been begun"));
    assert_eq!(text("SECTIONS.CSV").lines().count(), 1);
    assert!(text("CHECK.TXT").contains("Self-test: good"), "{}", text("CHECK.TXT"));
    assert_eq!(
        file(&image, "MANUAL.HTM"),
        include_bytes!("../../../hardware-notes/manual.en.html")
    );
}

#[test]
fn the_files_are_those_that_the_program_writes() {
    for language in [Language::English, Language::German] {
        let flash = knitted(JOURNAL_BYTES, 5);
        let records = [
            name(Named::Pair(2), "Sample, \"socks\" <b>"),
            name(Named::Pair(5), "größer"),
            Record::ClockSet { unix: 1_790_000_000 },
        ];
        hold(noted(flash, &records), language);
    }
}

/// What the drive's file says of itself to who checks it from elsewhere: dosfstools and mtools, where they are there.
#[test]
fn other_programs_find_nothing_to_complain_of() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("volume.img");
    let blank = calibrated_flash(&world(), JOURNAL_BYTES);
    for flash in [blank, knitted(JOURNAL_BYTES, 5), knitted(JOURNAL_BYTES, 900)] {
        let (image, _) = volume(flash);
        std::fs::write(&path, &image).expect("written");
        let Ok(checked) = Command::new("fsck.fat").arg("-n").arg(&path).output() else {
            println!("no fsck.fat here: passed over");
            return;
        };
        let said = String::from_utf8_lossy(&checked.stdout);
        // The version, and how many files and clusters there are.
        assert!(checked.status.success() && said.lines().count() == 2, "{said}");
        let listed = Command::new("mdir").args(["-a", "-i"]).arg(&path).arg("::").output();
        let listed = listed.expect("mtools beside dosfstools");
        assert!(listed.status.success(), "{}", String::from_utf8_lossy(&listed.stderr));
        let listed = String::from_utf8_lossy(&listed.stdout);
        for name in ["START HERE.HTM", ".metadata_never_index", ".fseventsd", ".Trashes"] {
            assert!(listed.contains(name), "{listed}");
        }
    }
}

#[test]
fn the_check_on_the_bench_is_told_with_its_latest_results() {
    let results = [
        (BenchCheck::Rate, 9_900, Some(false)),
        (BenchCheck::Rate, 10_020, Some(true)),
        (BenchCheck::Panel, 4, Some(true)),
        (BenchCheck::Span, 4_301, Some(false)),
        (BenchCheck::Flash, 77, None),
    ];
    let results = results.map(|(check, value, passed)| Record::Bench { check, value, passed });
    let blank = || calibrated_flash(&world(), JOURNAL_BYTES);
    let text = |flash, name| String::from_utf8(file(&volume(flash).0, name)).expect("UTF-8");
    let told = text(noted(blank(), &results), "CHECK.TXT");
    assert!(
        told.contains("Bench check\r\nRate: 10 /s ✓\r\nCounts: 4301 /g ×\r\nDisplay edges: ✓\r\nFlash number: –\r\n"),
        "{told}"
    );
    assert!(!text(blank(), "CHECK.TXT").contains("Bench check"), "none was made");
    let german = [Record::Setting(Setting::Language(Language::German))];
    let told = text(noted(noted(blank(), &results), &german), "PRUEFUNG.TXT");
    assert!(told.contains("Geräteprüfung\r\nTakt: 10 /s ✓\r\n"), "{told}");
}

/// Where the device's clock was set, the files have its date, and the page says of when it is.
#[test]
fn files_have_the_date_of_the_devices_clock() {
    let dated = |clock: Option<u64>| {
        let mut scale = Simulator::new(world());
        scale.switch_on();
        scale.pass(3.0, |_| {});
        if let Some(unix) = clock {
            let mut flash = SimFlash::with_content(scale.board.flash.content().to_vec());
            let expected = Journal::open(&mut flash, |_| {}).expect("a journal").next();
            let note = LinkNote::Clock { unix };
            let ask = Ask::Note { expected, note };
            let mut buffer = [0; MAX_FRAME];
            let frame = encode(&Request { id: 1, ask }, &mut buffer).expect("short");
            scale.board.link.to_device.extend_from_slice(frame);
            scale.pass(0.5, |_| {});
        }
        let mut computer = Computer::with(scale);
        computer.ready();
        let image = computer.dump();
        let page = String::from_utf8(file(&image, "START HERE.HTM")).expect("UTF-8");
        let volume = fatfs::FileSystem::new(std::io::Cursor::new(image), fatfs::FsOptions::new()).expect("a volume");
        let first = volume.root_dir().iter().next().expect("a file").expect("a file");
        let date = first.modified().date;
        ((date.year, date.month, date.day), page.contains("2026-11-14 12:2"))
    };
    assert_eq!(dated(None), ((1980, 1, 1), false), "the first day that can be written");
    // 14 November 2026, 12:26:40 UTC.
    assert_eq!(dated(Some(1_794_659_200)), ((2026, 11, 14), true));
}

/// Columns of a table up to the uncertainty: what a pair keeps for ever.
fn kept(table: &str) -> Vec<Vec<String>> {
    let mut rows = csv::ReaderBuilder::new()
        .has_headers(true)
        .from_reader(table.as_bytes());
    let rows = rows.records().map(|row| row.expect("RFC 4180"));
    rows.map(|row| row.iter().take(10).map(str::to_owned).collect())
        .collect()
}

#[test]
fn of_many_pairs_all_are_there_the_older_ones_in_short() {
    let (image, journal) = volume(knitted(JOURNAL_BYTES, 900));
    let text = |name| String::from_utf8(file(&image, name)).expect("UTF-8");
    let (found, all) = (text("SECTIONS.CSV"), table(&journal, &["sections"]));
    let (found, all) = (kept(&found), kept(&all));
    assert_eq!(found.len(), 900 * 12);
    // A condensed pair's sections are numbered among those that were marked; here all were.
    assert!(found == all, "rows differ");
    let page = text("START HERE.HTM");
    assert_eq!(page.matches("<article").count(), 24);
    assert!(
        page.contains("876 are in SECTIONS.CSV") || page.contains("876 older ones are in SECTIONS.CSV"),
        "older ones are told of"
    );
    assert!(text("CHECK.TXT").contains("Of older pairs"));
}

#[test]
fn what_is_damaged_is_told_as_the_program_tells_it() {
    // One that is not in short beside its marks: else that would stand for it, and rightly without doubt.
    let mut flash = noted(calibrated_flash(&world(), JOURNAL_BYTES), &pair(1, Sequence(2)));
    // A mark of the last pair: somewhere near the end of what is written of the marks.
    let content = flash.content().to_vec();
    let end = content.iter().rposition(|byte| *byte != 0xFF).expect("a journal");
    let at = end - 400;
    flash = SimFlash::with_content({
        let mut content = content;
        for byte in &mut content[at..at + 8] {
            *byte = 0;
        }
        content
    });
    let (image, journal) = volume(flash);
    let text = |name| String::from_utf8(file(&image, name)).expect("UTF-8");
    let sections = text("SECTIONS.CSV");
    assert_eq!(sections, table(&journal, &["sections"]));
    assert!(sections.contains(",true\r\n"), "in doubt: {sections}");
    assert!(text("START HERE.HTM").contains("doubtful: a record next to it is damaged"));
    assert!(text("CHECK.TXT").contains("IN DOUBT"), "{}", text("CHECK.TXT"));
}

/// What is noted while a computer reads is not on the drive before news is asked for; nothing that is on it is erased before.
#[test]
fn news_comes_when_it_is_asked_for() {
    let mut scale = Simulator::new(world());
    scale.switch_on();
    scale.pass(3.0, |_| {});
    let mut computer = Computer::with(scale);
    computer.ready();
    let body = |computer: &Computer| computer.scale.app().expect("it is on").view().body;
    computer.scale.pass(0.1, |_| {});
    assert_eq!(
        body(&computer),
        Body_::Notice(Notice::Drive),
        "it says what the drive shows"
    );
    computer.scale.pass(7.0, |_| {});
    assert!(matches!(body(&computer), Body_::Pan(_)), "for some seconds");
    let before = computer.dump();
    let cake = computer.scale.board.world_mut().put(Body::dry(60.0));
    computer.scale.pass(10.0, |_| {});
    computer.scale.board.world_mut().take(cake);
    computer.scale.pass(10.0, |_| {});
    assert!(computer.dump() == before, "the volume changes under the computer");
    // Gone to sleep or not, the menu leads there; the row says that the drive is behind.
    computer.scale.hold(Key::Next);
    computer.scale.pass(2.0, |_| {});
    for _ in 0..40 {
        let view = computer.scale.app().expect("it is on").view();
        if let Body_::List(list) = &view.body
            && let Some(item) = list.items.get(usize::from(list.selected))
            && item.label == ItemLabel::Word(Word::Drive)
        {
            assert_eq!(item.value, Value::Word(Word::DriveOlder));
            break;
        }
        computer.scale.press(Key::Next);
        computer.scale.pass(0.6, |_| {});
    }
    computer.scale.press(Key::Mark);
    computer.scale.pass(1.0, |_| {});
    assert_eq!(computer.command(&[0; 6], 0).2, FAILED);
    assert_eq!(computer.sense(), (2, 0x3A), "the medium is away");
    computer.ready();
    let after = computer.dump();
    let visits = |image: &[u8]| {
        file(image, "WEIGHINGS.CSV")
            .iter()
            .filter(|byte| **byte == b'\n')
            .count()
    };
    assert!(visits(&after) > visits(&before));
}

/// The ring of visits has gone round: it goes on while a computer reads, and the medium goes before anything that is on it is erased.
#[test]
fn a_ring_that_must_go_on_takes_the_medium_away_first() {
    let mut flash = calibrated_flash(&world(), 48 << 10);
    let mut journal = Journal::open(&mut flash, |_| {}).expect("a journal");
    for number in 0..600 {
        journal
            .append(&mut flash, Stamp(number), yarn_scale_tests::knitting::visit(20_000))
            .expect("visits make room for themselves");
    }
    let mut scale = Simulator::with_flash(world(), flash);
    scale.switch_on();
    scale.pass(3.0, |_| {});
    let mut computer = Computer::with(scale);
    computer.ready();
    let mut gone = 0;
    for round in 0..400 {
        let first = computer.dump_file_area();
        let cake = Body::dry(if round % 2 == 0 { 60.0 } else { 80.0 });
        let cake = computer.scale.board.world_mut().put(cake);
        computer.scale.pass(8.0, |_| {});
        computer.scale.board.world_mut().take(cake);
        computer.scale.pass(8.0, |_| {});
        if computer.command(&[0; 6], 0).2 == FAILED {
            gone += 1;
            computer.ready();
        } else {
            assert!(
                computer.dump_file_area() == first,
                "changed under the computer in round {round}"
            );
        }
        if gone == 2 {
            return;
        }
    }
    panic!("the ring never went on: {gone}");
}

#[test]
fn a_million_bad_commands_change_nothing() {
    misbehave(1_000_000, 1);
}

fn misbehave(commands: u32, seed: u64) {
    let calibrated = calibrated_flash(&world(), JOURNAL_BYTES);
    let mut scale = Simulator::with_flash(world(), noted(calibrated, &pair(1, Sequence(2))));
    scale.switch_on();
    scale.pass(3.0, |_| {});
    let mut computer = Computer::with(scale);
    computer.ready();
    let (boot, flash) = (computer.read(0, 1), computer.scale.board.flash.content().to_vec());
    let mut dice = Pcg64Mcg::seed_from_u64(seed);
    for number in 0..commands {
        computer.behave_badly(&mut dice);
        if number % 1_000 == 999 {
            computer.recover();
            computer.ready();
            assert_eq!(computer.read(0, 1), boot);
        }
    }
    // Visits of the empty pan and the like are noted; what was there stands as it stood.
    let now = computer.scale.board.flash.content();
    assert!(
        flash.iter().zip(now).all(|(then, now)| now & !then == 0),
        "something was erased"
    );
    assert_eq!(computer.scale.app().map(|app| app.dropped_effects()), Some(0));
}

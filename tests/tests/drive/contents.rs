//! What stands on the drive: the same as the computer program writes, byte for byte, whatever the journal holds.

use clap::Parser;
use yarn_scale_core::converter::SampleRate;
use yarn_scale_core::journal::{Journal, Language, Named, Record, Setting};
use yarn_scale_core::units::Stamp;
use yarn_scale_sim::computer::{Backup, TableArgs};
use yarn_scale_sim::device::flash::SimFlash;
use yarn_scale_sim::device::simulator::{JOURNAL_BYTES, Simulator, calibrated_flash};
use yarn_scale_sim::world::{Room, Unit, World};
use yarn_scale_tests::disk::{Computer, file};
use yarn_scale_tests::knitting::knitted;

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
    assert!(journal == computer.scale.board.flash.content(), "reading has changed the flash");
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
        "VISITS.CSV",
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
    assert_eq!(text(3), table(&journal, &["visits"]));
    let backup = Backup::from_bytes(file(&image, names[4])).expect("a backup");
    let expected = Backup::from_image(journal).expect("a journal");
    assert_eq!(backup.entries, expected.entries);
    // The program writes what it has read out; the device it has read out from the scale itself.
    assert_eq!(backup.to_bytes().expect("bytes"), file(&image, names[4]));
    assert!(backup.device.is_some());
    let page = text(0);
    assert!(page.starts_with("<!DOCTYPE html>") && page.ends_with("</html>\n"), "{page}");
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

//! Writes into a folder, of a journal of invented pairs: the pages of the drive as the device makes them, for a browser, and the journals
//! themselves, one of them damaged, for a device.

use std::path::Path;
use std::process::ExitCode;

use yarn_scale_core::converter::SampleRate;
use yarn_scale_core::journal::{Journal, Language, Named, Record, Sequence, Setting};
use yarn_scale_core::ledger::{Ledger, condense};
use yarn_scale_core::units::Stamp;
use yarn_scale_sim::device::flash::SimFlash;
use yarn_scale_sim::device::simulator::{JOURNAL_BYTES, Simulator, calibrated_flash};
use yarn_scale_sim::world::{Room, Unit, World};
use yarn_scale_tests::disk::{Computer, file};
use yarn_scale_tests::knitting::pair;

fn main() -> ExitCode {
    let Some(folder) = std::env::args().nth(1) else {
        eprintln!("usage: drive_files FOLDER");
        return ExitCode::from(2);
    };
    let pages = [
        (Language::English, ["START HERE.HTM", "MANUAL.HTM"], "en"),
        (Language::German, ["HIER ANFANGEN.HTM", "ANLEITUNG.HTM"], "de"),
    ];
    for (language, names, ending) in pages {
        let flash = journal(language);
        let content = flash.content().to_vec();
        // A mark of the last pair, somewhere near the end of what is written of the marks.
        let end = content.iter().rposition(|byte| *byte != 0xFF).unwrap_or_default();
        let mut damaged = content.clone();
        damaged[end.saturating_sub(400)..][..8].fill(0);
        for (content, kind) in [(&content, "whole"), (&damaged, "damaged")] {
            let path = Path::new(&folder).join(format!("journal.{kind}.{ending}.bin"));
            if let Err(error) = std::fs::write(&path, content) {
                eprintln!("{}: {error}", path.display());
                return ExitCode::from(2);
            }
        }
        let image = volume(flash);
        for (name, page) in names.into_iter().zip(["start", "manual"]) {
            let path = Path::new(&folder).join(format!("{page}.{ending}.html"));
            if let Err(error) = std::fs::write(&path, file(&image, name)) {
                eprintln!("{}: {error}", path.display());
                return ExitCode::from(2);
            }
        }
    }
    ExitCode::SUCCESS
}

fn world() -> World {
    World::new(Unit::typical(3), SampleRate::Ten, Room::constant())
}

fn journal(language: Language) -> SimFlash {
    let mut flash = calibrated_flash(&world(), JOURNAL_BYTES);
    let mut journal = Journal::open(&mut flash, |_| {}).expect("a journal");
    let mut at = Stamp(0);
    let mut ledger = Ledger::default();
    let mut note = |record: Record, at| {
        let entry = journal.append(&mut flash, at, record).expect("room");
        // What is not of a pair it passes over.
        let _ = ledger.apply(&entry);
        if let Record::PairClosed { .. } = entry.record {
            journal.append(&mut flash, at, condense(&ledger)).expect("room");
        }
        entry.sequence
    };
    note(Record::Setting(Setting::Language(language)), at);
    let mut last = note(Record::ClockSet { unix: 1_794_659_200 }, at);
    let names = [
        "Erfunden: grau",
        "Erfunden: <Streifen>",
        "Erfunden: Moos",
        "Invented, blue",
    ];
    for (number, name) in (1..).zip(names) {
        let records = pair(number, Sequence(last.0 + 1));
        // The last pair is on the needles.
        let told = records.len() - usize::from(usize::from(number) == names.len());
        for record in records.into_iter().take(told) {
            // A section in an evening or two.
            at = Stamp(at.0 + 31_000);
            last = note(record, at);
        }
        let name = name.try_into().expect("short");
        let what = Named::Pair(number);
        note(Record::Named { what, name }, at);
    }
    flash
}

fn volume(flash: SimFlash) -> Vec<u8> {
    let mut scale = Simulator::with_flash(world(), flash);
    scale.switch_on();
    scale.pass(3.0, |_| {});
    let mut computer = Computer::with(scale);
    computer.ready();
    computer.dump()
}

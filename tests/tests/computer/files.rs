//! The computer side: a backup is the journal, a saved file is told from a damaged one, tables say what the ledger says.

use std::io::{self, Read, Write};

use yarn_scale_core::journal::{Journal, Record};
use yarn_scale_core::ledger::{Ledger, condense};
use yarn_scale_core::units::Stamp;
use yarn_scale_sim::computer::story::Story;
use yarn_scale_sim::computer::{Backup, Client, TableArgs};
use yarn_scale_sim::device::flash::SimFlash;
use yarn_scale_tests::knitting::{pair, visit};
use yarn_scale_tests::line::Line;

/// A chip with three pairs: two finished, the third begun anew behind them.
fn chip() -> (SimFlash, Ledger) {
    let mut flash = SimFlash::blank(1 << 18);
    let mut journal = Journal::open(&mut flash, |_| {}).expect("a blank chip");
    let mut ledger = Ledger::default();
    for number in 1..=3 {
        let records = pair(number, journal.next());
        // The last pair stays open.
        let until = if number == 3 { records.len() - 1 } else { records.len() };
        for record in records.into_iter().take(until) {
            let entry = journal.append(&mut flash, Stamp(number.into()), record).expect("room");
            ledger.apply(&entry).expect("a sound story");
        }
        if number < 3 {
            journal
                .append(&mut flash, Stamp(number.into()), condense(&ledger))
                .expect("room");
        }
        journal
            .append(&mut flash, Stamp(number.into()), visit(20_000))
            .expect("room");
    }
    (flash, ledger)
}

/// The computer's end of a line in memory.
struct Wire {
    line: Line,
    waiting: Vec<u8>,
}

impl Read for Wire {
    fn read(&mut self, into: &mut [u8]) -> io::Result<usize> {
        let count = self.waiting.len().min(into.len());
        into[..count].copy_from_slice(&self.waiting[..count]);
        self.waiting.drain(..count);
        Ok(count)
    }
}

impl Write for Wire {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        for response in self.line.send(bytes) {
            let mut buffer = [0; yarn_scale_core::link::MAX_FRAME];
            let frame = yarn_scale_core::link::encode(&response, &mut buffer).expect("it came as a frame");
            self.waiting.extend_from_slice(frame);
        }
        Ok(bytes.len())
    }

    fn flush(&mut self) -> io::Result<()> {
        Ok(())
    }
}

#[test]
fn a_scale_read_out_over_the_line_is_the_image_of_its_flash() {
    let (flash, _) = chip();
    let of_image = Backup::from_image(flash.content().to_vec()).expect("a journal");
    let mut client = Client::new(Wire {
        line: Line::new(flash),
        waiting: Vec::new(),
    });
    let device = client.hello().expect("a scale");
    let entries = client.read_all(|_| {}).expect("all of it");
    assert_eq!(entries, of_image.entries);
    assert_eq!(device.pair, 3);
}

#[test]
fn a_saved_backup_reads_back_and_a_damaged_one_is_told() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("socks.backup");
    let (flash, _) = chip();
    let backup = Backup::from_image(flash.content().to_vec()).expect("a journal");
    backup.write(&path).expect("a new file");
    assert_eq!(Backup::read(&path).expect("a backup"), backup);
    assert!(backup.write(&path).is_err(), "never over a file that is there");

    let bytes = std::fs::read(&path).expect("a file");
    let damaged = folder.path().join("damaged");
    for place in (0..bytes.len()).step_by(17) {
        let mut bad = bytes.clone();
        bad[place] ^= 0x10;
        std::fs::write(&damaged, &bad).expect("a file");
        assert!(Backup::read(&damaged).is_err(), "byte {place}");
    }
    for length in (0..bytes.len()).step_by(29) {
        std::fs::write(&damaged, &bytes[..length]).expect("a file");
        assert!(Backup::read(&damaged).is_err(), "cut at {length}");
    }
}

#[test]
fn the_story_says_what_the_ledger_says() {
    let (flash, ledger) = chip();
    let backup = Backup::from_image(flash.content().to_vec()).expect("a journal");
    let story = Story::of(&backup);
    assert_eq!(
        story.pairs.iter().map(|pair| pair.number).collect::<Vec<_>>(),
        [1, 2, 3]
    );
    assert_eq!(story.visits.len(), 3);
    let last = &story.pairs[2];
    assert_eq!(last.sections.len(), ledger.plan().lines.len());
    for (section, place) in last.sections.iter().zip(0..) {
        assert_eq!(Some(section.used), ledger.used(place));
        assert!(section.amended);
    }
    for yarn in &last.yarns {
        assert_eq!(yarn.account, ledger.account(yarn.letter));
    }
}

#[test]
fn a_clock_speaks_for_what_came_after_it_and_no_power_off() {
    let mut flash = SimFlash::blank(1 << 18);
    let mut journal = Journal::open(&mut flash, |_| {}).expect("a blank chip");
    let clock = Record::ClockSet { unix: 1_790_000_000 };
    journal.append(&mut flash, Stamp(100), clock).expect("room");
    let start = Record::Started(yarn_scale_core::journal::StartCause::PowerOn);
    journal.append(&mut flash, Stamp(500), start).expect("room");
    let backup = Backup::from_image(flash.content().to_vec()).expect("a journal");
    let story = Story::of(&backup);
    assert_eq!(story.calendar.unix(Stamp(160)), Some(1_790_000_060));
    assert_eq!(story.calendar.unix(Stamp(99)), None);
    assert_eq!(story.calendar.unix(Stamp(600)), None);
}

#[test]
fn the_table_is_csv_by_rfc_4180() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("flash");
    std::fs::write(&path, chip().0.content()).expect("a file");
    let text = table(&["--file", path.to_str().expect("a plain path")]);
    assert!(
        text.lines().count() == 1 + 36 && text.matches("\r\n").count() == 37,
        "{text}"
    );
    assert!(text.starts_with(
        "pair,name,place,section,sock,yarn,construction,stitches,used_mg,u_mg,at_s,utc_s,utc,amended,late,doubtful\r\n"
    ));
    let mut reader = csv::Reader::from_reader(text.as_bytes());
    let used: i64 = reader
        .records()
        .map(|row| row.expect("a row")[8].parse::<i64>().expect("a number"))
        .sum();
    // Three pairs of what the invented sock takes: 46.7 g a sock, less the amendments' 7 mg at each yarn's last mark.
    assert!((280_000..280_300).contains(&used), "{used}");
}

fn table(arguments: &[&str]) -> String {
    use clap::Parser;
    #[derive(Debug, Parser)]
    struct Command {
        #[command(flatten)]
        table: TableArgs,
    }
    let mut out = Vec::new();
    let command = Command::parse_from([&["table"], arguments].concat());
    command.table.run(&mut out).expect("a table");
    String::from_utf8(out).expect("text")
}

#[test]
fn the_first_line_names_the_fields_even_of_an_empty_journal() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = |name: &str| folder.path().join(name).to_str().expect("a plain path").to_owned();
    let (full, empty) = (path("full"), path("empty"));
    std::fs::write(&full, chip().0.content()).expect("a file");
    let nothing = Backup {
        device: None,
        entries: Vec::new(),
        unreadable: Vec::new(),
        dead_sectors: Vec::new(),
    };
    nothing.write(std::path::Path::new(&empty)).expect("a file");
    for what in ["sections", "weighings"] {
        let header = table(&[what, "--file", &empty]);
        assert_eq!(header.lines().count(), 1, "{header}");
        let mut columns: Vec<&str> = header.trim_end().split(',').collect();
        columns.sort_unstable();
        let rows = table(&[what, "--json", "--file", &full]);
        let rows: Vec<serde_json::Map<String, serde_json::Value>> = serde_json::from_str(&rows).expect("JSON");
        let mut fields: Vec<&String> = rows.first().expect("a row").keys().collect();
        fields.sort_unstable();
        assert_eq!(columns, fields);
    }
}

#[test]
fn what_is_no_journal_is_no_backup() {
    assert!(Backup::from_image(vec![0xFF; 1 << 18]).is_none());
    assert!(Backup::from_image(vec![0; 1 << 18]).is_none());
    assert!(Backup::from_image(vec![1; 1_000]).is_none());
}

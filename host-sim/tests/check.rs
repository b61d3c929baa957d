//! `check`: what of an image or a backup is whole, in doubt and lost, and the exit codes that scripts go by.

use std::fs;
use std::path::Path;
use std::process::{Command, Output, Stdio};

use yarn_scale_core::journal::{Journal, Record, RingName};
use yarn_scale_core::measured::Measured;
use yarn_scale_core::sock::{Construction, Line, SectionKind, Sock, Weight, YarnLetter};
use yarn_scale_core::units::{FineCounts, Milligrams, Stamp};
use yarn_scale_sim::computer::Backup;
use yarn_scale_sim::device::flash::SimFlash;

fn check(file: &Path) -> (Option<i32>, String, String) {
    let mut command = Command::new(env!("CARGO_BIN_EXE_yarn-scale"));
    command.arg("check").arg(file).stdin(Stdio::null());
    let Output { status, stdout, stderr } = command.output().expect("it starts");
    let text = |bytes| String::from_utf8(bytes).expect("text");
    (status.code(), text(stdout), text(stderr))
}

fn line(kind: SectionKind, sock: Sock) -> Line {
    Line {
        kind,
        sock,
        yarn: YarnLetter::A,
        construction: Construction::Plain,
        stitches: 64,
    }
}

fn measured(mg: i32) -> Measured {
    let value = Milligrams(mg);
    Measured { value, u: 30.0 }
}

fn weight(mg: i32) -> Weight {
    Weight {
        net: measured(mg),
        bowl: None,
        air: None,
    }
}

/// A pair with a weigh-in and three marks, and as many visits.
fn journal() -> SimFlash {
    let mut flash = SimFlash::blank(1 << 20);
    let mut journal = Journal::open(&mut flash, |_| {}).expect("a blank chip");
    let lines = [
        line(SectionKind::Cuff, Sock::First),
        line(SectionKind::Leg, Sock::First),
        line(SectionKind::Toe, Sock::Second),
    ];
    let yarn = YarnLetter::A;
    let mark = |line, mg| Record::Mark {
        line,
        yarn,
        weight: weight(mg),
    };
    let records = [
        Record::PairBegun {
            pair: 1,
            lines: lines.into_iter().collect(),
        },
        Record::WeighIn {
            yarn,
            weight: weight(100_000),
        },
        mark(0, 95_000),
        mark(1, 80_000),
        mark(2, 75_500),
    ];
    for (at, record) in (0..).zip(records) {
        journal.append(&mut flash, Stamp(at), record).expect("room");
        let visit = Record::Visit {
            gross: measured(100_000 - at as i32),
            bowl: None,
            zero: FineCounts(0),
        };
        journal.append(&mut flash, Stamp(at), visit).expect("room");
    }
    flash
}

/// Where the last of these entries stands on the chip, its last byte.
fn end_of(flash: &SimFlash, entry: &[u8]) -> usize {
    let places = flash.content().windows(entry.len()).enumerate();
    let at = places
        .filter(|(_, bytes)| *bytes == entry)
        .map(|(at, _)| at)
        .next_back();
    at.expect("it stands there") + entry.len() - 1
}

/// The same damage in an image and, where a backup can show it, in a backup.
fn files(folder: &Path, flash: &SimFlash) -> Vec<std::path::PathBuf> {
    let (image, saved) = (folder.join("image"), folder.join("saved"));
    for file in [&image, &saved] {
        let _ = fs::remove_file(file);
    }
    fs::write(&image, flash.content()).expect("a file");
    let backup = Backup::from_image(flash.content().to_vec()).expect("a journal");
    backup.write(&saved).expect("a file");
    vec![image, saved]
}

#[test]
fn a_whole_journal_is_whole() {
    let folder = tempfile::tempdir().expect("a folder");
    for file in files(folder.path(), &journal()) {
        let (code, said, complaint) = check(&file);
        assert_eq!((code, complaint.as_str()), (Some(0), ""));
        assert_eq!(
            said,
            "finished pairs: 0 records, whole\nmarks: 5 records, whole\nweighings: 5 records, whole\n"
        );
    }
}

/// One bit in the middle: a record is lost, and the section whose amount hangs on it is in doubt.
#[test]
fn a_lost_record_is_told_with_its_place_and_what_it_puts_in_doubt() {
    let folder = tempfile::tempdir().expect("a folder");
    let sound = journal();
    let backup = Backup::from_image(sound.content().to_vec()).expect("a journal");
    let marks: Vec<_> = backup
        .entries
        .iter()
        .filter(|(ring, _)| *ring == RingName::Marks)
        .collect();
    let mut flash = sound.copy();
    flash.flip(end_of(&sound, &marks[3].1), 0);
    for file in files(folder.path(), &flash) {
        let (code, said, complaint) = check(&file);
        assert_eq!(code, Some(1), "{said}{complaint}");
        assert!(said.contains("marks: 4 records\n  lost: 1 behind number 3\n"), "{said}");
        assert!(said.contains("weighings: 5 records, whole\n"), "{said}");
        assert!(said.contains("doubtful in pair 1: cuff 1, toe 2\n"), "{said}");
        assert_eq!(
            complaint,
            "yarn-scale: the journal is damaged: 1 missing or out of order among the marks; what is beside it is marked as doubtful\n"
        );
    }
}

/// One bit in the last record: nobody can know what stood there, and the newest mark before it is in doubt.
#[test]
fn an_unreadable_end_is_told() {
    let folder = tempfile::tempdir().expect("a folder");
    let sound = journal();
    let backup = Backup::from_image(sound.content().to_vec()).expect("a journal");
    let last = backup
        .entries
        .iter()
        .rfind(|(ring, _)| *ring == RingName::Marks)
        .expect("one");
    let mut flash = sound.copy();
    flash.flip(end_of(&sound, &last.1), 0);
    for file in files(folder.path(), &flash) {
        let (code, said, complaint) = check(&file);
        assert_eq!(code, Some(1), "{said}{complaint}");
        assert!(
            said.contains("marks: 4 records\n  unreadable: something behind number 4\n"),
            "{said}"
        );
        assert!(said.contains("doubtful in pair 1: "), "{said}");
        assert!(complaint.contains("1 unreadable among the marks"), "{complaint}");
    }
}

/// A sector in which something stands and no record can be read: only an image can show it.
#[test]
fn a_sector_that_cannot_be_read_is_told() {
    let folder = tempfile::tempdir().expect("a folder");
    let file = folder.path().join("image");
    let mut bytes = journal().content().to_vec();
    // The third of the visits'.
    bytes[2 * 4_096..3 * 4_096].fill(0x55);
    fs::write(&file, bytes).expect("a file");
    let (code, said, complaint) = check(&file);
    assert_eq!(code, Some(1), "{said}");
    assert!(said.contains("weighings: 5 records\n  unreadable: something"), "{said}");
    assert!(complaint.contains("1 unreadable among the weighings"), "{complaint}");
}

/// A lost visit puts no amount in doubt, and is told all the same.
#[test]
fn a_lost_visit_is_told_and_puts_nothing_in_doubt() {
    let folder = tempfile::tempdir().expect("a folder");
    let sound = journal();
    let backup = Backup::from_image(sound.content().to_vec()).expect("a journal");
    let visits: Vec<_> = backup
        .entries
        .iter()
        .filter(|(ring, _)| *ring == RingName::Visits)
        .collect();
    let mut flash = sound.copy();
    flash.flip(end_of(&sound, &visits[2].1), 0);
    for file in files(folder.path(), &flash) {
        let (code, said, complaint) = check(&file);
        assert_eq!(code, Some(1), "{said}{complaint}");
        assert!(said.contains("marks: 5 records, whole\n"), "{said}");
        assert!(
            said.contains("weighings: 4 records\n  lost: 1 behind number 2\n"),
            "{said}"
        );
        assert!(!said.contains("doubtful in pair"), "{said}");
    }
}

#[test]
fn what_is_neither_is_refused() {
    let folder = tempfile::tempdir().expect("a folder");
    let saved = files(folder.path(), &journal()).remove(1);
    let mut harmed = fs::read(&saved).expect("a file");
    let middle = harmed.len() / 2;
    harmed[middle] ^= 1;
    let mut longer = fs::read(&saved).expect("a file");
    longer.push(7);
    let cases: [(&str, Vec<u8>); 5] = [
        ("empty", Vec::new()),
        ("text", b"t_ms,event\n".to_vec()),
        ("blank", vec![0xFF; 1 << 20]),
        ("harmed", harmed),
        ("longer", longer),
    ];
    for (name, content) in cases {
        let file = folder.path().join(name);
        fs::write(&file, &content).expect("a file");
        let (code, said, complaint) = check(&file);
        assert_eq!((code, said.as_str()), (Some(2), ""), "{name}: {complaint}");
        assert_eq!(complaint.lines().count(), 1, "{name}: {complaint}");
        assert_eq!(fs::read(&file).expect("it is there"), content, "only read");
    }
}

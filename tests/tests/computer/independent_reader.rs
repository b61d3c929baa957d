//! A reader written from `hardware-notes/journal-format.md` alone, in another language, and the program make the same tables of a journal.

use std::path::Path;
use std::process::Command;

use clap::Parser;
use yarn_scale_sim::cli::Program;
use yarn_scale_sim::product::Product;
use yarn_scale_tests::random_journal::random_journal;

/// The rows of a table but for its columns `u_mg`, `utc_s` and `utc`, which are the program's reckoning; and whether something is missing.
type Table = (Vec<Vec<String>>, bool);

fn rows(text: &[u8]) -> Vec<Vec<String>> {
    let mut reader = csv::ReaderBuilder::new().has_headers(false).from_reader(text);
    let mut rows: Vec<Vec<String>> = reader
        .records()
        .map(|row| row.expect("CSV").iter().map(str::to_owned).collect())
        .collect();
    let reckoned: Vec<usize> = (0..rows[0].len())
        .filter(|&column| ["u_mg", "utc_s", "utc"].contains(&rows[0][column].as_str()))
        .collect();
    for row in &mut rows {
        for &column in reckoned.iter().rev() {
            row.remove(column);
        }
    }
    rows
}

fn by_program(what: &str, file: &Path) -> Table {
    let mut out = Vec::new();
    let file = file.to_str().expect("a plain path");
    let told = Product::parse_from(["yarn-scale", "table", what, "--file", file]).run(&mut out);
    (rows(&out), told.is_err())
}

fn by_stranger(what: &str, file: &Path) -> Table {
    let script = Path::new(env!("CARGO_MANIFEST_DIR")).join("read_journal.py");
    let output = Command::new("python3")
        .arg(script)
        .arg(file)
        .arg(what)
        .output()
        .expect("Python 3");
    let said = String::from_utf8_lossy(&output.stderr).into_owned();
    let code = output.status.code();
    assert!(matches!(code, Some(0 | 1)) && !said.contains("Traceback"), "{said}");
    (rows(&output.stdout), code == Some(1))
}

/// What was compared.
#[derive(Debug, Default)]
struct Compared {
    files: u32,
    /// Files with something missing.
    damaged: u32,
    /// Rows of sections.
    sections: usize,
    /// Journals with several pairs open at a time,
    several: u32,
    /// and those in which one was opened again.
    reopened: u32,
}

/// Compares them for the journals of these seeds.
fn compare(seeds: std::ops::Range<u64>) -> Compared {
    let folder = tempfile::tempdir().expect("a folder");
    let file = folder.path().join("file");
    let mut compared = Compared::default();
    for seed in seeds {
        let journal = random_journal(seed);
        compared.several += u32::from(journal.open > 1);
        compared.reopened += u32::from(journal.reopened > 0);
        let backup = journal.backup.to_bytes().expect("short entries");
        for content in [Some(backup), journal.image].into_iter().flatten() {
            std::fs::write(&file, content).expect("a file");
            for what in ["sections", "weighings"] {
                let (ours, theirs) = (by_program(what, &file), by_stranger(what, &file));
                assert_eq!(ours, theirs, "journal {seed}, {what}");
                if what == "sections" {
                    compared.sections += ours.0.len() - 1;
                    compared.damaged += u32::from(ours.1);
                }
            }
            compared.files += 1;
        }
    }
    compared
}

#[test]
fn a_stranger_reads_the_same_out_of_a_journal() {
    let compared = compare(0..25);
    assert!(compared.damaged > 2 && compared.sections > 200, "{compared:?}");
    assert!(compared.several > 5 && compared.reopened > 2, "{compared:?}");
}

#[test]
#[ignore = "minutes: `cargo test --release -p yarn-scale-tests --test computer -- --ignored --nocapture`"]
fn a_stranger_reads_the_same_out_of_a_thousand_journals() {
    println!("1,000 random journals, no difference: {:?}", compare(1_000..2_000));
}

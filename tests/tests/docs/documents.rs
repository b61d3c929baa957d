//! The documents point at what is there.

use std::fs;
use std::path::{Path, PathBuf};

use yarn_scale_sim::cli::{self, Program};
use yarn_scale_sim::lab::Lab;
use yarn_scale_sim::product::Product;

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR"))
        .parent()
        .expect("a workspace")
        .to_owned()
}

/// Every document of the project.
fn documents() -> Vec<PathBuf> {
    let folders = [
        "",
        "hardware-notes",
        "hardware-notes/model",
        "tests",
        "tests/emulator",
        "tests/scenarios",
    ];
    let files = folders
        .iter()
        .flat_map(|folder| fs::read_dir(root().join(folder)).into_iter().flatten().flatten());
    let documents: Vec<PathBuf> = files
        .map(|file| file.path())
        .filter(|path| path.extension().is_some_and(|end| end == "md"))
        .collect();
    assert!(documents.len() > 10, "{documents:?}");
    documents
}

#[test]
fn every_link_leads_somewhere() {
    let mut count = 0;
    for document in documents() {
        let text = fs::read_to_string(&document).expect("a text");
        let folder = document.parent().expect("a folder");
        for link in text.split("](").skip(1).filter_map(|rest| rest.split(')').next()) {
            if link.contains("://") {
                continue;
            }
            let (file, heading) = link.split_once('#').unwrap_or((link, ""));
            assert!(
                file.is_empty() || folder.join(file).exists(),
                "{}: {link}",
                document.display()
            );
            if file.is_empty() {
                let headings = text.lines().filter(|line| line.starts_with('#'));
                let slug = |line: &str| line.trim_start_matches(['#', ' ']).to_lowercase().replace(' ', "-");
                assert!(
                    headings.map(slug).any(|slug| slug == heading),
                    "{}: {link}",
                    document.display()
                );
            }
            count += 1;
        }
    }
    assert!(count > 20);
}

#[test]
fn every_path_named_is_there() {
    let tops = ["core/", "firmware/", "host-sim/", "tests/", "hardware-notes/"];
    for document in documents() {
        let text = fs::read_to_string(&document).expect("a text");
        // Every second piece between back ticks is code.
        for code in text.split('`').skip(1).step_by(2).filter(|code| !code.contains('\n')) {
            let path = code.split(' ').next().unwrap_or_default();
            if tops.iter().any(|top| path.starts_with(top)) && !path.contains('*') {
                assert!(root().join(path).exists(), "{}: {path}", document.display());
            }
        }
    }
}

/// The commands of both programs that a document names in code: behind a back tick, or at the begin of a line of an example.
fn commands_named<'t>(text: &'t str, program: &str) -> Vec<&'t str> {
    let called = format!("{program} ");
    let in_code = |place: &usize| text[..*place].ends_with(['`', '\n']);
    let places = text.match_indices(&called).map(|(place, _)| place).filter(in_code);
    let word = |place: usize| {
        let rest = &text[place + called.len()..];
        let end = rest.find(|sign: char| !sign.is_ascii_lowercase() && sign != '-');
        &rest[..end.unwrap_or(rest.len())]
    };
    let words = places.map(word);
    words
        .filter(|word| !word.is_empty() && !word.starts_with("--"))
        .collect()
}

#[test]
fn every_command_named_exists() {
    let programs = [
        ("yarn-scale", cli::commands::<Product>()),
        ("yarn-scale-lab", cli::commands::<Lab>()),
    ];
    let mut count = 0;
    for document in documents() {
        let text = fs::read_to_string(&document).expect("a text");
        for (program, commands) in &programs {
            for word in commands_named(&text, program) {
                let exists = commands.iter().any(|command| command == word);
                assert!(exists, "{}: {program} {word}", document.display());
                count += 1;
            }
        }
    }
    assert!(count >= 15, "{count}");
}

#[test]
fn the_help_shows_each_command_once() {
    fn check<P: Program>() {
        let mut grouped: Vec<&str> = P::GROUPS.iter().flat_map(|(_, names)| names.iter().copied()).collect();
        grouped.sort_unstable();
        assert_eq!(grouped, cli::commands::<P>());
    }
    check::<Product>();
    check::<Lab>();
}

#[test]
fn every_fault_of_the_table_has_its_test() {
    let table = fs::read_to_string(root().join("tests/faults.md")).expect("the table");
    let mut sources = String::new();
    let mut folders = vec![root().join("tests/tests"), root().join("tests/emulator")];
    while let Some(folder) = folders.pop() {
        for path in fs::read_dir(folder)
            .expect("a folder")
            .flatten()
            .map(|file| file.path())
        {
            if path.is_dir() {
                folders.push(path);
            } else if path.extension().is_some_and(|end| end == "rs" || end == "py") {
                sources += &fs::read_to_string(path).expect("a source");
            }
        }
    }
    let rows: Vec<&str> = table.lines().filter(|line| line.ends_with("` |")).collect();
    assert!(rows.len() >= 40, "{}", rows.len());
    for row in rows {
        let test = row.rsplit('`').nth(1).expect("a name");
        assert!(
            sources.contains(&format!("fn {test}(")) || sources.contains(&format!("def {test}(")),
            "{test}"
        );
    }
}

#[test]
fn the_uncertainty_budget_is_what_the_device_states() {
    let notes = fs::read_to_string(root().join("hardware-notes/uncertainty-budget.md")).expect("the notes");
    let stated = yarn_scale_sim::lab::budget::table(1).expect("a table");
    assert!(notes.contains(&stated), "`yarn-scale-lab budget` now says:\n{stated}");
}

#[test]
fn every_test_name_is_short_enough_to_be_read() {
    let mut folders: Vec<PathBuf> = [
        "core/src",
        "firmware",
        "host-sim",
        "tests/src",
        "tests/tests",
        "tests/emulator",
    ]
    .map(|folder| root().join(folder))
    .into();
    let mut count = 0;
    while let Some(folder) = folders.pop() {
        for path in fs::read_dir(folder)
            .expect("a folder")
            .flatten()
            .map(|file| file.path())
        {
            let hidden = path
                .file_name()
                .is_some_and(|name| name.to_string_lossy().starts_with('.'));
            if path.is_dir() && !hidden {
                folders.push(path);
            } else if path.extension().is_some_and(|end| end == "rs" || end == "py") {
                let text = fs::read_to_string(&path).expect("a source");
                for line in text.lines().map(str::trim_start) {
                    let name = line.strip_prefix("fn ").or_else(|| line.strip_prefix("def "));
                    let name = name.and_then(|rest| rest.split(['(', '<']).next()).unwrap_or_default();
                    assert!(name.len() < 70, "{}: {name}", path.display());
                    count += usize::from(!name.is_empty());
                }
            }
        }
    }
    assert!(count > 1_000, "{count}");
}

//! The order of core's modules, as `DEVELOPERS.md` has it: each may use those above it in the table, never one below.

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("..")
}

fn handbook() -> String {
    fs::read_to_string(root().join("DEVELOPERS.md")).expect("DEVELOPERS.md")
}

/// The modules in the order of the table, lowest first; those of one row stand in their order, too.
fn order() -> Vec<String> {
    let handbook = handbook();
    let section = handbook.split("## Order within core").nth(1).expect("the section");
    let section = section.split("\n## ").next().expect("its text");
    let rows = section.lines().filter(|line| line.starts_with("| `"));
    let cells = rows.filter_map(|line| line.split('|').nth(1));
    cells
        .flat_map(|cell| cell.split(','))
        .map(|name| name.trim().trim_matches('`').to_owned())
        .collect()
}

/// Every source of core: its path within the crate as a list of modules, and its code without comments.
fn sources(folder: &Path, path: &[String], found: &mut Vec<(Vec<String>, String)>) {
    for entry in fs::read_dir(folder).expect("a folder").flatten() {
        let file = entry.path();
        let name = file.file_stem().expect("a name").to_string_lossy().into_owned();
        if file.is_dir() {
            sources(&file, &[path, &[name]].concat(), found);
        } else if file.extension().is_some_and(|end| end == "rs") {
            let module = match name.as_str() {
                "mod" | "lib" => path.to_vec(),
                _ => [path, &[name]].concat(),
            };
            let text = fs::read_to_string(&file).expect("a source");
            let code: Vec<&str> = text
                .lines()
                .map(|line| line.split("//").next().unwrap_or_default())
                .collect();
            found.push((module, code.join("\n")));
        }
    }
}

/// The top modules that code in `module` names, by `crate::x` wherever it stands, and by `super::` that climbs to the root.
fn named(module: &[String], code: &str) -> BTreeSet<String> {
    let mut named = BTreeSet::new();
    let climb = "super::".repeat(module.len());
    for root in ["crate::", climb.as_str()] {
        for (at, _) in code.match_indices(root) {
            let before = code.get(..at).unwrap_or_default();
            if root.is_empty() || before.ends_with("super::") || before.ends_with('_') {
                continue;
            }
            let rest = code.get(at + root.len()..).unwrap_or_default();
            let list = match rest.strip_prefix('{') {
                Some(list) => list.split('}').next().unwrap_or_default(),
                None => rest.split([';', ',', '(', ')', ' ', '<']).next().unwrap_or_default(),
            };
            for one in list.split(',') {
                let name = one.trim().split(|c: char| !c.is_alphanumeric() && c != '_').next();
                // A capital is a type: of a module within the file, not of the crate.
                named.extend(
                    name.filter(|name| name.starts_with(char::is_lowercase))
                        .map(str::to_owned),
                );
            }
        }
    }
    named
}

#[test]
fn every_module_of_core_uses_only_those_above_it() {
    let order = order();
    let place = |name: &str| order.iter().position(|other| other == name);
    let mut found = Vec::new();
    sources(&root().join("core/src"), &[], &mut found);
    let mut wrong = Vec::new();
    let mut uses = 0;
    for (module, code) in &found {
        let Some(top) = module.first() else { continue };
        let Some(here) = place(top) else {
            wrong.push(format!("{top} is not in the table"));
            continue;
        };
        for other in named(module, code).iter().filter(|other| *other != top) {
            uses += 1;
            if place(other).is_none_or(|there| there > here) {
                wrong.push(format!("{} uses {other}", module.join("::")));
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    assert!(uses > 300, "too few to be true: {uses}");
}

#[test]
fn a_path_is_seen_in_whatever_form_it_is_written() {
    let module = ["signal".to_owned(), "check".to_owned()];
    let see = |code: &str| named(&module, code).into_iter().collect::<Vec<_>>();
    assert_eq!(see("use crate::app::App;"), ["app"]);
    assert_eq!(see("let x = crate::run::step(&crate::link::y());"), ["link", "run"]);
    assert_eq!(see("use super::super::app::App;"), ["app"]);
    assert_eq!(see("use crate::{app, units::Instant};"), ["app", "units"]);
    assert!(see("use super::tick::Tick;").is_empty());
}

/// The numbered files under a heading of the handbook.
fn walk(heading: &str) -> Vec<String> {
    let handbook = handbook();
    let section = handbook.split(heading).nth(1).expect("the walk");
    let steps = section.lines().skip(1).skip_while(|line| !line.starts_with("1. "));
    let steps = steps.take_while(|line| line.starts_with(|c: char| c.is_ascii_digit()));
    steps
        .filter_map(|line| line.split('`').nth(1).map(str::to_owned))
        .collect()
}

#[test]
fn the_newcomers_walks_are_short_and_each_step_leads_to_the_next() {
    for (heading, most) in [("### One raw count to a pixel", 15), ("### One press to \"noted\"", 12)] {
        let handbook = handbook();
        let files = walk(heading);
        assert!(files.len() > 5 && files.len() <= most, "{heading}: {}", files.len());
        for (file, place) in files.iter().zip(1..) {
            let text = fs::read_to_string(root().join(file)).unwrap_or_else(|_| panic!("no {file}"));
            // What stands in the second pair of backquotes is what the step calls.
            let section = handbook.split(heading).nth(1).expect("the walk");
            let step = section
                .lines()
                .find(|line| line.starts_with(&format!("{place}. `{file}`")));
            let call = step.and_then(|step| step.split('`').nth(3)).expect("what it calls");
            assert!(text.contains(call), "{file} does not hold {call}");
        }
    }
}

/// No file of these is longer; the aim is 300.
const MOST_LINES: usize = 370;

/// A table that is looked up and not read: one line a text of the screen.
const TABLE: &str = "core/src/screen/words.rs";

#[test]
fn no_file_is_too_long_to_be_read_at_once() {
    let mut found = Vec::new();
    for folder in ["core/src", "firmware/src", "host-sim/src", "tests/src"] {
        lengths(&root().join(folder), &mut found);
    }
    let is_long = |(file, lines): &&(PathBuf, usize)| *lines > MOST_LINES && !file.ends_with(TABLE);
    let long: Vec<_> = found.iter().filter(is_long).collect();
    assert!(long.is_empty(), "{long:?}");
    assert!(found.len() > 300, "too few to be true: {}", found.len());
}

fn lengths(folder: &Path, found: &mut Vec<(PathBuf, usize)>) {
    for entry in fs::read_dir(folder).expect("a folder").flatten() {
        let file = entry.path();
        if file.is_dir() {
            lengths(&file, found);
        } else if file.extension().is_some_and(|end| end == "rs") {
            let lines = fs::read_to_string(&file).expect("a source").lines().count();
            found.push((file, lines));
        }
    }
}

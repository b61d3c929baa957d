//! The libraries that the device is built on are direct dependencies, and each is called where it should be.

use std::fs;
use std::path::{Path, PathBuf};

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR")).parent().expect("a workspace")
}

/// The names under `[dependencies]` and the target's own of a crate.
fn dependencies(of: &str) -> Vec<String> {
    let text = fs::read_to_string(root().join(of).join("Cargo.toml")).expect("a manifest");
    let manifest: toml::Table = text.parse().expect("TOML");
    let mut names = Vec::new();
    let mut take = |table: Option<&toml::Value>| {
        names.extend(
            table
                .and_then(toml::Value::as_table)
                .into_iter()
                .flatten()
                .map(|(name, _)| name.clone()),
        );
    };
    take(manifest.get("dependencies"));
    for target in manifest
        .get("target")
        .and_then(toml::Value::as_table)
        .into_iter()
        .flatten()
    {
        take(target.1.get("dependencies"));
    }
    names
}

/// Files of Rust under a folder.
fn sources(folder: &Path) -> Vec<PathBuf> {
    let mut found = Vec::new();
    for entry in fs::read_dir(folder).expect("a folder").flatten() {
        let path = entry.path();
        if path.is_dir() {
            found.extend(sources(&path));
        } else if path.extension().is_some_and(|end| end == "rs") {
            found.push(path);
        }
    }
    found
}

/// The files of a crate that name `library` in code, comments apart.
fn callers(of: &str, library: &str) -> Vec<String> {
    let path = format!("{}::", library.replace('-', "_"));
    let calls = |file: &PathBuf| {
        let text = fs::read_to_string(file).expect("a source");
        text.lines()
            .any(|line| !line.trim_start().starts_with("//") && line.contains(&path))
    };
    let mut found: Vec<String> = sources(&root().join(of).join("src"))
        .into_iter()
        .filter(calls)
        .map(|file| {
            let inside = file.strip_prefix(root()).expect("inside");
            inside.display().to_string()
        })
        .collect();
    found.sort();
    found
}

#[test]
fn six_libraries_are_direct_dependencies_in_use() {
    for (library, of) in [
        ("defmt", "core"),
        ("defmt", "firmware"),
        ("embedded-hal", "firmware"),
        ("heapless", "core"),
        ("micromath", "core"),
        ("nb", "core"),
        ("nb", "firmware"),
        ("postcard", "core"),
    ] {
        assert!(
            dependencies(of).iter().any(|name| name == library),
            "{of} does not ask for {library}"
        );
        assert!(
            !callers(of, library).is_empty(),
            "{of} asks for {library} and never calls it"
        );
    }
}

/// Where the standard library is linked, as in tests, a method of an `f32` would be its own: host and device would compute other bits.
#[test]
fn approximations_are_called_in_one_file_by_their_full_paths() {
    for library in ["micromath", "libm"] {
        assert_eq!(callers("core", library), ["core/src/math.rs"], "{library}");
        let math = fs::read_to_string(root().join("core/src/math.rs")).expect("a source");
        assert!(!math.contains(&format!("use {library}")), "{library} by a `use`");
    }
}

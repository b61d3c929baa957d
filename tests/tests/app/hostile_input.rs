//! Input of any kind: the short run that every change must pass, some thousand inputs a target from the corpus and from
//! seeded changes to it. A fuzzer goes further (`tests/fuzz`, `tests/figures --long`).

use yarn_scale_tests::hostile::{SHORT_NOISE, TARGETS, corpus, smoke};

fn short_run(name: &str) {
    let target = TARGETS.into_iter().find(|target| target.0 == name).expect("a target");
    let (_, noise) = SHORT_NOISE
        .into_iter()
        .find(|short| short.0 == name)
        .expect("a short run");
    let tried = smoke(target, noise, 1);
    println!("{name}: {tried} inputs");
    assert!(tried > noise, "no corpus for {name}");
}

#[test]
fn drive_commands() {
    short_run("drive_commands");
}

#[test]
fn drive_sectors() {
    short_run("drive_sectors");
}

#[test]
fn files() {
    short_run("files");
}

#[test]
fn flash_operations() {
    short_run("flash_operations");
}

#[test]
fn inputs() {
    short_run("inputs");
}

#[test]
fn journal_image() {
    short_run("journal_image");
}

#[test]
fn link_bytes() {
    short_run("link_bytes");
}

#[test]
fn the_corpus_stays_small() {
    let sizes = TARGETS.map(|(name, _)| corpus(name).iter().map(Vec::len).sum::<usize>());
    assert!(sizes.iter().sum::<usize>() < 200_000, "{sizes:?} bytes");
}

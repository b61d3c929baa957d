//! Input from nobody we know: the corpus and seeded noise. A fuzzer goes further (`tests/fuzz`, `tests/figures --long`).

use yarn_scale_tests::hostile::{TARGETS, corpus, smoke};

fn noise(name: &str, count: u64) {
    let target = TARGETS.into_iter().find(|target| target.0 == name).expect("a target");
    let tried = smoke(target, count, 1);
    println!("{name}: {tried} inputs");
    assert!(tried > count, "no corpus for {name}");
}

#[test]
fn files() {
    noise("files", 4_000);
}

#[test]
fn flash_operations() {
    noise("flash_operations", 300);
}

#[test]
fn inputs() {
    noise("inputs", 300);
}

#[test]
fn journal_image() {
    noise("journal_image", 4_000);
}

#[test]
fn link_bytes() {
    noise("link_bytes", 2_000);
}

#[test]
fn the_corpus_stays_small() {
    let sizes = TARGETS.map(|(name, _)| corpus(name).iter().map(Vec::len).sum::<usize>());
    assert!(sizes.iter().sum::<usize>() < 200_000, "{sizes:?} bytes");
}

//! Input of any kind, as plain functions: each takes any bytes and panics if something is wrong. A test feeds them
//! the corpus and seeded noise; `tests/fuzz` lets a fuzzer choose the bytes.

mod drive_commands;
mod drive_sectors;
mod entropy;
mod files;
mod flash_operations;
mod inputs;
mod journal_image;
mod link_bytes;

use std::path::PathBuf;

use rand::{Rng, RngExt, SeedableRng};
use rand_pcg::Pcg64Mcg;

pub use entropy::Entropy;

/// A function that takes any bytes, and its name: that of its folder in `tests/corpus` and of its fuzz target.
pub type Target = (&'static str, fn(&[u8]));

/// All of them.
pub const TARGETS: [Target; 7] = [
    ("drive_commands", drive_commands::check),
    ("drive_sectors", drive_sectors::check),
    ("files", files::check),
    ("flash_operations", flash_operations::check),
    ("inputs", inputs::check),
    ("journal_image", journal_image::check),
    ("link_bytes", link_bytes::check),
];

/// How many inputs beside its corpus each target gets in the short run that every change must pass. A few seconds each.
pub const SHORT_NOISE: [(&str, u64); 7] = [
    ("drive_commands", 20_000),
    ("drive_sectors", 200),
    ("files", 4_000),
    ("flash_operations", 1_000),
    ("inputs", 1_000),
    ("journal_image", 4_000),
    ("link_bytes", 2_000),
];

/// Runs the target with this name. For the fuzzer.
///
/// # Panics
/// If there is none, or if something is wrong.
pub fn run(name: &str, data: &[u8]) {
    let target = TARGETS.iter().find(|target| target.0 == name);
    target.expect("a target").1(data);
}

/// Feeds a target its corpus, and `noise` inputs more: bytes at random, and inputs of the corpus with some bytes changed, cut
/// out or doubled. Gives how many there were.
///
/// # Panics
/// If something is wrong; the input is printed first.
pub fn smoke(target: Target, noise: u64, seed: u64) -> u64 {
    let (name, check) = target;
    let corpus = corpus(name);
    for input in &corpus {
        told(name, check, input);
    }
    let mut random = Pcg64Mcg::seed_from_u64(seed);
    for number in 0..noise {
        let mut input = match corpus.len() {
            0 => Vec::new(),
            _ if number % 4 == 0 => Vec::new(),
            some => corpus[random.random_range(0..some)].clone(),
        };
        if input.is_empty() {
            input = vec![0; random.random_range(0..512)];
            random.fill_bytes(&mut input);
        }
        for _ in 0..random.random_range(0..8) {
            mutate(&mut input, &mut random);
        }
        told(name, check, &input);
    }
    corpus.len() as u64 + noise
}

/// The inputs kept for a target, in the order of their names.
#[must_use]
pub fn corpus(name: &str) -> Vec<Vec<u8>> {
    let folder = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("corpus").join(name);
    let mut files: Vec<PathBuf> = std::fs::read_dir(folder)
        .map(|entries| entries.flatten().map(|entry| entry.path()).collect())
        .unwrap_or_default();
    files.sort();
    files
        .iter()
        .map(|file| std::fs::read(file).expect("a file of the corpus"))
        .collect()
}

fn told(name: &str, check: fn(&[u8]), input: &[u8]) {
    let caught = std::panic::catch_unwind(|| check(input));
    if let Err(panic) = caught {
        println!("{name}: {input:02x?}");
        std::panic::resume_unwind(panic);
    }
}

fn mutate(input: &mut Vec<u8>, random: &mut Pcg64Mcg) {
    if input.is_empty() {
        input.push(random.random());
        return;
    }
    let place = random.random_range(0..input.len());
    let length = random.random_range(1..=16).min(input.len() - place);
    match random.random_range(0..5) {
        0 => input[place] ^= 1 << random.random_range(0..8),
        1 => input[place] = random.random(),
        2 => {
            input.drain(place..place + length);
        }
        3 => {
            let doubled = input[place..place + length].to_vec();
            input.splice(place..place, doubled);
        }
        _ => input.insert(place, random.random()),
    }
}

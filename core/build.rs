//! Packs the long texts that the device holds: the manuals of the drive and the style of its pages, to half their size.
//!
//! Pairs of bytes that come often get a byte value of their own that no text uses, and so on with what came of it (byte pair
//! encoding). Unpacking wants no memory and can begin anew at any time: `src/report/packed.rs`.

#![allow(
    clippy::expect_used,
    clippy::indexing_slicing,
    clippy::arithmetic_side_effects,
    reason = "it runs while building, where a panic is an error message"
)]

use std::collections::BTreeMap;
use std::fmt::Write as _;
use std::path::Path;
use std::{env, fs};

const TEXTS: [(&str, &str); 3] = [
    ("MANUAL_ENGLISH", "../hardware-notes/manual.en.html"),
    ("MANUAL_GERMAN", "../hardware-notes/manual.de.html"),
    ("STYLE", "src/report/page.css"),
];
/// What a pair stands for, by its byte value; a byte that stands for itself has two zeros.
type Pairs = [[u8; 2]; 256];
/// How deep pairs may lie in pairs, as `src/report/packed.rs` has room for.
const DEEPEST: usize = 15;

fn main() {
    let mut texts: Vec<Vec<u8>> = TEXTS.map(|(_, path)| fs::read(path).expect("a text")).into();
    let lengths: Vec<usize> = texts.iter().map(Vec::len).collect();
    let pairs = pack(&mut texts);
    let mut code = format!("pub(super) static PAIRS: [[u8; 2]; 256] = {pairs:?};\n");
    for (((name, path), text), length) in TEXTS.iter().zip(&texts).zip(lengths) {
        writeln!(code, "/// What `{path}` holds.\npub(super) static {name}: Packed = Packed {{ bytes: &{text:?}, length: {length} }};")
            .expect("room");
        println!("cargo::rerun-if-changed={path}");
    }
    println!("cargo::rerun-if-changed=build.rs");
    let folder = env::var_os("OUT_DIR").expect("cargo's folder");
    fs::write(Path::new(&folder).join("packed.rs"), code).expect("a file");
}

/// Replaces pairs in the texts as long as a byte value is free and a pair comes often enough to pay.
fn pack(texts: &mut [Vec<u8>]) -> Pairs {
    let mut pairs = [[0; 2]; 256];
    let mut depth = [0; 256];
    // A zero on its own would be taken for no pair.
    let free: Vec<u8> = (1..=u8::MAX)
        .filter(|byte| !texts.iter().any(|text| text.contains(byte)))
        .collect();
    for code in free {
        let Some(pair) = commonest(texts, &depth) else { break };
        for text in &mut *texts {
            *text = replaced(text, pair, code);
        }
        pairs[usize::from(code)] = pair;
        depth[usize::from(code)] = pair.map(|byte| depth[usize::from(byte)]).into_iter().max().unwrap_or(0) + 1;
    }
    pairs
}

/// The pair that comes most often, the lowest of several; at least four times, or its place in the table costs more than it saves.
fn commonest(texts: &[Vec<u8>], depth: &[usize; 256]) -> Option<[u8; 2]> {
    let mut counts: BTreeMap<[u8; 2], usize> = BTreeMap::new();
    for pair in texts.iter().flat_map(|text| text.windows(2)) {
        let pair = [pair[0], pair[1]];
        if pair.iter().all(|&byte| depth[usize::from(byte)] < DEEPEST) {
            *counts.entry(pair).or_default() += 1;
        }
    }
    let (pair, count) = counts.into_iter().rev().max_by_key(|&(_, count)| count)?;
    (count >= 4).then_some(pair)
}

/// The text with each `pair`, from the left, as one byte.
fn replaced(text: &[u8], pair: [u8; 2], code: u8) -> Vec<u8> {
    let mut out = Vec::new();
    let mut rest = text;
    while let Some((&first, behind)) = rest.split_first() {
        let is_pair = first == pair[0] && behind.first() == Some(&pair[1]);
        out.push(if is_pair { code } else { first });
        rest = if is_pair { &behind[1..] } else { behind };
    }
    out
}

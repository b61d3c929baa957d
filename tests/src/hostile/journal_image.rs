//! Any content of the flash: the journal opens, writes nothing while it does, goes on, and finds again what it noted.
//!
//! The first byte chooses between raw content and items whose checksums are right, which get through to the records.

use yarn_scale_core::journal::{Entry, Record, Setting};
use yarn_scale_core::units::Stamp;
use yarn_scale_sim::device::flash::SimFlash;

use super::Entropy;
use crate::durability::{Found, frame};

const CAPACITY: usize = 48 << 10;
const SECTOR: usize = 4_096;

pub(super) fn check(data: &[u8]) {
    let mut flash = SimFlash::with_content(content(Entropy::new(data)));
    let (mut journal, found) = Found::open(&mut flash).expect("a flash that can be read opens");
    assert_eq!(flash.counts().operations(), 0, "opening wrote");
    // Whatever the records say, the ledger takes or refuses them.
    let (ledger, _) = found.ledger();
    for line in 0..24 {
        let _ = ledger.used(line);
    }
    let everything = Found::everything(&journal, &mut flash);
    // As bytes where need be: an uncertainty that is no number is not equal to itself.
    let is_there = |entry: &Entry| {
        everything.contains(entry) || everything.iter().any(|other| frame::data(other) == frame::data(entry))
    };
    assert!(found.entries.iter().all(is_there));
    journal.tidy(&mut flash).expect("a flash that works");
    // A ring full of what must not be erased refuses; else the record is there.
    if let Ok(entry) = journal.append(&mut flash, Stamp(7), Record::Setting(Setting::Sound(true))) {
        let (_, again) = Found::open(&mut flash).expect("opens again");
        assert!(again.entries.contains(&entry), "noted and gone");
    }
    assert_eq!(flash.counts().overwritten, 0, "wrote over what was written");
}

/// The flash that the bytes make.
pub(super) fn content(mut entropy: Entropy<'_>) -> Vec<u8> {
    let is_framed = !entropy.byte().is_multiple_of(2);
    if is_framed { framed(entropy) } else { raw(entropy) }
}

/// Bytes as they come, over and over; the second byte says from which sector on, the rest is blank.
fn raw(mut entropy: Entropy<'_>) -> Vec<u8> {
    let first = entropy.below(CAPACITY / SECTOR) * SECTOR;
    let mut content = vec![0xFF; CAPACITY];
    if !entropy.is_empty() {
        let bytes = entropy.rest().iter().copied().cycle();
        content[first..].iter_mut().zip(bytes).for_each(|(to, from)| *to = from);
    }
    content
}

/// Sectors of items, each a length and as many bytes, behind the byte that says whose they are.
fn framed(mut entropy: Entropy<'_>) -> Vec<u8> {
    let mut content = vec![0xFF; CAPACITY];
    while !entropy.is_empty() {
        let sector = entropy.below(CAPACITY / SECTOR);
        let mut items: Vec<Vec<u8>> = Vec::new();
        for _ in 0..entropy.below(8) {
            let length = entropy.below(200);
            let mut item = vec![0xA1];
            item.extend(entropy.take(length));
            items.push(item);
        }
        content[sector * SECTOR..][..SECTOR].copy_from_slice(&frame::sector(items.iter().map(Vec::as_slice)));
    }
    content
}

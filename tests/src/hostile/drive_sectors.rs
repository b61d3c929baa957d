//! Any content of the flash, read as a drive: the volume is whole, each sector is the same whenever and in whatever order it is read, texts
//! are texts, and nothing was written.
//!
//! The flash is made of the bytes as for `journal_image`; the last sixteen of them choose the sectors that are read again.

use std::io::{Cursor, Read};

use yarn_scale_core::converter::SampleRate;
use yarn_scale_sim::computer::Backup;
use yarn_scale_sim::device::flash::SimFlash;
use yarn_scale_sim::device::simulator::Simulator;
use yarn_scale_sim::world::{Room, Unit, World};

use super::{Entropy, journal_image};
use crate::disk::Computer;

pub(super) fn check(data: &[u8]) {
    let (content, order) = data.split_at(data.len().saturating_sub(16));
    let flash = SimFlash::with_content(journal_image::content(Entropy::new(content)));
    let world = World::new(Unit::typical(3), SampleRate::Ten, Room::constant());
    let mut scale = Simulator::with_flash(world, flash);
    scale.switch_on();
    let mut computer = Computer::with(scale);
    computer.ready();
    let image = computer.dump();
    let sectors = image.len() / 512;
    // The last file ends far before the end of the volume: most of what is read again is to be something.
    let used = image.iter().rposition(|byte| *byte != 0).unwrap_or_default() / 512 + 1;
    let mut order = Entropy::new(order);
    while !order.is_empty() {
        let number = usize::from(order.byte()) | usize::from(order.byte()) << 8;
        let sector = number % if number.is_multiple_of(5) { sectors } else { used };
        let again = computer.read(sector as u32, 1);
        assert!(again == image[sector * 512..][..512], "sector {sector} reads otherwise");
    }
    let volume = fatfs::FileSystem::new(Cursor::new(image), fatfs::FsOptions::new()).expect("a volume");
    for entry in volume.root_dir().iter() {
        let entry = entry.expect("a directory");
        if entry.is_dir() {
            continue;
        }
        let name = entry.file_name();
        let mut content = Vec::new();
        entry.to_file().read_to_end(&mut content).expect(&name);
        assert_eq!(content.len() as u64, entry.len(), "{name}");
        if name.ends_with(".BIN") {
            Backup::from_bytes(content).expect("a backup that can be read");
        } else {
            let text = String::from_utf8(content).expect(&name);
            assert!(!text.contains('\0'), "{name}");
        }
    }
}

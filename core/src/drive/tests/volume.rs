//! The volume, read back by an implementation of FAT that is not ours (the crate `fatfs`), and against the numbers of the specification.

use std::borrow::ToOwned;
use std::io::{Cursor, Read};
use std::prelude::rust_2024::*;

use crate::drive::transfer::Filling;
use crate::drive::volume::{Contents, FatTime, File, Kind, Place, Volume};
use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64Mcg;

const fn file(name: &'static str, short: &'static [u8; 11], kind: Kind, place: Place) -> File {
    File {
        name,
        short,
        kind,
        place,
    }
}

/// Names of every kind: with a blank, in capitals, longer than thirteen and than twenty-six letters, with a leading dot.
static FILES: [File; 7] = [
    file("FIRST PAGE.HTM", b"FIRSTP~1HTM", Kind::Shown, Place::Root),
    file("ROWS.CSV", b"ROWS    CSV", Kind::Shown, Place::Root),
    file(
        "a rather long name of a file.txt",
        b"ARATHE~1TXT",
        Kind::Shown,
        Place::Root,
    ),
    file(".metadata_never_index", b"METADA~1   ", Kind::Hidden, Place::Root),
    file(".fseventsd", b"FSEVEN~1   ", Kind::HiddenFolder, Place::Root),
    file("no_log", b"NO_LOG~1   ", Kind::Hidden, Place::Folder),
    file("LAST.BIN", b"LAST    BIN", Kind::Shown, Place::Root),
];

/// Each byte tells its file and its place.
struct Pattern([u32; 7]);

fn byte(file: usize, at: u32) -> u8 {
    (at ^ at >> 8 ^ (file as u32) << 5) as u8
}

impl Contents for Pattern {
    fn read(&mut self, file: usize, offset: u32, out: &mut Filling) {
        assert_eq!(offset % 512, 0);
        let end = self.0[file];
        for (into, at) in out.bytes.iter_mut().zip(offset..end) {
            *into = byte(file, at);
        }
    }
}

fn volume(sizes: &[u32]) -> Option<Volume> {
    let made = FatTime::new([2026, 3, 14], [15, 9, 26]);
    Volume::new(&FILES, sizes, b"WOOL       ", (0x1234_5678, made))
}

fn image(sizes: [u32; 7]) -> Vec<u8> {
    let volume = volume(&sizes).expect("it fits");
    let mut contents = Pattern(sizes);
    let mut image = Vec::new();
    for sector in 0..volume.sectors() {
        let mut out = Filling::EMPTY;
        volume.read(sector, &mut contents, &mut out);
        image.extend(out.bytes);
    }
    image
}

const USUAL: [u32; 7] = [70_000, 512, 513, 0, 0, 0, 1];

fn read_all(image: Vec<u8>, sizes: [u32; 7]) {
    let volume = fatfs::FileSystem::new(Cursor::new(image), fatfs::FsOptions::new()).expect("a volume");
    assert_eq!(volume.fat_type(), fatfs::FatType::Fat16);
    assert_eq!(volume.volume_label(), "WOOL");
    assert_eq!(
        volume.read_volume_label_from_root_dir().unwrap().as_deref(),
        Some("WOOL")
    );
    assert_eq!(volume.volume_id(), 0x1234_5678);
    for (place, file) in FILES
        .iter()
        .enumerate()
        .filter(|(_, file)| file.kind != Kind::HiddenFolder)
    {
        let path = match file.place {
            Place::Root => file.name.to_owned(),
            Place::Folder => format!(".fseventsd/{}", file.name),
        };
        let mut read = Vec::new();
        volume
            .root_dir()
            .open_file(&path)
            .expect(&path)
            .read_to_end(&mut read)
            .expect(&path);
        let expected: Vec<u8> = (0..sizes[place]).map(|at| byte(place, at)).collect();
        assert!(read == expected, "{path}: {} bytes of {}", read.len(), expected.len());
    }
    let names: Vec<String> = volume
        .root_dir()
        .iter()
        .map(|entry| entry.unwrap().file_name())
        .collect();
    let expected = FILES
        .iter()
        .filter(|file| file.place == Place::Root)
        .map(|file| file.name);
    assert_eq!(names, expected.collect::<Vec<_>>());
    let used = sizes.iter().map(|size| size.div_ceil(512)).sum::<u32>() + 1;
    let status = volume.stats().expect("a table");
    assert_eq!(status.total_clusters() - status.free_clusters(), used);
}

#[test]
fn another_implementation_reads_every_file() {
    read_all(image(USUAL), USUAL);
}

#[test]
fn a_time_reads_back_and_one_that_cannot_be_is_the_first_day() {
    let volume = fatfs::FileSystem::new(Cursor::new(image(USUAL)), fatfs::FsOptions::new()).expect("a volume");
    let first = volume.root_dir().iter().next().expect("a file").unwrap();
    let (date, time) = (first.modified().date, first.modified().time);
    assert_eq!((date.year, date.month, date.day), (2026, 3, 14));
    assert_eq!((time.hour, time.min, time.sec), (15, 9, 26));
    for (date, time) in [
        ([1979, 1, 1], [0; 3]),
        ([2026, 13, 1], [0; 3]),
        ([2026, 0, 1], [0; 3]),
        ([2026, 1, 1], [24, 0, 0]),
    ] {
        assert_eq!(FatTime::new(date, time), FatTime::UNKNOWN);
    }
}

#[test]
fn both_tables_are_the_same_and_the_boot_sector_says_where_all_is() {
    let image = image(USUAL);
    let short = |at: usize| usize::from(u16::from_le_bytes([image[at], image[at + 1]]));
    // Fields after the specification's section "BPB": 11 bytes a sector, 14 reserved, 16 tables, 17 entries, 19 sectors, 22 of a table.
    assert_eq!((short(11), short(14), image[16], short(17)), (512, 1, 2, 512));
    assert_eq!(short(19) * 512, image.len());
    assert_eq!(image[510..512], [0x55, 0xAA]);
    let table = short(22) * 512;
    assert!(image[512..512 + table] == image[512 + table..512 + 2 * table]);
    let clusters = short(19) - 1 - 2 * short(22) - 32;
    assert!((4_085..65_525).contains(&clusters), "{clusters}: FAT16 by its count");
    assert!(short(22) * 256 >= clusters + 2);
}

#[test]
fn what_does_not_fit_is_refused() {
    assert!(volume(&[65_000 * 512, 0, 0, 0, 0, 0, 0]).is_some());
    assert!(volume(&[65_508 * 512, 0, 0, 0, 0, 0, 0]).is_none());
    assert!(volume(&[u32::MAX, 0, 0, 0, 0, 0, 0]).is_none());
    assert!(volume(&[0; 6]).is_none());
}

#[test]
fn a_volume_of_more_than_65_535_sectors_counts_them_in_the_wide_field() {
    let volume = volume(&[65_400 * 512, 0, 0, 0, 0, 0, 0]).expect("it fits");
    let mut out = Filling::EMPTY;
    volume.read(0, &mut Pattern([0; 7]), &mut out);
    let out = out.bytes;
    assert_eq!(out[19..21], [0, 0]);
    assert_eq!(
        u32::from_le_bytes([out[32], out[33], out[34], out[35]]),
        volume.sectors()
    );
    assert!(volume.sectors() > 65_535);
}

#[test]
fn files_of_any_size_read_back() {
    let mut random = Pcg64Mcg::seed_from_u64(12);
    for _ in 0..12 {
        let mut sizes = random.random::<[u16; 7]>().map(u32::from);
        sizes[4] = 0;
        read_all(image(sizes), sizes);
    }
}

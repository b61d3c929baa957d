//! A backup or an image in which something is damaged says so: in the rows, by the exit code, in one line.

use std::collections::BTreeMap;

use yarn_scale_core::journal::{Journal, PairEvent, Record, Replayed, RingName};
use yarn_scale_core::report::Section;
use yarn_scale_core::sock::YarnLetter;
use yarn_scale_core::units::Stamp;
use yarn_scale_sim::computer::story::Story;
use yarn_scale_sim::computer::{Backup, Damage};
use yarn_scale_sim::device::flash::SimFlash;
use yarn_scale_tests::damage::{Harmed, twelve_pairs};
use yarn_scale_tests::durability::put_back;
use yarn_scale_tests::knitting::{knitted, weight};

/// The journal itself survives its damage as well as it can; whoever reads it on a computer is told.
#[test]
fn no_flipped_bit_of_an_image_changes_a_row_in_silence() {
    let counts = Harmed::image(twelve_pairs()).flip_drawn(2_000, 1);
    assert_eq!(counts.silent, Vec::<String>::new());
    assert!(counts.told > 1_000, "{counts:?}");
}

#[test]
fn no_flipped_bit_of_a_backup_changes_a_row_in_silence() {
    let counts = Harmed::backup(twelve_pairs()).flip_drawn(1_000, 2);
    assert_eq!(counts.silent, Vec::<String>::new());
    assert!(counts.told > 900, "{counts:?}");
}

#[test]
fn a_cut_backup_is_refused_and_swapped_frames_are_told() {
    let harmed = Harmed::backup(twelve_pairs());
    assert_eq!(harmed.cut_drawn(200, 3).silent, Vec::<String>::new());
    let counts = harmed.swap_drawn(300, 4);
    assert_eq!(counts.silent, Vec::<String>::new());
    let counts = harmed.repeat_and_leave_out_drawn(300, 5);
    assert_eq!(counts.silent, Vec::<String>::new());
}

/// Every bit of every written byte, every cut, every pair of frames: minutes. `tests/figures --long` prints the counts.
#[test]
#[ignore = "minutes: `cargo test --release -p yarn-scale-tests --test computer -- --ignored damage`"]
fn nothing_that_can_happen_to_a_byte_or_a_frame_is_silent() {
    let image = Harmed::image(twelve_pairs()).flip_all();
    let backup = Harmed::backup(twelve_pairs());
    let (flips, cuts, swaps) = (backup.flip_all(), backup.cut_drawn(usize::MAX, 0), backup.swap_all());
    for (name, counts) in [("image", image), ("backup", flips), ("cuts", cuts), ("swaps", swaps)] {
        let silent = counts.silent.len();
        println!(
            "{name}: {} tried, {} told, {} same, {} unmarked, {silent} silent",
            counts.tried, counts.told, counts.same, counts.unmarked
        );
        assert_eq!(counts.silent, Vec::<String>::new());
    }
}

/// The number at the end of a backup tells that the last frame before it is gone; the records' own numbers could not.
#[test]
fn a_backup_without_its_last_record_is_refused() {
    let backup = Backup::from_image(knitted(1 << 18, 2).content().to_vec()).expect("a journal");
    let bytes = backup.to_bytes().expect("short entries");
    let mut ends = bytes
        .iter()
        .enumerate()
        .rev()
        .filter(|(_, byte)| **byte == 0)
        .map(|(place, _)| place + 1);
    let (_, end, last) = (ends.next(), ends.next().expect("frames"), ends.next().expect("frames"));
    let short = [&bytes[..last], &bytes[end..]].concat();
    assert_eq!(Backup::from_bytes(short), Err("the backup is incomplete"));
    assert_eq!(Backup::from_bytes(bytes), Ok(backup));
}

/// A closed pair was noted in short while all its marks were there: that holds, whatever happens to the marks.
#[test]
fn a_condensed_pair_outweighs_damaged_marks() {
    let backup = Backup::from_image(knitted(1 << 18, 3).content().to_vec()).expect("a journal");
    let sound: BTreeMap<u16, Vec<Section>> = sections(&backup);
    for lost in 0..backup.entries.len() {
        if backup.entries[lost].0 != RingName::Marks {
            continue;
        }
        let mut harmed = backup.clone();
        harmed.entries.remove(lost);
        let found = sections(&harmed);
        for (pair, sections) in &sound {
            let same = |one: &[Section], two: &[Section]| {
                one.len() == two.len()
                    && one
                        .iter()
                        .zip(two)
                        .all(|(one, two)| (one.line, one.used.value) == (two.line, two.used.value))
            };
            assert!(same(&found[pair], sections), "pair {pair} without entry {lost}");
        }
        let is_last = backup.entries[lost + 1..]
            .iter()
            .all(|(ring, _)| *ring != RingName::Marks);
        assert!(is_last || !Damage::of(&harmed).is_none(), "entry {lost}");
    }
}

fn sections(backup: &Backup) -> BTreeMap<u16, Vec<Section>> {
    let pairs = Story::of(backup).pairs.into_iter();
    pairs.map(|pair| (pair.number, pair.sections.to_vec())).collect()
}

/// A backup is restored with its gap, and the scale says then what the backup said.
#[test]
fn a_backup_with_a_gap_restores_and_says_the_same_afterwards() {
    let mut backup = Backup::from_image(twelve_pairs().content().to_vec()).expect("a journal");
    let marks: Vec<usize> = (0..backup.entries.len())
        .filter(|&place| backup.entries[place].0 == RingName::Marks)
        .collect();
    for &place in [marks[marks.len() - 5], marks[40], marks[0]].iter() {
        backup.entries.remove(place);
    }
    let mut flash = SimFlash::blank(1 << 18);
    put_back(&mut flash, &backup.entries, 512).expect("a gap is no hindrance");
    let again = Backup::from_image(flash.content().to_vec()).expect("a journal");
    assert_eq!(again.entries, backup.entries);
    assert_eq!(Story::of(&again), Story::of(&backup));
    assert_eq!(Damage::of(&again), Damage::of(&backup));
    let mut gaps = 0;
    Journal::open(&mut flash, |replayed| {
        gaps += u32::from(matches!(replayed, Replayed::Gap { .. }))
    })
    .expect("a journal");
    assert!(gaps > 0, "the scale itself says so too");
}

/// What was noted in short when a pair was closed says nothing of what came once it was open again; and what is missing then is told of it.
#[test]
fn a_mark_missing_in_a_pair_that_is_open_again_puts_it_in_doubt() {
    let mut flash = knitted(1 << 18, 2);
    let mut journal = Journal::open(&mut flash, |_| {}).expect("a journal");
    let mark = |mg| {
        let (line, yarn, weight) = (11, YarnLetter::C, weight(mg));
        Record::Mark { line, yarn, weight }
    };
    let again = Record::OfPair {
        pair: 2,
        event: PairEvent::Reopened,
    };
    for record in [again, mark(9_000), mark(8_000)] {
        journal.append(&mut flash, Stamp(9), record.of_pair(2)).expect("room");
    }
    let backup = Backup::from_image(flash.content().to_vec()).expect("a journal");
    let toe = |backup: &Backup| {
        let toe = sections(backup)[&2].last().cloned().expect("sections");
        (toe.used.value.0, toe.doubtful)
    };
    assert_eq!(toe(&backup), (6_807, false));
    let mut harmed = backup.clone();
    let lost = harmed.entries.iter().rposition(|(ring, _)| *ring == RingName::Marks);
    harmed.entries.remove(lost.expect("marks") - 1);
    assert_eq!(toe(&harmed), (6_807, true), "a mark of it is missing");
    let mut torn = backup;
    torn.unreadable.push(RingName::Marks);
    assert_eq!(toe(&torn), (6_807, true), "its last mark may not be the last");
}

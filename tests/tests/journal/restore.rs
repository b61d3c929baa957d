//! A backup is restored as a whole or not at all, wherever the power fails.

use std::ops::ControlFlow;

use yarn_scale_core::journal::{Journal, JournalFault, Record, RingName, Setting};
use yarn_scale_core::units::Stamp;
use yarn_scale_sim::device::flash::SimFlash;
use yarn_scale_tests::durability::{Saved, cut_restores, put_back, standing};
use yarn_scale_tests::knitting::{knitted, visit};

fn saved(mut flash: SimFlash) -> Vec<Saved> {
    standing(&mut flash).expect("a journal")
}

#[test]
fn a_restore_cut_anywhere_leaves_the_old_journal_or_the_new_one() {
    let counts = cut_restores(61).expect("old or new");
    assert!(counts.cuts >= 200 && counts.second_cuts >= 200, "{counts:?}");
}

#[test]
#[ignore = "minutes: `cargo test --release -p yarn-scale-tests --test journal -- --ignored --nocapture`"]
fn a_restore_cut_everywhere_leaves_the_old_journal_or_the_new_one() {
    println!("{:?}", cut_restores(1).expect("old or new"));
}

#[test]
fn a_restore_counts_at_its_end_and_nothing_else_is_noted() {
    let mut flash = knitted(1 << 18, 2);
    let before = standing(&mut flash).expect("a journal");
    let mut journal = Journal::open(&mut flash, |_| {}).expect("a journal");
    let setting = || Record::Setting(Setting::Brightness(2));
    assert!(!journal.is_restoring());
    assert_eq!(journal.end_restore(&mut flash, 0, 0), Ok(false), "none was begun");
    journal.begin_restore(&mut flash).expect("room");
    assert!(journal.is_restoring() && journal.is_half_restored());
    assert_eq!(
        journal.append(&mut flash, Stamp(1), setting()),
        Err(JournalFault::Restoring)
    );
    assert_eq!(
        journal.missing(),
        0,
        "a refusal that the knitter was told of is no loss"
    );
    // Neither another number of entries nor another checksum than what came.
    for (entries, sum) in [(1, 0), (0, 1), (u32::MAX, 0)] {
        assert_eq!(journal.end_restore(&mut flash, entries, sum), Ok(false));
    }
    // The checksum of nothing is 0 (CRC-32/ISO-HDLC).
    assert_eq!(journal.end_restore(&mut flash, 0, 0), Ok(true));
    assert_eq!(
        journal.end_restore(&mut flash, 0, 0),
        Ok(true),
        "the answer may have been lost"
    );
    assert!(journal.is_restoring() && !journal.is_half_restored());
    assert_eq!(
        journal.append(&mut flash, Stamp(1), setting()),
        Err(JournalFault::Restoring)
    );
    let mut journal = Journal::open(&mut flash, |_| {}).expect("a journal");
    assert_eq!(standing(&mut flash), Ok(before));
    journal.append(&mut flash, Stamp(1), setting()).expect("it goes on");
}

/// The visits that fit are those that `begin_restore` promises: one sector more is refused, and then nothing of it stands.
#[test]
fn as_many_visits_fit_as_were_promised() {
    let mut full = SimFlash::blank(1 << 20);
    let mut journal = Journal::open(&mut full, |_| {}).expect("a blank chip");
    for number in 0..4_000 {
        journal
            .append(&mut full, Stamp(number), visit(number as i32))
            .expect("room");
    }
    journal.tidy(&mut full).expect("a flash that works");
    let mut sectors: Vec<Vec<Saved>> = Vec::new();
    let mut next = journal.place(2, None);
    while let Some(place) = next {
        sectors.push(Vec::new());
        let here = sectors.last_mut().expect("pushed");
        next = journal
            .items(&mut full, place, |item| {
                here.push((RingName::Visits, item.to_vec()));
                ControlFlow::Continue(())
            })
            .expect("a flash that works");
    }
    let count = sectors.len();
    assert_eq!(count, 15, "of sixteen, one is kept blank");
    let mut blank = SimFlash::blank(1 << 20);
    assert_eq!(put_back(&mut blank, &sectors.concat(), 512), Ok(()));
    assert_eq!(standing(&mut blank), Ok(sectors.concat()));

    // Beside a visit of its own there is one sector less.
    let mut flash = SimFlash::blank(1 << 20);
    let mut journal = Journal::open(&mut flash, |_| {}).expect("a blank chip");
    journal.append(&mut flash, Stamp(0), visit(5)).expect("room");
    let own = standing(&mut flash).expect("a journal");
    assert_eq!(journal.begin_restore(&mut flash), Ok(14));
    assert_eq!(put_back(&mut flash, &sectors.concat(), 512), Err(JournalFault::Full));
    assert_eq!(standing(&mut flash), Ok(own.clone()), "nothing of it");
    let fit = sectors[1..].concat();
    assert_eq!(put_back(&mut flash, &fit, 512), Ok(()));
    assert_eq!(standing(&mut flash), Ok([own, fit].concat()));
}

/// What a computer sends twice because an answer was lost is taken once.
#[test]
fn a_row_that_comes_twice_is_taken_once() {
    let entries = saved(knitted(1 << 18, 1));
    let mut flash = SimFlash::blank(1 << 18);
    let mut journal = Journal::open(&mut flash, |_| {}).expect("a blank chip");
    journal.begin_restore(&mut flash).expect("room");
    for (ring, entry) in &entries {
        let mut row = heapless::Vec::<u8, 512>::new();
        yarn_scale_core::journal::packed::put(&mut row, entry).expect("room");
        assert_eq!(journal.take_over(&mut flash, *ring, &row), Ok(true));
        assert_eq!(journal.take_over(&mut flash, *ring, &row), Ok(true));
    }
    let mut sum = yarn_scale_core::checksum::Crc32::new();
    for (ring, entry) in &entries {
        sum.take(&[*ring as u8, 0, entry.len() as u8]);
        sum.take(entry);
    }
    assert_eq!(
        journal.end_restore(&mut flash, entries.len() as u32, sum.value()),
        Ok(true)
    );
    assert_eq!(standing(&mut flash), Ok(entries));
}

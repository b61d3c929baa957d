//! Scales onto which a backup is restored, and what they lack of it.

use yarn_scale_core::journal::{Journal, RingName};
use yarn_scale_core::units::Stamp;
use yarn_scale_sim::device::flash::SimFlash;

use super::restores::{RestoreCounts, Saved, cut_restore, standing};
use crate::damage::twelve_pairs;
use crate::knitting::{knitted, visit};

fn saved(mut flash: SimFlash) -> Vec<Saved> {
    standing(&mut flash).expect("a journal")
}

/// What a scale lacks that holds `there`.
fn lacking(all: &[Saved], there: &[Saved]) -> Vec<Saved> {
    all.iter().filter(|entry| !there.contains(entry)).cloned().collect()
}

/// A scale with some visits of its own, and the backup of twelve pairs behind them.
fn own_visits() -> (SimFlash, Vec<Saved>) {
    let mut flash = SimFlash::blank(1 << 18);
    let mut journal = Journal::open(&mut flash, |_| {}).expect("a blank chip");
    for number in 0..7 {
        journal.append(&mut flash, Stamp(number), visit(100)).expect("room");
    }
    let all = saved(twelve_pairs());
    let mut visits = 0;
    let newer = |(ring, _): &&Saved| {
        visits += u32::from(*ring == RingName::Visits);
        *ring != RingName::Visits || visits > 7
    };
    (flash, all.iter().filter(newer).cloned().collect())
}

/// A scale that holds the first two of twelve pairs.
fn a_beginning() -> (SimFlash, Vec<Saved>) {
    let (flash, all) = (knitted(1 << 18, 2), saved(twelve_pairs()));
    let lacking = lacking(&all, &saved(flash.copy()));
    (flash, lacking)
}

/// A chip that holds something else.
fn foreign() -> (SimFlash, Vec<Saved>) {
    let bytes = (0..1_u32 << 18).map(|byte| (byte.wrapping_mul(2_654_435_761) >> 24) as u8);
    (SimFlash::with_content(bytes.collect()), saved(knitted(1 << 18, 1)))
}

fn with_a_gap() -> (SimFlash, Vec<Saved>) {
    let mut all = saved(knitted(1 << 18, 3));
    for place in [all.len() / 2, all.len() / 3, 0] {
        all.remove(place);
    }
    (SimFlash::blank(1 << 18), all)
}

/// Cuts the restore of each scene in every `step`th flash operation.
///
/// # Errors
/// As [`cut_restore`].
pub fn cut_restores(step: u64) -> Result<RestoreCounts, String> {
    let mut sum = RestoreCounts::default();
    for (flash, entries) in [own_visits(), a_beginning(), foreign(), with_a_gap()] {
        let counts = cut_restore(&flash, &entries, step)?;
        if counts.new == 0 || counts.new == counts.cuts {
            return Err(format!("cuts that tell nothing: {counts:?}"));
        }
        sum.operations += counts.operations;
        sum.cuts += counts.cuts;
        sum.new += counts.new;
        sum.second_cuts += counts.second_cuts;
    }
    Ok(sum)
}

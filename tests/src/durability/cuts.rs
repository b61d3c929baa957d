//! Cutting power at every flash operation of a story, and again at every operation of the recovery from that.

use std::rc::Rc;

use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64Mcg;
use yarn_scale_core::journal::{Record, Setting};
use yarn_scale_sim::device::flash::{SimFlash, Tear};

use super::Step;
use super::scale::{Outcome, Scale};

/// What was tried.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct CutCounts {
    /// Flash operations of the story that were cut.
    pub operations: u64,
    /// Of these, the ones that erase a sector.
    pub erases: u64,
    /// Cuts: each operation with each kind of tear.
    pub cuts: u64,
    /// Second cuts, during the recovery from a first.
    pub second_cuts: u64,
}

impl CutCounts {
    /// All cuts together.
    #[must_use]
    pub const fn all(&self) -> u64 {
        self.cuts + self.second_cuts
    }

    /// Adds what was tried elsewhere.
    pub fn add(&mut self, other: &Self) {
        self.operations += other.operations;
        self.erases += other.erases;
        self.cuts += other.cuts;
        self.second_cuts += other.second_cuts;
    }
}

/// Which steps of a story are cut.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Reach {
    /// All.
    Every,
    /// All that do more than write one record, and one in ten of those that do not.
    Telling,
}

/// Tells a story on a flash of this many bytes. From step `begin` on, in the steps within reach, power is cut in each flash
/// operation in turn, with each kind of tear; the scale starts, is checked against the oracle, does the step again and goes on; and the same with a
/// second cut in each operation of that recovery.
///
/// # Errors
/// The first thing that was lost, believed wrongly or did not go on, with the place where power was cut.
pub fn cut_everywhere(
    steps: &[Step],
    begin: usize,
    reach: Reach,
    capacity: usize,
    seed: u64,
) -> Result<CutCounts, String> {
    let mut scale = Scale::new(capacity)?;
    let mut counts = CutCounts::default();
    for (number, step) in steps.iter().enumerate() {
        if number >= begin {
            let takes = scale.takes(step)?;
            let operations = match takes.operations() {
                0..=ONE_RECORD if reach == Reach::Telling && number % 10 != 0 => 0,
                operations => operations,
            };
            counts.operations += operations;
            counts.erases += if operations > 0 { takes.erases } else { 0 };
            for operation in 0..operations {
                for tear in Tear::all(seed + counts.cuts) {
                    scale.cut(step, operation, tear, &mut counts).map_err(|what| {
                        format!("step {number} {step:?}, cut in operation {operation}, {tear:?}: {what}")
                    })?;
                }
            }
        }
        let Outcome::Done(entry) = scale
            .tell(step)
            .map_err(|what| format!("step {number} {step:?}: {what}"))?
        else {
            return Err(format!("step {number}: power failed by itself"));
        };
        scale.noted.push(entry.map(Rc::new));
    }
    scale.restart(None)?;
    Ok(counts)
}

/// Tells a story on a flash of this many bytes and gives the flash.
///
/// # Errors
/// What went wrong.
pub fn tell(steps: &[Step], capacity: usize) -> Result<SimFlash, String> {
    let mut scale = Scale::new(capacity)?;
    for step in steps {
        match scale.tell(step)? {
            Outcome::Done(entry) => scale.noted.push(entry.map(Rc::new)),
            Outcome::Cut(_) => return Err("power failed by itself".to_owned()),
        }
    }
    scale.restart(None)?;
    Ok(scale.flash)
}

/// Tells a story while power fails again and again, on the average after `mean` flash operations, wherever that is; after
/// each start the journal is checked, and the step done again unless it is found done. Gives the number of cuts.
///
/// # Errors
/// As [`cut_everywhere`].
pub fn cut_at_random(steps: &[Step], mean: u64, capacity: usize, seed: u64) -> Result<u64, String> {
    let mut random = Pcg64Mcg::seed_from_u64(seed);
    let mut scale = Scale::new(capacity)?;
    let mut cuts = 0;
    for (number, step) in steps.iter().enumerate() {
        let told = |what: String| format!("step {number} {step:?}, seed {seed}: {what}");
        scale
            .tell_until_done(step, |flash| {
                if random.random_ratio(1, 2) {
                    let tears = Tear::all(random.random());
                    let tear = tears[random.random_range(0..tears.len())];
                    flash.cut_after(random.random_range(0..2 * mean), tear);
                }
            })
            .map(|more| cuts += more)
            .map_err(told)?;
    }
    scale.restart(None)?;
    Ok(cuts)
}

impl Scale {
    /// Cuts power in one operation of a step, and then in each operation of the recovery.
    fn cut(&self, step: &Step, operation: u64, tear: Tear, counts: &mut CutCounts) -> Result<(), String> {
        let mut torn = self.copy();
        torn.flash.cut_after(operation, tear);
        let Outcome::Cut(in_flight) = torn.tell(step)? else {
            return Err("the cut did not come".to_owned());
        };
        counts.cuts += 1;
        torn.restart(in_flight.as_ref())?;
        let recovery = {
            let mut whole = torn.copy();
            whole.flash.forget_counts();
            match whole.recover(step)? {
                Outcome::Done(_) => whole.flash.counts().operations(),
                Outcome::Cut(_) => return Err("power failed by itself".to_owned()),
            }
        };
        for operation in 0..recovery {
            // One kind of tear for each second cut, in turn, and another one from place to place.
            let all = Tear::all(counts.second_cuts);
            let tear = all[usize::try_from(counts.second_cuts).unwrap_or(0) % all.len()];
            let mut twice = torn.copy();
            twice.flash.cut_after(operation, tear);
            let Outcome::Cut(in_flight) = twice.recover(step).map_err(|what| format!("recovery: {what}"))? else {
                return Err("the second cut did not come".to_owned());
            };
            counts.second_cuts += 1;
            twice
                .restart(in_flight.as_ref())
                .and_then(|()| twice.recover(step))
                .map_err(|what| format!("second cut in operation {operation}, {tear:?}: {what}"))?;
        }
        Ok(())
    }

    /// What comes after a start: the scale makes room in idle time, notes that it has started, and the knitter, who
    /// saw nothing confirmed, does the step again unless she finds it done. Then one more record, and all is checked.
    fn recover(&mut self, step: &Step) -> Result<Outcome, String> {
        if let Outcome::Cut(record) = self.tell(&Step::Tidy)? {
            return Ok(Outcome::Cut(record));
        }
        if !self.done {
            if let Outcome::Cut(record) = self.tell(step)? {
                return Ok(Outcome::Cut(record));
            }
            self.done = true;
        }
        let more = Record::Setting(Setting::SleepMinutes(17));
        match self.append(more.clone()) {
            Ok(_) => {}
            Err(_) if self.flash.is_off() => return Ok(Outcome::Cut(Some(more))),
            Err(fault) => return Err(format!("does not go on: {fault:?}")),
        }
        self.restart(None)?;
        Ok(Outcome::Done(None))
    }
}

/// Operations of writing one record where there is room: its header and its body, which may straddle two pages.
const ONE_RECORD: u64 = 3;

//! `yarn-scale-lab train`.

use std::io::Write;
use std::path::PathBuf;
use std::thread;

use clap::Args;
use yarn_scale_core::converter::SampleRate;

use super::boost;
use super::labels::{Lesson, Rows};
use super::physics;
use super::scene::{self, Kind};
use crate::failure::Failure;
use crate::files;
use crate::world::{Stream, Unit};

/// Grows the trees that judge steadiness from simulated sessions and writes them as source text for the core.
#[derive(Args, Clone, Debug)]
pub struct TrainArgs {
    /// The file to write.
    into: PathBuf,
    /// Samples a second.
    #[arg(long, default_value = "10", value_parser = ["10", "80"])]
    rate: String,
    /// Sessions of two minutes from the benchmark's generator, and as many from a second one.
    #[arg(long, default_value_t = 700)]
    sessions: u64,
    /// Trees.
    #[arg(long, default_value_t = 110)]
    trees: usize,
    /// Seed of all sessions.
    #[arg(long, default_value_t = 9_200_000)]
    seed: u64,
}

impl TrainArgs {
    /// Runs the command.
    ///
    /// # Errors
    /// [`Failure::Input`] if the file cannot be written, or was not written by this command before.
    pub fn run(&self, mut out: impl Write) -> Result<(), Failure> {
        let rate = if self.rate == "80" {
            SampleRate::Eighty
        } else {
            SampleRate::Ten
        };
        let mut jobs = Vec::new();
        let whole: u64 = Kind::SHARES.iter().map(|(_, share)| share).sum();
        for (kind, share) in Kind::SHARES {
            for n in 0..(self.sessions * share).div_ceil(whole) {
                jobs.push((kind, self.seed + n + 100_000 * kind as u64));
            }
        }
        let rows = gather(&jobs, rate);
        let bad = rows.good.iter().filter(|good| !**good).count();
        writeln!(
            out,
            "{} sessions, {} ticks, {bad} of them bad",
            2 * jobs.len(),
            rows.good.len()
        )?;
        out.flush()?;
        let trees = boost::grow(&rows, self.trees, RATE);
        let how = format!(
            "{MADE_BY} --rate {} --sessions {} --trees {} --seed {}",
            self.rate, self.sessions, self.trees, self.seed
        );
        Ok(files::write_again(
            &self.into,
            MADE_BY,
            boost::source(&trees, &how).as_bytes(),
        )?)
    }
}

/// Rows of all jobs, in their order whatever the threads do.
fn gather(jobs: &[(Kind, u64)], rate: SampleRate) -> Rows {
    let halves: Vec<Rows> = thread::scope(|scope| {
        let threads: Vec<_> = jobs
            .chunks(jobs.len().div_ceil(2).max(1))
            .map(|jobs| {
                scope.spawn(move || {
                    let mut rows = Rows::default();
                    for &(kind, seed) in jobs {
                        Lesson::of(&kind.record(seed, rate)).teach(&mut rows);
                        let mut random = Stream::new(seed, 20);
                        let unit = Unit::draw(seed ^ SECOND);
                        let script = scene::draw(kind, 120.0, unit.cell_capacity_g, &mut random);
                        physics::play(&script, &unit, rate, &mut random).teach(&mut rows);
                    }
                    rows
                })
            })
            .collect();
        threads.into_iter().filter_map(|thread| thread.join().ok()).collect()
    });
    halves.into_iter().fold(Rows::default(), |mut all, half| {
        all.features.extend(half.features);
        all.good.extend(half.good);
        all.weight.extend(half.weight);
        all
    })
}

/// Stands in every file that this command writes.
const MADE_BY: &str = "yarn-scale-lab train";
/// Learning rate.
const RATE: f32 = 0.2;
/// Sets the second generator's units apart from the first's.
const SECOND: u64 = 0x5EED_0000;

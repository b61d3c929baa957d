//! `yarn-scale-lab train`.

use std::io::Write;
use std::path::PathBuf;
use std::thread;

use clap::Args;
use yarn_scale_core::converter::SampleRate;
use yarn_scale_core::signal::Tree;

use super::boost;
use super::labels::{Lesson, Rows};
use super::physics;
use super::scene::{self, Kind};
use crate::failure::Failure;
use crate::files;
use crate::world::{Family, Stream};

/// Grows the trees that judge steadiness from simulated sessions and writes them as source text for the core.
#[derive(Args, Clone, Debug)]
pub struct TrainArgs {
    /// The file to write.
    into: PathBuf,
    /// Samples a second.
    #[arg(long, default_value = "10", value_parser = ["10", "80"])]
    rate: String,
    /// Sessions of two minutes from the benchmark's generator, and as many from a second one.
    #[arg(long, default_value_t = Course::WHOLE.sessions)]
    sessions: u64,
    /// Trees.
    #[arg(long, default_value_t = Course::WHOLE.trees)]
    trees: usize,
    /// Seed of all sessions.
    #[arg(long, default_value_t = Course::WHOLE.seed)]
    seed: u64,
}

impl TrainArgs {
    /// Runs the command.
    ///
    /// # Errors
    /// [`Failure::Input`] if the file cannot be written, or was not written by this command before.
    pub fn run(&self, mut out: impl Write) -> Result<(), Failure> {
        let course = Course {
            rate: if self.rate == "80" {
                SampleRate::Eighty
            } else {
                SampleRate::Ten
            },
            sessions: self.sessions,
            trees: self.trees,
            seed: self.seed,
        };
        let source = course.source(|told| {
            // A line of progress that cannot be written is no failure.
            let _ = writeln!(out, "{told}");
            let _ = out.flush();
        });
        Ok(files::write_again(&self.into, MADE_BY, source.as_bytes())?)
    }
}

/// What the trees are grown from, and how many.
#[derive(Clone, Copy, Debug)]
pub struct Course {
    /// Conversions a second.
    pub rate: SampleRate,
    /// Sessions of two minutes from the benchmark's generator, and as many from the second one.
    pub sessions: u64,
    /// Trees.
    pub trees: usize,
    /// Seed of all sessions.
    pub seed: u64,
}

impl Course {
    /// What the core's own trees are grown by.
    pub const WHOLE: Self = Self {
        rate: SampleRate::Ten,
        sessions: 900,
        trees: 120,
        seed: 9_200_000,
    };

    /// Grows the trees and gives their source text: the same to the last bit, whichever trees the core holds. `tell` hears of progress.
    ///
    /// What was trusted before is itself a feature. So a first round, with no trees at all, grows some from every fourth session, and a
    /// second one judges by those.
    pub fn source(&self, mut tell: impl FnMut(&str)) -> String {
        let jobs = self.jobs();
        let first: Vec<_> = jobs.iter().step_by(4).copied().collect();
        let mut trees: &'static [Tree] = &[];
        for jobs in [first, jobs] {
            let rows = gather(&jobs, self.rate, trees);
            let bad = rows.good.iter().filter(|good| !**good).count();
            tell(&format!(
                "{} sessions, {} ticks, {bad} of them bad",
                2 * jobs.len(),
                rows.good.len()
            ));
            // Twice in the life of a program: an estimator borrows its trees for ever.
            trees = boost::grow(&rows, self.trees, LEARNING_RATE).leak();
        }
        let how = format!(
            "{MADE_BY} --rate {} --sessions {} --trees {} --seed {}",
            match self.rate {
                SampleRate::Ten => 10,
                SampleRate::Eighty => 80,
            },
            self.sessions,
            self.trees,
            self.seed
        );
        boost::source(trees, &how)
    }

    fn jobs(&self) -> Vec<(Kind, u64)> {
        let whole: u64 = Kind::SHARES.iter().map(|(_, share)| share).sum();
        let mut jobs = Vec::new();
        for (kind, share) in Kind::SHARES {
            for n in 0..(self.sessions * share).div_ceil(whole) {
                jobs.push((kind, self.seed + n + 100_000 * kind as u64));
            }
        }
        jobs
    }
}

/// Rows of all jobs, in their order whatever the threads do.
fn gather(jobs: &[(Kind, u64)], rate: SampleRate, trees: &'static [Tree]) -> Rows {
    let halves: Vec<Rows> = thread::scope(|scope| {
        let threads: Vec<_> = jobs
            .chunks(jobs.len().div_ceil(2).max(1))
            .map(|jobs| {
                scope.spawn(move || {
                    let mut rows = Rows::default();
                    for &(kind, seed) in jobs {
                        let family = world_of(seed);
                        Lesson::of(&kind.record(family.draw(seed), rate)).teach(&mut rows, trees);
                        let mut random = Stream::new(seed, 20);
                        let unit = family.draw(seed ^ SECOND);
                        let script = scene::draw(kind, 120.0, unit.cell_capacity_g, &mut random);
                        physics::play(&script, &unit, rate, &mut random).teach(&mut rows, trees);
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

/// The world of a session: every other one is the one that the benchmark draws from, the rest go in turn through those of the family that are
/// not kept out.
fn world_of(seed: u64) -> Family {
    let taught = Family::ALL.into_iter().filter(|family| !family.is_kept_out());
    let worlds = taught.clone().count() as u64;
    let nth = if seed.is_multiple_of(2) { 0 } else { seed / 2 % worlds };
    taught.clone().nth(nth as usize).unwrap_or(Family::Raised)
}

/// Stands in every file that this command writes.
const MADE_BY: &str = "yarn-scale-lab train";
/// How much of what is left to learn each tree learns.
const LEARNING_RATE: f32 = 0.2;
/// Sets the second generator's units apart from the first's.
const SECOND: u64 = 0x5EED_0000;

//! All scenarios, all contenders, from one seed; spread over threads, added up in order, so that a seed gives the same figures on any
//! number of threads.

use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::mpsc;
use std::thread;

use indicatif::ProgressBar;
use yarn_scale_core::converter::SampleRate;

use super::bound;
use super::contender::Contender;
use super::recording::Recording;
use super::score::{Question, Score, score};
use super::section::Course;
use crate::world::Family;

/// How much of each scenario.
#[derive(Clone, Copy, Debug)]
pub struct Extent {
    /// Sessions of twelve handlings.
    pub handlings: u64,
    /// Recordings of each quiet, knitted, shaken, changed and spoilt kind.
    pub others: u64,
    /// Recordings of slow knitting, eight minutes each.
    pub drains: u64,
    /// Recordings of five sections for each course.
    pub sections: u64,
}

/// Figures of all contenders at one rate.
#[derive(Clone, Debug)]
pub struct Outcome {
    /// The rate.
    pub rate: SampleRate,
    /// The scores, in the order asked for.
    pub scores: Vec<(Contender, Score)>,
    /// The bound, as far as it has figures: latencies and sections.
    pub bound: Score,
}

/// Runs the benchmark in one world of the family.
#[must_use]
pub fn run(
    family: Family,
    seed: u64,
    rate: SampleRate,
    contenders: &[Contender],
    extent: Extent,
    threads: usize,
    progress: &ProgressBar,
) -> Outcome {
    let jobs = jobs(extent);
    progress.set_length(jobs.len() as u64);
    let next = AtomicUsize::new(0);
    let (results, arriving) = mpsc::channel();
    let mut parts: Vec<Option<Part>> = Vec::new();
    parts.resize_with(jobs.len(), || None);
    thread::scope(|scope| {
        for _ in 0..threads {
            let (results, jobs, next) = (results.clone(), &jobs, &next);
            scope.spawn(move || {
                while let Some((index, job)) = take(jobs, next) {
                    if results.send((index, job.run(family, seed, rate, contenders))).is_err() {
                        return;
                    }
                }
            });
        }
        drop(results);
        for (index, part) in arriving {
            parts[index] = Some(part);
            progress.inc(1);
        }
    });
    let mut outcome = Outcome {
        rate,
        scores: contenders
            .iter()
            .map(|contender| (*contender, Score::default()))
            .collect(),
        bound: Score::default(),
    };
    for part in parts.into_iter().flatten() {
        for ((_, total), score) in outcome.scores.iter_mut().zip(part.scores) {
            total.add(score);
        }
        outcome.bound.add(part.bound);
    }
    outcome
}

/// One recording to make and to score.
#[derive(Clone, Copy, Debug)]
struct Job {
    question: Question,
    number: u64,
}

struct Part {
    scores: Vec<Score>,
    bound: Score,
}

impl Job {
    fn run(self, family: Family, seed: u64, rate: SampleRate, contenders: &[Contender]) -> Part {
        let unit = family.draw(seed.wrapping_mul(APART).wrapping_add(self.number));
        let recording = self.question.record(unit, rate);
        Part {
            scores: contenders
                .iter()
                .map(|contender| score(*contender, &recording, self.question))
                .collect(),
            bound: bound_score(&recording, self.question),
        }
    }
}

fn bound_score(recording: &Recording, question: Question) -> Score {
    let mut score = Score {
        emptied: bound::emptied(recording),
        ..Score::default()
    };
    match question {
        Question::Handling => score.latency = bound::latencies(recording),
        Question::Sections(course) => {
            let section = &mut score.sections[course as usize];
            section.error = bound::section_errors(recording, false);
            section.in_the_end = bound::section_errors(recording, true)
                .into_iter()
                .map(|error| (error, None))
                .collect();
        }
        _ => {}
    }
    score
}

/// The longest first, so that no thread is left with one at the end.
fn jobs(extent: Extent) -> Vec<Job> {
    let mut jobs = Vec::new();
    let mut many = |question, count| jobs.extend((0..count).map(|number| Job { question, number }));
    for course in Course::ALL {
        many(Question::Sections(course), extent.sections);
    }
    many(Question::Drain, extent.drains);
    many(Question::Handling, extent.handlings);
    for question in [
        Question::Knitting,
        Question::Rest,
        Question::Shaking,
        Question::Faults,
        Question::Changes,
    ] {
        many(question, extent.others);
    }
    jobs
}

fn take(jobs: &[Job], next: &AtomicUsize) -> Option<(usize, Job)> {
    let index = next.fetch_add(1, Ordering::Relaxed);
    jobs.get(index).map(|job| (index, *job))
}

/// Recordings of one seed at most: two seeds have no unit in common, nor, under 90, has one with the trees' lessons.
const APART: u64 = 100_000;

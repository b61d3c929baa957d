//! Sections: error of the difference, and whether its stated interval covers the truth.

use super::Score;
use crate::lab::measure::recording::{Event, Recording};
use crate::lab::measure::run::Run;
use crate::lab::measure::section::Course;

/// Sections of one course.
#[derive(Clone, Debug, Default)]
pub struct SectionScore {
    /// Shown use less true use, g.
    pub error: Vec<f64>,
    /// Stated half-width of the 95 % interval, g, beside each error; empty where none is stated.
    pub stated: Vec<f64>,
    /// The same two after amendments.
    pub in_the_end: Vec<(f64, Option<f64>)>,
    /// Sections of which a mark was never taken.
    pub lost: usize,
}

impl SectionScore {
    /// Adds another's sections.
    pub fn add(&mut self, other: Self) {
        self.error.extend(other.error);
        self.stated.extend(other.stated);
        self.in_the_end.extend(other.in_the_end);
        self.lost += other.lost;
    }

    /// Root mean square error, g.
    #[must_use]
    pub fn rms(&self) -> f64 {
        (self.error.iter().map(|e| e * e).sum::<f64>() / self.error.len() as f64).sqrt()
    }

    /// Root mean square error in the end, g.
    #[must_use]
    pub fn rms_in_the_end(&self) -> f64 {
        (self.in_the_end.iter().map(|e| e.0 * e.0).sum::<f64>() / self.in_the_end.len() as f64).sqrt()
    }

    /// Error and stated half-width of every section for which one is stated, g: at the marks, or `in_the_end`.
    #[must_use]
    pub fn stated(&self, in_the_end: bool) -> Vec<(f64, f64)> {
        if in_the_end {
            let stated = self.in_the_end.iter();
            return stated.filter_map(|(error, half)| Some((*error, (*half)?))).collect();
        }
        self.error.iter().copied().zip(self.stated.iter().copied()).collect()
    }

    /// Truths inside the interval stated in the end, and how many were stated.
    #[must_use]
    pub fn covered_in_the_end(&self) -> (usize, usize) {
        covered(&self.stated(true))
    }

    /// Truths inside their stated interval, and how many were stated.
    #[must_use]
    pub fn covered(&self) -> (usize, usize) {
        covered(&self.stated(false))
    }
}

fn covered(stated: &[(f64, f64)]) -> (usize, usize) {
    let inside = stated.iter().filter(|(error, half)| error.abs() <= *half).count();
    (inside, stated.len())
}

/// Scores the sections of a recording.
pub(super) fn score(recording: &Recording, run: &Run, course: Course) -> Score {
    let mut sections = SectionScore::default();
    let truths = recording
        .events
        .iter()
        .filter_map(|event| {
            if let Event::Mark(_, used) = event {
                Some(*used)
            } else {
                None
            }
        })
        .skip(1);
    for (index, truth) in truths.enumerate() {
        if let Some(used) = run.used_in_the_end.get(index).copied().flatten() {
            sections.in_the_end.push((used.grams - truth, used.interval));
        }
        match run.used.get(index).copied().flatten() {
            Some(used) => {
                sections.error.push(used.grams - truth);
                sections.stated.extend(used.interval);
            }
            None => sections.lost += 1,
        }
    }
    let mut score = Score::default();
    score.sections[course as usize] = sections;
    score
}

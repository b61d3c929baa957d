//! How an estimator did, by the definitions that its figures are quoted with.
//!
//! - *Handling*: place, remove, touch, bump, press. *Latency* runs from hand off to the first steady sample. A flag carried over from
//!   before must drop first.
//! - *Error at the flag*: change shown since the last steady sample before the handling while no hand was there, less the change that a noise-free
//!   cell would show (a number without its sign is one that nobody notes); on an empty pan what is shown, if that is less: a zero set anew is
//!   no error. *Zeroed*: handlings that only this makes right, per 100.
//! - *Steady while handled*: steady episodes later than 0.5 s (0.2 s at 80 samples a second) after contact, per 100 handlings, up to the word
//!   that was under way when the hand left: nothing of its leaving is in that.
//!   *Wrong*: handlings with a steady sample more than 0.1 g off between that word and the next contact, per 100.
//!   *At the tick*: those that are so from the tick on; the others wander off until then. *By noise*: how many of these an [ideal
//!   observer](super::ideal) would be wrong about in the mean that speaks at the same moments, of loads put on or taken off in part.
//! - *During tugs*: pulls with a steady sample while force or tail exceeds 0.1 g, 0.5 s after it began to, per 100.
//! - *Rest*: share of the time later than 5 s after the last disturbance that is shown as steady; *slack*: the same between pulls,
//!   from 2 s after the tail has fallen under 0.1 g.
//! - *Flicker*: changes of the display a minute at rest; *back and forth*: those that return within 60 s; *footsteps*: changes a
//!   minute while a person walks by.
//! - *Missed*: changes of 0.3 g without hand or pull of which less than 0.15 g shows after 3 s, 15 s.
//! - *Eaten*: yarn slowly knitted from the pan that the shown change lacks.
//! - *Bit faults*: spoilt words (any kind but a reset) after which the display differs by 0.2 g or more, within 2.5 s, from what it would
//!   have shown without them; *resets*: the same for a converter that was reset.
//! - *Asked*: questions whether a pan is empty that was, per 100 pans emptied by a hand. Their bound: pans whose zero had risen by more than
//!   what rests weigh, which nobody can tell from a rest.
//! - *Section error*: what the scale says that a section took, less the true use. *At the mark*: the first steady reading after it, from the
//!   mark before as it stands then, amended if the pan has been empty since; *in the end*: after all amendments. The simple estimators
//!   amend nothing: the difference of the first steady readings after two marks.

mod change;
mod handling;
mod quiet;
mod section;

pub use section::SectionScore;

use yarn_scale_core::converter::SampleRate;

use super::contender::Contender;
use super::recording::Recording;
use super::run::{Run, Words};
use super::scenario;
use super::section::{Course, sections};
use crate::world::{NoiseClass, Unit};

/// The counts and samples behind all figures; scores of separate recordings add up.
#[derive(Clone, Debug, Default)]
pub struct Score {
    /// Hand off to the first steady sample, s, with the class of the unit.
    pub latency: Vec<(NoiseClass, f64)>,
    /// Handlings after which no flag came before the next.
    pub never: usize,
    /// Error at the flag, g.
    pub error: Vec<f64>,
    /// Handlings.
    pub handlings: usize,
    /// Steady episodes while handled.
    pub handled: usize,
    /// Handlings with a wrong flag.
    pub wrong: usize,
    /// Of them those that were wrong from the tick on.
    pub wrong_at_tick: usize,
    /// How many of these noise alone would make so for an ideal observer that speaks when this one does.
    pub wrong_by_noise: f64,
    /// Handlings that would be wrong had the zero not been set anew.
    pub zeroed: usize,
    /// Pulls, and those flagged.
    pub pulls: [usize; 2],
    /// Samples at rest, and those steady.
    pub rest: [usize; 2],
    /// Samples of slack, and those steady.
    pub slack: [usize; 2],
    /// Minutes at rest.
    pub rest_minutes: f64,
    /// Display changes at rest, and those that return.
    pub flicker: [usize; 2],
    /// Minutes of footsteps, and display changes in them.
    pub steps: (f64, usize),
    /// Small changes; shown too small after 3 s; after 15 s.
    pub changes: [usize; 3],
    /// Shown less true change, g.
    pub change_error: Vec<f64>,
    /// Yarn drawn, g; each recording's lack, g.
    pub drawn: (f64, Vec<f64>),
    /// Spoilt words, and those that reached the display.
    pub faults: [usize; 2],
    /// Converter resets, and those that reached the display.
    pub resets: [usize; 2],
    /// Pans emptied by a hand, and questions whether they were.
    pub emptied: [usize; 2],
    /// Sections by course.
    pub sections: [SectionScore; 5],
}

impl Score {
    /// Adds another score's counts and samples.
    pub fn add(&mut self, other: Self) {
        self.latency.extend(other.latency);
        self.never += other.never;
        self.error.extend(other.error);
        self.handlings += other.handlings;
        self.handled += other.handled;
        self.wrong += other.wrong;
        self.wrong_at_tick += other.wrong_at_tick;
        self.wrong_by_noise += other.wrong_by_noise;
        self.zeroed += other.zeroed;
        add(&mut self.pulls, other.pulls);
        add(&mut self.rest, other.rest);
        add(&mut self.slack, other.slack);
        self.rest_minutes += other.rest_minutes;
        add(&mut self.flicker, other.flicker);
        self.steps.0 += other.steps.0;
        self.steps.1 += other.steps.1;
        add(&mut self.changes, other.changes);
        self.change_error.extend(other.change_error);
        self.drawn.0 += other.drawn.0;
        self.drawn.1.extend(other.drawn.1);
        add(&mut self.faults, other.faults);
        add(&mut self.resets, other.resets);
        add(&mut self.emptied, other.emptied);
        for (mine, others) in self.sections.iter_mut().zip(other.sections) {
            mine.add(others);
        }
    }
}

/// What is asked of a recording.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Question {
    /// Latency, error, handled, wrong.
    Handling,
    /// Tugs, slack, eaten.
    Knitting,
    /// Rest, flicker.
    Rest,
    /// Footsteps.
    Shaking,
    /// Bit faults.
    Faults,
    /// Missed, bias.
    Changes,
    /// Eaten.
    Drain,
    /// Sections.
    Sections(Course),
}

/// Runs an estimator over a recording and scores what is asked.
#[must_use]
pub fn score(contender: Contender, recording: &Recording, question: Question) -> Score {
    let arrived = Run::of(contender, recording, Words::Arrived);
    if question == Question::Faults {
        change::faults(recording, &arrived, &Run::of(contender, recording, Words::Meant))
    } else {
        question.score(recording, &arrived)
    }
}

impl Question {
    /// Scores a run. Spoilt words take two runs to judge and score nothing here.
    #[must_use]
    pub fn score(self, recording: &Recording, run: &Run) -> Score {
        let mut score = match self {
            Self::Handling => handling::score(recording, run),
            Self::Knitting => {
                let mut score = quiet::knitting(recording, run);
                score.add(change::eaten(recording, run));
                score
            }
            Self::Rest => quiet::rest(recording, run),
            Self::Shaking => quiet::shaking(recording, run),
            Self::Faults => Score::default(),
            Self::Changes => change::changes(recording, run),
            Self::Drain => change::eaten(recording, run),
            Self::Sections(course) => section::score(recording, run, course),
        };
        score.emptied = [recording.emptied(0.0)[0], run.asked];
        score
    }

    /// Makes the recording of this unit that answers it.
    #[must_use]
    pub fn record(self, unit: Unit, rate: SampleRate) -> Recording {
        match self {
            Self::Handling => scenario::handlings(unit, rate),
            Self::Knitting => scenario::knitting(unit, rate),
            Self::Rest => scenario::rest(unit, rate),
            Self::Shaking => scenario::shaking(unit, rate),
            Self::Faults => scenario::faults(unit, rate),
            Self::Changes => scenario::changes(unit, rate),
            Self::Drain => scenario::drain(unit, rate),
            Self::Sections(course) => sections(unit, rate, course),
        }
    }
}

fn add<const N: usize>(mine: &mut [usize; N], others: [usize; N]) {
    for (m, o) in mine.iter_mut().zip(others) {
        *m += o;
    }
}

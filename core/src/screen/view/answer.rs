//! Answers of the forecasts.

use heapless::Vec;

use crate::forecast::{Answer, Choice, KindSet, MOST_CHOICES, Socks, Winding};
use crate::sock::YarnLetter;
use crate::units::Milligrams;
use crate::weighing::Indication;

/// One answer of the forecasts.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AnswerPage {
    /// What was asked.
    pub about: About,
    /// The answer; `None` if nothing is known to answer from.
    pub answer: Option<Answer>,
    /// Sections that would have to change yarn, where that helps.
    pub way_out: Option<KindSet>,
    /// What is left is known: the yarn was weighed in, or lies on the pan. If not, the answer says no more than what it needs.
    pub weighed_in: bool,
    /// It is about parts of what is no sock.
    pub parts: bool,
    /// Which of how many answers this is, from 1; best use, or most urgent, first.
    pub place: (u8, u8),
}

/// What an answer is about.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum About {
    /// Does this yarn do for the rest of the pair?
    RestOf(YarnLetter),
    /// Would what is on the pan do for these sections?
    Leftover {
        /// The sections.
        kinds: KindSet,
        /// On one sock or on both.
        socks: Socks,
    },
}

/// What a leftover would be good for.
#[derive(Clone, Debug, PartialEq)]
pub struct Uses {
    /// Every choice, best use first.
    pub choices: Vec<Choice, MOST_CHOICES>,
    /// The highlighted one.
    pub selected: u8,
}

/// Where to stop winding.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Halve {
    /// The whole cake, once it was taken.
    pub whole: Option<Milligrams>,
    /// What is on the pan now.
    pub shown: Option<Indication>,
    /// What is still to be wound off; negative if too much is.
    pub to_go: Option<Milligrams>,
    /// How the winding stands.
    pub winding: Winding,
    /// The reading can be trusted.
    pub steady: bool,
}

//! Questions.

use heapless::Vec;

use crate::recognise::{Choice, MOST_CHOICES, WhyAsked};
use crate::units::Milligrams;

/// The scale asks which of a few things is meant.
#[derive(Clone, Debug, PartialEq)]
pub struct Question {
    /// Why it asks.
    pub why: WhyAsked,
    /// What is on the pan, if it is about that.
    pub weight: Option<Milligrams>,
    /// What can be meant.
    pub choices: Vec<Choice, MOST_CHOICES>,
    /// The highlighted one.
    pub selected: u8,
}

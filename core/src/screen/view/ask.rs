//! Questions.

use heapless::Vec;

use crate::ledger::{Choice, WhyAsked};
use crate::units::Milligrams;

/// The scale asks which of a few things is meant.
#[derive(Clone, Debug, PartialEq)]
pub struct Question {
    /// Why it asks.
    pub why: WhyAsked,
    /// What is on the pan.
    pub weight: Milligrams,
    /// What can be meant.
    pub choices: Vec<Choice, 6>,
    /// The highlighted one.
    pub selected: u8,
}

//! What a press of MARK can mean, and how likely each meaning is.
//!
//! Each meaning is a hypothesis: its prior (`priors`) times how likely this weight would be if it were so. For a section of a yarn that
//! is the likelihood of the amount ([`Amount`]); for a cake that was not touched, of its last weight; for something unknown, of any weight
//! at all. The scale notes without a word only what is [`NOTED_AT_ODDS`] times as likely as all else together, and asks otherwise.
//!
//! | file | what it holds |
//! |---|---|
//! | `priors` | how often people press for which reason, and why that figure |
//! | `amount` | what a section takes, as a distribution, and from what it is known |
//! | `pair_size` | how large this pair is |
//! | `habits` | how alike this knitter's two socks are |
//! | `meaning` | the meanings |
//! | `situation` | what is known when MARK is pressed: plain data |
//! | `of_book` | the same as the book knows it |
//! | `weigh` | the likelihood of each meaning |
//! | `ask` | the question, where none is likely enough |
//! | `elsewhere` | cakes of the other pairs on the needles |
//! | `late` | earlier visits on which a forgotten mark can have belonged |

mod amount;
mod ask;
mod elsewhere;
mod habits;
mod late;
mod meaning;
mod of_book;
mod pair_size;
mod priors;
mod situation;
mod weigh;

pub use amount::{Amount, Source};
pub(crate) use ask::MOST_CHOICES;
pub use ask::{Choice, WhyAsked, ask};
pub use elsewhere::{Elsewhere, proposed};
pub use habits::Habits;
pub use late::{Late, late_marks};
pub use meaning::{Considered, Meaning};
pub use of_book::{OnPan, at_most};
pub use pair_size::PairSize;
pub use situation::{BowlOn, Cake, MOST_BOWLS, Next, Situation};
pub use weigh::{MEANINGS, consider};

/// A section is noted without a word if it is so many times likelier than all other meanings together. The curve on which the figure was
/// chosen is printed by `yarn-scale-lab slips`.
pub const NOTED_AT_ODDS: f32 = 30.0;

impl Considered {
    /// Whether it is so many times likelier than all other meanings together.
    fn is_certain(&self) -> bool {
        self.share >= NOTED_AT_ODDS * (1.0 - self.share)
    }
}

impl Situation {
    /// What may be noted without a word: the section that comes next, or the planned yarn's first weight, if it is likely enough.
    #[must_use]
    pub fn certain(&self, considered: &[Considered]) -> Option<Meaning> {
        let likeliest = considered.first()?;
        let wanted = if let Meaning::Section { yarn, line, .. } = likeliest.meaning {
            let next = self.planned()?.next.first()?;
            yarn == self.planned && line == next.line
        } else {
            likeliest.meaning == Meaning::FirstWeight(self.planned)
        };
        (wanted && likeliest.is_certain()).then_some(likeliest.meaning)
    }
}

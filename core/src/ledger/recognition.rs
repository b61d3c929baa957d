//! Which yarn is on the pan, by its weight.
//!
//! The section's own yarn weighs at most what it last weighed, and about what is expected after the section; any other
//! yarn weighs what it last weighed. One candidate is taken, two are asked about, none is explained.

use heapless::Vec;

use super::Ledger;
use crate::measured::Measured;
use crate::sock::{BowlNumber, SectionKind, YarnLetter};
use crate::units::Milligrams;

/// What a press of MARK means.
#[derive(Clone, Debug, PartialEq)]
pub enum Finding {
    /// The planned yarn's first weight.
    WeighIn(YarnLetter),
    /// A section of the planned yarn; what it took.
    Section(YarnLetter, Milligrams),
    /// Not clear: ask.
    Ask(WhyAsked, Vec<Choice, 6>),
}

/// Why the scale asks.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum WhyAsked {
    /// More than one yarn can weigh this.
    Ambiguous,
    /// Heavier than the yarn last weighed: another cake, another bowl, damp?
    Heavier {
        /// The section's yarn.
        yarn: YarnLetter,
        /// By how much.
        by: Milligrams,
    },
    /// Much lighter than expected: a forgotten press, or another cake?
    Lighter {
        /// The section's yarn.
        yarn: YarnLetter,
        /// By how much in all.
        by: Milligrams,
    },
    /// The same as at the last mark: pressed twice?
    Unchanged {
        /// The section's yarn.
        yarn: YarnLetter,
    },
    /// The pan is empty: is the yarn used up?
    UsedUp {
        /// The section's yarn.
        yarn: YarnLetter,
    },
    /// It weighs what another yarn last weighed.
    OtherYarn {
        /// The section's yarn.
        planned: YarnLetter,
        /// The yarn it looks like.
        found: YarnLetter,
    },
}

/// What can be meant.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Choice {
    /// The planned section took it, from this yarn.
    Section {
        /// The yarn.
        yarn: YarnLetter,
        /// What it would have taken.
        used: Milligrams,
    },
    /// The planned section took it, and it stands in another bowl, or in none.
    OtherBowl {
        /// The bowl.
        bowl: Option<BowlNumber>,
        /// The yarn.
        yarn: YarnLetter,
        /// What it would have taken.
        used: Milligrams,
    },
    /// A yarn that is weighed in now.
    WeighIn(YarnLetter),
    /// Start from here: nobody's section.
    StartFromHere(YarnLetter),
    /// Forget the press.
    NotNow,
}

/// Decides what a net weight on the pan means for the section at `line`, of which about `expected` is likely.
///
/// `None` if the plan has no such line.
#[must_use]
pub fn recognise(ledger: &Ledger, line: u8, net: Measured, expected: Option<Milligrams>) -> Option<Finding> {
    let section = ledger.plan().line(line)?;
    let planned = section.yarn;
    let twin = YarnLetter::ALL
        .into_iter()
        .find(|&other| other != planned && weighs_the_same(ledger, other, net));
    let Some(last) = ledger.last(planned) else {
        let Some(found) = twin else {
            return Some(Finding::WeighIn(planned));
        };
        let mut choices = Vec::new();
        // Six places hold the longest list below; a refused push cannot happen.
        let _ = choices.push(Choice::NotNow);
        let _ = choices.push(Choice::WeighIn(planned));
        return Some(Finding::Ask(WhyAsked::OtherYarn { planned, found }, choices));
    };
    let went = last.weight.net.minus(net);
    let tolerance = tolerance(last.weight.net, net);
    let band = Band::about(section.kind, expected);
    let why = if went.value < -tolerance {
        match twin {
            Some(found) => WhyAsked::OtherYarn { planned, found },
            None => WhyAsked::Heavier {
                yarn: planned,
                by: -went.value,
            },
        }
    } else if went.value < unchanged_below(went.u) {
        WhyAsked::Unchanged { yarn: planned }
    } else if twin.is_some() {
        WhyAsked::Ambiguous
    } else if went.value > band.most {
        WhyAsked::Lighter {
            yarn: planned,
            by: went.value,
        }
    } else if !band.is_likely(went.value) && likelier(ledger, planned, net, band).is_some() {
        WhyAsked::Ambiguous
    } else {
        return Some(Finding::Section(planned, went.value));
    };
    Some(Finding::Ask(why, choices(ledger, planned, net, band, why)))
}

/// What can be meant, the likeliest first.
fn choices(ledger: &Ledger, planned: YarnLetter, net: Measured, band: Band, why: WhyAsked) -> Vec<Choice, 6> {
    let mut choices = Vec::new();
    let own = ledger.last(planned).map(|last| last.weight.net.value - net.value);
    let section = own
        .filter(|used| used.0 > 0)
        .map(|used| Choice::Section { yarn: planned, used });
    let other = likelier(ledger, planned, net, band).map(|(yarn, used)| Choice::Section { yarn, used });
    let fresh = unweighed(ledger).map(Choice::WeighIn);
    let from_here = Some(Choice::StartFromHere(planned));
    let not_now = Some(Choice::NotNow);
    let in_order = match why {
        WhyAsked::Ambiguous => [section, other, not_now, fresh, from_here],
        WhyAsked::Lighter { .. } => [other, section, from_here, fresh, not_now],
        WhyAsked::Heavier { .. } => [from_here, other, fresh, not_now, None],
        WhyAsked::Unchanged { .. } => [not_now, section, other, fresh, None],
        WhyAsked::OtherYarn { .. } | WhyAsked::UsedUp { .. } => [not_now, other, fresh, from_here, None],
    };
    for choice in in_order.into_iter().flatten() {
        // Five fit into six places.
        let _ = choices.push(choice);
    }
    choices
}

/// Another yarn for which this weight would be a likely section.
fn likelier(ledger: &Ledger, planned: YarnLetter, net: Measured, band: Band) -> Option<(YarnLetter, Milligrams)> {
    let others = YarnLetter::ALL.into_iter().filter(|&other| other != planned);
    let mut used = others.filter_map(|other| Some((other, ledger.last(other)?.weight.net.value - net.value)));
    used.find(|&(_, used)| band.is_likely(used))
}

/// The first yarn of the plan that was not weighed in.
fn unweighed(ledger: &Ledger) -> Option<YarnLetter> {
    let planned = |yarn: &YarnLetter| ledger.plan().lines.iter().any(|line| line.yarn == *yarn);
    YarnLetter::ALL
        .into_iter()
        .find(|yarn| planned(yarn) && ledger.last(*yarn).is_none())
}

fn weighs_the_same(ledger: &Ledger, yarn: YarnLetter, net: Measured) -> bool {
    let Some(last) = ledger.last(yarn) else { return false };
    let difference = last.weight.net.minus(net);
    difference.value.abs() <= tolerance(last.weight.net, net)
}

/// How far two weights of an untouched cake can lie apart: three standard uncertainties, and half a percent of moisture
/// gained or lost since (three percent of relative humidity, see the moisture model).
fn tolerance(last: Measured, now: Measured) -> Milligrams {
    let doubt = last.minus(now).u * 3.0;
    let moisture = last.value.abs().0 / 200;
    Milligrams(doubt as i32) + Milligrams(moisture) + LEAST_TOLERANCE
}

/// Below this the yarn has not been knitted from: a second press, not a section.
fn unchanged_below(u: f32) -> Milligrams {
    Milligrams((3.0 * u) as i32).max(LEAST_TOLERANCE)
}

/// What a section can take.
#[derive(Clone, Copy, Debug)]
struct Band {
    likely_from: Milligrams,
    likely_to: Milligrams,
    most: Milligrams,
}

impl Band {
    fn about(kind: SectionKind, expected: Option<Milligrams>) -> Self {
        match expected.filter(|expected| expected.0 > 0) {
            // The same section of the other sock, or an estimate of it: a factor of two either way is likely.
            Some(Milligrams(mg)) => Self {
                likely_from: Milligrams(mg / 2),
                likely_to: Milligrams(mg.saturating_mul(2)),
                most: Milligrams(mg.saturating_mul(2)) + Milligrams::from_grams(1),
            },
            None => {
                let Milligrams(mg) = usual(kind);
                Self {
                    likely_from: Milligrams(mg / 3),
                    likely_to: Milligrams(mg.saturating_mul(2)),
                    most: Milligrams(mg.saturating_mul(4)),
                }
            }
        }
    }

    fn is_likely(self, used: Milligrams) -> bool {
        (self.likely_from..=self.likely_to).contains(&used)
    }
}

/// What a section of an adult's sock in four-ply yarn takes, roughly: enough to tell a cake of 100 g from one of 20 g.
/// Common practice, no source.
const fn usual(kind: SectionKind) -> Milligrams {
    Milligrams::from_grams(match kind {
        SectionKind::Cuff | SectionKind::Toe => 5,
        SectionKind::Leg | SectionKind::Foot => 15,
        SectionKind::Heel => 7,
        SectionKind::Gusset => 4,
    })
}

/// One division.
const LEAST_TOLERANCE: Milligrams = Milligrams(100);

//! The question that is asked when no meaning is likely enough: what is odd, and what can be answered.

use heapless::Vec;

use super::late::Late;
use super::{Amount, Considered, Meaning, Situation, Source};
use crate::journal::Sequence;
use crate::measured::Measured;
use crate::sock::{BowlNumber, Line, Plan, YarnLetter};
use crate::units::Milligrams;

/// Why the scale asks.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum WhyAsked {
    /// The section would have taken an odd amount.
    Amount {
        /// The section.
        section: Line,
        /// What it would have taken.
        used: Milligrams,
        /// What it should have taken.
        expected: Milligrams,
        /// By what that is known.
        source: Source,
    },
    /// Heavier than the yarn last weighed: another cake, another bowl, damp?
    Heavier {
        /// The section's yarn.
        yarn: YarnLetter,
        /// By how much.
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
    /// It weighs what another yarn last weighed, or would after its next section.
    OtherYarn {
        /// The section's yarn.
        planned: YarnLetter,
        /// The yarn it looks like.
        found: YarnLetter,
    },
    /// It weighs what a yarn of another pair on the needles does.
    OtherPair {
        /// The pair.
        pair: u16,
        /// Its letter there.
        yarn: YarnLetter,
    },
    /// It weighs what two cakes do together.
    TwoCakes,
    /// It weighs less than the bowl that is set, which no yarn does.
    BowlMissing,
    /// Two marks were taken back in a row, and another is to follow.
    TakeBackMore {
        /// How many were.
        count: u8,
    },
}

/// What can be answered.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Choice {
    /// Forget the press.
    NotNow,
    /// A section is finished.
    Section {
        /// Its place in the plan.
        line: u8,
        /// The section.
        section: Line,
        /// Its yarn.
        yarn: YarnLetter,
        /// What it would have taken.
        used: Milligrams,
    },
    /// The planned section is finished, and it stands in another bowl, or in none.
    OtherBowl {
        /// The bowl.
        bowl: Option<BowlNumber>,
        /// The yarn.
        yarn: YarnLetter,
        /// What it would have taken.
        used: Milligrams,
    },
    /// Two sections are finished: the mark of the first was forgotten, and the pan has seen where it belonged.
    Both(Late),
    /// A yarn that is weighed in now.
    WeighIn(YarnLetter),
    /// Go on with another pair.
    OtherPair(u16),
    /// A yarn of another pair goes on in this one.
    GoesOn {
        /// The other pair.
        from: u16,
        /// Its letter there.
        was: YarnLetter,
        /// Its letter here.
        yarn: YarnLetter,
    },
    /// Nothing of this yarn was used.
    NothingUsed(YarnLetter),
    /// Start from here: what is missing belongs to no section.
    StartFromHere {
        /// The yarn.
        yarn: YarnLetter,
        /// What would go to no section; less than nothing if yarn was put back.
        unplanned: Milligrams,
    },
    /// Take one more mark back.
    TakeBack {
        /// The record.
        of: Sequence,
        /// The section that it closed, if it closed one.
        section: Option<Line>,
        /// What that took.
        used: Option<Milligrams>,
    },
}

/// Most choices of a question.
pub(crate) const MOST_CHOICES: usize = 6;

/// Why the press is asked about and what can be answered: first always "not now", the likeliest second. Of less than nothing nothing is noted.
#[must_use]
pub fn ask(situation: &Situation, considered: &[Considered], plan: &Plan) -> (WhyAsked, Vec<Choice, MOST_CHOICES>) {
    let mut choices = Choices(Vec::new());
    choices.add(Choice::NotNow);
    let nothing = is_less_than_nothing(situation.net);
    let offered = considered
        .iter()
        .take_while(|considered| considered.share >= WORTH_OFFERING);
    let possible = |meaning: &Meaning| !nothing || matches!(meaning, Meaning::OtherBowl { .. });
    for meaning in offered.map(|considered| considered.meaning).filter(possible) {
        match meaning {
            // Where it belonged is better than both in one; where that is unknown, what both took belongs to no section.
            Meaning::Forgotten { seen, yarn, .. } => match situation.late.filter(|_| seen) {
                Some(late) => choices.add(Choice::Both(late)),
                None => choices.add_from_here(situation, yarn),
            },
            Meaning::Section { yarn, line, .. } => choices.add_section(situation, plan, yarn, Some(line)),
            Meaning::OtherBowl { bowl, yarn, used, .. } => choices.add(Choice::OtherBowl { bowl, yarn, used }),
            Meaning::FirstWeight(yarn) => choices.add(Choice::WeighIn(yarn)),
            Meaning::Untouched(yarn) => choices.add(Choice::NothingUsed(yarn)),
            Meaning::RippedBack(yarn) => choices.add_from_here(situation, yarn),
            Meaning::UnknownCake => {
                if let Some(&fresh) = situation.fresh.first() {
                    choices.add(Choice::WeighIn(fresh));
                }
            }
            Meaning::OtherPair { pair, .. } => choices.add(Choice::OtherPair(pair)),
            Meaning::GoesOn { pair: from, yarn: was } => {
                let yarn = situation.planned;
                choices.add(Choice::GoesOn { from, was, yarn });
            }
            // Nothing was noted of either; what there is too much is the other cake, and no yarn that was put back.
            Meaning::TwoCakes => choices.add(Choice::NothingUsed(situation.planned)),
            // Nothing can be noted of these: put right what lies on the pan, and press again.
            Meaning::UnknownBowl | Meaning::Early | Meaning::Disturbed | Meaning::Damp | Meaning::Anything => {}
        }
    }
    if nothing {
        return (WhyAsked::BowlMissing, choices.0);
    }
    // Always possible, however unlikely.
    choices.add_section(situation, plan, situation.planned, None);
    choices.add_from_here(situation, situation.planned);
    if situation.planned().is_none() {
        choices.add(Choice::WeighIn(situation.planned));
    }
    (why(situation, considered, plan), choices.0)
}

fn why(situation: &Situation, considered: &[Considered], plan: &Plan) -> WhyAsked {
    let planned = situation.planned;
    let likeliest = considered.first().map(|considered| considered.meaning);
    if let Some(another) = likeliest.and_then(|likeliest| looks_like(likeliest, planned)) {
        return another;
    }
    match likeliest {
        Some(Meaning::TwoCakes) => return WhyAsked::TwoCakes,
        Some(Meaning::Untouched(yarn)) => return WhyAsked::Unchanged { yarn },
        _ => {}
    }
    let expects = situation.planned().and_then(|cake| Some((cake, cake.next.first()?)));
    let Some((cake, next)) = expects else {
        // Only a cake that looks like another one is asked about at its first weight.
        let mut known = considered.iter();
        let another = known.find_map(|considered| looks_like(considered.meaning, planned));
        return another.unwrap_or(WhyAsked::OtherYarn {
            planned,
            found: planned,
        });
    };
    let used = cake.used;
    match plan.line(next.line) {
        Some(section) if used.value.0 > 0 => amount(section, used, next.amount),
        _ => WhyAsked::Heavier {
            yarn: planned,
            by: -used.value,
        },
    }
}

const fn amount(section: Line, used: Measured, expected: Amount) -> WhyAsked {
    WhyAsked::Amount {
        section,
        used: used.value,
        expected: Milligrams::whole(expected.expected),
        source: expected.source,
    }
}

/// Which known cake, other than the planned one, it means.
fn looks_like(meaning: Meaning, planned: YarnLetter) -> Option<WhyAsked> {
    if let Meaning::Untouched(found) | Meaning::RippedBack(found) | Meaning::Section { yarn: found, .. } = meaning {
        (found != planned).then_some(WhyAsked::OtherYarn { planned, found })
    } else if let Meaning::OtherPair { pair, yarn } | Meaning::GoesOn { pair, yarn } = meaning {
        Some(WhyAsked::OtherPair { pair, yarn })
    } else {
        None
    }
}

struct Choices(Vec<Choice, MOST_CHOICES>);

impl Choices {
    /// Adds what is not there yet; the last ones find no room.
    fn add(&mut self, choice: Choice) {
        if !self.0.contains(&choice) {
            // The likeliest were added before.
            let _ = self.0.push(choice);
        }
    }

    /// The section at `line` is finished, without one the yarn's next.
    fn add_section(&mut self, situation: &Situation, plan: &Plan, yarn: YarnLetter, line: Option<u8>) {
        let cake = situation.cakes.iter().find(|cake| cake.yarn == yarn);
        let next = cake.and_then(|cake| Some((cake, line.or(cake.next.first().map(|next| next.line))?)));
        let Some((cake, line)) = next else {
            return;
        };
        let used = cake.used.value;
        if let Some(section) = plan.line(line)
            && used.0 > 0
        {
            self.add(Choice::Section {
                line,
                section,
                yarn,
                used,
            });
        }
    }

    fn add_from_here(&mut self, situation: &Situation, yarn: YarnLetter) {
        if let Some(cake) = situation.cakes.iter().find(|cake| cake.yarn == yarn) {
            let unplanned = cake.used.value;
            // What is shown as 0.0 g is "nothing used", and offered as that.
            if unplanned.0.unsigned_abs() >= SHOWN {
                self.add(Choice::StartFromHere { yarn, unplanned });
            }
        }
    }
}

/// Whether no yarn can weigh that, beyond three standard uncertainties.
fn is_less_than_nothing(net: Measured) -> bool {
    (net.value.0 as f32) < -3.0 * net.u.max(SHOWN as f32)
}

/// From here on an amount is shown as more than 0.0 g, mg.
const SHOWN: u32 = 50;
/// What is less likely is not offered for its own sake.
const WORTH_OFFERING: f32 = 1e-4;

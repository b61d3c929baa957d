//! A pair as tables and pages tell it.

use heapless::{String, Vec};

use crate::ledger::{Account, Ledger, MAX_STEPS, Purpose};
use crate::measured::Measured;
use crate::sock::{Line, MAX_LINES, SectionUse, YARNS, YarnLetter};
use crate::units::Stamp;

/// A name that a computer gave.
pub type Name = String<24>;

/// A pair.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Pair {
    /// Its number.
    pub number: u16,
    /// Its name, if it was given one.
    pub name: Option<Name>,
    /// Its marked sections, in plan order.
    pub sections: Vec<Section, MAX_LINES>,
    /// Its yarns; none for a pair of which only the sections are left.
    pub yarns: Vec<Yarn, YARNS>,
    /// Every weight of its yarns: for each yarn in order.
    pub weights: Vec<Weighing, MAX_STEPS>,
}

/// A marked section.
#[derive(Clone, Debug, PartialEq)]
pub struct Section {
    /// Its place in the plan, from 1; of a condensed pair the place among its marked sections.
    pub place: u8,
    /// Its line of the plan.
    pub line: Line,
    /// What it took.
    pub used: Measured,
    /// When it was marked; not known of a condensed pair.
    pub at: Option<Stamp>,
    /// The mark was corrected by the empty pan.
    pub amended: bool,
    /// The mark was set afterwards.
    pub late: bool,
    /// A record beside it is damaged.
    pub doubtful: bool,
}

/// A yarn of a pair.
#[derive(Clone, Debug, PartialEq)]
pub struct Yarn {
    /// Its letter.
    pub letter: YarnLetter,
    /// Its name, if it was given one.
    pub name: Option<Name>,
    /// Metres of 100 g; 0 where it is not known.
    pub metres_per_100_g: u16,
    /// Weighed in, used, unplanned, left.
    pub account: Account,
    /// What is left of it: what it last weighed, or nothing if it goes on in another pair.
    pub left: Measured,
    /// The other pair in which it goes on.
    pub goes_on: Option<u16>,
    /// A record beside its last weight is damaged.
    pub doubtful: bool,
}

/// A weight of a yarn.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Weighing {
    /// Which yarn.
    pub yarn: YarnLetter,
    /// When.
    pub at: Stamp,
    /// What it weighed.
    pub mass: Measured,
}

impl Pair {
    /// The pair of a ledger, without names.
    #[must_use]
    pub fn of(ledger: &Ledger) -> Self {
        let lines = ledger.plan().lines.iter().zip(0..u8::MAX);
        let yarns = YarnLetter::ALL.into_iter().filter_map(|letter| {
            let last = ledger.steps().iter().rev().find(|step| step.yarn == letter)?;
            let goes_on = match last.purpose {
                Purpose::Carried(pair) => Some(pair),
                Purpose::WeighIn | Purpose::Section(_) | Purpose::Unplanned => None,
            };
            Some(Yarn {
                letter,
                name: None,
                metres_per_100_g: ledger.label(letter).metres_per_100_g,
                account: ledger.account(letter),
                left: goes_on.map_or(last.weight.net, |_| Measured::default()),
                goes_on,
                doubtful: last.doubtful,
            })
        });
        let weights = ledger.steps().iter().map(|step| Weighing {
            yarn: step.yarn,
            at: step.at,
            mass: step.weight.net,
        });
        Self {
            number: ledger.pair(),
            name: None,
            sections: lines
                .filter_map(|(&line, place)| section(ledger, line, place))
                .collect(),
            yarns: yarns.collect(),
            weights: weights.collect(),
        }
    }

    /// A closed pair of which only this is left.
    #[must_use]
    pub fn condensed(number: u16, sections: &[SectionUse]) -> Self {
        let mut pair = Self {
            number,
            ..Self::default()
        };
        for (place, section) in (1..u8::MAX).zip(sections).take(MAX_LINES) {
            // There is room for each line of a plan.
            let _ = pair.sections.push(Section {
                place,
                line: section.line,
                used: section.used,
                at: None,
                amended: false,
                late: false,
                doubtful: section.doubtful,
            });
        }
        pair
    }

    /// The weights of one yarn, in order.
    pub fn weights_of(&self, yarn: YarnLetter) -> impl Iterator<Item = &Weighing> {
        self.weights.iter().filter(move |weight| weight.yarn == yarn)
    }
}

fn section(ledger: &Ledger, line: Line, place: u8) -> Option<Section> {
    let used = ledger.used(place)?;
    let marks = || {
        let steps = ledger.steps().iter();
        steps.filter(|step| step.purpose == Purpose::Section(place))
    };
    Some(Section {
        place: place.saturating_add(1),
        line,
        used,
        at: marks().next_back().map(|step| step.at),
        amended: marks().any(|step| step.amended),
        late: marks().any(|step| step.late),
        doubtful: marks().any(|step| step.doubtful),
    })
}

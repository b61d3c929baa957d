//! What came of the stories of one slip.

use std::fmt;

use yarn_scale_core::book::Book;
use yarn_scale_core::journal::PairEvent;
use yarn_scale_core::measured::Measured;
use yarn_scale_core::recognise::{Choice, Meaning, OnPan, Situation, consider};
use yarn_scale_core::units::{Milligrams, Stamp};

use super::ideal;
use super::scale::{Reaction, entries, press};
use super::slip::Slip;
use super::story::{Known, SCALE_U, Story};
use crate::world::Stream;

/// Odds of which the curve is made.
pub const ODDS: [f64; 5] = [3.0, 10.0, 30.0, 100.0, 300.0];

/// The place of thirty to one among them.
const AT_THIRTY: usize = 2;

/// What came of the stories of one slip.
#[derive(Clone, Debug)]
pub struct Tally {
    /// Which.
    pub slip: Slip,
    stories: u32,
    /// Noted without a word although it was not so.
    silent: u32,
    asked: u32,
    harm: u32,
    offered: u32,
    /// The right answer stands second or third; of those where it is "not now", first.
    near: u32,
    subtracted: u32,
    /// The cake proposed a pair before the press: its own, and another one.
    proposed: [u32; 2],
    /// For each story: the knitter, the odds by the device's reckoning, and the ideal observer's.
    odds: Vec<(usize, [f64; 2])>,
    /// The device asked about it.
    asked_stories: Vec<bool>,
    /// What the ideal observer suspects where it asks.
    suspects: Vec<Slip>,
}

impl Tally {
    /// Plays so many stories.
    #[must_use]
    pub fn of(known: Known, slip: Slip, seed: u64, stories: u64) -> Self {
        let mut tally = Self {
            slip,
            stories: 0,
            silent: 0,
            asked: 0,
            harm: 0,
            offered: 0,
            near: 0,
            subtracted: 0,
            proposed: [0; 2],
            odds: Vec::new(),
            asked_stories: Vec::new(),
            suspects: Vec::new(),
        };
        // Some plans and slips do not go together.
        for number in 0..40 * stories {
            if u64::from(tally.stories) == stories {
                break;
            }
            if let Some(story) = Story::tell(known, slip, seed, number) {
                tally.add(&story, &press(&story, Stream::new(!seed, number)));
            }
        }
        tally
    }

    fn add(&mut self, story: &Story, reaction: &Reaction) {
        self.stories += 1;
        if let Some(event) = &reaction.noted {
            self.silent += u32::from(!is_right(story, event));
        }
        self.asked_stories.push(reaction.noted.is_none());
        if let Some(choices) = &reaction.asked {
            self.asked += 1;
            self.harm += u32::from(reaction.harm || choices.first() != Some(&Choice::NotNow));
            let place = choices
                .iter()
                .position(|choice| self.slip.is_answered_by(choice, story));
            self.offered += u32::from(place.is_some());
            self.near += u32::from(place.is_some_and(|place| place <= 2));
        }
        if let Some(pair) = reaction.proposed {
            self.proposed[usize::from(story.meant != Some(pair))] += 1;
        }
        let tare = story.bowls.map_or(0.0, |[set, _]| set);
        // Subtraction books whatever is lighter than it was.
        let lighter = story.planned().last > story.gross - tare;
        self.subtracted += u32::from(lighter && self.slip != Slip::Right);
        let ideal = ideal::odds(story);
        if ideal < ODDS[AT_THIRTY] {
            self.suspects.push(ideal::suspect(story));
        }
        self.odds.push((story.knitter, [reckoned(story), ideal]));
    }

    /// Noted without a word although it was not so, percent; of right presses, asked about.
    #[must_use]
    pub fn wrong(&self) -> f64 {
        if self.slip == Slip::Right {
            percent(self.asked as usize, self.stories as usize)
        } else {
            percent(self.silent as usize, self.stories as usize)
        }
    }

    /// The same by the ideal observer, at thirty to one.
    #[must_use]
    pub fn ideal(&self) -> f64 {
        let place = if self.slip == Slip::Right {
            self.asked_at(AT_THIRTY, None)
        } else {
            self.silent_at(AT_THIRTY)
        };
        place[1]
    }

    /// What the ideal observer suspects where it asks, the commonest first, percent of its questions.
    #[must_use]
    pub fn suspects(&self) -> Vec<(Slip, f64)> {
        let of = |slip: Slip| self.suspects.iter().filter(|&&suspect| suspect == slip).count();
        let mut all: Vec<(Slip, f64)> = ideal::thought_of()
            .map(|slip| (slip, percent(of(slip), self.suspects.len())))
            .filter(|(_, share)| *share > 0.0)
            .collect();
        all.sort_by(|(_, one), (_, two)| two.total_cmp(one));
        all
    }

    /// Questions on which one more press of MARK did harm.
    #[must_use]
    pub const fn harm(&self) -> u32 {
        self.harm
    }

    /// Of the questions, percent that offered what was right, and percent that did so by the third choice.
    #[must_use]
    pub fn offered(&self) -> [f64; 2] {
        [self.offered, self.near].map(|count| percent(count as usize, self.asked as usize))
    }

    /// The cake proposed its own pair before the press, and one that it is not of, percent.
    #[must_use]
    pub fn proposed(&self) -> [f64; 2] {
        self.proposed
            .map(|count| percent(count as usize, self.stories as usize))
    }

    /// Of one kind of knitter: asked about, by the device and by the ideal observer at thirty to one, percent.
    #[must_use]
    pub fn asked_of(&self, knitter: usize) -> (f64, f64) {
        let of = |&(_, (who, _)): &(usize, &(usize, [f64; 2]))| *who == knitter;
        let mine = || self.odds.iter().enumerate().filter(of);
        let count = mine().count();
        let asked = mine().filter(|&(place, _)| self.asked_stories[place]).count();
        let ideal = mine().filter(|(_, (_, [_, ideal]))| *ideal < 30.0).count();
        (percent(asked, count), percent(ideal, count))
    }

    /// Asked about at the odds of [`ODDS`], device and ideal observer, percent.
    #[must_use]
    pub fn asked_at(&self, place: usize, knitter: Option<usize>) -> [f64; 2] {
        let mine = || {
            self.odds
                .iter()
                .filter(|(who, _)| knitter.is_none_or(|knitter| knitter == *who))
        };
        [0, 1].map(|observer| {
            let asked = mine().filter(|(_, odds)| odds[observer] < ODDS[place]).count();
            percent(asked, mine().count())
        })
    }

    /// Noted in silence at the odds of [`ODDS`], device and ideal observer, percent.
    #[must_use]
    pub fn silent_at(&self, place: usize) -> [f64; 2] {
        self.asked_at(place, None).map(|asked| 100.0 - asked)
    }
}

impl fmt::Display for Tally {
    fn fmt(&self, to: &mut fmt::Formatter<'_>) -> fmt::Result {
        let share = |count: u32| percent(count as usize, self.stories as usize);
        let of_asked = |count: u32| percent(count as usize, self.asked as usize);
        let (silent, ideal) = (self.wrong(), self.ideal());
        write!(
            to,
            "{:<28} {silent:>5.1} % {ideal:>5.1} % {:>5.1} %   {:>4.1} %   {:>5.1} % {:>5.1} %   {:>8}",
            self.slip.words(),
            share(self.subtracted),
            of_asked(self.harm),
            of_asked(self.near),
            of_asked(self.offered),
            self.stories
        )
    }
}

fn is_right(story: &Story, event: &PairEvent) -> bool {
    match event {
        PairEvent::Mark { line, .. } => story.truth == Some(usize::from(*line)) && story.slip == Slip::Right,
        _ => false,
    }
}

/// The odds by which core decides, from the same records and the weight as it is in truth.
fn reckoned(story: &Story) -> f64 {
    let mut book = Book::new(Milligrams::from_grams(500));
    let mut at = Stamp(0);
    for entry in entries(story) {
        at = entry.at;
        book.apply(&entry);
    }
    book.settle();
    let gross = Measured {
        value: Milligrams((story.gross * 1_000.0).round() as i32),
        u: SCALE_U as f32 * 1_000.0,
    };
    let on_pan = OnPan {
        gross,
        at,
        humidity: None,
        apart: None,
    };
    let Some(situation) = Situation::of(&book, story.cursor as u8, &on_pan) else {
        return 0.0;
    };
    let considered = consider(&situation);
    let next = considered.iter().find(
        |considered| matches!(considered.meaning, Meaning::Section { line, .. } if usize::from(line) == story.cursor),
    );
    let share = next.map_or(0.0, |next| f64::from(next.share));
    share / (1.0 - share).max(1e-9)
}

fn percent(count: usize, of: usize) -> f64 {
    100.0 * count as f64 / of.max(1) as f64
}

//! How often each rule's "enough" is wrong, by number of past pairs: many knitters, the same draw for all rules.

use rand::SeedableRng;
use rand_pcg::Pcg64Mcg;
use yarn_scale_core::forecast::{Reserve, Rule, Socks, Wanted, answer};
use yarn_scale_core::measured::Measured;
use yarn_scale_core::sock::{History, PairRecord};
use yarn_scale_core::units::Milligrams;

use super::hand::{CONTRAST, Deviations, Knitter, Pair, SIZE};

/// Numbers of past pairs that are looked at.
pub const PAIRS: [usize; 12] = [0, 1, 2, 3, 4, 5, 6, 8, 10, 12, 16, 24];

/// What is asked of the leftover.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Question {
    /// Both toes.
    BothToes,
    /// One toe.
    OneToe,
    /// Cuffs, heels and toes of both socks.
    Everything,
    /// Heel and toe of sock 2, sock 1 being knitted.
    SecondSock,
}

/// How often a rule is wrong and what it asks for.
#[derive(Clone, Copy, Debug, Default)]
pub struct Tally {
    /// Answers.
    pub asked: u32,
    /// "Enough" that was not, for a leftover that just passes.
    pub wrong: u32,
    /// Sum of the reserves as shares of what was knitted.
    reserves: f64,
}

/// The rules that are compared.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Method {
    /// The scale's.
    Interval,
    /// A quarter over the mean.
    Quarter,
    /// The mean of one sock, twice; of one section, once.
    MeanTwice,
}

/// One line of the table: the rules side by side for a number of past pairs.
#[derive(Clone, Copy, Debug)]
pub struct Line {
    /// The question.
    pub question: Question,
    /// How many past pairs the knitter has on record.
    pub pairs: usize,
    /// By [`Method::ALL`].
    pub tallies: [Tally; 3],
}

impl Method {
    /// In the order of the table.
    pub const ALL: [Self; 3] = [Self::Interval, Self::Quarter, Self::MeanTwice];
}

impl Question {
    /// In the order of the table.
    pub const ALL: [Self; 4] = [Self::BothToes, Self::OneToe, Self::Everything, Self::SecondSock];

    /// In words.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::BothToes => "both toes",
            Self::OneToe => "one toe",
            Self::Everything => "cuffs, heels, toes of both socks",
            Self::SecondSock => "heel and toe of sock 2, sock 1 knitted",
        }
    }

    /// Places in [`CONTRAST`] of the sections it is about, and on how many socks.
    const fn sections(self) -> (&'static [usize], Socks) {
        match self {
            Self::BothToes => (&[2], Socks::Both),
            Self::OneToe => (&[2], Socks::One),
            Self::Everything => (&[0, 1, 2], Socks::Both),
            Self::SecondSock => (&[1, 2], Socks::One),
        }
    }

    /// What they really take in a pair, mg.
    fn truth(self, pair: &Pair) -> f64 {
        let (sections, socks) = self.sections();
        let of = |&place: &usize| match socks {
            Socks::Both => pair[place][0] + pair[place][1],
            Socks::One => pair[place][1],
        };
        sections.iter().map(of).sum()
    }
}

impl Tally {
    /// Share of wrong answers, percent.
    #[must_use]
    pub fn wrong_percent(&self) -> f64 {
        100.0 * f64::from(self.wrong) / f64::from(self.asked.max(1))
    }

    /// Mean reserve, percent of what was knitted.
    #[must_use]
    pub fn reserve_percent(&self) -> f64 {
        100.0 * self.reserves / f64::from(self.asked.max(1))
    }

    fn add(&mut self, need: f64, ends: f64, truth: f64, left_error: f64) {
        self.asked += 1;
        // The leftover that reads just what is needed in truth holds that less the error of its reading.
        if truth + ends > need - left_error {
            self.wrong += 1;
        }
        self.reserves += (need - ends) / truth - 1.0;
    }
}

/// Lets so many knitters ask all questions.
#[must_use]
pub fn measure(knitters: u32, seed: u64, deviations: Deviations, rule: Rule) -> Vec<Line> {
    let line = |pairs, question| Line {
        question,
        pairs,
        tallies: Default::default(),
    };
    let mut lines: Vec<Line> = PAIRS
        .iter()
        .flat_map(|&pairs| Question::ALL.map(|question| line(pairs, question)))
        .collect();
    for number in 0..knitters {
        let mut random = Pcg64Mcg::seed_from_u64(seed ^ u64::from(number) << 24);
        let asker = Asker::draw(&mut random, deviations);
        let mut history = History::default();
        for same_pairs in lines.chunk_by_mut(|one, next| one.pairs == next.pairs) {
            let pairs = same_pairs[0].pairs;
            for record in &asker.records[history.pairs().len()..pairs] {
                history.record(record.clone());
            }
            for line in same_pairs {
                asker.ask(line, &history, rule);
            }
        }
    }
    lines
}

/// A knitter with her past pairs, and the pair she is about to knit.
struct Asker {
    records: Vec<PairRecord>,
    pair: Pair,
    /// What her scale says of sock 1 of that pair.
    first: [Measured; 3],
    /// An empty pan as her scale reads it: the error of one reading.
    reading: Measured,
}

impl Asker {
    fn draw(random: &mut Pcg64Mcg, deviations: Deviations) -> Self {
        let knitter = Knitter::draw(random, deviations);
        let most = PAIRS[PAIRS.len() - 1];
        let records = (1..).take(most).map(|number| {
            let pair = knitter.knit(random);
            knitter.record(random, number, &pair)
        });
        let records = records.collect();
        let pair = knitter.knit(random);
        Self {
            records,
            pair,
            first: pair.map(|[first, _]| knitter.section(random, first)),
            reading: knitter.weigh(random, 0.0),
        }
    }

    fn ask(&self, line: &mut Line, history: &History, rule: Rule) {
        let (sections, socks) = line.question.sections();
        let wanted: Vec<Wanted> = sections
            .iter()
            .map(|&place| {
                let (kind, construction, estimate) = CONTRAST[place];
                let wanted = Wanted::contrast(kind, construction, SIZE, socks);
                match line.question {
                    Question::SecondSock => wanted.like_first(self.first[place]),
                    Question::BothToes | Question::OneToe | Question::Everything => {
                        wanted.with_estimate(Milligrams(estimate as i32))
                    }
                }
            })
            .collect();
        let left = Measured {
            value: Milligrams::ZERO,
            u: self.reading.u,
        };
        let ends = wanted.iter().map(Wanted::all_ends).sum::<u32>() * u32::from(rule.end_mm);
        let ends = f64::from(SIZE.yarn.mass_of(ends).0);
        let answer = answer(left, &wanted, history, rule).expect("there is an estimate");
        let expected = match answer.basis.reserve {
            Reserve::Quarter { .. } => f64::from(answer.expected.0),
            Reserve::Spread { .. } => f64::from(answer.expected.0) - ends,
        };
        let truth = line.question.truth(&self.pair);
        // The quarter holds the ends, by the rule; the bare mean would be wronged without them.
        let needs = [f64::from(answer.need.0), 1.25 * expected, expected + ends];
        for (tally, need) in line.tallies.iter_mut().zip(needs) {
            tally.add(need, ends, truth, f64::from(self.reading.value.0));
        }
    }
}

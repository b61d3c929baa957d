//! Stories of a pair with one slip: a knitter, her yarns, what she marked so far, and what lies on the pan when she presses MARK.

use yarn_scale_core::journal::{PairEvent, Record, Setting};
use yarn_scale_core::measured::Measured;
use yarn_scale_core::sock::moisture::moisture_u;
use yarn_scale_core::sock::{BowlNumber, Fibre, Line, Order, Preset, SectionKind, Sock, Weight, YarnLetter};
use yarn_scale_core::units::{FineCounts, Milligrams};

use super::slip::Slip;
use crate::world::Stream;

/// How even a knitter's two socks are: standard deviation of the logarithm, and how many knitters are so (assumption, no source).
pub const KNITTERS: [(f64, f64); 3] = [(0.05, 0.60), (0.12, 0.30), (0.25, 0.10)];

/// Standard deviation of the logarithm of what a section takes from knitter to knitter: length by 15 to 20 %, circumference by 10 %, yarn
/// by 8 % (assumption, no source).
pub const SIZES: f64 = 0.25;

/// Share of that variance that all sections of a pair have in common (assumption, no source).
pub const SHARED: f64 = 0.49;

/// Standard uncertainty of one weight, g: a quiet scale.
pub const SCALE_U: f64 = 0.02;

/// How often the pan has seen the cake in the middle of a section, at any moment alike (assumption, no source).
pub const CURIOUS: f64 = 0.25;

/// How often the pan has seen the cake at the boundary whose mark was forgotten: else she knitted on (assumption, no source).
pub const VISITED: f64 = 0.7;

/// What is known when she presses.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Known {
    /// Sock 1 is knitted and marked.
    FirstSock,
    /// Nothing: sock 1 of the first pair.
    Nothing,
    /// Sock 1 is knitted and marked, and other pairs are open.
    SeveralPairs,
}

/// A yarn in hand.
#[derive(Clone, Copy, Debug)]
pub struct Cake {
    /// Its letter.
    pub yarn: YarnLetter,
    /// What it weighed when it was last noted, g.
    pub last: f64,
    /// Standard deviation of what moisture makes of it until now, g.
    pub moisture: f64,
    /// What its last section took, g.
    pub before: Option<f64>,
}

/// A pair so far, and a press.
#[derive(Clone, Debug)]
pub struct Story {
    /// What is known.
    pub known: Known,
    /// What happened.
    pub slip: Slip,
    /// Which of [`KNITTERS`].
    pub knitter: usize,
    /// The plan.
    pub lines: Vec<Line>,
    /// The section that comes next.
    pub cursor: usize,
    /// What each section took or will take, g.
    pub amounts: Vec<f64>,
    /// The yarns that were weighed.
    pub cakes: Vec<Cake>,
    /// Cakes of other pairs, each with its pair's number.
    pub elsewhere: Vec<(u16, Cake)>,
    /// The other pair whose cake is on the pan.
    pub meant: Option<u16>,
    /// The bowl that is set and the one that is remembered beside it, g.
    pub bowls: Option<[f64; 2]>,
    /// On the pan, g, the bowl included.
    pub gross: f64,
    /// Hours since the last mark.
    pub hours: f64,
    /// What the planned yarn weighed when the pan saw it since its last mark, g.
    pub seen: Option<f64>,
    /// What was noted so far.
    pub records: Vec<Record>,
    /// The section that is finished in truth, if the press ends one.
    pub truth: Option<usize>,
}

/// What a section usually takes, g (common practice, no source).
pub const fn usual(kind: SectionKind) -> f64 {
    match kind {
        SectionKind::Cuff | SectionKind::Toe => 5.0,
        SectionKind::Leg
        | SectionKind::Foot
        | SectionKind::Part1
        | SectionKind::Part2
        | SectionKind::Part3
        | SectionKind::Part4
        | SectionKind::Part5
        | SectionKind::Part6
        | SectionKind::Part7
        | SectionKind::Part8 => 15.0,
        SectionKind::Heel => 7.0,
        SectionKind::Gusset => 4.0,
    }
}

pub(super) fn mg(grams: f64) -> Milligrams {
    Milligrams((grams * 1_000.0).round() as i32)
}

pub(super) fn weight(grams: f64, bowl: Option<BowlNumber>) -> Weight {
    Weight {
        net: Measured {
            value: mg(grams),
            u: SCALE_U as f32 * 1_000.0,
        },
        bowl,
        air: None,
    }
}

impl Story {
    /// The story `number` of a seed; `None` if the plan and the slip do not go together.
    #[must_use]
    pub fn tell(known: Known, slip: Slip, seed: u64, number: u64) -> Option<Self> {
        let mut random = Stream::new(seed ^ (slip as u64) << 40 ^ (known as u64) << 56, number);
        let presets = [
            Preset::ContrastHeelsToes,
            Preset::ContrastCuffsHeelsToes,
            Preset::OneYarn,
        ];
        let preset = presets[random.index(if slip.wants_other_yarn() { 2 } else { 3 })];
        let order = if slip == Slip::OtherSock {
            Order::TwoAtATime
        } else {
            Order::OneAfterTheOther
        };
        let mut lines: Vec<Line> = preset.lines(order).into_iter().collect();
        if slip == Slip::EqualYarns {
            // Two mini skeins of a set: heels from one, toes from the other.
            for line in lines.iter_mut().filter(|line| line.kind == SectionKind::Toe) {
                line.yarn = YarnLetter::C;
            }
        }
        let knitter = chosen(&mut random, &KNITTERS.map(|(_, share)| share));
        let spread = KNITTERS[knitter].0;
        let amounts = amounts(&mut random, &lines, spread);
        let half = lines.len() / 2;
        let cursor = match (slip, known) {
            // The same section of neither sock is finished; of the kinds before, both or none.
            (Slip::OtherSock, Known::FirstSock | Known::SeveralPairs) => 2 * (1 + random.index(half - 1)),
            (Slip::OtherSock, Known::Nothing) => 0,
            (_, Known::FirstSock | Known::SeveralPairs) => half + random.index(half),
            (_, Known::Nothing) => random.index(half),
        };
        // Twice is twice in a minute.
        let hours = if slip == Slip::SameLoad {
            0.02
        } else {
            random.log_uniform(0.3, 60.0)
        };
        let bowls = random
            .chance(if slip.wants_bowls() { 1.0 } else { 0.3 })
            .then(|| [random.uniform(40.0, 250.0), random.uniform(40.0, 250.0)]);
        let mut story = Self {
            known,
            slip,
            knitter,
            lines,
            cursor,
            amounts,
            cakes: Vec::new(),
            elsewhere: Vec::new(),
            meant: None,
            bowls,
            gross: 0.0,
            hours,
            seen: None,
            records: Vec::new(),
            truth: None,
        };
        story.knit(&mut random);
        if known == Known::SeveralPairs {
            story.begin_others(&mut random);
        }
        story.look(&mut random);
        let net = story.press(&mut random)?;
        story.gross += net + story.bowls.map_or(0.0, |[set, _]| set);
        // On the pan more than the scale can carry, or nothing.
        (1.0..480.0).contains(&story.gross).then_some(story)
    }

    /// Weighs in and marks all sections up to the cursor.
    fn knit(&mut self, random: &mut Stream) {
        if let Some([set, other]) = self.bowls {
            for (number, mass) in [(1, set), (2, other)] {
                self.records.push(Record::Bowl {
                    number: BowlNumber(number),
                    mass: weight(mass, None).net,
                });
            }
            self.records
                .push(Record::Setting(Setting::BowlInUse(Some(BowlNumber(1)))));
        }
        self.records.push(Record::PairBegun {
            pair: 1,
            lines: self.lines.iter().copied().collect(),
        });
        let bowl = self.bowls.map(|_| BowlNumber(1));
        let mini = random.uniform(38.0, 55.0);
        for place in 0..=self.cursor {
            let line = self.lines[place];
            if !self.cakes.iter().any(|cake| cake.yarn == line.yarn) {
                let needed: f64 = self.taken_by(line.yarn) + 4.0;
                let whole = match (self.slip, line.yarn) {
                    (Slip::EqualYarns, YarnLetter::B | YarnLetter::C) => mini + 0.05 * random.normal(),
                    (_, YarnLetter::A) => random.uniform(95.0, 108.0).max(needed),
                    _ => random.log_uniform(20.0, 60.0).max(needed),
                };
                self.cakes.push(Cake {
                    yarn: line.yarn,
                    last: whole,
                    moisture: 0.0,
                    before: None,
                });
                self.note(PairEvent::WeighIn {
                    yarn: line.yarn,
                    weight: weight(whole, bowl),
                });
            }
            if place == self.cursor {
                break;
            }
            let amount = self.amounts[place];
            let cake = self.cake_mut(line.yarn);
            cake.last -= amount;
            cake.before = Some(amount);
            let last = cake.last;
            self.note(PairEvent::Mark {
                line: place as u8,
                yarn: line.yarn,
                weight: weight(last, bowl),
                used_u: None,
            });
        }
        let hours = self.hours as f32;
        for cake in &mut self.cakes {
            let u = moisture_u(mg(cake.last), Fibre::WoolPolyamide, hours);
            cake.moisture = f64::from(u) / 1_000.0;
        }
    }

    /// Perhaps the pan has seen the cake since its last mark, and nothing was pressed.
    fn look(&mut self, random: &mut Stream) {
        let knitted = match self.slip {
            Slip::SameLoad | Slip::Trifle | Slip::Untouched | Slip::OtherOrder | Slip::ForgottenMark => return,
            Slip::Early => 0.15,
            _ => 1.0,
        };
        if random.chance(CURIOUS) {
            let part = knitted * random.uniform(0.0, 1.0);
            let cake = *self.planned();
            self.visit(cake.last - part * self.amounts[self.cursor]);
        }
    }

    pub(super) fn visit(&mut self, net: f64) {
        let tare = self.bowls.map_or(0.0, |[set, _]| set);
        self.records.push(Record::Visit {
            gross: weight(net + tare, None).net,
            bowl: self.bowls.map(|_| BowlNumber(1)),
            zero: FineCounts(0),
        });
        self.seen = Some(net);
    }

    /// The planned yarn.
    #[must_use]
    pub fn planned(&self) -> &Cake {
        let yarn = self.lines[self.cursor].yarn;
        self.cakes
            .iter()
            .find(|cake| cake.yarn == yarn)
            .expect("it was weighed in")
    }

    /// The next open section of a yarn.
    #[must_use]
    pub fn next_of(&self, yarn: YarnLetter) -> Option<usize> {
        (self.cursor..self.lines.len()).find(|&place| self.lines[place].yarn == yarn)
    }

    /// The same section on the other sock, if that is known.
    #[must_use]
    pub fn twin(&self, place: usize) -> Option<f64> {
        let twin = self.counterpart(place);
        (self.lines[place].sock == Sock::Second && twin < self.cursor).then(|| self.amounts[twin])
    }

    /// The place of the same section on the other sock.
    pub(super) fn counterpart(&self, place: usize) -> usize {
        let (line, others) = (self.lines[place], self.lines.iter());
        others
            .zip(0..)
            .find_map(|(other, there)| (other.kind == line.kind && other.sock != line.sock).then_some(there))
            .expect("both socks have all sections")
    }

    fn taken_by(&self, yarn: YarnLetter) -> f64 {
        let of_yarn = self
            .lines
            .iter()
            .zip(&self.amounts)
            .filter(|(line, _)| line.yarn == yarn);
        of_yarn.map(|(_, amount)| amount).sum()
    }

    pub(super) fn taken_so_far(&self, yarn: YarnLetter) -> f64 {
        let so_far = self.lines.iter().zip(&self.amounts).take(self.cursor);
        so_far
            .filter(|(line, _)| line.yarn == yarn)
            .map(|(_, amount)| amount)
            .sum()
    }

    fn cake_mut(&mut self, yarn: YarnLetter) -> &mut Cake {
        self.cakes
            .iter_mut()
            .find(|cake| cake.yarn == yarn)
            .expect("it was weighed in")
    }

    fn note(&mut self, event: PairEvent) {
        self.records.push(Record::OfPair { pair: 1, event });
    }
}

/// What each section takes: those of sock 1 by size and taste, those of sock 2 about as much.
fn amounts(random: &mut Stream, lines: &[Line], spread: f64) -> Vec<f64> {
    let size = SHARED.sqrt() * SIZES * random.normal();
    let mut first: Vec<(SectionKind, f64)> = Vec::new();
    for line in lines.iter().filter(|line| line.sock == Sock::First) {
        let taste = (1.0 - SHARED).sqrt() * SIZES * random.normal();
        first.push((line.kind, usual(line.kind) * (size + taste).exp()));
    }
    let mut amount = |line: &Line| {
        let of_kind = first.iter().find(|(kind, _)| *kind == line.kind);
        let (_, first) = of_kind.expect("both socks have all sections");
        match line.sock {
            Sock::First => *first,
            Sock::Second => first * (spread * random.normal()).exp(),
        }
    };
    lines.iter().map(&mut amount).collect()
}

/// A place by weight.
fn chosen(random: &mut Stream, shares: &[f64]) -> usize {
    let mut left = random.uniform(0.0, shares.iter().sum());
    for (place, share) in shares.iter().enumerate() {
        left -= share;
        if left < 0.0 {
            return place;
        }
    }
    shares.len() - 1
}

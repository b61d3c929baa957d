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

/// Standard uncertainty of one weight, g: a quiet scale.
pub const SCALE_U: f64 = 0.02;

/// What is known when she presses.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Known {
    /// Sock 1 is knitted and marked.
    FirstSock,
    /// Nothing: sock 1 of the first pair.
    Nothing,
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
    /// The bowl that is set and the one that is remembered beside it, g.
    pub bowls: Option<[f64; 2]>,
    /// On the pan, g, the bowl included.
    pub gross: f64,
    /// Hours since the last mark.
    pub hours: f64,
    /// What was noted so far.
    pub records: Vec<Record>,
    /// The section that is finished in truth, if the press ends one.
    pub truth: Option<usize>,
}

/// What a section usually takes, g (common practice, no source).
pub const fn usual(kind: SectionKind) -> f64 {
    match kind {
        SectionKind::Cuff | SectionKind::Toe => 5.0,
        SectionKind::Leg | SectionKind::Foot => 15.0,
        SectionKind::Heel => 7.0,
        SectionKind::Gusset => 4.0,
    }
}

fn mg(grams: f64) -> Milligrams {
    Milligrams((grams * 1_000.0).round() as i32)
}

fn weight(grams: f64, bowl: Option<BowlNumber>) -> Weight {
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
        let mut lines: Vec<Line> = preset.lines(Order::OneAfterTheOther).into_iter().collect();
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
        let cursor = match known {
            Known::FirstSock => half + random.index(half),
            Known::Nothing => random.index(half),
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
            bowls,
            gross: 0.0,
            hours,
            records: Vec::new(),
            truth: None,
        };
        story.knit(&mut random);
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

    /// What is on the pan when MARK is pressed, g net of the bowl that is set.
    fn press(&mut self, random: &mut Stream) -> Option<f64> {
        let cake = *self.planned();
        let amount = self.amounts[self.cursor];
        let blur = |random: &mut Stream, cake: &Cake| cake.moisture.hypot(SCALE_U) * random.normal();
        let finished = cake.last - amount + blur(random, &cake);
        let others: Vec<Cake> = self
            .cakes
            .iter()
            .filter(|other| other.yarn != cake.yarn)
            .copied()
            .collect();
        let other = (!others.is_empty()).then(|| others[random.index(others.len())]);
        Some(match self.slip {
            Slip::Right => {
                self.truth = Some(self.cursor);
                finished
            }
            Slip::UnknownCake => random.log_uniform(3.0, 60.0),
            Slip::TinyLeftover => random.log_uniform(0.6, 3.0),
            Slip::OtherCake | Slip::EqualYarns => {
                let other = other?;
                other.last + blur(random, &other)
            }
            Slip::TwoCakes => {
                let other = other?;
                finished + other.last + blur(random, &other)
            }
            Slip::OtherOrder => {
                let other = other?;
                let next = self.next_of(other.yarn)?;
                self.truth = Some(next);
                other.last - self.amounts[next] + blur(random, &other)
            }
            Slip::ForgottenMark => {
                let next = (self.cursor + 1..self.lines.len()).find(|&place| self.lines[place].yarn == cake.yarn)?;
                self.truth = Some(next);
                let bowl = self.bowls.map(|_| BowlNumber(1));
                let tare = self.bowls.map_or(0.0, |[set, _]| set);
                // She looked at the weight then, and did not press.
                self.records.push(Record::Visit {
                    gross: weight(finished + tare, None).net,
                    bowl,
                    zero: FineCounts(0),
                });
                finished - self.amounts[next]
            }
            Slip::Early => cake.last - random.uniform(0.15, 0.5) * amount + blur(random, &cake),
            Slip::NearlyDone => cake.last - random.uniform(0.6, 0.95) * amount + blur(random, &cake),
            Slip::Trifle => cake.last - 0.3 + SCALE_U * random.normal(),
            Slip::SameLoad => cake.last + SCALE_U * random.normal(),
            Slip::UntaredBowl => finished + random.uniform(40.0, 250.0),
            Slip::NoBowl => finished - self.bowls?[0],
            Slip::OtherBowl => finished - self.bowls?[0] + self.bowls?[1],
            Slip::Untouched => cake.last + blur(random, &cake),
            Slip::Coin => finished + random.uniform(2.0, 9.0),
            Slip::Pull => finished + random.sign() * random.uniform(0.5, 4.0),
            Slip::Damp => finished * (1.0 + random.uniform(0.05, 0.3)),
            Slip::RippedBack => cake.last + random.uniform(0.2, 0.9) * cake.before? + blur(random, &cake),
            Slip::Phone => finished + random.uniform(140.0, 230.0),
            Slip::Ends => finished + random.log_uniform(0.4, 1.5),
            Slip::OtherHalf => {
                // The skein was halved by eye, and the other half was never seen.
                let whole = cake.last + self.taken_so_far(cake.yarn);
                whole * random.uniform(0.97, 1.03)
            }
        })
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
        let half = self.lines.len() / 2;
        (self.lines[place].sock == Sock::Second)
            .then(|| self.amounts[place - half])
            .filter(|_| place - half < self.cursor)
    }

    fn taken_by(&self, yarn: YarnLetter) -> f64 {
        let of_yarn = self
            .lines
            .iter()
            .zip(&self.amounts)
            .filter(|(line, _)| line.yarn == yarn);
        of_yarn.map(|(_, amount)| amount).sum()
    }

    fn taken_so_far(&self, yarn: YarnLetter) -> f64 {
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

fn amounts(random: &mut Stream, lines: &[Line], spread: f64) -> Vec<f64> {
    let half = lines.len() / 2;
    let size = 0.7 * SIZES * random.normal();
    let mut amounts: Vec<f64> = lines[..half]
        .iter()
        .map(|line| usual(line.kind) * (size + (1.0_f64 - 0.49).sqrt() * SIZES * random.normal()).exp())
        .collect();
    for place in 0..half {
        let twin = amounts[place] * (spread * random.normal()).exp();
        amounts.push(twin);
    }
    amounts
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

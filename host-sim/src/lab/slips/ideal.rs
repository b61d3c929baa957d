//! The ideal observer: it knows how the stories are made, and how often which slip is told, but not which one this is.

use yarn_scale_core::sock::Sock;

use super::several::{KNITTED, UNTOUCHED};
use super::slip::Slip;
use super::story::{CURIOUS, Cake, KNITTERS, Known, SCALE_U, SHARED, SIZES, Story, VISITED, usual};

/// Odds that the next section is finished against all slips together, given what is on the pan.
#[must_use]
pub fn odds(story: &Story) -> f64 {
    let observer = Observer::of(story);
    let slips: f64 = thought_of().map(|slip| observer.weight(slip)).sum();
    observer.weight(Slip::Right) / slips.max(1e-300)
}

/// The slip that it thinks of first.
#[must_use]
pub fn suspect(story: &Story) -> Slip {
    let observer = Observer::of(story);
    let likeliest = thought_of().max_by(|&one, &two| observer.weight(one).total_cmp(&observer.weight(two)));
    likeliest.unwrap_or(Slip::Right)
}

/// The slips that it knows of.
pub fn thought_of() -> impl Iterator<Item = Slip> {
    let slips = Slip::THOUGHT_OF.into_iter().chain([Slip::OtherPair]);
    slips.filter(|&slip| slip != Slip::Right)
}

struct Observer<'s> {
    story: &'s Story,
    net: f64,
    cake: Cake,
    others: Vec<Cake>,
}

/// Weight, centre and standard deviation of the logarithm of each part of an amount.
type Amount = Vec<(f64, f64, f64)>;

impl<'s> Observer<'s> {
    fn of(story: &'s Story) -> Self {
        let cake = *story.planned();
        Self {
            story,
            net: story.gross - story.bowls.map_or(0.0, |[set, _]| set),
            cake,
            others: story
                .cakes
                .iter()
                .filter(|other| other.yarn != cake.yarn)
                .copied()
                .collect(),
        }
    }

    fn amount(&self, place: usize) -> Amount {
        match (self.story.known, self.story.twin(place)) {
            (Known::FirstSock | Known::SeveralPairs, Some(twin)) => {
                let of = |(&(spread, _), share): (&(f64, f64), f64)| (share, twin.ln(), spread);
                KNITTERS.iter().zip(self.knitter()).map(of).collect()
            }
            _ => {
                let (factor, spread) = self.size();
                vec![(1.0, usual(self.story.lines[place].kind).ln() + factor, spread)]
            }
        }
    }

    /// How likely she is of each kind, by the sections of sock 2 that are finished.
    fn knitter(&self) -> [f64; 3] {
        let story = self.story;
        let finished = (0..story.cursor).filter_map(|place| Some(story.amounts[place].ln() - story.twin(place)?.ln()));
        let apart: Vec<f64> = finished.collect();
        let likely = KNITTERS.map(|(spread, share)| share * apart.iter().map(|&x| normal(x, spread)).product::<f64>());
        let sum: f64 = likely.iter().sum();
        likely.map(|one| one / sum)
    }

    /// How much more than usual her sections take, as a logarithm, and its spread, by the sections of sock 1 that are finished.
    fn size(&self) -> (f64, f64) {
        let story = self.story;
        let finished = (0..story.cursor).filter(|&place| story.lines[place].sock == Sock::First);
        let apart: Vec<f64> = finished
            .map(|place| (story.amounts[place] / usual(story.lines[place].kind)).ln())
            .collect();
        let (count, sum) = (apart.len() as f64, apart.iter().sum::<f64>());
        let (size, taste) = (SHARED, 1.0 - SHARED);
        let known = size / (taste + count * size);
        (known * sum, SIZES * (taste + known * taste).sqrt())
    }

    /// Likelihood of what the pan has seen of the planned yarn since its last mark, beside that of the weight.
    fn seen(&self, slip: Slip) -> f64 {
        let curious = |knitted: f64| match self.story.seen {
            None => 1.0 - CURIOUS,
            Some(seen) => {
                // Moisture may have made it a little heavier since.
                let until = self.cake.last - seen - 3.0 * self.cake.moisture.hypot(SCALE_U);
                if until < knitted { CURIOUS / knitted } else { 0.0 }
            }
        };
        let used = self.cake.last - self.net;
        match slip {
            Slip::SameLoad | Slip::Trifle | Slip::OtherOrder => f64::from(self.story.seen.is_none()),
            Slip::Right => curious(used),
            // Seen only by what it weighed at the boundary, which stands in the likelihood.
            Slip::ForgottenMark => 1.0,
            Slip::Early => match self.story.seen {
                None => 1.0 - CURIOUS,
                // In the first of what is knitted by then, a third of it.
                Some(seen) if self.cake.last - seen < used => CURIOUS / (0.5 * used),
                Some(_) => 0.0,
            },
            // What she has knitted is not seen: what is usual.
            _ => {
                let seen = self.story.seen.map_or(0.0, |seen| self.cake.last - seen);
                let (_, centre, _) = self.amount(self.story.cursor)[0];
                curious(centre.exp().max(seen))
            }
        }
    }

    /// Density of a finished section, g.
    fn density(&self, amount: &Amount, used: f64, cake: &Cake) -> f64 {
        if used <= 0.01 {
            return 0.0;
        }
        let u = cake.moisture.hypot(SCALE_U);
        let part = |&(share, centre, spread): &(f64, f64, f64)| {
            let blur = u / used.max(centre.exp());
            share * normal(used.ln() - centre, spread.hypot(blur)) / used
        };
        amount.iter().map(part).sum()
    }

    fn finished(&self, net: f64) -> f64 {
        self.density(&self.amount(self.story.cursor), self.cake.last - net, &self.cake)
    }

    /// Prior times the likelihood of all that is seen.
    fn weight(&self, slip: Slip) -> f64 {
        slip.prior() * self.likelihood(slip) * self.seen(slip)
    }

    fn likelihood(&self, slip: Slip) -> f64 {
        let net = self.net;
        let blur = |cake: &Cake| cake.moisture.hypot(SCALE_U);
        let mean_of_others = |of: &dyn Fn(&Cake) -> f64| {
            let sum: f64 = self.others.iter().map(of).sum();
            sum / self.others.len().max(1) as f64
        };
        match slip {
            Slip::Right => self.finished(net),
            Slip::UnknownCake if (3.0..60.0).contains(&net) => 1.0 / (net * 20.0_f64.ln()),
            Slip::OtherCake => mean_of_others(&|other| normal(net - other.last, blur(other))),
            Slip::TwoCakes => mean_of_others(&|other| self.finished(net - other.last)),
            Slip::OtherOrder => mean_of_others(&|other| {
                let next = self.story.next_of(other.yarn);
                next.map_or(0.0, |next| self.density(&self.amount(next), other.last - net, other))
            }),
            Slip::OtherPair => {
                let of = |(_, cake): &(u16, Cake)| {
                    let used = cake.last - net;
                    let [from, to] = KNITTED;
                    let knitted = f64::from((from..to).contains(&used)) / (to - from);
                    UNTOUCHED * normal(used, blur(cake)) + (1.0 - UNTOUCHED) * knitted
                };
                let cakes = &self.story.elsewhere;
                cakes.iter().map(of).sum::<f64>() / cakes.len().max(1) as f64
            }
            Slip::ForgottenMark => self.forgotten(net),
            Slip::Early => {
                let amount = self.amount(self.story.cursor);
                mean(0.15, 0.5, |part| {
                    self.density(&amount, (self.cake.last - net) / part, &self.cake) / part
                })
            }
            Slip::Trifle => normal(self.cake.last - 0.3 - net, SCALE_U),
            Slip::SameLoad => normal(self.cake.last - net, SCALE_U),
            Slip::UntaredBowl => mean(40.0, 250.0, |bowl| self.finished(net - bowl)),
            Slip::NoBowl => self.story.bowls.map_or(0.0, |[set, _]| self.finished(net + set)),
            Slip::OtherBowl => self
                .story
                .bowls
                .map_or(0.0, |[set, other]| self.finished(net + set - other)),
            Slip::Coin => mean(2.0, 9.0, |coin| self.finished(net - coin)),
            Slip::Pull => {
                let up = mean(0.5, 4.0, |pull| self.finished(net + pull));
                0.5 * (up + mean(0.5, 4.0, |pull| self.finished(net - pull)))
            }
            Slip::Damp => mean(0.05, 0.3, |water| self.finished(net / (1.0 + water)) / (1.0 + water)),
            Slip::RippedBack => match self.cake.before {
                Some(before) => mean(0.2, 0.9, |part| {
                    normal(net - self.cake.last - part * before, blur(&self.cake))
                }),
                None => 0.0,
            },
            _ => 0.0,
        }
    }

    fn forgotten(&self, net: f64) -> f64 {
        let story = self.story;
        let next = (story.cursor + 1..story.lines.len()).find(|&place| story.lines[place].yarn == self.cake.yarn);
        let Some(next) = next else { return 0.0 };
        let (one, two) = (self.amount(story.cursor), self.amount(next));
        if let Some(seen) = story.seen {
            let [first, second] = [self.cake.last - seen, seen - net];
            // One knitter, one kind.
            let both = |(one, two): (&(f64, f64, f64), &(f64, f64, f64))| {
                let two = (1.0, two.1, two.2);
                self.density(&vec![*one], first, &self.cake) * self.density(&vec![two], second, &self.cake)
            };
            return VISITED * one.iter().zip(&two).map(both).sum::<f64>();
        }
        let sum = |first: &(f64, f64, f64), second: &(f64, f64, f64)| {
            let (a, b) = (first.1.exp(), second.1.exp());
            let spread = (a * first.2).hypot(b * second.2) / (a + b);
            (first.0, (a + b).ln(), spread)
        };
        let both: Amount = one.iter().zip(&two).map(|(one, two)| sum(one, two)).collect();
        (1.0 - VISITED) * self.density(&both, self.cake.last - net, &self.cake)
    }
}

fn normal(x: f64, deviation: f64) -> f64 {
    (-0.5 * (x / deviation).powi(2)).exp() / (deviation * std::f64::consts::TAU.sqrt())
}

/// The mean over an interval, by the midpoint rule.
fn mean(from: f64, to: f64, of: impl Fn(f64) -> f64) -> f64 {
    const STEPS: usize = 200;
    let step = (to - from) / STEPS as f64;
    (0..STEPS)
        .map(|place| of(from + (place as f64 + 0.5) * step))
        .sum::<f64>()
        / STEPS as f64
}

//! What lies on the pan when MARK is pressed: the right thing, or a slip.

use super::slip::Slip;
use super::story::{Cake, SCALE_U, Story, VISITED};
use crate::world::Stream;

impl Story {
    /// What is on the pan when MARK is pressed, g net of the bowl that is set.
    pub(super) fn press(&mut self, random: &mut Stream) -> Option<f64> {
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
                if random.chance(VISITED) {
                    self.visit(finished);
                }
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
            Slip::OtherPair => self.of_another_pair(random)?,
            Slip::OtherSock => cake.last - self.amounts[self.counterpart(self.cursor)] + blur(random, &cake),
            Slip::OtherHalf => {
                // The skein was halved by eye, and the other half was never seen.
                let whole = cake.last + self.taken_so_far(cake.yarn);
                whole * random.uniform(0.97, 1.03)
            }
        })
    }
}

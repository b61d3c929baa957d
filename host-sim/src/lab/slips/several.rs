//! Other pairs on the needles beside the one of a story: their cakes lie in the same bag.

use yarn_scale_core::journal::{PairEvent, Record, Setting};
use yarn_scale_core::sock::moisture::moisture_u;
use yarn_scale_core::sock::{Fibre, Order, Preset, YarnLetter};

use super::story::{Cake, SCALE_U, Story, mg, weight};
use crate::world::Stream;

impl Story {
    /// One to three other pairs are begun, both their yarns weighed in and one section of each knitted; then this one is in hand again.
    pub(super) fn begin_others(&mut self, random: &mut Stream) {
        for pair in 2..=2 + random.index(3) as u16 {
            let lines = Preset::ContrastCuffsHeelsToes.lines(Order::OneAfterTheOther);
            self.records.push(Record::PairBegun { pair, lines });
            // Cuff and leg.
            for (line, yarn, takes) in [(0, YarnLetter::B, 5.0), (1, YarnLetter::A, 15.0)] {
                let whole = random.log_uniform(25.0, 108.0);
                let left = whole - takes * random.uniform(0.8, 1.2);
                let weigh_in = PairEvent::WeighIn {
                    yarn,
                    weight: weight(whole, None),
                };
                let mark = PairEvent::Mark {
                    line,
                    yarn,
                    weight: weight(left, None),
                    used_u: None,
                };
                let events = [weigh_in, mark];
                self.records.extend(events.map(|event| Record::OfPair { pair, event }));
                let u = moisture_u(mg(left), Fibre::WoolPolyamide, self.hours as f32);
                let cake = Cake {
                    yarn,
                    last: left,
                    moisture: f64::from(u) / 1_000.0,
                    before: None,
                };
                self.elsewhere.push((pair, cake));
            }
        }
        self.records.push(Record::Setting(Setting::PairInHand(1)));
    }

    /// A cake of another pair: as it was last weighed, or knitted from since.
    pub(super) fn of_another_pair(&mut self, random: &mut Stream) -> Option<f64> {
        let &(pair, cake) = self.elsewhere.get(random.index(self.elsewhere.len().max(1)))?;
        let knitted = if random.chance(UNTOUCHED) {
            0.0
        } else {
            random.uniform(KNITTED[0], KNITTED[1])
        };
        self.meant = Some(pair);
        Some(cake.last - knitted + cake.moisture.hypot(SCALE_U) * random.normal())
    }
}

/// How many of those cakes are as they were last weighed (assumption, no source).
pub(super) const UNTOUCHED: f64 = 0.5;

/// What was knitted from the others since, g, any amount alike (assumption, no source).
pub(super) const KNITTED: [f64; 2] = [4.0, 16.0];

//! What can be done to the world.

use super::disturbance::{Disturbance, Tug};
use super::fault::DigitalFault;
use super::hand::{Gesture, Hand, Placing, Timing};
use super::pan::BodyId;
use super::scene::World;
use super::yarn::Body;

impl World {
    /// A hand puts `body` down, with first contact at `contact`.
    pub fn place(&mut self, body: Body, contact: f64) -> (BodyId, Timing) {
        let manner = self.unit().manner;
        let (hand, timing) = Hand::draw(Gesture::Place, manner, contact, &mut self.random);
        self.hands.push(hand);
        if manner.placing == Placing::Rolling {
            // It rocks on its round side until it lies.
            let swing = self.random.log_uniform(0.1, 1.5);
            let hz = self.random.uniform(1.0, 3.0);
            self.disturbances
                .push(Disturbance::Wobble([timing.hand_off, swing, hz]));
        }
        (self.pan.put(body, timing.load), timing)
    }

    /// A hand takes `id` away, with first contact at `contact`.
    pub fn remove(&mut self, id: BodyId, contact: f64) -> Timing {
        let manner = self.unit().manner;
        let (hand, timing) = Hand::draw(Gesture::Remove, manner, contact, &mut self.random);
        self.hands.push(hand);
        self.pan.lift(id, timing.load);
        timing
    }

    /// A hand touches, bumps or presses from `contact` on, and moves no load.
    pub fn handle(&mut self, gesture: Gesture, contact: f64) -> Timing {
        let manner = self.unit().manner;
        let (hand, timing) = Hand::draw(gesture, manner, contact, &mut self.random);
        self.hands.push(hand);
        timing
    }

    /// Puts `body` down in no time and without a hand.
    pub fn put(&mut self, body: Body) -> BodyId {
        self.pan.put(body, (self.now, self.now))
    }

    /// Takes `id` away in no time and without a hand.
    pub fn take(&mut self, id: BodyId) {
        self.pan.lift(id, (self.now, self.now));
    }

    /// A hand comes to rest on the pan and stays.
    pub fn hand_on(&mut self, force_g: f64) {
        let hand = Hand::resting(force_g, self.now, f64::INFINITY, &mut self.random);
        self.hands.push(hand);
    }

    /// Every hand leaves.
    pub fn hand_off(&mut self) {
        for hand in &mut self.hands {
            hand.leave(self.now);
        }
    }

    /// The strand is pulled from `from` on.
    pub fn tug(&mut self, from: f64) -> Tug {
        let tug = Tug::draw(from, &mut self.random);
        self.disturbances.push(Disturbance::Tug(tug));
        tug
    }

    /// `grams` are knitted from `id` between `from` and `to`: a pull every 4 to 14 s, each drawing its share of yarn while it lasts.
    pub fn knit(&mut self, id: BodyId, from: f64, to: f64, grams: f64) -> Vec<Tug> {
        let count = ((to - from) / 9.0).max(1.0) as usize;
        let pauses: Vec<f64> = core::iter::repeat_with(|| self.random.uniform(4.0, 14.0))
            .take(count)
            .collect();
        let total: f64 = pauses.iter().sum();
        let mut at = from;
        let pull = |pause: &f64| {
            at += pause * (to - from - LAST_PULL_S).max(0.0) / total;
            let tug = self.tug(at);
            self.draw_yarn(id, tug.from, tug.released(), grams * pause / total);
            tug
        };
        pauses.iter().map(pull).collect()
    }

    /// Something shakes or pulls.
    pub fn disturb(&mut self, disturbance: Disturbance) {
        self.disturbances.push(disturbance);
    }

    /// Yarn is drawn from `id`, evenly, without pulling at it.
    pub fn draw_yarn(&mut self, id: BodyId, from: f64, to: f64, grams: f64) {
        self.pan.draw(id, from, to, grams);
    }

    /// The first word after `at` arrives spoilt.
    pub fn spoil(&mut self, fault: DigitalFault, at: f64) {
        self.faults.push((at, fault));
    }
}

/// No pull begins later than this before the end of knitting, s.
const LAST_PULL_S: f64 = 3.0;

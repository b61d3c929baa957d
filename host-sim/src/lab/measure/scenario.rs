//! What the estimators are put through, each on a unit and from its seed.
//!
//! Every scenario begins with an empty pan at rest for 15 to 25 s, in which an estimator may learn the
//! unit's noise. Intervals and loads are engineering assumptions.

use yarn_scale_core::converter::SampleRate;

use super::recording::{Event, Recorder, Recording};
use crate::world::{Body, BodyId, DigitalFault, Disturbance, Gesture, Room, Stream, Unit, World};

/// Handlings in one recording by [`handlings`].
pub const HANDLINGS: usize = 12;

/// One load after the other is placed, touched, bumped, pressed and removed; now and then a word is spoilt.
#[must_use]
pub fn handlings(unit: Unit, rate: SampleRate) -> Recording {
    let (mut recorder, mut random) = begin(unit, rate);
    let mut lying: Vec<BodyId> = Vec::new();
    sprinkle_faults(&mut recorder, &mut random, 180.0);
    for _ in 0..HANDLINGS {
        match random.uniform(0.0, 1.0) {
            _ if lying.is_empty() => lying.push(recorder.place(some_load(&mut random))),
            x if x < 0.2 && recorder.world.load_g() < 250.0 => lying.push(recorder.place(some_load(&mut random))),
            x if x < 0.6 => {
                let id = lying.swap_remove(random.index(lying.len()));
                recorder.remove(id);
            }
            x if x < 0.74 => recorder.handle(Gesture::Touch),
            x if x < 0.87 => recorder.handle(Gesture::Bump),
            _ => recorder.handle(Gesture::Press),
        }
        recorder.wait(random.uniform(6.0, 11.0));
    }
    recorder.finish()
}

/// A cake is knitted from the pan for two minutes: a pull every few seconds takes a few stitches' yarn, 0.3 to 1 g a minute.
#[must_use]
pub fn knitting(unit: Unit, rate: SampleRate) -> Recording {
    let (mut recorder, mut random) = begin(unit, rate);
    let cake = recorder.place(Body::dry(random.log_uniform(15.0, 120.0)));
    recorder.wait(10.0);
    recorder.knit(cake, 120.0, random.uniform(0.3, 1.0) * 2.0);
    recorder.wait(15.0);
    recorder.finish()
}

/// Two minutes of nothing at all, with a load or without.
#[must_use]
pub fn rest(unit: Unit, rate: SampleRate) -> Recording {
    let (mut recorder, mut random) = begin(unit, rate);
    if random.chance(0.5) {
        recorder.place(some_load(&mut random));
    }
    recorder.wait(130.0);
    recorder.finish()
}

/// Steps on the floor (two times in three), a machine, a wobbling table or a knock, over a resting load.
#[must_use]
pub fn shaking(unit: Unit, rate: SampleRate) -> Recording {
    let (mut recorder, mut random) = begin(unit, rate);
    recorder.place(some_load(&mut random));
    recorder.wait(10.0);
    for _ in 0..6 {
        let (from, length) = (recorder.world.now(), random.uniform(4.0, 10.0));
        let disturbance = match random.index(12) {
            0..8 => Disturbance::footsteps(from, from + length, &mut random),
            8 => Disturbance::machine(from, from + length, &mut random),
            9 => Disturbance::knock(from, &mut random),
            10 => Disturbance::cat(from, &mut random),
            _ => Disturbance::wobble(from, &mut random),
        };
        let steps = matches!(disturbance, Disturbance::Footsteps(_));
        recorder.world.disturb(disturbance);
        if steps {
            recorder.note(Event::Shaking(from, from + length));
        }
        recorder.wait(length + random.uniform(5.0, 10.0));
    }
    recorder.finish()
}

/// Spoilt words of every kind over a resting load, one every few seconds.
#[must_use]
pub fn faults(unit: Unit, rate: SampleRate) -> Recording {
    let (mut recorder, mut random) = begin(unit, rate);
    recorder.place(some_load(&mut random));
    recorder.wait(10.0);
    for _ in 0..12 {
        let fault = DigitalFault::draw(&mut random);
        recorder.spoil(fault);
        recorder.wait(random.uniform(5.0, 8.0));
    }
    recorder.finish()
}

/// A change of 0.3 g without hand or pull: snipped off at once, or over up to 20 s.
#[must_use]
pub fn changes(unit: Unit, rate: SampleRate) -> Recording {
    let (mut recorder, mut random) = begin(unit, rate);
    let cake = recorder.place(Body::dry(random.log_uniform(15.0, 120.0)));
    recorder.wait(10.0);
    for _ in 0..6 {
        let from = recorder.world.now();
        let to = from
            + if random.chance(0.5) {
                0.05
            } else {
                random.uniform(1.0, 20.0)
            };
        recorder.world.draw_yarn(cake, from, to, 0.3);
        recorder.note(Event::Change(from, to, -0.3));
        recorder.until(to);
        recorder.wait(18.0);
    }
    recorder.finish()
}

/// Yarn is drawn slowly for eight minutes without any pull, 0.3 to 1 g a minute: what zero tracking would eat.
#[must_use]
pub fn drain(unit: Unit, rate: SampleRate) -> Recording {
    let (mut recorder, mut random) = begin(unit, rate);
    let cake = recorder.place(Body::dry(random.log_uniform(15.0, 120.0)));
    recorder.wait(15.0);
    let (from, to) = (recorder.world.now(), recorder.world.now() + 480.0);
    let grams = random.uniform(0.3, 1.0) * 8.0;
    recorder.world.draw_yarn(cake, from, to, grams);
    recorder.note(Event::Knitting(from, to, grams));
    recorder.until(to);
    recorder.wait(15.0);
    recorder.finish()
}

fn begin(unit: Unit, rate: SampleRate) -> (Recorder, Stream) {
    let seed = unit.seed;
    let mut random = Stream::new(seed, 10);
    let world = World::new(unit, rate, Room::new(seed));
    let mut recorder = Recorder::new(world, rate);
    recorder.wait(random.uniform(15.0, 25.0));
    (recorder, random)
}

fn some_load(random: &mut Stream) -> Body {
    Body::dry(random.log_uniform(3.0, 200.0))
}

/// Spoils words at random over the next `seconds`, one every two minutes in the mean.
fn sprinkle_faults(recorder: &mut Recorder, random: &mut Stream, seconds: f64) {
    let mut at = recorder.world.now() + random.waiting(FAULT_EVERY_S);
    let end = recorder.world.now() + seconds;
    while at < end {
        let fault = DigitalFault::draw(random);
        recorder.world.spoil(fault, at);
        recorder.note(Event::Fault(at, fault));
        at += random.waiting(FAULT_EVERY_S);
    }
}

const FAULT_EVERY_S: f64 = 120.0;

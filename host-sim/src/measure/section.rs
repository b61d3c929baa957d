//! Scenarios of whole sections: five of them in half an hour, with a mark after each.

use yarn_scale_core::converter::SampleRate;

use super::recording::{Event, Recorder, Recording};
use crate::world::{Body, Room, Stream, Unit, World};

/// How a cake spends the time between two marks, and how the scale began.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Course {
    /// It is lifted off and comes back; the scale was switched on a moment ago.
    BackCold,
    /// It is lifted off and comes back; the scale has been on for hours.
    BackWarm,
    /// It is knitted from the pan; the scale was switched on a moment ago.
    Stays,
}

impl Course {
    /// All of them.
    pub const ALL: [Self; 3] = [Self::BackCold, Self::BackWarm, Self::Stays];
}

/// Sections of one recording.
pub const SECTIONS: usize = 5;

/// A cake is weighed in and five sections are knitted from it, each closed by a mark.
#[must_use]
pub fn sections(seed: u64, rate: SampleRate, course: Course) -> Recording {
    let mut random = Stream::new(seed, 11);
    let mut world = World::new(Unit::draw(seed), rate, Room::new(seed));
    if course == Course::BackWarm {
        world.connected = false;
        let start = world.now() + 3.0 * 3_600.0;
        world.advance(start, |_| {});
        world.connected = true;
    }
    let mut recorder = Recorder::new(world, rate);
    recorder.wait(random.uniform(8.0, 25.0));
    let mut mass = random.uniform(25.0, 150.0);
    let mut cake = recorder.place(Body::dry(mass));
    mark(&mut recorder, &mut random, 0.0);
    for _ in 0..SECTIONS {
        let seconds = random.uniform(300.0, 400.0);
        let used = random.uniform(2.0, 6.0);
        mass -= used;
        if course == Course::Stays {
            knit(&mut recorder, &mut random, seconds, |world, from, to, share| {
                world.draw_yarn(cake, from, to, used * share)
            });
            // Her hands lie still before she presses.
            recorder.wait(4.0);
        } else {
            recorder.wait(random.uniform(1.0, 20.0));
            recorder.remove(cake);
            recorder.wait(seconds);
            cake = recorder.place(Body::dry(mass));
        }
        mark(&mut recorder, &mut random, used);
    }
    recorder.finish()
}

/// The press comes shortly after the hand has left, steady or not; the reading is taken within a few seconds.
fn mark(recorder: &mut Recorder, random: &mut Stream, used: f64) {
    recorder.wait(random.uniform(0.3, 2.0));
    let now = recorder.world.now();
    recorder.note(Event::Mark(now, used));
    recorder.wait(10.0);
}

/// Pulls over `seconds`, each drawing its share of the yarn.
fn knit(recorder: &mut Recorder, random: &mut Stream, seconds: f64, mut draw: impl FnMut(&mut World, f64, f64, f64)) {
    let pauses: Vec<f64> = core::iter::repeat_with(|| random.uniform(4.0, 14.0))
        .take((seconds / 9.0) as usize)
        .collect();
    let total: f64 = pauses.iter().sum();
    for pause in &pauses {
        recorder.wait(*pause * seconds / total);
        let from = recorder.world.now();
        let tug = recorder.world.tug(from);
        recorder.note(Event::Tug(tug));
        draw(&mut recorder.world, tug.from, tug.released(), pause / total);
    }
    recorder.wait(3.0);
}

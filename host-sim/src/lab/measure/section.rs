//! Scenarios of whole sections: five of them in half an hour, with a mark after each.

use yarn_scale_core::converter::SampleRate;

use super::recording::{Event, Recorder, Recording};
use crate::world::{Body, DigitalFault, Disturbance, Gesture, Room, Stream, Unit, World};

/// How a cake spends the time between two marks, and how the scale began.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Course {
    /// It is lifted off and comes back; the scale was switched on a moment ago.
    BackCold,
    /// It is lifted off and comes back; the scale has been on for hours.
    BackWarm,
    /// It is knitted from the pan, in a bowl of up to 250 g; the scale was switched on a moment ago.
    Stays,
    /// Now this, now that, any load up to 400 g in a bowl, cold or warm, with steps, touches and spoilt words in between.
    Adverse,
    /// It is lifted off and comes back into a bowl that stays on the pan; the scale was switched on a moment ago.
    Bowl,
}

impl Course {
    /// All of them.
    pub const ALL: [Self; 5] = [Self::BackCold, Self::BackWarm, Self::Stays, Self::Adverse, Self::Bowl];
}

/// Sections of one recording.
pub const SECTIONS: usize = 5;

/// A cake is weighed in and five sections are knitted from it, each closed by a mark; then it is taken off.
#[must_use]
pub fn sections(unit: Unit, rate: SampleRate, course: Course) -> Recording {
    let mut random = Stream::new(unit.seed, 11);
    let adverse = course == Course::Adverse;
    let warm = course == Course::BackWarm || adverse && random.chance(0.5);
    let mut recorder = Recorder::new(switched_on(unit, rate, warm), rate);
    recorder.wait(random.uniform(8.0, 25.0));
    let bowl = if matches!(course, Course::Stays | Course::Adverse) {
        random.uniform(0.0, 250.0)
    } else {
        0.0
    };
    if course == Course::Bowl {
        recorder.place(Body::dry(random.uniform(40.0, 250.0)));
        recorder.wait(random.uniform(4.0, 10.0));
        recorder.note(Event::Bowl(recorder.world.now()));
        recorder.wait(1.0);
    }
    let mut mass = bowl + random.uniform(40.0, 150.0);
    let mut cake = recorder.place(Body::dry(mass));
    mark(&mut recorder, &mut random, 0.0);
    for _ in 0..SECTIONS {
        let seconds = random.uniform(300.0, 400.0);
        let used = random.uniform(2.0, 6.0);
        mass -= used;
        if adverse {
            trouble(&mut recorder, &mut random, seconds);
        }
        if course == Course::Stays || adverse && random.chance(0.4) {
            recorder.knit(cake, seconds, used);
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
    recorder.remove(cake);
    recorder.wait(10.0);
    recorder.finish()
}

fn switched_on(unit: Unit, rate: SampleRate, warm: bool) -> World {
    let room = Room::new(unit.seed);
    let mut world = World::new(unit, rate, room);
    if warm {
        // Without words time passes quickly, and the cell warms all the same.
        world.connected = false;
        world.advance(3.0 * 3_600.0, |_| {});
        world.connected = true;
    }
    world
}

/// The press comes shortly after the hand has left, steady or not; the reading is taken within a few seconds.
fn mark(recorder: &mut Recorder, random: &mut Stream, used: f64) {
    recorder.wait(random.uniform(0.3, 2.0));
    let now = recorder.world.now();
    recorder.note(Event::Mark(now, used));
    recorder.wait(10.0);
}

/// Steps, touches and spoilt words at random over the next `seconds`.
fn trouble(recorder: &mut Recorder, random: &mut Stream, seconds: f64) {
    let mut at = recorder.world.now();
    let end = at + seconds;
    loop {
        at += random.waiting(60.0);
        if at > end {
            return;
        }
        match random.index(3) {
            0 => {
                let steps = Disturbance::footsteps(at, at + 6.0, random);
                recorder.world.disturb(steps);
            }
            1 => {
                recorder.world.handle(Gesture::Touch, at);
            }
            _ => recorder.world.spoil(DigitalFault::draw(random), at),
        }
    }
}

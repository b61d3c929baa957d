//! Sessions drawn at random for training: a second opinion on what happens at a pan, drawn wider than the benchmark's.
//!
//! All figures are assumptions, none was recorded.

use crate::lab::measure::recording::Recording;
use crate::world::{Disturbance, Stream, Tug, Unit};
use yarn_scale_core::converter::SampleRate;

/// What kind of session.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Kind {
    /// Loads are placed, removed, touched, bumped, pressed.
    Handled,
    /// The cake is knitted from the pan.
    Knitted,
    /// Some of everything, with hardly a pause.
    Mixed,
    /// Hardly anything.
    Quiet,
    /// Steps, machines, wobbles.
    Shaken,
    /// 0.3 g come or go.
    Snipped,
}

/// A force of a hand over time.
#[derive(Clone, Debug)]
pub(super) struct Touch {
    /// Instants and forces, smooth between, g.
    pub knots: Vec<(f64, f64)>,
    pub fluctuation: f64,
    pub fluctuation_s: f64,
    pub tremor_hz: f64,
}

/// A load that comes or goes between two instants, g.
#[derive(Clone, Copy, Debug)]
pub(super) struct Change {
    pub from: f64,
    pub to: f64,
    pub grams: f64,
}

/// All that happens in a session.
#[derive(Clone, Debug, Default)]
pub(super) struct Script {
    pub seconds: f64,
    pub touches: Vec<Touch>,
    pub changes: Vec<Change>,
    pub tugs: Vec<Tug>,
    pub shaking: Vec<Disturbance>,
}

impl Kind {
    /// Kinds and how many sessions of each make `sessions`.
    pub(super) const SHARES: [(Self, u64); 6] = [
        (Self::Handled, 60),
        (Self::Knitted, 20),
        (Self::Mixed, 20),
        (Self::Quiet, 3),
        (Self::Shaken, 3),
        (Self::Snipped, 3),
    ];

    /// The benchmark's recording of about this kind.
    pub(super) fn record(self, unit: Unit, rate: SampleRate) -> Recording {
        use crate::lab::measure::scenario;
        match self {
            Self::Handled => scenario::handlings(unit, rate),
            Self::Knitted => scenario::knitting(unit, rate),
            Self::Mixed => scenario::faults(unit, rate),
            Self::Quiet => scenario::rest(unit, rate),
            Self::Shaken => scenario::shaking(unit, rate),
            Self::Snipped => scenario::changes(unit, rate),
        }
    }
}

/// Draws a session on a cell of `capacity` g.
pub(super) fn draw(kind: Kind, seconds: f64, capacity: f64, random: &mut Stream) -> Script {
    let mut script = Script {
        seconds,
        ..Script::default()
    };
    let mut load = 0.0;
    if kind == Kind::Knitted || random.chance(0.3) {
        load = random.log_uniform(5.0, 200.0);
        script.changes.push(Change {
            from: -2.0,
            to: -1.0,
            grams: load,
        });
    }
    let even = random.chance(0.5);
    let mut t = random.uniform(3.0, 10.0);
    while t < seconds - 8.0 {
        let now = match kind {
            Kind::Mixed => match random.index(12) {
                0..7 => Kind::Handled,
                7..10 => Kind::Knitted,
                10 => Kind::Shaken,
                _ => Kind::Snipped,
            },
            other => other,
        };
        t = match now {
            Kind::Handled => handle(&mut script, &mut load, t, even, capacity, random),
            Kind::Knitted => knit(&mut script, &mut load, t, seconds - 8.0, random),
            Kind::Shaken => shake(&mut script, t, random),
            Kind::Snipped => {
                let grams = if load < 1.0 { 0.3 } else { 0.3 * random.sign() };
                let lasts = if random.chance(0.5) {
                    random.uniform(0.05, 0.3)
                } else {
                    random.uniform(1.0, 20.0)
                };
                script.changes.push(Change {
                    from: t,
                    to: t + lasts,
                    grams,
                });
                load += grams;
                t + lasts + random.uniform(16.0, 20.0)
            }
            Kind::Mixed | Kind::Quiet => {
                if random.chance(0.1) {
                    script.shaking.push(Disturbance::knock(t, random));
                }
                t + random.uniform(10.0, 40.0)
            }
        };
    }
    script
}

fn handle(script: &mut Script, load: &mut f64, from: f64, even: bool, capacity: f64, random: &mut Stream) -> f64 {
    let what = match random.index(10) {
        0..7 if *load < 0.5 => 0,
        0..7 if *load > 0.7 * capacity => 4,
        what => what,
    };
    let force = if even {
        random.uniform(1.0, 60.0)
    } else {
        random.log_uniform(1.0, 60.0)
    };
    let carries = what < 7 && random.chance(0.25);
    let force = if carries { -force } else { force };
    let (arrive, pause, leave) = (
        random.uniform(0.04, 0.3),
        random.uniform(0.2, 1.5),
        random.uniform(0.02, 0.2),
    );
    let mut knots = vec![(from, 0.0)];
    let mut t = from;
    let mut to = |knots: &mut Vec<(f64, f64)>, after: f64, level: f64| {
        t += after;
        knots.push((t, level));
        t
    };
    match what {
        // Set down and let go in one movement, or dropped: no force but the load's own.
        0..4 if random.chance(0.3) => {
            let grams = random.log_uniform(1.0, 150.0);
            let end = to(&mut knots, random.uniform(0.03, 0.6), 0.0);
            script.changes.push(Change { from, to: end, grams });
            *load += grams;
        }
        // Put down: at once, little by little, or let go at the very end.
        0..4 => {
            let grams = random.log_uniform(1.0, 150.0);
            let on = to(&mut knots, arrive, force);
            to(&mut knots, pause, force);
            if random.chance(0.35) {
                let again = force * random.uniform(0.2, 1.5);
                to(&mut knots, random.uniform(0.1, 0.3), again);
                to(&mut knots, random.uniform(0.2, 1.5), again);
            }
            let off = to(&mut knots, leave, 0.0);
            let (begin, end) = match random.index(10) {
                0..4 => (from, on),
                4..8 => (from, on + random.uniform(0.0, 0.6 * pause)),
                _ => (off - leave - 0.1, off),
            };
            script.changes.push(Change {
                from: begin,
                to: end,
                grams,
            });
            *load += grams;
        }
        // Taken off, all or a part.
        4..7 => {
            let grams = if random.chance(0.7) {
                *load
            } else {
                *load * random.uniform(0.05, 0.95)
            };
            to(&mut knots, arrive, force);
            let begin = to(&mut knots, pause, force);
            let end = to(&mut knots, random.uniform(0.05, 0.4), 0.0);
            script.changes.push(Change {
                from: begin,
                to: end,
                grams: -grams,
            });
            *load -= grams;
        }
        // Touched, bumped, pressed.
        7 => {
            to(&mut knots, arrive, force);
            to(&mut knots, random.uniform(0.1, 0.8), force);
            to(&mut knots, leave, 0.0);
        }
        8 => {
            to(&mut knots, random.uniform(0.01, 0.05), 2.0 * force);
            to(&mut knots, leave, 0.0);
        }
        _ => {
            to(&mut knots, arrive, force);
            to(&mut knots, pause + random.uniform(0.0, 1.5), force);
            to(&mut knots, leave, 0.0);
        }
    }
    let end = knots.last().map_or(from, |knot| knot.0);
    script.touches.push(Touch {
        knots,
        fluctuation: random.uniform(0.02, 0.06),
        fluctuation_s: random.uniform(0.2, 0.6),
        tremor_hz: random.uniform(8.0, 12.0),
    });
    end + if random.chance(0.15) {
        random.uniform(0.8, 3.0)
    } else {
        random.uniform(3.0, 9.0)
    }
}

fn knit(script: &mut Script, load: &mut f64, from: f64, latest: f64, random: &mut Stream) -> f64 {
    let until = (from + random.uniform(15.0, 40.0)).min(latest);
    let grams_a_second = random.uniform(0.3, 1.0) / 60.0;
    let mut t = from;
    while t < until {
        let mut tug = Tug::draw(t, random);
        tug.rise_s = random.uniform(0.05, 0.4);
        tug.tail_s = random.uniform(0.05, 0.6);
        let next = tug.gone(0.1) + random.uniform(1.0, 8.0);
        let used = grams_a_second * (next - t);
        if random.chance(0.5) && *load > used + 1.0 {
            script.changes.push(Change {
                from: t,
                to: tug.released(),
                grams: -used,
            });
            *load -= used;
        }
        script.tugs.push(tug);
        t = next;
    }
    t + random.uniform(1.0, 4.0)
}

fn shake(script: &mut Script, from: f64, random: &mut Stream) -> f64 {
    let until = from + random.uniform(4.0, 12.0);
    script.shaking.push(match random.index(10) {
        0..8 => Disturbance::footsteps(from, until, random),
        8 => Disturbance::machine(from, until, random),
        _ => Disturbance::wobble(from, random),
    });
    until + random.uniform(3.0, 8.0)
}

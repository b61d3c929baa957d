//! A hand at the pan: what it presses or lifts while it places, removes, touches, bumps or presses.
//!
//! A hand is never still: its force fluctuates slowly by a few per cent and trembles at 8 to 12 Hz. Whether a pause of the hand can be
//! told from rest is the hardest question put to an estimator. All figures are engineering assumptions.

use super::random::Stream;

/// One gesture's force over time, beside any load that it moves.
#[derive(Clone, Debug)]
pub struct Hand {
    /// Level of the force, g, at instants in world seconds, in order; smooth between.
    knots: Vec<(f64, f64)>,
    fluctuation: f64,
    fluctuation_s: f64,
    slow: f64,
    tremor_hz: f64,
    phase: f64,
}

/// What a hand does.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Gesture {
    /// Puts a load down.
    Place,
    /// Takes the load away.
    Remove,
    /// Rests on the load for a moment.
    Touch,
    /// Knocks against it.
    Bump,
    /// Presses and holds.
    Press,
}

impl std::fmt::Display for Gesture {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(match self {
            Self::Place => "puts a load down",
            Self::Remove => "takes the load away",
            Self::Touch => "rests on the load",
            Self::Bump => "knocks against it",
            Self::Press => "presses and holds",
        })
    }
}

/// How a hand puts a thing down.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Placing {
    /// Now and then a second thought; six in ten linger.
    Usual,
    /// In one movement, with a blow, and gone.
    OneMovement,
    /// Let go and touched again.
    TwoTouches,
    /// Slid to where it belongs.
    Sliding,
    /// Round: it rocks after the hand has gone.
    Rolling,
    /// Pressed down once it stands.
    Pressed,
    /// As usual, and the hand always stays for a while.
    Lingering,
}

impl Placing {
    /// All of them.
    pub const ALL: [Self; 7] = [
        Self::Usual,
        Self::OneMovement,
        Self::TwoTouches,
        Self::Sliding,
        Self::Rolling,
        Self::Pressed,
        Self::Lingering,
    ];
}

/// The ways of the hands at one scale.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Manner {
    /// How they put a thing down.
    pub placing: Placing,
    /// Shortest and longest time in which a hand leaves, s.
    pub leave_s: (f64, f64),
}

impl Manner {
    /// As the estimator was raised with.
    pub const USUAL: Self = Self {
        placing: Placing::Usual,
        leave_s: (0.08, 0.35),
    };
}

/// When a gesture does what, world seconds.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Timing {
    /// First contact.
    pub contact: f64,
    /// From when to when the load changes (equal where it does not).
    pub load: (f64, f64),
    /// The hand has left.
    pub hand_off: f64,
}

impl Hand {
    /// Draws a gesture that begins with contact at `contact`.
    pub fn draw(gesture: Gesture, manner: Manner, contact: f64, random: &mut Stream) -> (Self, Timing) {
        if gesture == Gesture::Place
            && !matches!(manner.placing, Placing::Usual | Placing::Lingering | Placing::Rolling)
        {
            return Self::placing(manner, contact, random);
        }
        let force = random.log_uniform(1.0, 60.0);
        // Mostly it weighs on the pan; when placing or lifting it may still carry a part.
        let force = if matches!(gesture, Gesture::Place | Gesture::Remove) && random.chance(0.3) {
            -force
        } else {
            force
        };
        let mut knots = vec![(contact, 0.0)];
        let mut now = contact;
        let mut to = |knots: &mut Vec<(f64, f64)>, after: f64, level: f64| {
            now += after;
            knots.push((now, level));
            now
        };
        let arrive = random.uniform(0.05, 0.25);
        // Not every hand lingers.
        let lingers = random.chance(0.6) || gesture == Gesture::Press || manner.placing == Placing::Lingering;
        let pause = if lingers {
            random.log_uniform(0.2, 1.5)
        } else {
            random.uniform(0.02, 0.2)
        };
        let leave = random.uniform(manner.leave_s.0, manner.leave_s.1);
        let load = match gesture {
            Gesture::Place => {
                let end = to(&mut knots, random.uniform(0.15, 0.5), force);
                to(&mut knots, pause, force);
                if random.chance(0.15) {
                    // A second thought: the grip shifts, and rests again.
                    to(&mut knots, random.uniform(0.1, 0.3), force * random.uniform(0.3, 1.5));
                    let again = knots.last().map_or(force, |knot| knot.1);
                    to(&mut knots, random.log_uniform(0.2, 1.5), again);
                }
                (contact, end)
            }
            Gesture::Remove => {
                let from = {
                    to(&mut knots, arrive, force);
                    to(&mut knots, pause, force)
                };
                let lift = random.uniform(0.15, 0.6);
                let end = to(&mut knots, lift, 0.0);
                return (
                    Self::around(knots, random),
                    Timing {
                        contact,
                        load: (from, end),
                        hand_off: end,
                    },
                );
            }
            Gesture::Touch => {
                to(&mut knots, arrive, force);
                to(&mut knots, random.uniform(0.1, 0.5), force);
                (contact, contact)
            }
            Gesture::Bump => {
                to(&mut knots, random.uniform(0.03, 0.1), force);
                (contact, contact)
            }
            Gesture::Press => {
                to(&mut knots, arrive, force);
                to(&mut knots, pause + random.uniform(0.0, 0.8), force);
                (contact, contact)
            }
        };
        let hand_off = to(&mut knots, leave, 0.0);
        (
            Self::around(knots, random),
            Timing {
                contact,
                load,
                hand_off,
            },
        )
    }

    /// Puts a load down otherwise than usual.
    fn placing(manner: Manner, contact: f64, random: &mut Stream) -> (Self, Timing) {
        let mut knots = vec![(contact, 0.0)];
        let mut now = contact;
        let mut to = |after: f64, level: f64| {
            now += after;
            knots.push((now, level));
            now
        };
        let force = random.log_uniform(1.0, 60.0);
        let lies = match manner.placing {
            Placing::OneMovement => {
                // The blow, and it stands.
                to(random.uniform(0.05, 0.1), random.log_uniform(5.0, 80.0));
                to(random.uniform(0.05, 0.1), force * 0.1)
            }
            Placing::TwoTouches => {
                let lies = to(random.uniform(0.15, 0.5), force);
                to(random.uniform(0.1, 0.3), 0.0);
                to(random.uniform(0.05, 0.4), 0.0);
                to(random.uniform(0.05, 0.2), force * random.uniform(0.2, 1.0));
                lies
            }
            Placing::Sliding => {
                let lies = to(random.uniform(0.2, 0.5), force);
                for _ in 0..=random.index(4) {
                    to(random.uniform(0.1, 0.4), force * random.uniform(-0.6, 1.2));
                }
                lies
            }
            _ => {
                let lies = to(random.uniform(0.15, 0.5), force);
                let press = random.log_uniform(20.0, 150.0);
                to(random.uniform(0.1, 0.3), press);
                to(random.log_uniform(0.1, 1.0), press * random.uniform(0.8, 1.1));
                lies
            }
        };
        let hand_off = to(random.uniform(manner.leave_s.0, manner.leave_s.1), 0.0);
        let timing = Timing {
            contact,
            load: (contact, lies),
            hand_off,
        };
        (Self::around(knots, random), timing)
    }

    /// A hand that lies on the pan from `from` until it is taken off at `until` (infinite while unknown).
    pub fn resting(force: f64, from: f64, until: f64, random: &mut Stream) -> Self {
        let knots = vec![(from, 0.0), (from + 0.15, force), (until, force), (until + 0.08, 0.0)];
        Self::around(knots, random)
    }

    /// First and last instant of its force.
    #[must_use]
    pub fn span(&self) -> (f64, f64) {
        (
            self.knots.first().map_or(0.0, |k| k.0),
            self.knots.last().map_or(0.0, |k| k.0),
        )
    }

    /// Takes it off at `now`.
    pub fn leave(&mut self, now: f64) {
        let level = level(&self.knots, now);
        self.knots.retain(|knot| knot.0 < now);
        self.knots.push((now, level));
        self.knots.push((now + 0.08, 0.0));
    }

    /// Its force at `t`, g; called with rising `t`, `dt` apart.
    pub fn force(&mut self, t: f64, dt: f64, random: &mut Stream) -> f64 {
        let keep = (-dt / self.fluctuation_s).exp();
        self.slow = self.slow * keep + (1.0 - keep * keep).sqrt() * random.normal();
        let level = level(&self.knots, t);
        if level == 0.0 {
            return 0.0;
        }
        let tremor =
            TREMOR * core::f64::consts::SQRT_2 * (core::f64::consts::TAU * self.tremor_hz * t + self.phase).sin();
        level * (1.0 + self.fluctuation * self.slow + tremor)
    }

    fn around(knots: Vec<(f64, f64)>, random: &mut Stream) -> Self {
        Self {
            knots,
            fluctuation: random.uniform(0.02, 0.06),
            fluctuation_s: random.uniform(0.2, 0.6),
            slow: random.normal(),
            tremor_hz: random.uniform(8.0, 12.0),
            phase: random.uniform(0.0, core::f64::consts::TAU),
        }
    }
}

/// From 0 to 1 as `t` goes from `from` to `to`, as a hand moves: with least jerk (Flash and Hogan, 1985).
#[must_use]
pub(crate) fn ease(t: f64, from: f64, to: f64) -> f64 {
    if t >= to {
        1.0
    } else if t <= from {
        0.0
    } else {
        let x = (t - from) / (to - from);
        x * x * x * (10.0 + x * (6.0 * x - 15.0))
    }
}

fn level(knots: &[(f64, f64)], t: f64) -> f64 {
    let Some(next) = knots.iter().position(|knot| knot.0 > t) else {
        return 0.0;
    };
    let Some(&[before, after]) = next
        .checked_sub(1)
        .and_then(|first| knots.get(first..=next))
        .and_then(|pair| pair.first_chunk())
    else {
        return 0.0;
    };
    before.1 + (after.1 - before.1) * ease(t, before.0, after.0)
}

/// Standard deviation of the tremor as a share of the force.
const TREMOR: f64 = 0.012;

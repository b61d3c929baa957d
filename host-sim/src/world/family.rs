//! A family of worlds: what hands, noise and mechanics may be like elsewhere. An estimator that was raised in one of them is judged in all.
//!
//! Every world but the first draws wider than [`Unit::draw`]; some are *kept out*: nothing is tuned by them, they only judge. All ranges are
//! engineering assumptions; of published recordings they take the rate (10.2 to 11.1 a second on three boards), the rise after power-on
//! (0.16 g in four minutes on a 500 g cell) and the blow of a thing set down (5 to 95 % in 0.1 to 0.2 s, a peak of 2.2 times its weight).

use super::hand::{Manner, Placing};
use super::noise::Extra;
use super::random::Stream;
use super::unit::{Unit, VOLTS_PER_COUNT};

/// One world of the family.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Family {
    /// The one that the estimator was raised in.
    Raised,
    /// A thing is set down in one movement with a blow, and the hand is gone at once; stiff, well damped, white noise.
    OneMovement,
    /// Set down, let go, touched again; noise through the converter's filter.
    TwoTouches,
    /// Hands that stay long, and cells of 300 g to 1 kg.
    SlowHands,
    /// Steps of the converter's offset, some an hour to some in ten minutes.
    Popcorn,
    /// Mains that beats with the conversions.
    Hum,
    /// Cells that warm up far and long, creep and hold more.
    Restless,
    /// Slid into place; noise that is mostly pink.
    Slides,
    /// A pan on a soft mount: slow, and it rings for long.
    SoftMount,
    /// It rolls on its pan after the hand has gone; slow and hardly damped. Kept out.
    Rolls,
    /// All of it at once, drawn anew for each unit. Kept out.
    Anything,
}

impl Family {
    /// All of them.
    pub const ALL: [Self; 11] = [
        Self::Raised,
        Self::OneMovement,
        Self::TwoTouches,
        Self::SlowHands,
        Self::Popcorn,
        Self::Hum,
        Self::Restless,
        Self::Slides,
        Self::SoftMount,
        Self::Rolls,
        Self::Anything,
    ];

    /// For a table.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Raised => "raised in",
            Self::OneMovement => "one movement",
            Self::TwoTouches => "two touches",
            Self::SlowHands => "slow hands",
            Self::Popcorn => "popcorn noise",
            Self::Hum => "hum",
            Self::Restless => "restless cells",
            Self::Slides => "slides",
            Self::SoftMount => "soft mount",
            Self::Rolls => "rolls",
            Self::Anything => "anything",
        }
    }

    /// Whether nothing may be tuned by it.
    #[must_use]
    pub const fn is_kept_out(self) -> bool {
        matches!(self, Self::Rolls | Self::Anything)
    }

    /// Draws a unit of this world, its hands included.
    #[must_use]
    pub fn draw(self, seed: u64) -> Unit {
        let mut r = Stream::new(seed, 20);
        let drawn = Unit::draw(seed);
        if self == Self::Raised {
            return drawn;
        }
        let usual = Unit {
            rate_error: r.uniform(-0.1, 0.15),
            ..drawn
        };
        match self {
            Self::Raised => usual,
            Self::OneMovement => Unit {
                noise_through_filter: false,
                resonance_hz: r.uniform(12.0, 30.0),
                damping: r.log_uniform(0.05, 0.2),
                manner: manner(Placing::OneMovement, 0.1, 0.3),
                ..usual
            },
            Self::TwoTouches => Unit {
                noise_through_filter: true,
                manner: manner(Placing::TwoTouches, 0.1, 0.6),
                ..usual
            },
            Self::SlowHands => Unit {
                manner: manner(Placing::Lingering, 0.5, 1.5),
                ..cell_of(usual, [300.0, 500.0, 1_000.0][r.index(3)])
            },
            Self::Popcorn => Unit {
                extra: popcorn(&usual, &mut r),
                ..usual
            },
            Self::Hum => Unit {
                extra: hum(&usual, &mut r),
                ..usual
            },
            Self::Restless => restless(usual, &mut r),
            Self::Slides => Unit {
                flicker_counts: usual.flicker_counts * r.uniform(1.5, 4.0),
                manner: manner(Placing::Sliding, 0.1, 0.8),
                ..usual
            },
            Self::SoftMount => Unit {
                resonance_hz: r.log_uniform(4.0, 12.0),
                damping: r.log_uniform(0.01, 0.08),
                ..usual
            },
            Self::Rolls => Unit {
                resonance_hz: r.uniform(4.0, 10.0),
                damping: r.log_uniform(0.01, 0.05),
                manner: manner(Placing::Rolling, 0.1, 0.6),
                ..usual
            },
            Self::Anything => anything(usual, &mut r),
        }
    }
}

fn anything(usual: Unit, r: &mut Stream) -> Unit {
    let unit = cell_of(usual, r.uniform(300.0, 1_000.0));
    let unit = if r.chance(0.5) { restless(unit, r) } else { unit };
    let from = r.uniform(0.1, 1.0);
    let extra = match r.index(4) {
        0 => popcorn(&unit, r),
        1 => hum(&unit, r),
        _ => Extra::default(),
    };
    Unit {
        noise_through_filter: r.chance(0.5),
        flicker_counts: unit.flicker_counts * r.log_uniform(0.5, 4.0),
        resonance_hz: r.log_uniform(4.0, 30.0),
        damping: r.log_uniform(0.01, 0.2),
        manner: manner(Placing::ALL[r.index(Placing::ALL.len())], from, from + 0.5),
        extra,
        ..unit
    }
}

/// What the same unit would be with another cell: noise stays in volts, the cell's errors in shares of its rated load.
fn cell_of(unit: Unit, capacity_g: f64) -> Unit {
    Unit {
        counts_per_g: unit.counts_per_g * unit.cell_capacity_g / capacity_g,
        cell_capacity_g: capacity_g,
        calibration_g: capacity_g,
        ..unit
    }
}

/// Creep, hysteresis, temperature and warming up up to twice what cheap cells are said to have, and slower.
fn restless(unit: Unit, r: &mut Stream) -> Unit {
    Unit {
        creep: r.sign() * r.uniform(0.000_1, 0.001),
        creep_s: [r.uniform(15.0, 180.0), r.uniform(300.0, 1_500.0)],
        hysteresis: r.uniform(0.000_1, 0.001),
        zero_per_10k: r.sign() * r.uniform(0.000_1, 0.001),
        warm_up: r.sign() * r.uniform(0.000_1, 0.001),
        warm_up_s: r.log_uniform(60.0, 1_200.0),
        ..unit
    }
}

fn popcorn(unit: &Unit, r: &mut Stream) -> Extra {
    Extra {
        popcorn_counts: unit.counts_per_g.abs() * r.log_uniform(0.01, 0.08),
        popcorn_s: r.log_uniform(120.0, 1_200.0),
        ..Extra::default()
    }
}

/// 50 or 60 Hz is suppressed by the filter's zeros only at the nominal rate; what is left beats slowly.
fn hum(unit: &Unit, r: &mut Stream) -> Extra {
    Extra {
        hum_counts: unit
            .white_counts(yarn_scale_core::converter::SampleRate::Ten)
            .min(60e-9 / VOLTS_PER_COUNT)
            * r.uniform(0.5, 1.5),
        hum_hz: r.uniform(0.3, 4.5),
        ..Extra::default()
    }
}

const fn manner(placing: Placing, from: f64, to: f64) -> Manner {
    Manner {
        placing,
        leave_s: (from, to),
    }
}

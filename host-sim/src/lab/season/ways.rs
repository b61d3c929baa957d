//! What a 4 g section seems to take when cuff begun and cuff finished lie hours or days apart, by each way of dealing with
//! moisture.

use rand::{RngExt, SeedableRng};
use rand_distr::{Distribution, StandardNormal};
use rand_pcg::Pcg64Mcg;
use yarn_scale_core::measured::Measured;
use yarn_scale_core::sock::{
    Fibre,
    moisture::{
        MoistureKnown, SENSOR_AT_MARKS_U, SENSOR_HOURLY_U, by_control, by_humidity, followed, hours_to_follow,
        moisture_u, went,
    },
};
use yarn_scale_core::units::Milligrams;

use super::ball::moist;
use super::room::{HOURS, humidity};

/// Hours between the two weighings that are looked at.
pub const APART: [usize; 7] = [1, 4, 12, 24, 72, 168, 336];

/// How many ways there are.
pub const WAYS: usize = 7;

/// Ways of dealing with moisture.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Way {
    /// None: the range is that of the scale alone.
    Ignored,
    /// None, but the range is widened by fibre and time.
    Widened,
    /// A humidity sensor that is read at the weighings only.
    SensorAtMarks,
    /// The same as the scale takes it: it goes by the sensor only where that leaves less uncertainty than no correction.
    SensorChosen,
    /// A humidity sensor that is read every hour, so that the ball's lag can be followed.
    SensorHourly,
    /// A control skein of 20 g.
    Control20,
    /// A control skein of 50 g.
    Control50,
}

impl Way {
    /// In the order of the table.
    pub const ALL: [Self; WAYS] = [
        Self::Ignored,
        Self::Widened,
        Self::SensorAtMarks,
        Self::SensorChosen,
        Self::SensorHourly,
        Self::Control20,
        Self::Control50,
    ];

    /// In words.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::Ignored => "nothing, range of the scale alone",
            Self::Widened => "nothing, range widened",
            Self::SensorAtMarks => "humidity sensor, read at marks",
            Self::SensorChosen => "humidity sensor, as the scale takes it",
            Self::SensorHourly => "humidity sensor, read hourly",
            Self::Control20 => "control skein of 20 g",
            Self::Control50 => "control skein of 50 g",
        }
    }
}

/// Errors of one way at one distance in time.
#[derive(Clone, Debug, Default)]
pub struct Errors {
    /// Magnitudes, mg.
    magnitudes: Vec<f64>,
    /// How many lay within the stated 95 % range.
    within: usize,
    /// Sum of the stated standard uncertainties, mg.
    stated: f64,
}

impl Errors {
    /// Root of the mean square, mg.
    #[must_use]
    pub fn root_mean_square(&self) -> f64 {
        let squares: f64 = self.magnitudes.iter().map(|error| error * error).sum();
        (squares / self.magnitudes.len().max(1) as f64).sqrt()
    }

    /// What 95 % of the magnitudes stay below, mg.
    #[must_use]
    pub fn within_95(&self) -> f64 {
        let mut sorted = self.magnitudes.clone();
        sorted.sort_by(f64::total_cmp);
        sorted.get(sorted.len() * 95 / 100).copied().unwrap_or(0.0)
    }

    /// Share that lay within the stated range, percent.
    #[must_use]
    pub fn coverage(&self) -> f64 {
        100.0 * self.within as f64 / self.magnitudes.len().max(1) as f64
    }

    /// Mean half-width of the stated 95 % range, mg.
    #[must_use]
    pub fn stated_95(&self) -> f64 {
        1.96 * self.stated / self.magnitudes.len().max(1) as f64
    }

    fn add(&mut self, error: f64, u: f64) {
        self.magnitudes.push(error.abs());
        self.within += usize::from(error.abs() <= 1.96 * u);
        self.stated += u;
    }
}

/// Weighs sections all through so many seasons: errors by [`Way::ALL`] for each of [`APART`].
#[must_use]
pub fn measure(seasons: u32, seed: u64, cake_g: f64, fibre: Fibre) -> Vec<[Errors; WAYS]> {
    let mut table = vec![<[Errors; WAYS]>::default(); APART.len()];
    for season in 0..u64::from(seasons) {
        let mut random = Pcg64Mcg::seed_from_u64(seed.wrapping_add(season) ^ 0x5ea5_0000);
        let season = Season::new(&mut random, seed.wrapping_add(season), cake_g, fibre);
        for (row, hours) in table.iter_mut().zip(APART) {
            for _ in 0..200 {
                let begun = random.random_range(48..HOURS - hours);
                season.weigh(&mut random, begun, begun + hours, row);
            }
        }
    }
    table
}

struct Season {
    room: Vec<f64>,
    cake: Vec<f64>,
    controls: [(f64, Vec<f64>); 2],
    cake_g: f64,
    fibre: Fibre,
    /// The sensor's slope: a change of 1 % reads as this.
    slope: f64,
}

impl Season {
    fn new(random: &mut Pcg64Mcg, seed: u64, cake_g: f64, fibre: Fibre) -> Self {
        let room = humidity(seed);
        Self {
            cake: moist(&room, fibre, cake_g),
            controls: [20.0, 50.0].map(|grams| (grams, moist(&room, fibre, grams))),
            room,
            cake_g,
            fibre,
            slope: 1.0 + 0.03 * gauss(random),
        }
    }

    /// One section: the cake before and after, and each way's idea of what it took.
    fn weigh(&self, random: &mut Pcg64Mcg, begun: usize, done: usize, row: &mut [Errors; WAYS]) {
        let dry = 1_000.0 * self.cake_g / 1.12;
        let section = SECTION_MG / self.cake[begun];
        let before = reading(random, dry * self.cake[begun]);
        let after = reading(random, (dry - section) * self.cake[done]);
        let hours = (done - begun) as f32;
        let moisture = moisture_u(after.value, self.fibre, hours);
        let control = |random: &mut Pcg64Mcg, place: usize| {
            let (grams, moist) = &self.controls[place];
            let dry = 1_000.0 * grams / 1.12;
            let (then, now) = (reading(random, dry * moist[begun]), reading(random, dry * moist[done]));
            by_control(after, self.fibre, hours, then, now).expect("a skein weighs something")
        };
        let sensed = |random: &mut Pcg64Mcg, at: usize| {
            (self.room[0] + self.slope * (self.room[at] - self.room[0]) + 0.2 * gauss(random)) as f32
        };
        let at_marks = [begun, done].map(|at| sensed(random, at));
        let hourly = [begun, done].map(|at| self.followed(random, at, sensed));
        let by_sensor = |[then, now]: [f32; 2], u| by_humidity(after, self.fibre, now, then, u);
        let known = MoistureKnown {
            humidity: Some((at_marks[0], at_marks[1], SENSOR_AT_MARKS_U)),
            control: None,
        };
        let (chosen, _) = went(before, after, self.fibre, hours, known);
        let plain = before.minus(after);
        let answers = [
            plain,
            Measured {
                u: plain.u.hypot(moisture),
                ..plain
            },
            before.minus(by_sensor(at_marks, SENSOR_AT_MARKS_U)),
            chosen,
            before.minus(by_sensor(hourly, SENSOR_HOURLY_U)),
            before.minus(control(random, 0)),
            before.minus(control(random, 1)),
        ];
        for (errors, used) in row.iter_mut().zip(answers) {
            errors.add(f64::from(used.value.0) - SECTION_MG, f64::from(used.u));
        }
    }

    /// What the ball's water corresponds to, by an hourly sensor over the last two days.
    fn followed(&self, random: &mut Pcg64Mcg, at: usize, sensed: impl Fn(&mut Pcg64Mcg, usize) -> f32) -> f32 {
        let lag = hours_to_follow(Milligrams((self.cake_g * 1_000.0) as i32));
        let start = sensed(random, at - 48);
        (at - 47..=at).fold(start, |soaked, hour| followed(soaked, sensed(random, hour), 1.0, lag))
    }
}

/// A weighing by the scale.
fn reading(random: &mut Pcg64Mcg, truth: f64) -> Measured {
    Measured {
        value: Milligrams((truth + WEIGHING_MG * gauss(random)).round() as i32),
        u: WEIGHING_MG as f32,
    }
}

fn gauss(random: &mut Pcg64Mcg) -> f64 {
    StandardNormal.sample(random)
}

/// What the section takes, at the moisture of its beginning.
const SECTION_MG: f64 = 4_000.0;

/// Standard uncertainty of one weighing, mg: the scale's own, of the fine value.
const WEIGHING_MG: f64 = 10.0;

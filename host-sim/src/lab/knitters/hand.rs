//! One simulated knitter: how much her sections take, and how much that varies.
//!
//! The figures are assumptions, not measurements; what is shown with them is whether a rule keeps its promise whatever a
//! knitter's spread is, not what the spread of real knitters is.

use rand::RngExt;
use rand_distr::{Distribution, LogNormal, Normal, StudentT};
use rand_pcg::Pcg64Mcg;
use yarn_scale_core::measured::Measured;
use yarn_scale_core::sock::{
    Construction, Decitex, HeelConstruction, PairRecord, Ribbing, SectionKind, Size, Sock, ToeConstruction,
};
use yarn_scale_core::units::Milligrams;

/// The contrast sections, each with its construction and what the estimate by stitches and gauge says, mg.
pub const CONTRAST: [(SectionKind, Construction, f64); 3] = [
    (SectionKind::Cuff, Construction::Ribbed(Ribbing::TwoByTwo), 3_000.0),
    (
        SectionKind::Heel,
        Construction::Heel(HeelConstruction::FlapAndGusset),
        3_200.0,
    ),
    (SectionKind::Toe, Construction::Toe(ToeConstruction::Wedge), 2_500.0),
];

/// Size of every section here: 64 stitches in a yarn of 420 m per 100 g.
pub const SIZE: Size = Size {
    stitches: 64,
    rounds: 0,
    yarn: Decitex(2_381),
};

/// How the deviations are distributed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, clap::ValueEnum)]
pub enum Deviations {
    /// Normal, as the rule assumes.
    Normal,
    /// Skewed: logarithms are normal.
    Skewed,
    /// Heavy tails: Student's t with 4 degrees of freedom, scaled to the same spread.
    Heavy,
}

/// A knitter: what each section takes on average and by how much it varies, as shares of that.
#[derive(Clone, Debug)]
pub struct Knitter {
    means: [f64; 3],
    pair: f64,
    pair_section: [f64; 3],
    sock: f64,
    sections: [f64; 3],
    weighing: f64,
    deviations: Deviations,
}

/// What the sections of a pair really took, mg: by section, then sock.
pub type Pair = [[f64; 2]; 3];

impl Knitter {
    /// Draws a knitter.
    pub fn draw(random: &mut Pcg64Mcg, deviations: Deviations) -> Self {
        // The estimate is off by a tenth, more or less, for one knitter: relaxation and put-up alone do that.
        let hand = normal(random, 1.0, 0.10);
        Self {
            means: CONTRAST.map(|(_, _, estimate)| estimate * hand * normal(random, 1.0, 0.05)),
            pair: random.random_range(0.01..0.08),
            pair_section: [(); 3].map(|()| random.random_range(0.0..0.05)),
            sock: random.random_range(0.0..0.03),
            sections: [(); 3].map(|()| random.random_range(0.01..0.05)),
            weighing: random.random_range(10.0..45.0),
            deviations,
        }
    }

    /// Knits a pair.
    pub fn knit(&self, random: &mut Pcg64Mcg) -> Pair {
        let of_pair = self.deviation(random, self.pair);
        let of_socks = [self.deviation(random, self.sock), self.deviation(random, self.sock)];
        let mut pair = Pair::default();
        for (place, socks) in pair.iter_mut().enumerate() {
            let of_section = self.deviation(random, self.pair_section[place]);
            for (sock, taken) in socks.iter_mut().enumerate() {
                let own = self.deviation(random, self.sections[place]);
                *taken = self.means[place] * (1.0 + of_pair + of_section + of_socks[sock] + own);
            }
        }
        pair
    }

    /// Weighs a mass, mg.
    pub fn weigh(&self, random: &mut Pcg64Mcg, truth: f64) -> Measured {
        Measured {
            value: Milligrams(normal(random, truth, self.weighing).round() as i32),
            u: self.weighing as f32,
        }
    }

    /// What the scale says of a section: the difference of two weighings of a cake.
    pub fn section(&self, random: &mut Pcg64Mcg, taken: f64) -> Measured {
        let cake = 20_000.0;
        self.weigh(random, cake).minus(self.weigh(random, cake - taken))
    }

    /// The pair as the scale has it.
    pub fn record(&self, random: &mut Pcg64Mcg, number: u16, pair: &Pair) -> PairRecord {
        let mut record = PairRecord::new(number);
        for ((kind, construction, _), socks) in CONTRAST.iter().zip(pair) {
            for (sock, taken) in [Sock::First, Sock::Second].into_iter().zip(socks) {
                record.add(*kind, *construction, SIZE, sock, self.section(random, *taken));
            }
        }
        record
    }

    fn deviation(&self, random: &mut Pcg64Mcg, spread: f64) -> f64 {
        match self.deviations {
            Deviations::Normal => normal(random, 0.0, spread),
            Deviations::Skewed => {
                // Three times as skewed as a logarithmic normal of this spread would be by itself.
                let spread = 3.0 * spread;
                let mean = (0.5 * spread * spread).exp();
                (LogNormal::new(0.0, spread).expect("a spread is finite").sample(random) - mean) / 3.0
            }
            Deviations::Heavy => {
                let heavy: f64 = StudentT::new(4.0).expect("4 is positive").sample(random);
                heavy * spread / 2.0_f64.sqrt()
            }
        }
    }
}

fn normal(random: &mut Pcg64Mcg, mean: f64, spread: f64) -> f64 {
    Normal::new(mean, spread).expect("a spread is finite").sample(random)
}

//! `yarn-scale-lab calibrations`: what a calibration by known masses or by coins is worth, and whether bad ones are refused.

mod owner;
mod trial;

pub use trial::{Errors, Mishap, Outcome, Told, trial};

use std::io::{self, Write};

use crate::failure::Failure;

/// Calibrates many simulated scales by their own pages and prints what errors are left.
#[derive(Clone, Debug, clap::Args)]
pub struct CalibrationsArgs {
    /// How many scales.
    #[arg(long, default_value_t = 1_000, value_parser = clap::value_parser!(u32).range(1..=1_000_000))]
    pub scales: u32,
    /// Seed of the first; each further one has the next.
    #[arg(long, default_value_t = 1)]
    pub seed: u64,
    /// Minutes that the scale has been on before.
    #[arg(long, default_value_t = 10, value_parser = clap::value_parser!(u32).range(0..=120))]
    pub warm: u32,
}

/// A way to calibrate.
#[derive(Clone, Copy, Debug)]
pub struct Procedure {
    /// In words.
    pub name: &'static str,
    /// Its loads.
    pub loads: &'static [Told],
}

/// What many trials of one kind came to.
#[derive(Clone, Debug, Default)]
pub struct Tally {
    /// Of the accepted ones.
    pub accepted: Vec<Errors>,
    /// How many were refused.
    pub refused: usize,
}

/// Calibrates many scales.
#[must_use]
pub fn tally(loads: &[Told], mishap: Mishap, warm: u32, seeds: impl Iterator<Item = u64>) -> Tally {
    let mut tally = Tally::default();
    for seed in seeds {
        match trial(seed, loads, mishap, warm) {
            Outcome::Accepted(errors) => tally.accepted.push(errors),
            Outcome::Refused => tally.refused += 1,
        }
    }
    tally
}

impl Tally {
    /// Share of the accepted for which something holds, percent.
    #[must_use]
    pub fn share(&self, holds: impl Fn(&Errors) -> bool) -> f64 {
        let count = self.accepted.iter().filter(|errors| holds(errors)).count();
        100.0 * count as f64 / self.accepted.len().max(1) as f64
    }

    /// Mean over the accepted of one of their figures.
    #[must_use]
    pub fn mean(&self, of: impl Fn(&Errors) -> f64) -> f64 {
        self.accepted.iter().map(of).sum::<f64>() / self.accepted.len().max(1) as f64
    }

    /// What the given share of the accepted stays below, of one of their errors.
    #[must_use]
    pub fn percentile(&self, percent: usize, error: impl Fn(&Errors) -> f64) -> f64 {
        let mut sorted: Vec<f64> = self.accepted.iter().map(error).collect();
        sorted.sort_by(f64::total_cmp);
        let place = (sorted.len() * percent).div_ceil(100).saturating_sub(1);
        sorted.get(place).copied().unwrap_or(f64::NAN)
    }
}

/// The ways that are compared.
pub const PROCEDURES: [Procedure; 8] = [
    Procedure {
        name: "100 g",
        loads: &[Told::Masses(&[100.0])],
    },
    ONE_MASS,
    Procedure {
        name: "100 g, cup",
        loads: &[Told::Masses(&[100.0]), Told::Cup],
    },
    MASS_AND_CUP,
    Procedure {
        name: "100, 200 g",
        loads: &[Told::Masses(&[100.0]), Told::Masses(&[200.0])],
    },
    THREE_LOADS,
    TWENTY_COINS,
    Procedure {
        name: "40 coins",
        loads: &[Told::Coins(EUR_20_C, 40)],
    },
];
/// One mass.
pub const ONE_MASS: Procedure = Procedure {
    name: "200 g",
    loads: &[Told::Masses(&[200.0])],
};
/// One mass, and the same on top of any cup.
pub const MASS_AND_CUP: Procedure = Procedure {
    name: "200 g, cup",
    loads: &[Told::Masses(&[200.0]), Told::Cup],
};
/// Two masses, one by one and both together.
pub const THREE_LOADS: Procedure = Procedure {
    name: "100, 200, both",
    loads: &[
        Told::Masses(&[100.0]),
        Told::Masses(&[200.0]),
        Told::Masses(&[100.0, 200.0]),
    ],
};
/// What a purse may hold.
pub const TWENTY_COINS: Procedure = Procedure {
    name: "20 coins",
    loads: &[Told::Coins(EUR_20_C, 20)],
};

impl CalibrationsArgs {
    /// Prints the tables.
    ///
    /// # Errors
    /// If the output cannot be written.
    pub fn run(&self, mut out: impl Write) -> Result<(), Failure> {
        accuracy(&mut out, self)?;
        Ok(refusals(&mut out, self)?)
    }
}

fn accuracy(out: &mut impl Write, args: &CalibrationsArgs) -> io::Result<()> {
    writeln!(
        out,
        "{} scales drawn from seed {}, on for {} min, masses of class M1, coins within their mint's tolerance.\n\
         Largest error from 0 to 300 g, and of any 4 g section on the way, in mg; the error of 300 g inside what is stated, by the median; presses of MARK:\n\n\
         loads          | refused % | < 50 mg % | median | 99 % | section 99 % | stated | inside % | MARK |  s",
        args.scales, args.seed, args.warm
    )?;
    for procedure in PROCEDURES {
        let tally = tally_in_parallel(procedure.loads, Mishap::None, args.warm, args.seed, args.scales);
        writeln!(
            out,
            "{:14} | {:>9.1} | {:>9.1} | {:>6.0} | {:>4.0} | {:>12.1} | {:>6.0} | {:>8.1} | {:>4.1} | {:>3.0}",
            procedure.name,
            100.0 * tally.refused as f64 / f64::from(args.scales),
            tally.share(|errors| errors.worst < 0.05),
            1_000.0 * tally.percentile(50, |errors| errors.worst),
            1_000.0 * tally.percentile(99, |errors| errors.worst),
            1_000.0 * tally.percentile(99, |errors| errors.of_section),
            1_000.0 * tally.percentile(50, |errors| errors.stated),
            tally.share(|errors| errors.of_300_g.abs() <= errors.stated),
            tally.mean(|errors| errors.marks as f64),
            tally.mean(|errors| errors.seconds),
        )?;
    }
    Ok(())
}

fn refusals(out: &mut impl Write, args: &CalibrationsArgs) -> io::Result<()> {
    let scales = (args.scales / 5).max(1);
    writeln!(
        out,
        "\nMishaps, {scales} scales each: refused, accepted and good all the same, accepted and bad (off by {BAD_G} g or more), %:\n\n\
         mishap                               | one load of 200 g | 200 g with a cup  |     three loads",
    )?;
    for mishap in Mishap::ALL {
        write!(out, "{:36}", mishap.words())?;
        for procedure in [ONE_MASS, MASS_AND_CUP, THREE_LOADS] {
            let tally = tally_in_parallel(procedure.loads, mishap, args.warm, args.seed, scales);
            let share = |count: usize| 100.0 * count as f64 / f64::from(scales);
            let bad = tally.accepted.iter().filter(|errors| errors.worst >= BAD_G).count();
            write!(
                out,
                " | {:>5.1} {:>4.1} {:>5.1}",
                share(tally.refused),
                share(tally.accepted.len() - bad),
                share(bad)
            )?;
        }
        writeln!(out)?;
    }
    Ok(())
}

/// The same as [`tally`], two at a time.
fn tally_in_parallel(loads: &[Told], mishap: Mishap, warm: u32, seed: u64, scales: u32) -> Tally {
    let half = |from: u64| {
        let seeds = (from..u64::from(scales))
            .step_by(2)
            .map(|number| seed.wrapping_add(number));
        tally(loads, mishap, warm, seeds)
    };
    std::thread::scope(|scope| {
        let odd = scope.spawn(|| half(1));
        let mut all = half(0);
        let odd = odd.join().expect("the other half");
        all.accepted.extend(odd.accepted);
        all.refused += odd.refused;
        all
    })
}

/// A calibration is bad from this error on, g: what OIML R 76-1 allows a scale of 0.1 g above 200 g.
pub const BAD_G: f64 = 0.15;
/// The place of a coin that is common, among those offered.
const EUR_20_C: usize = 3;

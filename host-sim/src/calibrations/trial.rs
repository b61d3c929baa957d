//! One calibration: a scale drawn from a seed, an owner who follows its pages, and the error that is left.

use std::fmt::Write;
use std::path::Path;

use yarn_scale_core::journal::Record;
use yarn_scale_core::units::{FineCounts, Milligrams};
use yarn_scale_core::weighing::{COINS, Calibration, Coin};

use crate::player::play;
use crate::player::witness::Witness;
use crate::scenario::Script;
use crate::world::{Stream, Unit, rested_counts};

/// A load that the owner tells the scale.
#[derive(Clone, Copy, Debug)]
pub enum Told {
    /// So many grams of masses, each off by as much as class M1 allows at the most.
    Masses(&'static [f64]),
    /// So many of these coins, each off by as much as its mint allows at the most.
    Coins(usize, u8),
}

/// What the owner does wrong.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Mishap {
    /// Nothing.
    None,
    /// A hand rests on the pan while MARK is pressed.
    Hand,
    /// Something knocks against the pan just before MARK is pressed.
    Knock,
    /// The last load is another one: lighter than told by 5 %.
    WrongMass,
    /// Something of 30 g lies on the pan that is called empty, and is gone later.
    NotEmpty,
}

impl Mishap {
    /// All, in the order of the table.
    pub const ALL: [Self; 5] = [Self::None, Self::Hand, Self::Knock, Self::WrongMass, Self::NotEmpty];

    /// In words.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::None => "none",
            Self::Hand => "a hand rests on the pan at MARK",
            Self::Knock => "a knock against the pan before MARK",
            Self::WrongMass => "the last load 5 % lighter than told",
            Self::NotEmpty => "the pan not empty at the beginning",
        }
    }
}

/// What came of it.
#[derive(Clone, Copy, Debug)]
pub enum Outcome {
    /// A calibration was accepted.
    Accepted(Errors),
    /// It was refused, in the reading or at the proof.
    Refused,
}

/// What an accepted calibration is worth.
#[derive(Clone, Copy, Debug)]
pub struct Errors {
    /// Largest error of a load from 0 to 300 g, g.
    pub worst: f64,
    /// The same of a section of 4 g taken off any of those loads.
    pub of_section: f64,
    /// Error of 100 g, g.
    pub of_100_g: f64,
    /// Half-width that the device states for the span of 100 g, g.
    pub stated: f64,
}

/// Plays it. `loads` come one after the other; before the first the scale warms up for `warm` minutes.
#[must_use]
pub fn trial(seed: u64, loads: &[Told], mishap: Mishap, warm: u32) -> Outcome {
    let text = story(seed, loads, mishap, warm);
    let script = Script::parse(Path::new("calibration"), &text).expect("a story of our own making");
    let played = play(&script, seed, Witness::default(), |_, _, _| {});
    let found = played
        .stage
        .simulator
        .journal()
        .into_iter()
        .find_map(|entry| match entry.record {
            Record::Calibrated(calibration) => Some(calibration),
            _ => None,
        });
    // In the room as it is: what warmth does to a span later is no fault of the calibration.
    let warmer_k = played.stage.simulator.board.world().room.cell_warmer_k();
    found.map_or(Outcome::Refused, |calibration| {
        Outcome::Accepted(errors(&Unit::draw(seed), warmer_k, calibration))
    })
}

/// Errors against the drawn cell, rested and without noise.
fn errors(unit: &Unit, warmer_k: f64, calibration: Calibration) -> Errors {
    let level = |grams: f64| {
        FineCounts((rested_counts(unit, grams, warmer_k) * f64::from(FineCounts::PER_COUNT)).round() as i32)
    };
    let zero = level(0.0);
    let says = |grams: f64| f64::from(calibration.mass(level(grams), zero)) / 1_000.0;
    let loads = || (0..=60).map(|step| 5.0 * f64::from(step));
    let worst = loads().map(|load| (says(load) - load).abs()).fold(0.0, f64::max);
    let of_section = loads()
        .skip(1)
        .map(|load| (says(load) - says(load - SECTION_G) - SECTION_G).abs())
        .fold(0.0, f64::max);
    Errors {
        worst,
        of_section,
        of_100_g: says(100.0) - 100.0,
        stated: 1.96 * f64::from(calibration.u_span()) * 100.0,
    }
}

/// What the owner does, as a scenario.
fn story(seed: u64, loads: &[Told], mishap: Mishap, warm: u32) -> String {
    let mut random = Stream::new(seed, 40);
    let mut objects = format!("\"something\" = {SOMETHING_G}");
    let mut steps = "{ power = \"on\" },\n".to_owned();
    for _ in 0..warm {
        // Once round the daily pages, so that it does not fall asleep.
        steps += "{ wait = 60 },\n{ press = [\"next\", \"next\", \"next\"] },\n";
    }
    if mishap == Mishap::NotEmpty {
        steps += "{ put = \"something\" },\n";
    }
    steps += "{ press = \"mark\" },\n{ expect = { says = \"empty-the-pan\", steady = true, by = 30 } },\n{ press = \"mark\" },\n";
    if mishap == Mishap::NotEmpty {
        steps += "{ take = \"something\" },\n";
    }
    for (place, load) in loads.iter().enumerate() {
        let last = place + 1 == loads.len();
        let (mut grams, told) = load.drawn(&mut random);
        if last && mishap == Mishap::WrongMass {
            grams *= 0.95;
        }
        let _ = write!(objects, ", \"load {place}\" = {grams}");
        let _ = write!(
            steps,
            "{told}{{ put = \"load {place}\" }},\n{{ expect = {{ steady = true, by = 30 }} }},\n"
        );
        match mishap {
            Mishap::Hand if last => steps += "{ hand = 5 },\n{ wait = 0.3 },\n",
            Mishap::Knock if last => steps += "{ touch = \"bump\" },\n",
            _ => {}
        }
        let _ = write!(
            steps,
            "{{ press = \"mark\" }},\n{{ take = \"load {place}\" }},\n{{ expect = {{ says = \"empty-the-pan\", steady = true, by = 30 }} }},\n{{ press = \"mark\" }},\n{{ expect = {{ says = \"calibration\", by = 1 }} }},\n"
        );
    }
    steps += "{ choose = \"finish-calibration\" },\n{ expect = { says = \"accept-calibration\", by = 1 } },\n{ press = \"mark\" },\n{ wait = 1 },\n";
    format!(
        "title = \"A calibration\"\ninvented = true\nworld = {{ scale = \"drawn\", calibrated = false }}\nobjects = {{ {objects} }}\nsteps = [\n{steps}]\n"
    )
}

impl Told {
    /// What it truly weighs, and the steps that tell the scale.
    fn drawn(self, random: &mut Stream) -> (f64, String) {
        match self {
            Self::Masses(masses) => {
                let grams: f64 = masses
                    .iter()
                    .map(|&mass| mass + random.uniform(-1.0, 1.0) * m1_limit(mass))
                    .sum();
                let told: f64 = masses.iter().sum();
                (grams, format!("{{ choose = \"known-mass\" }},\n{{ set = {told} }},\n"))
            }
            Self::Coins(place, count) => {
                let coin = COINS[place];
                let grams = (0..count).map(|_| one(coin, random)).sum();
                let steps = format!("{{ choose = [\"coins\", \"{}\"] }},\n{{ set = {count} }},\n", coin.name);
                (grams, steps)
            }
        }
    }
}

/// A coin within its mint's tolerance, rectangular.
fn one(coin: Coin, random: &mut Stream) -> f64 {
    let grams = |mass: Milligrams| f64::from(mass.0) / 1_000.0;
    grams(coin.mass) + random.uniform(-1.0, 1.0) * grams(coin.tolerance)
}

/// Largest error of a class M1 mass, g (OIML R 111-1; from 200 g on from memory).
fn m1_limit(grams: f64) -> f64 {
    match grams {
        ..=50.0 => 0.003,
        ..=100.0 => 0.005,
        _ => 0.010,
    }
}

const SECTION_G: f64 = 4.0;
const SOMETHING_G: f64 = 30.0;

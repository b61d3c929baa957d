//! One calibration: a scale drawn from a seed, an owner who follows its pages, and the error that is left.

use std::collections::BTreeMap;
use std::path::PathBuf;

use yarn_scale_core::app::Key;
use yarn_scale_core::journal::Record;
use yarn_scale_core::screen::{Body, Value};
use yarn_scale_core::units::{FineCounts, Milligrams};
use yarn_scale_core::weighing::{COINS, Calibration, Coin};

use super::owner::Owner;
use crate::play::scenario::{Grams, ScaleKind, Scenario, Script, Seconds, Setting, Step, Switch};
use crate::play::stage::Stage;
use crate::world::{Stream, Unit, rested_counts};

/// A load that the owner tells the scale.
#[derive(Clone, Copy, Debug)]
pub enum Told {
    /// So many grams of masses, each off by as much as class M1 allows at the most.
    Masses(&'static [f64]),
    /// So many of these coins, each off by as much as its mint allows at the most.
    Coins(usize, u8),
    /// The last load again with a cup of 150 g or more, of unknown weight, as often as the scale asks.
    Cup,
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
    /// The last mass is another one: lighter than told by 5 %.
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
    /// Error of 300 g, g.
    pub of_300_g: f64,
    /// Half-width that the device states for 300 g, g.
    pub stated: f64,
    /// Presses of MARK that it took, and how many of them were for loads that had been pressed down.
    pub marks: usize,
    /// Seconds from the first empty pan to the proof.
    pub seconds: f64,
}

/// Plays it. `loads` come one after the other; before the first the scale warms up for `warm` minutes.
#[must_use]
pub fn trial(seed: u64, loads: &[Told], mishap: Mishap, warm: u32) -> Outcome {
    let mut random = Stream::new(seed, 40);
    let mut objects = BTreeMap::from([(SOMETHING.to_owned(), Grams(30.0))]);
    let mut before = 0.0;
    for (place, load) in loads.iter().enumerate() {
        let mut grams = load.drawn(before, &mut random);
        let last = loads.iter().rposition(|load| !matches!(load, Told::Cup));
        if mishap == Mishap::WrongMass && last == Some(place) {
            grams *= 0.95;
        }
        objects.insert(name(place), Grams(grams));
        before = grams;
    }
    let script = Script {
        file: PathBuf::new(),
        lines: Vec::new(),
        scenario: Scenario {
            title: String::new(),
            invented: true,
            world: Setting {
                scale: ScaleKind::Drawn,
                calibrated: false,
                ..Setting::default()
            },
            yarns: BTreeMap::new(),
            objects,
            steps: Vec::new(),
        },
        written: Vec::new(),
    };
    let mut owner = Owner::new(Stage::new(&script, seed));
    let proven = calibrates(&mut owner, loads, mishap, warm);
    let stage = owner.stage;
    let Some((stated, seconds)) = proven else {
        return Outcome::Refused;
    };
    let found = stage
        .simulator
        .journal()
        .into_iter()
        .find_map(|entry| match entry.record {
            Record::Calibrated(calibration) => Some(calibration),
            _ => None,
        });
    // In the room as it is: what warmth does to a span later is no fault of the calibration.
    let warmer_k = stage.simulator.board.world().room.cell_warmer_k();
    found.map_or(Outcome::Refused, |calibration| {
        Outcome::Accepted(Errors {
            stated,
            seconds,
            marks: owner.marks,
            ..errors(&Unit::draw(seed), warmer_k, calibration)
        })
    })
}

/// The name of a load.
fn name(place: usize) -> String {
    format!("load {place}")
}

/// What the owner does; what the scale then says of 300 g, and the seconds that it took; `None` if it did not come to that.
fn calibrates(owner: &mut Owner, loads: &[Told], mishap: Mishap, warm: u32) -> Option<(f64, f64)> {
    let not_empty = mishap == Mishap::NotEmpty;
    owner.does(&Step::Power(Switch::On))?;
    for _ in 0..warm {
        // Once round the daily pages, so that it does not fall asleep.
        owner.does(&Step::Wait(Seconds(60.0)))?;
        owner.presses(&[Key::Next; 3])?;
    }
    if not_empty {
        owner.does(&Step::Put(SOMETHING.to_owned()))?;
    }
    // Whichever language is highlighted, then from the page that says "not calibrated" to its parts, each of the three as it is proposed,
    // and to the first step.
    owner.presses(&[Key::Mark; 5])?;
    owner.awaits(Some("empty-the-pan"))?;
    let began = owner.stage.simulator.now_s();
    owner.presses(&[Key::Mark])?;
    if not_empty {
        owner.does(&Step::Take(SOMETHING.to_owned()))?;
    }
    for (place, load) in loads.iter().enumerate() {
        if place + 1 == loads.len() {
            owner.mishap = mishap;
        }
        load.tell(owner)?;
        let mass = if matches!(load, Told::Cup) {
            place.saturating_sub(1)
        } else {
            place
        };
        owner.follows(&name(mass), &name(place))?;
    }
    owner.chooses(&["finish-calibration"])?;
    let stated = stated(&owner.stage)?;
    let seconds = owner.stage.simulator.now_s() - began;
    owner.presses(&[Key::Mark])?;
    owner.does(&Step::Wait(Seconds(1.0)))?;
    Some((stated, seconds))
}

/// What the page of the proof says of 300 g, g.
fn stated(stage: &Stage) -> Option<f64> {
    let Body::List(list) = stage.view()?.body else {
        return None;
    };
    match list.items.first()?.value {
        Value::PlusMinus(Milligrams(half)) => Some(f64::from(half) / 1_000.0),
        _ => None,
    }
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
        of_300_g: says(300.0) - 300.0,
        stated: 0.0,
        marks: 0,
        seconds: 0.0,
    }
}

impl Told {
    /// What it truly weighs, g; a cup goes with a load of `before`.
    fn drawn(self, before: f64, random: &mut Stream) -> f64 {
        match self {
            Self::Masses(masses) => masses
                .iter()
                .map(|&mass| mass + random.uniform(-1.0, 1.0) * m1_limit(mass))
                .sum(),
            Self::Coins(place, count) => (0..count).map(|_| one(COINS[place], random)).sum(),
            Self::Cup => random.uniform(LIGHTEST_CUP_G, HEAVIEST_CUP_G.min(MOST_G - before)),
        }
    }

    /// Tells the scale.
    fn tell(self, owner: &mut Owner) -> Option<()> {
        match self {
            Self::Masses(masses) => {
                owner.chooses(&["known-mass"])?;
                owner.does(&Step::Set(masses.iter().sum()))
            }
            Self::Coins(place, count) => {
                owner.chooses(&["coins", COINS[place].name])?;
                owner.does(&Step::Set(count.into()))
            }
            Self::Cup => owner.chooses(&["with-cup"]),
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

const LIGHTEST_CUP_G: f64 = 150.0;
const HEAVIEST_CUP_G: f64 = 350.0;
/// What is put on the pan in all: its capacity is 500 g.
const MOST_G: f64 = 490.0;
const SECTION_G: f64 = 4.0;
/// What lies on the pan that is called empty: 30 g.
const SOMETHING: &str = "something";

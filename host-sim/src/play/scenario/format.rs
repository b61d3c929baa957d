//! The file as it is written. `tests/scenarios/README.md` explains it to who writes one.

use std::collections::BTreeMap;

use serde::Deserialize;
use toml::Spanned;

use super::values::{Grams, KeyNames, Letter, Names, Seconds, SectionName};

/// A scenario.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Scenario {
    /// What it shows, in a line.
    pub title: String,
    /// Says that everything in it is made up; without it the file is refused.
    pub invented: bool,
    /// The scale and the room.
    #[serde(default)]
    pub world: Setting,
    /// Cakes and leftovers in the basket, by name.
    #[serde(default)]
    pub yarns: BTreeMap<String, Grams>,
    /// Bowls, coins and whatever else takes no water, by name.
    #[serde(default)]
    pub objects: BTreeMap<String, Grams>,
    /// What happens, in order.
    pub steps: Vec<Spanned<Step>>,
}

/// The scale and the room.
#[derive(Clone, Copy, Debug, Deserialize)]
#[serde(deny_unknown_fields, default, rename_all = "kebab-case")]
pub struct Setting {
    /// Which scale.
    pub scale: ScaleKind,
    /// What everything random is drawn from.
    pub seed: u64,
    /// The room's temperature wanders by itself.
    pub wandering: bool,
    /// A humidity sensor is fitted.
    pub humidity_sensor: bool,
    /// Its owner has calibrated it; otherwise the journal is blank.
    pub calibrated: bool,
    /// The cell's signal wires are swapped.
    pub reversed: bool,
}

/// Which scale.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum ScaleKind {
    /// In the middle of every range.
    Typical,
    /// Drawn from all ranges by the seed.
    Drawn,
}

/// One thing that happens, or is expected.
#[derive(Clone, Debug, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Step {
    /// On a list or a question, NEXT is pressed until this is highlighted, then MARK; several, one after the other.
    Choose(Names),
    /// Power fails in the flash operation after this many more.
    CutInWrite(u64),
    /// Something shakes or pulls.
    Disturb(Shake),
    /// What must be so now, or soon.
    Expect(Box<Expect>),
    /// A hand rests on the pan with so many grams; 0 takes it off.
    Hand(Grams),
    /// Keys are held, one after the other.
    Hold(KeyNames),
    /// Yarn is knitted.
    Knit(Knit),
    /// Says where in the story this is; it is printed.
    Note(String),
    /// The power.
    Power(Switch),
    /// Keys are pressed shortly, one after the other.
    Press(KeyNames),
    /// A thing is put on the pan.
    Put(String),
    /// For this long nothing may be noted, refused or asked.
    Quiet(Seconds),
    /// The room changes.
    Room(RoomChange),
    /// On a page that sets a number, a key is held and pressed until it stands there, then MARK takes it.
    Set(f64),
    /// The converter's plug.
    Sensor(Plug),
    /// The next word from the converter arrives spoilt.
    Spoil(Spoilt),
    /// A thing is taken off the pan.
    Take(String),
    /// A hand touches the pan and moves nothing.
    Touch(Touch),
    /// Time passes.
    Wait(Seconds),
}

/// Yarn is knitted, from the basket or from the pan.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Knit {
    /// How much.
    pub grams: Grams,
    /// Which yarn.
    pub from: String,
    /// Which section it goes into; none for what belongs to no section.
    pub into: Option<SectionName>,
    /// How long it takes, where the yarn lies on the pan.
    #[serde(default = "a_minute")]
    pub over: Seconds,
}

/// What the power does.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Switch {
    /// It comes on.
    On,
    /// It goes.
    Off,
}

/// What happens to the converter's plug.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Plug {
    /// It is pulled.
    Out,
    /// It is put back.
    In,
}

/// What shakes or pulls.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Shake {
    /// A pull on the strand.
    Tug,
    /// A person walks by.
    Footsteps,
    /// A machine runs for ten seconds.
    Machine,
    /// The table rocks.
    Wobble,
    /// Something falls on the table.
    Knock,
    /// A cat.
    Cat,
}

/// How a hand touches the pan.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Touch {
    /// It rests for a moment.
    Rest,
    /// It knocks against it.
    Bump,
    /// It presses and holds.
    Press,
}

/// How a word is spoilt.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Spoilt {
    /// A high bit arrives inverted.
    BitFlip,
    /// All ones.
    AllOnes,
    /// The converter's own mark of overload.
    Saturated,
    /// Zero.
    Zero,
    /// Shifted by a bit.
    Shifted,
    /// It never arrives.
    Missing,
    /// The converter starts anew.
    Reset,
}

/// The room changes; what is not named stays.
#[derive(Clone, Copy, Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct RoomChange {
    /// Temperature of the air, degrees Celsius.
    pub celsius: Option<f64>,
    /// Relative humidity, %.
    pub humidity: Option<f64>,
}

/// What must be so. Every key that stands there must hold, all at once.
#[derive(Clone, Debug, Default, Deserialize)]
#[serde(deny_unknown_fields, default, rename_all = "kebab-case")]
pub struct Expect {
    /// It may take so long to become so; without it, it must be so now.
    pub by: Option<Seconds>,
    /// Which page is shown.
    pub page: Option<String>,
    /// What a notice, refusal, question or fault says: the word after its kind, such as `noted`, `not-steady`, `heavier`.
    pub says: Option<String>,
    /// The number on the display, to the digit.
    pub shown: Option<String>,
    /// The number on the display, g, `within` so much.
    pub grams: Option<f64>,
    /// The steady sign.
    pub steady: Option<bool>,
    /// The section named on the page.
    pub section: Option<SectionName>,
    /// The yarn named on the page.
    pub yarn: Option<Letter>,
    /// What a section took, g, `within` so much.
    pub used: Option<f64>,
    /// What is left of the yarn, g, `within` so much.
    pub left: Option<f64>,
    /// How far masses may be off, g.
    pub within: Option<Grams>,
    /// The value that is being set, or stands in the highlighted line: a number, or a word's name.
    pub value: Option<String>,
    /// What can be chosen, in order.
    pub choices: Option<Vec<String>>,
    /// Signs in the top line, no others.
    pub signs: Option<Vec<String>>,
    /// What has been noted since this was last asked, in order; visits, starts and amendments aside.
    pub records: Option<Vec<String>>,
    /// What the ledger says that sections took, g, `within` so much.
    pub ledger: Option<BTreeMap<String, f64>>,
    /// Every section that was knitted is in the ledger, and `within` so much of what was knitted.
    pub ledger_true: Option<bool>,
    /// What the ledger says is left of a yarn, g, `within` so much.
    pub left_of: Option<BTreeMap<String, f64>>,
    /// The section that the next mark closes, or "none".
    pub next: Option<String>,
}

impl Default for Setting {
    fn default() -> Self {
        Self {
            scale: ScaleKind::Typical,
            seed: 1,
            wandering: true,
            humidity_sensor: false,
            calibrated: true,
            reversed: false,
        }
    }
}

impl Expect {
    /// How far masses may be off, g: a division unless said otherwise.
    #[must_use]
    pub fn tolerance(&self) -> f64 {
        self.within.map_or(0.1, |within| within.0)
    }
}

fn a_minute() -> Seconds {
    Seconds(60.0)
}

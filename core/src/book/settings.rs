//! Settings, as the journal has them.

use crate::journal::{Language, Setting, SupplyKind};
use crate::weighing::Unit;

/// The settings in force.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Settings {
    /// The language was asked for.
    pub language_asked: bool,
    /// Units of mass on the screen.
    pub unit: Unit,
    /// Language of the screen.
    pub language: Language,
    /// Brightness in four steps, 1 to 4.
    pub brightness: u8,
    /// Minutes without use before the display goes off, 1 to 30.
    pub sleep_minutes: u8,
    /// Sounds, where a buzzer is fitted.
    pub sound: bool,
    /// Column of the panel's memory in which its picture begins, 0 to 4; none before it was asked.
    pub panel: Option<u8>,
    /// What the scale is supplied from; none before it was asked.
    pub supply: Option<SupplyKind>,
    /// What the load cell can carry, grams, 300 to 1,000; none before it was asked.
    pub cell_grams: Option<u16>,
}

impl Default for Settings {
    fn default() -> Self {
        Self {
            language_asked: false,
            unit: Unit::Gram,
            language: Language::English,
            brightness: 3,
            sleep_minutes: 5,
            sound: true,
            panel: None,
            supply: None,
            cell_grams: None,
        }
    }
}

impl Settings {
    /// Takes a setting over; values out of range go to the nearest end.
    pub fn set(&mut self, setting: Setting) {
        match setting {
            Setting::Unit(unit) => self.unit = unit,
            Setting::Language(language) => self.language = language,
            Setting::Brightness(step) => self.brightness = step.clamp(1, 4),
            Setting::SleepMinutes(minutes) => self.sleep_minutes = minutes.clamp(1, 30),
            Setting::Sound(on) => self.sound = on,
            Setting::CellCapacity(grams) => self.cell_grams = Some(grams.clamp(300, 1_000)),
            Setting::PanelOffset(column) => self.panel = Some(column.min(4)),
            Setting::Supply(kind) => self.supply = Some(kind),
            Setting::LanguageAsked(asked) => self.language_asked = asked,
            // Bowls, needles and the journal keep their own.
            Setting::BowlInUse(_) | Setting::PairInHand(_) | Setting::KeptFrom(_) => {}
        }
    }

    /// Brightness of the panel, 0 to 255.
    #[must_use]
    pub const fn panel_brightness(&self) -> u8 {
        match self.brightness {
            1 => 16,
            2 => 64,
            3 => 144,
            _ => 255,
        }
    }
}

//! When nobody uses the scale: the display dims, goes off, and after half an hour the converter with it.
//!
//! While the display is off the converter still runs, so that a load on the pan wakes the scale within a second; after
//! [`DEEP`] only a key does.

use super::dispatch::App;
use super::input::Effect;
use super::pages::Page;
use crate::book::Settings;
use crate::units::{Duration, Instant};

/// The display dims after this.
const DIM: Duration = Duration::from_secs(60);
/// The converter is powered down this long after the display.
const DEEP: Duration = Duration::from_secs(30 * 60);
/// Conversions after power-up that are still settling (HX711 data sheet: settling time 400 ms at 10 samples a second, 50 ms
/// at 80).
const SETTLING: u8 = 4;
/// Brightness while dimmed.
const DIMMED: u8 = 1;

/// How deep the scale sleeps.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Sleep {
    last_use: Instant,
    depth: Depth,
}

#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
enum Depth {
    #[default]
    Awake,
    Dimmed,
    Dark,
    Deep,
}

impl Sleep {
    pub(super) fn is_dark(self) -> bool {
        self.depth >= Depth::Dark
    }

    pub(super) fn converter_on(self) -> bool {
        self.depth < Depth::Deep
    }

    fn begins(self, depth: Depth, settings: &Settings) -> Option<Instant> {
        let dark = Duration::from_secs(u32::from(settings.sleep_minutes).saturating_mul(60));
        let after = match depth {
            Depth::Awake => return None,
            Depth::Dimmed => Duration(DIM.0.min(dark.0)),
            Depth::Dark => dark,
            Depth::Deep => Duration(dark.0.saturating_add(DEEP.0)),
        };
        Some(self.last_use + after)
    }

    fn next(self) -> Depth {
        match self.depth {
            Depth::Awake => Depth::Dimmed,
            Depth::Dimmed => Depth::Dark,
            Depth::Dark | Depth::Deep => Depth::Deep,
        }
    }

    /// When it will sleep deeper.
    pub(super) fn deadline(self, settings: &Settings) -> Option<Instant> {
        if self.depth == Depth::Deep {
            None
        } else {
            self.begins(self.next(), settings)
        }
    }
}

impl App {
    /// Nobody has used the scale for a while.
    #[must_use]
    pub fn is_idle(&self) -> bool {
        self.sleep.depth >= Depth::Dimmed
    }

    /// Somebody uses the scale. Says whether this woke the display.
    pub(super) fn touched(&mut self) -> bool {
        let was = self.sleep.depth;
        self.sleep = Sleep {
            last_use: self.now,
            depth: Depth::Awake,
        };
        if was == Depth::Deep {
            self.scale.has_rested(self.now);
            self.converter_on();
        }
        if was != Depth::Awake {
            self.emit(Effect::Brightness(self.book.settings().panel_brightness()));
        }
        was >= Depth::Dark
    }

    /// The next use finds the home page; what waits for an answer stays.
    fn go_home(&mut self) {
        if !matches!(self.page, Page::Question { .. } | Page::Calibrate(_)) {
            self.page = Page::Pan;
        }
    }

    /// Powers the converter up; its first conversions say nothing yet.
    pub(super) fn converter_on(&mut self) {
        self.unsettled = SETTLING;
        self.pace.interrupt();
        self.emit(Effect::ConverterPower(true));
    }

    /// Whether a conversion is one of those in which the converter still settles.
    pub(super) fn is_unsettled(&mut self) -> bool {
        let unsettled = self.unsettled > 0;
        self.unsettled = self.unsettled.saturating_sub(1);
        unsettled
    }

    /// Switches off at once: the supply is at its end. Nothing is lost, for what was confirmed is in the journal.
    pub(super) fn stop(&mut self) {
        if self.sleep.depth < Depth::Deep {
            self.sleep.depth = Depth::Deep;
            self.emit(Effect::Brightness(0));
            self.emit(Effect::ConverterPower(false));
            self.go_home();
        }
    }

    /// Sleeps deeper when it is time.
    pub(super) fn fall_asleep(&mut self) {
        while let Some(at) = self.sleep.deadline(self.book.settings()) {
            if self.now < at {
                break;
            }
            self.sleep.depth = self.sleep.next();
            match self.sleep.depth {
                Depth::Awake => {}
                Depth::Dimmed => self.emit(Effect::Brightness(DIMMED)),
                Depth::Dark => {
                    self.emit(Effect::Brightness(0));
                    self.go_home();
                }
                Depth::Deep => {
                    self.emit(Effect::ConverterPower(false));
                }
            }
        }
    }
}

//! Unused, the scale sleeps, step by step; a key or a load wakes it.

use super::application::App;
use super::bursts::Bursts;
use super::input::Effect;
use super::sleep::{Depth, Sleep};
use crate::converter::SampleRate;
use crate::ui::Page;
use crate::units::Duration;

/// Conversions after power-up that are still settling (HX711 data sheet: settling time 400 ms at 10 samples a second, 50 ms
/// at 80).
const SETTLING: u8 = 4;
/// Brightness while dimmed.
const DIMMED: u8 = 1;

impl App {
    /// The scale has not been used for a while.
    #[must_use]
    pub fn is_idle(&self) -> bool {
        self.sleep.depth >= Depth::Dimmed
    }

    /// The scale is used. Says whether this woke the display.
    pub(super) fn touched(&mut self) -> bool {
        let was = self.sleep.depth;
        self.sleep = Sleep {
            last_use: self.now,
            depth: Depth::Awake,
        };
        if was == Depth::Deep {
            self.scale.has_rested(self.now);
            self.converter_on();
        } else {
            self.end_bursts();
        }
        if was != Depth::Awake {
            self.emit(Effect::Brightness(self.book.settings().panel_brightness()));
        }
        was >= Depth::Dark
    }

    /// The next use finds the home page; what waits for an answer stays.
    fn go_home(&mut self) {
        if !self.page.asks() {
            self.page = Page::default();
        }
    }

    /// Whether every clock may stop until a key or a plug comes.
    pub(super) fn may_stop(&self) -> bool {
        self.sleep.depth == Depth::Deep && !self.plugged && !self.keys.is_busy() && self.effects.is_empty()
    }

    /// A plug has come onto the USB, or has gone: with its power nothing need be saved.
    pub(super) fn plug(&mut self, plugged: bool) {
        self.plugged = plugged;
        if plugged {
            self.end_bursts();
        } else if self.sleep.depth == Depth::Dark {
            self.begin_bursts();
        }
    }

    /// Powers the converter up; its first conversions say nothing yet.
    pub(super) fn converter_on(&mut self) {
        self.unsettled = SETTLING;
        self.powered_up = self.now;
        self.pace.interrupt();
        self.emit(Effect::ConverterPower(true));
    }

    /// Whether a conversion is one of those in which the converter still settles. One that keeps its first word until it has settled needs
    /// no more: it comes when two conversions would long be over.
    pub(super) fn is_unsettled(&mut self) -> bool {
        let waited = self.pace.found().is_some() && self.now.since(self.powered_up) >= waits(self.scale.rate());
        if self.unsettled == SETTLING && waited {
            self.unsettled = 0;
        }
        let unsettled = self.unsettled > 0;
        self.unsettled = self.unsettled.saturating_sub(1);
        unsettled
    }

    /// Switches off at once: the supply is at its end. Nothing is lost, for what was confirmed is in the journal.
    pub(super) fn stop(&mut self) {
        if self.sleep.depth < Depth::Deep {
            self.sleep.depth = Depth::Deep;
            self.bursts = Bursts::Never;
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
                    self.begin_bursts();
                }
                Depth::Deep => {
                    self.bursts = Bursts::Never;
                    self.emit(Effect::ConverterPower(false));
                }
            }
        }
    }
}

/// Time from power-up to a first word that says that the converter has waited for its settling: between that of one conversion and
/// that of four, whatever its clock is off by.
const fn waits(rate: SampleRate) -> Duration {
    match rate {
        SampleRate::Ten => Duration(250),
        SampleRate::Eighty => Duration(31),
    }
}

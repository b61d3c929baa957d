//! The check on the bench: tasks from a key or a computer, what came out of them noted.

use super::application::App;
use super::input::Effect;
use crate::bench::{self, Built, Task};
use crate::board::{Levels, Tone};
use crate::converter::SampleRate;
use crate::journal::{BenchCheck, Record, StartCause};
use crate::ui::{DEBOUNCE, Page, To};

impl App {
    /// Does what is asked of the check on the bench, and shows its page.
    pub(super) fn check(&mut self, task: Task) {
        match task {
            Task::Supply(meter) => {
                if let Some(supply) = self.health.supply {
                    let off = i32::from(supply.0).saturating_sub(meter.into());
                    self.note_check(BenchCheck::Supply, off);
                }
            }
            Task::Edges(all) => {
                self.sheet.begin(Task::Stop, self.now);
                self.note_check(BenchCheck::Panel, if all { 4 } else { 0 });
            }
            Task::Heard(heard) => self.note_check(BenchCheck::Buzzer, heard.into()),
            Task::Sensor(fitted) => {
                let answers = self.climate.is_some();
                let passed = (fitted || answers).then_some(answers);
                self.note_result(BenchCheck::Sensor, answers.into(), passed);
            }
            Task::Chip => {
                let chip = self.configuration.chip;
                // The low 31 bits; the rest stands in the number that the device has on USB.
                let number = i32::try_from(chip.flash_number & 0x7FFF_FFFF).unwrap_or_default();
                self.note_check(BenchCheck::Flash, number);
                let reset = chip.reset.cast_signed();
                self.note_result(
                    BenchCheck::Reset,
                    reset,
                    Some(matches!(self.cause, StartCause::PowerOn | StartCause::Restored)),
                );
                let first = self.first_number.and_then(|at| i32::try_from(at.0).ok());
                self.note_check(BenchCheck::Boot, first.unwrap_or(i32::MAX));
            }
            // Whatever the setting says: it is the buzzer that is checked.
            Task::Tone => self.emit(Effect::Beep(Tone::Refused)),
            Task::EmptyPan | Task::Drift | Task::KnownMass(_) | Task::Keys | Task::Frame | Task::Stop => {
                self.sheet.begin(task, self.now);
            }
        }
    }

    /// The same, asked for by a computer: who stands at the scale sees it.
    pub(super) fn check_for_computer(&mut self, task: Task) {
        self.touched();
        if !matches!(self.page, Page::Bench(_)) {
            self.go(To::Bench);
        }
        self.check(task);
    }

    /// What is under way goes on, and keeps the scale awake; what has ended is noted.
    pub(super) fn follow_check(&mut self) {
        if self.sheet.under_way().is_some() {
            self.sleep.last_use = self.now;
        }
        for (check, value) in self.sheet.ended(self.now).into_iter().flatten() {
            self.note_check(check, value);
        }
    }

    /// Levels of the keys, for what is under way.
    pub(super) fn watch_keys(&mut self, levels: Levels) {
        self.sheet.levels(self.now, levels, DEBOUNCE);
    }

    fn note_check(&mut self, check: BenchCheck, value: i32) {
        let built = Built {
            capacity: self.book.capacity(),
            rate: self.rate(),
        };
        self.note_result(check, value, bench::limits::passes(check, value, built));
    }

    fn note_result(&mut self, check: BenchCheck, value: i32, passed: Option<bool>) {
        self.note(Record::Bench { check, value, passed });
    }

    /// The rate that the converter is set to, once it is found.
    fn rate(&self) -> Option<SampleRate> {
        self.pace.found().and_then(Result::ok)
    }
}

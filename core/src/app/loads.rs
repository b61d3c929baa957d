//! What the pan tells: a load has settled, was lifted, the pan is empty again.

use super::Effect;
use super::application::App;
use crate::journal::Record;
use crate::screen::Notice;
use crate::ui::EMPTY_BELOW;
use crate::units::Milligrams;
use crate::weighing::{ScaleEvent, SteadyLoad};

/// A load that differs by less from the last one is the same visit.
const NEW_VISIT: Milligrams = Milligrams(200);

impl App {
    /// Something has happened on the pan.
    pub(super) fn scale_event(&mut self, event: ScaleEvent) {
        match event {
            ScaleEvent::Settled(load) => {
                self.visit(load);
                self.withdraw_question();
                self.settled = Some(load);
                self.emit(Effect::AskAnew);
            }
            ScaleEvent::BowlBare(load) => {
                self.amend();
                self.finish_when_done();
                self.visit(load);
                self.emit(Effect::AskAnew);
            }
            ScaleEvent::Lifted => self.shorten_notice(),
            ScaleEvent::Emptied => {
                self.withdraw_question();
                self.amend();
                self.finish_when_done();
            }
        }
    }

    /// Corrects the marks of the stay that has just ended.
    pub(super) fn amend(&mut self) {
        while let Some(record) = self.stay.amendment(&self.book, &self.scale) {
            self.note(record);
        }
    }

    /// The scale is in use as long as what lies on the pan changes. That a reading is no longer steady is no use: a noisy unit
    /// loses its sign now and then untouched.
    pub(super) fn notice_movement(&mut self) {
        let Some(gross) = self.scale.gross_now() else { return };
        if self.is_another_load(gross) {
            // She weighs: what the drive shows can wait, the number cannot. The first number after a start is no load that comes on.
            if self.used_at.is_some() {
                self.notice.take_if(|(notice, _)| *notice == Notice::Drive);
            }
            self.used_at = Some(gross);
            self.touched();
        }
    }

    /// Whether the load is plainly another one than at the last use.
    pub(super) fn is_another_load(&self, gross: Milligrams) -> bool {
        self.used_at.is_none_or(|before| (gross - before).abs() >= NEW_VISIT)
    }

    /// Keeps a load that the pan has not just seen already: a footstep is no new visit.
    fn visit(&mut self, load: SteadyLoad) {
        // Before the first calibration there are no grams to keep.
        if !self.is_calibrated() {
            return;
        }
        let gross = self.scale.gross(&load);
        let bowl = self.book.bowls().in_use();
        let last = self.book.visits().newest_first().next();
        let seen = last.is_some_and(|last| (last.gross.value - gross.value).abs() < NEW_VISIT && last.bowl == bowl);
        if seen || gross.value.abs() < EMPTY_BELOW {
            return;
        }
        self.touched();
        self.note(Record::Visit {
            gross,
            bowl,
            zero: self.scale.zero_point().level,
        });
    }

    /// A load that has settled may propose its pair, and answers that are on the screen are asked anew.
    pub(super) fn ask_anew(&mut self) {
        if let Some(load) = self.settled.take() {
            self.propose(load);
        }
        let mut page = core::mem::take(&mut self.page);
        page.refresh(&self.context());
        self.page = page;
    }
}

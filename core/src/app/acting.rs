//! A press goes to the open page, and what the page asks for is done.

use super::application::App;
use super::input::Effect;
use crate::converter::SampleRate;
use crate::screen::{Notice, RefusedWord};
use crate::ui::{Action, Context, Health, Key, Page, Press, To};
use crate::weighing::Condition;

impl App {
    /// What a page may look at.
    pub(super) fn context(&self) -> Context<'_> {
        Context {
            book: &self.book,
            scale: &self.scale,
            stay: &self.stay,
            cursor: self.cursor(),
            latched: self.marking.latched(self.now),
            now: self.stamp(),
            air: self.climate,
            mark_waits: self.marking.waits(),
            proposal: self.proposal(),
            lift_stands: self.lift_stands,
            calibrated: self.is_calibrated(),
            capacity: self.book.capacity(),
            health: self.health(),
            sheet: &self.sheet,
            clock: self.now,
            version: self.configuration.version,
        }
    }

    /// The state of the device now.
    #[must_use]
    pub fn health(&self) -> Health {
        let troubles = self.book.troubles();
        Health {
            weighs: matches!(self.scale.condition(), Condition::Weighing | Condition::Overload),
            a_second: self
                .pace
                .found()
                .map(|found| found.map_or_else(|odd| odd.hertz, SampleRate::hertz)),
            gaps: troubles.gaps,
            hangs: troubles.hangs,
            errors: troubles.errors,
            ..self.health
        }
    }

    pub(super) fn press(&mut self, press: Press) {
        let woken = self.touched();
        // The press latches the load that stood before the finger came; what follows may shake the pan.
        if let Press::Down(key) = press {
            self.marking.finger_came(key, self.scale.stood());
        }
        if woken {
            self.marking.ignore_this_press();
            return;
        }
        if self.marking.ignores(press) {
            return;
        }
        // Any key closes a notice, and turns no page under it; only MARK held means the mark that the notice is about.
        let closes_notice = matches!(press, Press::Short(_) | Press::Held(Key::Next | Key::Zero));
        if closes_notice && self.notice.take().is_some() {
            self.marking.ignore_this_press();
            return;
        }
        let opened_on = core::mem::discriminant(&self.page);
        // Taken out for the call: it sees the rest of the application, and changes itself.
        let mut page = core::mem::take(&mut self.page);
        let actions = page.press(&self.context(), press);
        self.page = page;
        self.leave_proposal(press);
        for action in actions {
            self.act(action);
        }
        // A hold that has turned the page does not run on over the next one.
        if core::mem::discriminant(&self.page) != opened_on {
            self.marking.ignore_this_press();
        }
    }

    fn act(&mut self, action: Action) {
        match action {
            Action::Go(to) => self.go(to),
            Action::Note(record) => self.note(record),
            Action::Mark => self.mark(),
            Action::Undo => self.undo(),
            Action::BeginPair(preset, order) => self.begin_pair(preset, order),
            Action::FinishPair => self.finish_pair(),
            Action::ReopenPair => self.reopen_pair(),
            Action::Answer(choice, load) => self.answer(choice, load),
            Action::Choose(line) => self.chosen_line = Some(line),
            Action::Zero => self.zero(),
            Action::SweepAnew => self.scale.sweep_anew(),
            Action::LookForRoom => self.emit(Effect::LookForRoom),
            Action::BringNews => self.emit(Effect::BringNews),
            Action::PanelBegins(column) => self.emit(Effect::PanelBegins(column)),
            Action::Check(task) => self.check(task),
            Action::Refuse(word) => self.refuse(word),
        }
    }

    /// Opens a page.
    pub(super) fn go(&mut self, to: To) {
        self.page = Page::open(to, &self.context());
    }

    fn zero(&mut self) {
        if self.scale.zero() {
            self.show(Notice::ZeroSet);
            self.amend();
        } else {
            self.refuse(RefusedWord::ZeroNotSteady);
        }
    }
}

//! The finger that presses what the marks of a recording say.
//!
//! A knitter who stood there would not leave a page open or a question unanswered, and neither does this finger:
//!
//! - A dark display is woken, a notice closed, a page left shortly before the next press.
//! - A press that the scale refuses, or gives up, is reported with nulls.
//! - A question after a mark is answered "the section took it", whatever was found strange; where that is not offered
//!   (heavier than the last mark), "start from here". Either way the next mark counts from this one. Where neither is
//!   offered (the same as at the last mark) nothing is noted, and the press is reported with what it would have been.
//! - A tare is the page of bowls and its first line: the load on the pan as a new bowl, or no bowl if the pan is empty.

use std::io::{self, Write};

use yarn_scale_core::app::{Input, Key};
use yarn_scale_core::measured::Measured;
use yarn_scale_core::recognise::{Choice, WhyAsked};
use yarn_scale_core::screen::{Body, KeyWord, Notice, Question, View};
use yarn_scale_core::sock::YarnLetter;
use yarn_scale_core::units::{Duration, Instant, Milligrams};

use super::presses::Event;
use super::report::Masses;
use super::session::Session;

/// A press under way.
#[derive(Clone, Copy, Debug)]
pub(super) struct Doing {
    event: Event,
    since: Instant,
}

impl Doing {
    /// What it asks for.
    pub(super) const fn event(self) -> Event {
        self.event
    }
}

impl<W: Write> Session<W> {
    /// When the finger has to look at the screen next.
    pub(super) fn attention(&self) -> Option<Instant> {
        let free = self.fingers.free_at();
        match (self.doing, self.presses.front()) {
            (Some(_), _) if self.now < free => Some(free),
            (Some(_), _) => Some(self.looked + LOOK_EVERY),
            (None, Some(press)) if self.now < press.at => {
                let early = Instant(press.at.0.saturating_sub(PREPARATION.0.into()));
                Some(if self.now < early { early } else { press.at })
            }
            (None, Some(_)) => Some(self.now.max(free)),
            (None, None) => None,
        }
    }

    /// The finger looks at the screen and does the next thing.
    pub(super) fn attend(&mut self) -> io::Result<()> {
        if self.now < self.fingers.free_at() {
            return Ok(());
        }
        if let Some(doing) = self.doing {
            return self.go_on(doing);
        }
        let Some(&press) = self.presses.front() else {
            return Ok(());
        };
        if self.now + PREPARATION < press.at {
            return Ok(());
        }
        let view = self.app.view();
        if !matches!(view.body, Body::Pan(_) | Body::Fault(_)) {
            self.fingers.press(way_home(&view), self.now);
            return Ok(());
        }
        if self.now >= press.at {
            self.presses.pop_front();
            if press.event == Event::Mark {
                self.marks.push(None);
                if self.app.book().ledger().cursor().is_none() {
                    self.begin_pair();
                }
            }
            self.looked = self.now;
            self.doing = Some(Doing {
                event: press.event,
                since: self.now,
            });
            match press.event {
                Event::Mark => self.fingers.press(Key::Mark, self.now),
                Event::Zero => self.fingers.press(Key::Zero, self.now),
                Event::Undo => self.fingers.hold(Key::Mark, self.now),
                Event::Tare => {}
            }
            let levels = self.fingers.levels(self.now);
            self.tell(Input::Keys(levels))?;
        }
        Ok(())
    }

    /// The press has been made: the screen says what it came to, or asks.
    fn go_on(&mut self, doing: Doing) -> io::Result<()> {
        self.looked = self.now;
        match (self.app.view().body, doing.event) {
            (Body::Notice(Notice::ZeroSet), Event::Zero) => {
                self.done(Masses::nothing_on_the_pan())?;
            }
            (Body::Notice(Notice::Refused(_)), _) => self.done(Masses::default())?,
            (Body::Question(question), _) => self.answer(&question)?,
            (Body::List(_), Event::Tare) => self.fingers.press(Key::Mark, self.now),
            (Body::Pan(pan), Event::Tare) if pan.steady => self.fingers.hold(Key::Zero, self.now),
            // ZERO on a loaded pan is another question, which this press did not mean.
            (Body::List(_), Event::Zero) => self.done(Masses::default())?,
            _ if self.now.since(doing.since) >= GIVEN_UP => self.done(Masses::default())?,
            _ => {}
        }
        Ok(())
    }

    fn answer(&mut self, question: &Question) -> io::Result<()> {
        let is_section = |choice: &Choice| matches!(choice, Choice::Section { .. });
        let from_here = |choice: &Choice| matches!(choice, Choice::StartFromHere { .. });
        let position = |wanted: &dyn Fn(&Choice) -> bool| question.choices.iter().position(wanted);
        let from_here = || position(&from_here).filter(|_| !matches!(question.why, WhyAsked::Unchanged { .. }));
        let Some(wanted) = position(&is_section).or_else(from_here) else {
            self.fingers.press(Key::Zero, self.now);
            return self.not_a_section(question);
        };
        let rows = question.choices.len();
        let down = (wanted + rows - usize::from(question.selected) % rows) % rows;
        for _ in 0..down {
            self.fingers.press(Key::Next, self.now);
        }
        self.fingers.press(Key::Mark, self.now);
        Ok(())
    }

    /// Hardly a milligram more than at the last mark: there is nothing to note, but something to report.
    fn not_a_section(&mut self, question: &Question) -> io::Result<()> {
        let last = self.app.book().ledger().last(YarnLetter::A).map(|step| step.weight.net);
        let u = self.app.scale().readout().gross.map_or(0.0, |gross| gross.u);
        let net = Measured {
            value: question.weight.unwrap_or_default(),
            u,
        };
        let bowl = self.app.scale().tared().map_or(Milligrams::ZERO, |bowl| bowl.value);
        self.done(Masses::of(net.value + bowl, u, last.map(|last| last.minus(net))))
    }

    pub(super) fn done(&mut self, masses: Masses) -> io::Result<()> {
        match self.doing.take() {
            Some(doing) => self.report.press(self.now, doing.event, masses),
            None => Ok(()),
        }
    }
}

/// The key that leaves a page: the one that says so, else NEXT, which wakes the display, closes notices and goes round.
fn way_home(view: &View) -> Key {
    match view.keys {
        [KeyWord::Back | KeyWord::BackOrUp, ..] => Key::Zero,
        [_, KeyWord::Back, _] => Key::Mark,
        _ => Key::Next,
    }
}

/// How long before a press the finger looks whether the screen is ready for it.
const PREPARATION: Duration = Duration(600);
/// While a press is under way the finger looks this often.
const LOOK_EVERY: Duration = Duration(20);
/// A press that has come to nothing by then is given up: longer than the scale itself waits for a steady load.
const GIVEN_UP: Duration = Duration::from_secs(25);

//! The steps: what is asked of the scale, and of the person in front of it.

use std::io::{BufRead, Read, Write};
use std::time::Duration;

use yarn_scale_core::bench::{PRESSES, Task};
use yarn_scale_core::link::{Answer, Ask, Checking};

use crate::computer::client::Client;
use crate::failure::{Failure, quoted};

/// A scale, and a person beside it.
pub(super) struct Steps<'s, Line, Person, Out> {
    scale: &'s mut Client<Line>,
    person: Person,
    out: Out,
    mass: u16,
}

impl<'s, Line: Read + Write, Person: BufRead, Out: Write> Steps<'s, Line, Person, Out> {
    pub(super) fn new(scale: &'s mut Client<Line>, person: Person, out: Out, mass: u16) -> Self {
        Self {
            scale,
            person,
            out,
            mass,
        }
    }

    /// All of them, in the order in which a fault found early saves the rest.
    pub(super) fn take(mut self) -> Result<(), Failure> {
        self.say("Enter goes on, a minus leaves a step out.")?;
        self.ask(Some(Task::Frame))?;
        let edges = self.yes("Does the frame on the display touch all four edges?")?;
        self.ask(Some(edges.map_or(Task::Stop, Task::Edges)))?;

        if let Some(supply) = self.ask(None)?.supply {
            self.say(&format!(
                "The scale measures {:.2} V at VSYS.",
                f64::from(supply.0) / 1_000.0
            ))?;
            if let Some(millivolts) = self.volts("What does a meter read there, in volts?")? {
                self.ask(Some(Task::Supply(millivolts)))?;
            }
        }

        if self.ready("Empty the pan, and take the hands off.")? {
            self.measure(Task::EmptyPan)?;
        }
        if self.ready("A minute with the empty pan, switched on for ten minutes before.")? {
            self.measure(Task::Drift)?;
        }
        if self.ask(None)?.empty && self.ready(&format!("Put {} g on the pan, and take the hands off.", self.mass))? {
            self.measure(Task::KnownMass(self.mass))?;
        }
        if self.ready(&format!("Then press each key {PRESSES} times, as the display counts."))? {
            self.measure(Task::Keys)?;
        }

        let answers = self.ask(None)?.sensor;
        let fitted = if answers {
            Some(true)
        } else {
            self.yes("No humidity sensor answers. Is one fitted?")?
        };
        if let Some(fitted) = fitted {
            self.ask(Some(Task::Sensor(fitted)))?;
        }
        self.ask(Some(Task::Tone))?;
        if let Some(heard) = self.yes("Did you hear the buzzer? A minus if none is fitted.")? {
            self.ask(Some(Task::Heard(heard)))?;
        }
        self.ask(Some(Task::Chip))?;
        // The scale notes it at its next turn.
        self.ask(None)?;
        Ok(())
    }

    /// Asks for a task, and waits until it has ended by itself.
    fn measure(&mut self, task: Task) -> Result<(), Failure> {
        let mut now = self.ask(Some(task))?;
        if now.seconds_left > 0 {
            self.say(&format!("This takes up to {} s.", now.seconds_left))?;
        }
        while now.task.is_some() {
            std::thread::sleep(LOOK_EVERY);
            now = self.ask(None)?;
        }
        Ok(())
    }

    fn ask(&mut self, task: Option<Task>) -> Result<Checking, Failure> {
        match self.scale.ask(&Ask::Check(task)) {
            Ok(Answer::Checking(now)) => Ok(now),
            Ok(_) => Err(Failure::Here("the scale answered something else than was asked".into())),
            Err(fault) => Err(Failure::Here(format!("{fault}"))),
        }
    }

    fn say(&mut self, line: &str) -> Result<(), Failure> {
        writeln!(self.out, "{line}")?;
        self.out.flush()?;
        Ok(())
    }

    /// What the person says; none for a minus.
    fn hear(&mut self, question: &str) -> Result<Option<String>, Failure> {
        self.say(question)?;
        let mut said = String::new();
        let count = self.person.read_line(&mut said);
        let count = count.map_err(|error| Failure::Here(format!("no answer can be read: {error}")))?;
        if count == 0 {
            return Err(Failure::Here(
                "nobody answers; what was measured is noted: --noted writes it".into(),
            ));
        }
        let said = said.trim().to_owned();
        Ok((said != "-").then_some(said))
    }

    fn ready(&mut self, what: &str) -> Result<bool, Failure> {
        Ok(self.hear(&format!("{what} Enter:"))?.is_some())
    }

    fn yes(&mut self, question: &str) -> Result<Option<bool>, Failure> {
        loop {
            let Some(said) = self.hear(&format!("{question} y or n:"))? else {
                return Ok(None);
            };
            match said.to_lowercase().as_str() {
                "y" | "yes" => return Ok(Some(true)),
                "n" | "no" => return Ok(Some(false)),
                other => self.say(&format!("y, n or a minus, not {}", quoted(other)))?,
            }
        }
    }

    fn volts(&mut self, question: &str) -> Result<Option<u16>, Failure> {
        loop {
            let Some(said) = self.hear(question)? else {
                return Ok(None);
            };
            let volts = said.replace(',', ".").parse::<f64>();
            match volts.ok().filter(|volts| (1.0..=6.0).contains(volts)) {
                Some(volts) => return Ok(Some((volts * 1_000.0).round() as u16)),
                None => self.say(&format!("1 to 6 V such as 4.81, or a minus, not {}", quoted(&said)))?,
            }
        }
    }
}

/// How often it is asked whether a measurement has ended.
const LOOK_EVERY: Duration = Duration::from_millis(200);

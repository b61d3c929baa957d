//! Scenarios: what happens to a scale and what must come of it, as a file that a person writes.

mod format;
mod values;

use std::path::{Path, PathBuf};

pub use format::{Expect, Knit, Plug, RoomChange, ScaleKind, Scenario, Setting, Shake, Spoilt, Step, Switch, Touch};
pub use values::{Grams, KeyNames, Letter, Names, Seconds, SectionName};

use crate::failure::BadInput;
use crate::lines::read_small;

/// A scenario and where it came from.
#[derive(Clone, Debug)]
pub struct Script {
    /// The file.
    pub file: PathBuf,
    /// What stands in it.
    pub scenario: Scenario,
    /// The line of each step, from 1.
    pub lines: Vec<u64>,
    /// Each step as it is written, on one line.
    pub written: Vec<String>,
}

impl Script {
    /// Reads a scenario file.
    ///
    /// # Errors
    /// [`BadInput`] for anything that is no scenario: unknown keys, values out of range, no expectation.
    pub fn read(file: &Path) -> Result<Self, BadInput> {
        Self::parse(file, &read_small(file, LARGEST)?)
    }

    /// Reads a scenario from text; complaints name `file`.
    ///
    /// # Errors
    /// The same.
    pub fn parse(file: &Path, text: &str) -> Result<Self, BadInput> {
        let line_at = |place: usize| {
            text.as_bytes()
                .iter()
                .take(place)
                .filter(|&&byte| byte == b'\n')
                .count() as u64
                + 1
        };
        let scenario: Scenario = toml::from_str(text).map_err(|error| {
            let line = error.span().map_or(1, |span| line_at(span.start));
            BadInput::of_line(file, line, error.message())
        })?;
        let lines: Vec<_> = scenario.steps.iter().map(|step| line_at(step.span().start)).collect();
        let as_written = |step: &toml::Spanned<Step>| {
            let text = text.get(step.span()).unwrap_or_default();
            let inside = text.trim().trim_start_matches('{').trim_end_matches('}');
            inside.split_whitespace().collect::<Vec<_>>().join(" ")
        };
        let written = scenario.steps.iter().map(as_written).collect();
        let script = Self {
            file: file.to_owned(),
            scenario,
            lines,
            written,
        };
        script.check()?;
        Ok(script)
    }

    /// A complaint about a step.
    #[must_use]
    pub fn complain(&self, step: usize, reason: impl std::fmt::Display) -> BadInput {
        BadInput::of_line(
            &self.file,
            self.lines.get(step).or(self.lines.last()).copied().unwrap_or(1),
            reason,
        )
    }

    fn check(&self) -> Result<(), BadInput> {
        if !self.scenario.invented {
            return Err(BadInput::of_line(
                &self.file,
                1,
                "only invented data belongs here: say invented = true",
            ));
        }
        let steps = self.scenario.steps.iter().map(|step| step.get_ref());
        let expects = |step: &Step| matches!(step, Step::Expect(_) | Step::Quiet(_));
        if !steps.clone().any(expects) {
            return Err(BadInput::of_file(&self.file, "expects nothing, so it shows nothing"));
        }
        for (place, step) in steps.enumerate() {
            if matches!(step, Step::Expect(expect) if expect.is_empty()) {
                return Err(self.complain(place, "expects nothing"));
            }
            let problem = match step {
                Step::Put(name) | Step::Take(name) if !self.knows(name) => Some(name),
                Step::Knit(knit) if !self.scenario.yarns.contains_key(&knit.from) => Some(&knit.from),
                _ => None,
            };
            if let Some(name) = problem {
                return Err(self.complain(place, format!("{name:?} is not among the yarns and objects")));
            }
            if let Step::Room(RoomChange { celsius, humidity }) = step {
                let celsius = celsius.is_none_or(|celsius| (-20.0..=60.0).contains(&celsius));
                let humidity = humidity.is_none_or(|humidity| (0.0..=100.0).contains(&humidity));
                if !celsius || !humidity {
                    return Err(self.complain(place, "a room has -20 to 60 degrees Celsius and 0 to 100 % humidity"));
                }
            }
        }
        Ok(())
    }

    fn knows(&self, name: &str) -> bool {
        self.scenario.yarns.contains_key(name) || self.scenario.objects.contains_key(name)
    }
}

/// Largest scenario file, bytes.
const LARGEST: u64 = 1 << 20;

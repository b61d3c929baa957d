//! What is printed of a scenario: for eyes, or for machines.

use std::io::{self, Write};

use serde_json::json;
use yarn_scale_core::ledger::Ledger;
use yarn_scale_core::measured::Measured;

use super::stage::Stage;
use super::witness::Witness;
use super::{Played, facts, words};
use crate::device::dots;
use crate::device::panel::Frame;
use crate::play::scenario::{Script, SectionName, Step};

/// Prints it.
pub(super) struct Report<W> {
    out: W,
    json: bool,
    draw: bool,
    told: usize,
    last: Option<String>,
}

/// A section of the ledger, and the truth.
struct Row {
    section: SectionName,
    yarn: char,
    used: Option<Measured>,
    true_g: Option<f64>,
}

impl<W: Write> Report<W> {
    pub(super) fn new(out: W, json: bool, draw: bool) -> Self {
        Self {
            out,
            json,
            draw,
            told: 0,
            last: None,
        }
    }

    pub(super) fn begin(&mut self, script: &Script, seed: u64) -> io::Result<()> {
        let title = &script.scenario.title;
        if self.json {
            return self.line(&json!({ "scenario": title, "invented": true, "seed": seed }));
        }
        writeln!(self.out, "{title} (invented data, seed {seed})")
    }

    pub(super) fn step(&mut self, script: &Script, place: usize, stage: &Stage, witness: &Witness) -> io::Result<()> {
        let Some(step) = script.scenario.steps.get(place) else {
            return Ok(());
        };
        let step = step.get_ref();
        let written = script.written.get(place).map_or("", String::as_str);
        let line = script.lines.get(place).copied().unwrap_or_default();
        let at_s = stage.simulator.now_s();
        if self.json {
            let view = stage.view();
            return self.line(&json!({
                "line": line, "t_s": at_s, "step": written,
                "page": view.as_ref().map(words::page), "says": view.as_ref().and_then(words::says),
            }));
        }
        match step {
            Step::Note(note) => writeln!(self.out, "\n== {note}")?,
            Step::Expect(_) | Step::Wait(_) | Step::Quiet(_) => {}
            _ => writeln!(self.out, "{} line {line}: {written}", clock(at_s))?,
        }
        for moment in witness.moments.get(self.told..).into_iter().flatten() {
            self.screen(moment.at_s, &moment.line, &moment.frame)?;
        }
        self.told = witness.moments.len();
        if let (Step::Expect(_), Some(view)) = (step, stage.view()) {
            self.screen(at_s, &facts::line(&view), &stage.simulator.board.panel().seen())?;
        }
        Ok(())
    }

    pub(super) fn end(&mut self, played: &Played) -> io::Result<()> {
        let rows = rows(&played.stage, played.ledger.as_ref());
        if self.json {
            for row in rows {
                self.line(&json!({
                    "section": row.section.to_string(), "yarn": row.yarn,
                    "used_mg": row.used.map(|used| used.value.0), "u_mg": row.used.map(|used| used.u), "true_g": row.true_g,
                }))?;
            }
            return self.line(&json!({ "passed": played.unmet.is_none() }));
        }
        writeln!(self.out, "\nsection  yarn    used g  +/- (95 %)    knitted g")?;
        for row in rows {
            let used = row.used.map_or(String::new(), |used| format!("{:.2}", grams(used)));
            let half = row.used.map_or(String::new(), |used| {
                format!("{:.2}", f64::from(used.expanded().0) / 1_000.0)
            });
            let truth = row.true_g.map_or(String::new(), |grams| format!("{grams:.2}"));
            writeln!(
                self.out,
                "{:<8} {:^4} {used:>9}  {half:>10} {truth:>12}",
                row.section.to_string(),
                row.yarn
            )?;
        }
        Ok(())
    }

    fn screen(&mut self, at_s: f64, line: &str, frame: &Frame) -> io::Result<()> {
        if self.last.as_deref() == Some(line) {
            return Ok(());
        }
        self.last = Some(line.to_owned());
        writeln!(self.out, "{}     | {line}", clock(at_s))?;
        if self.draw {
            for row in dots::braille(frame) {
                writeln!(self.out, "      |{row}|")?;
            }
        }
        Ok(())
    }

    fn line(&mut self, value: &serde_json::Value) -> io::Result<()> {
        writeln!(self.out, "{value}")
    }
}

fn rows(stage: &Stage, ledger: Option<&Ledger>) -> Vec<Row> {
    let Some(ledger) = ledger else {
        return Vec::new();
    };
    let lines = ledger.plan().lines.iter().zip(0_u8..);
    lines
        .map(|(line, place)| {
            let section = SectionName(line.kind, line.sock);
            Row {
                section,
                yarn: line.yarn.symbol(),
                used: ledger.used(place),
                true_g: stage.truth.get(&section).copied(),
            }
        })
        .collect()
}

fn grams(mass: Measured) -> f64 {
    f64::from(mass.value.0) / 1_000.0
}

fn clock(seconds: f64) -> String {
    let whole = seconds as u64;
    let (days, hours, minutes) = (whole / 86_400, whole / 3_600 % 24, whole / 60 % 60);
    format!("[{days} d {hours:02}:{minutes:02}:{:04.1}]", seconds % 60.0)
}

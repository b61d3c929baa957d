//! What hands do while `serve` runs: a table of loads and presses.

use std::collections::VecDeque;
use std::path::Path;

use yarn_scale_core::app::Key;
use yarn_scale_core::units::Instant;

use crate::device::simulator::Simulator;
use crate::failure::{BadInput, quoted};
use crate::lines::Lines;
use crate::replay::column::{columns, time};
use crate::world::{Body, BodyId};

/// What is still to be done, and what lies on the pan.
#[derive(Debug, Default)]
pub(super) struct Script {
    deeds: VecDeque<(Instant, Deed)>,
    on_pan: Option<BodyId>,
}

/// One thing that hands do.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Deed {
    Press(Key),
    Hold(Key),
    Put(f64),
    Take,
}

impl Script {
    /// Reads a script: CSV with header `t_ms,event`, milliseconds since the power came on. Events: `put GRAMS`, `take`, `zero`, `mark`,
    /// `next`, `hold zero`, `hold mark`, `hold next`.
    ///
    /// # Errors
    /// [`BadInput`] for another header, an unknown event, a time that goes back, or more than [`MOST`] events.
    pub(super) fn read(file: &Path) -> Result<Self, BadInput> {
        let mut lines = Lines::open(file)?;
        lines.expect_header("t_ms,event")?;
        let mut script = Self::default();
        loop {
            let last = script.deeds.back().map_or(Instant(0), |(at, _)| *at);
            let deed = match lines.next_line()? {
                None => return Ok(script),
                Some(line) => parse(line, last),
            };
            script.deeds.push_back(deed.map_err(|reason| lines.complain(reason))?);
            if script.deeds.len() > MOST {
                return Err(lines.complain(format!("more than {MOST} events")));
            }
        }
    }

    /// Does what is due.
    pub(super) fn act(&mut self, simulator: &mut Simulator) {
        while let Some(&(at, deed)) = self.deeds.front()
            && at <= simulator.board.clock()
        {
            self.deeds.pop_front();
            match deed {
                Deed::Press(key) => simulator.press(key),
                Deed::Hold(key) => simulator.hold(key),
                Deed::Put(grams) => {
                    self.take(simulator);
                    self.on_pan = Some(simulator.board.world_mut().put(Body::dry(grams)));
                }
                Deed::Take => self.take(simulator),
            }
        }
    }

    fn take(&mut self, simulator: &mut Simulator) {
        if let Some(body) = self.on_pan.take() {
            simulator.board.world_mut().take(body);
        }
    }
}

fn parse(line: &str, last: Instant) -> Result<(Instant, Deed), String> {
    let (t_ms, event) = columns(line)?;
    let at = time(t_ms, last)?;
    let key = |name: &str| match name {
        "zero" => Ok(Key::Zero),
        "mark" => Ok(Key::Mark),
        "next" => Ok(Key::Next),
        other => Err(format!(
            "event is none of put GRAMS, take, zero, mark, next, hold KEY: {}",
            quoted(other)
        )),
    };
    let deed = match event.split_once(' ') {
        None if event == "take" => Deed::Take,
        None => Deed::Press(key(event)?),
        Some(("hold", name)) => Deed::Hold(key(name)?),
        Some(("put", grams)) => {
            let mass = grams.parse().ok().filter(|mass| (0.0..=2_000.0).contains(mass));
            Deed::Put(mass.ok_or_else(|| format!("put 0 to 2000 g, not {}", quoted(grams)))?)
        }
        Some(_) => key(event).map(Deed::Press)?,
    };
    Ok((at, deed))
}

/// Most events of one script.
const MOST: usize = 86_400;

//! `budget`: what the uncertainty of a weighing and of a difference is made of, as the scale itself states it.

use std::io::Write;

use clap::Args;
use yarn_scale_core::app::Key;
use yarn_scale_core::converter::SampleRate;
use yarn_scale_core::weighing::{Budget, SteadyLoad};

use crate::device::simulator::Simulator;
use crate::failure::Failure;
use crate::world::{Body, BodyId, Room, Unit, World};

/// Prints the uncertainty budget of a weighing and of a section, as the device states it.
///
/// Cold and warmed up, in milligrams (k = 1), on a typical simulated unit.
#[derive(Debug, Args)]
pub struct BudgetArgs {
    /// Seed of the simulated unit and room.
    #[arg(long, default_value_t = 1)]
    seed: u64,
}

impl BudgetArgs {
    /// Prints the table.
    ///
    /// # Errors
    /// If the simulated scale does not settle.
    pub fn run(&self, mut out: impl Write) -> Result<(), Failure> {
        writeln!(
            out,
            "seed {}; a cake of 100 g, then of 96 g half an hour later; mg, k = 1\n",
            self.seed
        )?;
        Ok(out.write_all(table(self.seed)?.as_bytes())?)
    }
}

/// The table, as it stands in `hardware-notes/uncertainty-budget.md`.
///
/// # Errors
/// If the simulated scale does not settle.
pub fn table(seed: u64) -> Result<String, Failure> {
    let columns = [
        ("one weighing, cold", case(seed, 0.0, None)?),
        ("one weighing, warm", case(seed, 3_600.0, None)?),
        ("4 g section, cold", case(seed, 0.0, Some(1_800.0))?),
        ("4 g section, warm", case(seed, 3_600.0, Some(1_800.0))?),
    ];
    let line = |name: &str, cells: [String; 4]| format!("| {name} | {} |\n", cells.join(" | "));
    let mut text = line("contribution", columns.map(|(name, _)| name.to_owned()));
    text += &format!("|---|{}\n", "---|".repeat(columns.len()));
    let rows = columns.map(|(_, budget)| budget.entries());
    for place in 0..rows[0].len() {
        text += &line(rows[0][place].0, rows.map(|row| format!("{:.1}", row[place].1)));
    }
    let combined = columns.map(|(_, budget)| budget.combined());
    text += &line("**combined, k = 1**", combined.map(|u| format!("{u:.1}")));
    text += &line("**95 %**", combined.map(|u| format!("{:.0}", 1.96 * u)));
    Ok(text)
}

/// The budget of a cake weighed this long after power-on, or of the section between it and its return.
fn case(seed: u64, warm_s: f64, away_s: Option<f64>) -> Result<Budget, Failure> {
    let mut world = World::new(Unit::typical(seed), SampleRate::Ten, Room::new(seed));
    // So that the converter stays on.
    world.supply.usb = true;
    let mut simulator = Simulator::new(world);
    simulator.switch_on();
    simulator.pass(10.0 + warm_s, |_| {});
    let (cake, before) = weigh(&mut simulator, 100.0)?;
    let scale = |simulator: &Simulator| simulator.app().map(|app| app.scale().clone());
    let gone = || Failure::Unmet("the simulated scale is off".into());
    let Some(away_s) = away_s else {
        return Ok(scale(&simulator).ok_or_else(gone)?.budget(&before));
    };
    simulator.board.world_mut().take(cake);
    simulator.pass(away_s, |_| {});
    let (_, after) = weigh(&mut simulator, 96.0)?;
    Ok(scale(&simulator).ok_or_else(gone)?.difference_budget(&before, &after))
}

/// Puts a cake on and waits for the tick.
fn weigh(simulator: &mut Simulator, grams: f64) -> Result<(BodyId, SteadyLoad), Failure> {
    // After an hour without use only a key wakes it.
    simulator.press(Key::Next);
    simulator.pass(5.0, |_| {});
    let cake = simulator.board.world_mut().put(Body::dry(grams));
    for _ in 0..200 {
        simulator.pass(0.1, |_| {});
        let app = simulator.app();
        let steady = app.and_then(|app| {
            app.scale()
                .readout()
                .steady
                .filter(|load| app.scale().gross(load).value.0 > 50_000)
        });
        if let Some(load) = steady {
            return Ok((cake, load));
        }
    }
    Err(Failure::Unmet("the simulated scale does not settle".into()))
}

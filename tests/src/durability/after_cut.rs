//! What a scale still has to do after a cut: start, weigh, note, and be the same after another start.

use yarn_scale_core::journal::{Record, RingName, Setting};
use yarn_scale_core::ledger::Ledger;
use yarn_scale_core::screen::Body;
use yarn_scale_sim::play::scenario::{Step, Switch};
use yarn_scale_sim::play::stage::Stage;
use yarn_scale_sim::play::witness::Witness;

use super::Found;
use super::found::ring_of;

/// The scale starts, shows no fault, weighs what is put on it and keeps that as a visit, notes a change of a setting, and is
/// the same after another start.
pub(super) fn works_on(stage: &mut Stage) -> Result<(), String> {
    let steps = |stage: &mut Stage, steps: &[Step]| -> Result<(), String> {
        let mut witness = Witness::default();
        steps.iter().try_for_each(|step| stage.play(step, &mut witness))
    };
    let before = found(stage)?;
    // The same again would be no new visit.
    let [first, second] = PROOFS;
    let (proof, grams) = if last_visit_g(&before).is_some_and(|last| (last - first.1).abs() < 1.0) {
        second
    } else {
        first
    };
    stage.simulator.board.world_mut().hand_off();
    stage.simulator.board.world_mut().connected = true;
    steps(stage, &[Step::Power(Switch::On), wait(5.0)])?;
    let lying: Vec<String> = stage.things.all().iter().map(|thing| thing.name.clone()).collect();
    for name in lying {
        // Fails for what is in the basket.
        let _ = steps(stage, &[Step::Take(name)]);
    }
    steps(stage, &[wait(4.0)])?;
    home(stage)?;
    steps(
        stage,
        &[
            Step::Put(proof.to_owned()),
            wait(5.0),
            Step::Take(proof.to_owned()),
            wait(6.0),
        ],
    )?;
    home(stage)?;
    steps(stage, &[hold("next"), choose("sound")])?;
    home(stage)?;
    same_as_replayed(stage)?;
    let after = found(stage)?;
    if let Some(lost) = before.entries.iter().find(|entry| !after.entries.contains(entry)) {
        let replaced = after
            .of(ring_of(&lost.record))
            .next()
            .is_some_and(|first| first.sequence > lost.sequence);
        if !replaced {
            return Err(format!("going on took {lost:?}"));
        }
    }
    let mark = after.of(RingName::Marks).last().map(|entry| &entry.record);
    if !matches!(mark, Some(Record::Setting(Setting::Sound(_)))) {
        return Err(format!("the setting was not noted: {mark:?}"));
    }
    let seen = last_visit_g(&after);
    if seen.is_none_or(|seen| (seen - grams).abs() > 0.3) {
        return Err(format!("{grams} g were put on the pan, noted {seen:?}"));
    }
    let mut again = stage.copy();
    steps(
        &mut again,
        &[Step::Power(Switch::Off), Step::Power(Switch::On), wait(4.0)],
    )?;
    same_as_replayed(&again)?;
    if shows_a_fault(&again) {
        return Err("the second start shows a fault".to_owned());
    }
    Ok(())
}

/// ZERO until the pan is shown, whatever page is open.
fn home(stage: &mut Stage) -> Result<(), String> {
    let mut witness = Witness::default();
    for _ in 0..6 {
        match stage.view().map(|view| view.body) {
            Some(Body::Pan(_)) => return Ok(()),
            Some(Body::Notice(_)) => stage.play(&press("next"), &mut witness)?,
            Some(_) => stage.play(&press("zero"), &mut witness)?,
            None => return Err("power failed by itself".to_owned()),
        }
    }
    Err(format!("cannot go home from {:?}", stage.view().map(|view| view.body)))
}

/// Gross mass of the last visit, g.
fn last_visit_g(found: &Found) -> Option<f64> {
    let visits = found.of(RingName::Visits).filter_map(|entry| match entry.record {
        Record::Visit { gross, .. } => Some(f64::from(gross.value.0) / 1_000.0),
        _ => None,
    });
    visits.last()
}

fn shows_a_fault(stage: &Stage) -> bool {
    stage.view().is_some_and(|view| matches!(view.body, Body::Fault(_)))
}

/// What the running application goes by is what replaying its journal gives.
pub(super) fn same_as_replayed(stage: &Stage) -> Result<(), String> {
    let Some(app) = stage.simulator.app() else {
        return Ok(());
    };
    let replayed = found(stage)?.needles();
    let of = |ledger: &Ledger| {
        let plan = ledger.plan().clone();
        let skipped: Vec<u8> = (0..24).filter(|&line| ledger.is_skipped(line)).collect();
        (ledger.pair(), ledger.is_open(), plan, ledger.steps().to_vec(), skipped)
    };
    let (is, wanted) = (of(app.book().ledger()), of(replayed.in_hand()));
    if is == wanted {
        Ok(())
    } else {
        Err(format!("the application goes by {is:?}, its journal says {wanted:?}"))
    }
}

/// What a start would find now. The stage stays as it is.
pub(super) fn found(stage: &Stage) -> Result<Found, String> {
    let mut flash = stage.simulator.board.flash.copy();
    flash.power_on();
    let (_, found) = Found::open(&mut flash).map_err(|fault| format!("does not open: {fault:?}"))?;
    Ok(found)
}

fn wait(seconds: f64) -> Step {
    step(&format!("wait = {seconds:?}"))
}

fn press(key: &str) -> Step {
    step(&format!("press = {key:?}"))
}

fn hold(key: &str) -> Step {
    step(&format!("hold = {key:?}"))
}

fn choose(name: &str) -> Step {
    step(&format!("choose = {name:?}"))
}

/// A step as a scenario writes it.
fn step(text: &str) -> Step {
    toml::from_str(text).expect("a step")
}

/// What is put on the pan to see that the scale weighs, and its mass, g.
pub(super) const PROOFS: [(&str, f64); 2] = [("a proof", 52.0), ("another proof", 33.0)];

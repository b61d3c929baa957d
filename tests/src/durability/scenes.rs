//! Cutting power while the device is in use: a scenario is played on the device's own loop, and power fails in each of its
//! flash operations in turn. The scale then starts, weighs, takes another setting, and starts again.

use std::collections::VecDeque;
use std::path::Path;

use yarn_scale_core::journal::{Entry, Record, Setting};
use yarn_scale_sim::device::flash::{SECTOR, SimFlash, Tear};
use yarn_scale_sim::device::simulator::calibrated_flash;
use yarn_scale_sim::play::facts;
use yarn_scale_sim::play::scenario::{Script, Step};
use yarn_scale_sim::play::stage::Stage;
use yarn_scale_sim::play::witness::{Moment, Witness};
use yarn_scale_sim::world::{Body as Lump, World};

use super::after_cut::{PROOFS, found, same_as_replayed, works_on};
use super::{CutCounts, Found, Years};

/// A scenario of `tests/scenarios`, and the journal that the scale has at its beginning.
#[derive(Clone, Copy, Debug)]
pub struct Scene {
    /// The scenario's file, without its ending.
    pub name: &'static str,
    /// Pairs that were knitted before it, on a small journal; none on a new one of the device's size.
    pub pairs_before: u16,
    /// Bytes of the small journal.
    bytes: usize,
}

/// What is cut: everything that is noted, on a new journal; and the begin of a pair where the ring of marks has come round,
/// at several places of the ring, just before another sector is needed.
pub const SCENES: [Scene; 11] = [
    on_a_new_journal("a_cuff"),
    on_a_new_journal("ripped_back"),
    on_a_new_journal("every_setting"),
    on_a_new_journal("calibration"),
    on_a_new_journal("whole_pair"),
    on_a_new_journal("next_pair"),
    after_pairs(20),
    after_pairs(21),
    after_pairs(22),
    after_pairs(23),
    Scene {
        name: "full_journal/make_room",
        pairs_before: NEARLY_FULL,
        bytes: 96 << 10,
    },
];

const fn on_a_new_journal(name: &'static str) -> Scene {
    Scene {
        name,
        pairs_before: 0,
        bytes: SMALL,
    }
}

const fn after_pairs(pairs_before: u16) -> Scene {
    Scene {
        name: "next_pair",
        pairs_before,
        bytes: SMALL,
    }
}

/// Plays the scenario, and in each flash operation of each step lets power fail with each kind of tear; then again in each
/// operation of what the scale does after that: of one kind of tear in six, or of all, if it is to be `thorough`.
///
/// # Errors
/// The first thing that was lost, believed wrongly or did not go on, with the place where power was cut.
pub fn cut_scene(scene: &Scene, thorough: bool) -> Result<CutCounts, String> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("scenarios");
    let script = Script::read(&folder.join(scene.name).with_extension("toml")).map_err(|bad| bad.to_string())?;
    let mut stage = Stage::new(&script, script.scenario.world.seed);
    if scene.pairs_before > 0 {
        let flash = worn(stage.simulator.board.world(), scene)?;
        stage.exchange_flash(flash);
    }
    let now = stage.simulator.now_s();
    for (name, grams) in PROOFS {
        stage.things.add(name, Lump::dry(grams), false, now);
    }
    let mut counts = CutCounts::default();
    let is_worn = scene.pairs_before > 0;
    for (place, step) in script.scenario.steps.iter().enumerate() {
        let mut step = step.get_ref().clone();
        // A checkpoint notes again what stands, and hides what was noted before it.
        if let (Step::Expect(expect), true) = (&mut step, is_worn) {
            expect.records = None;
        }
        let before = stage.copy();
        let told = |what: String| script.complain(place, what).to_string();
        stage.play(&step, &mut Witness::default()).map_err(told)?;
        cut_step(&before, &step, &stage, thorough, &mut counts).map_err(told)?;
        same_as_replayed(&stage)?;
    }
    if !is_worn {
        stage.end()?;
    }
    Ok(counts)
}

/// A small journal of this world's scale after so many pairs, and after so many changes of a setting that the next records
/// need another sector.
fn worn(world: &World, scene: &Scene) -> Result<SimFlash, String> {
    let mut years = Years::from(calibrated_flash(world, scene.bytes));
    for pair in 1..=scene.pairs_before {
        years
            .knit_a_pair(pair)
            .map_err(|fault| format!("pair {pair}: {fault:?}"))?;
    }
    let mut before: VecDeque<SimFlash> = VecDeque::new();
    let mut last = None;
    loop {
        years.flash.keep_log();
        let change = Record::Setting(Setting::Brightness(2));
        years.note(change).map_err(|fault| format!("{fault:?}"))?;
        let sector = years
            .flash
            .log()
            .last()
            .map(|operation| operation.start() as usize / SECTOR);
        if sector != last && before.len() == CHANGES_BEFORE {
            return before.pop_front().ok_or_else(|| "no change at all".to_owned());
        }
        last = sector;
        before.push_back(years.flash.copy());
        if before.len() > CHANGES_BEFORE {
            before.pop_front();
        }
    }
}

/// Cuts power in each operation of one step.
fn cut_step(before: &Stage, step: &Step, after: &Stage, thorough: bool, counts: &mut CutCounts) -> Result<(), String> {
    let operations = operations(after) - operations(before);
    let uncut = everything(after)?;
    counts.operations += operations;
    counts.erases += erases(after) - erases(before);
    for operation in 0..operations {
        let mut confirmed = None;
        // The first kind leaves what was there before the operation: all of that was confirmed.
        for (kind, tear) in (0..).zip(Tear::all(counts.cuts)) {
            let at = |what| format!("cut in operation {operation}, {tear:?}: {what}");
            let torn = cut(before, step, operation, tear).map_err(at)?;
            counts.cuts += 1;
            let found = everything(&torn).map_err(at)?;
            let confirmed = confirmed.get_or_insert_with(|| found.clone());
            whole(&torn)
                .and_then(|()| kept(confirmed, &found, &uncut))
                .map_err(at)?;
            if thorough || kind == operation % 6 {
                cut_again(&torn, &found, counts).map_err(at)?;
            } else {
                let mut torn = torn;
                works_on(&mut torn).map_err(at)?;
            }
        }
    }
    Ok(())
}

/// Plays a step until power fails in this operation of it.
fn cut(before: &Stage, step: &Step, operation: u64, tear: Tear) -> Result<Stage, String> {
    let mut torn = before.copy();
    torn.simulator.board.flash.cut_after(operation, tear);
    let mut witness = Witness::default();
    // What it was to show, it cannot show any more.
    let _ = torn.play(step, &mut witness);
    torn.simulator.switch_off();
    if !torn.simulator.board.flash.is_off() {
        return Err("the cut did not come".to_owned());
    }
    // What the screen said already when the step began was noted before.
    let said = before.view().map(|view| facts::line(&view));
    let new = |moment: &&Moment| confirms(&moment.line) && said.as_ref() != Some(&moment.line);
    let told = witness.moments.iter().filter(new).count();
    let noted = found(&torn)?.entries.len() as i64 - found(before)?.entries.len() as i64;
    if told as i64 > noted.max(0) {
        return Err(format!("{told} said to be noted, {noted} found"));
    }
    Ok(torn)
}

/// Lets power fail once more, in each operation of what comes after a cut.
fn cut_again(torn: &Stage, first: &[Entry], counts: &mut CutCounts) -> Result<(), String> {
    let mut once = torn.copy();
    works_on(&mut once)?;
    let uncut = everything(&once)?;
    for operation in 0..operations(&once) - operations(torn) {
        let all = Tear::all(counts.second_cuts);
        let tear = all[usize::try_from(counts.second_cuts).unwrap_or(0) % all.len()];
        let mut twice = torn.copy();
        let flash = &mut twice.simulator.board.flash;
        flash.power_on();
        flash.cut_after(operation, tear);
        let went_on = works_on(&mut twice);
        twice.simulator.switch_off();
        if !twice.simulator.board.flash.is_off() {
            return Err(format!("the second cut did not come: {went_on:?}"));
        }
        counts.second_cuts += 1;
        let found = everything(&twice)?;
        whole(&twice)
            .and_then(|()| kept(first, &found, &uncut))
            .and_then(|()| works_on(&mut twice))
            .map_err(|what| format!("second cut in operation {operation}, {tear:?}: {what}"))?;
    }
    Ok(())
}

/// What was confirmed is there, unless it goes without a cut, too; what was not is one record at most, and the one that was
/// being noted.
fn kept(confirmed: &[Entry], found: &[Entry], uncut: &[Entry]) -> Result<(), String> {
    let is_there = |entries: &[Entry], entry: &Entry| {
        let same = |other: &&Entry| other.sequence == entry.sequence && other.record == entry.record;
        entries.iter().any(|other| same(&other))
    };
    let lost = |entry: &&Entry| !is_there(found, entry) && is_there(uncut, entry);
    if let Some(lost) = confirmed.iter().find(lost) {
        return Err(format!("lost {lost:?}"));
    }
    let strange = |entry: &&Entry| !is_there(confirmed, entry) && !is_there(uncut, entry) && !is_own(&entry.record);
    match found.iter().find(strange) {
        Some(strange) => Err(format!("found {strange:?}, which was never noted")),
        None => Ok(()),
    }
}

/// No number is missing: nothing can have been lost but at the end.
fn whole(stage: &Stage) -> Result<(), String> {
    match found(stage)?.gaps.as_slice() {
        [] => Ok(()),
        gaps => Err(format!("gaps in a journal that has only lost power: {gaps:?}")),
    }
}

/// What the journal notes by itself after a cut, which moves the numbers of what follows; and the start.
const fn is_own(record: &Record) -> bool {
    matches!(
        record,
        Record::Lost { .. } | Record::Checkpoint { .. } | Record::Started(_)
    )
}

/// Every intact entry on the flash, those that a start does not read any more included.
fn everything(stage: &Stage) -> Result<Vec<Entry>, String> {
    let mut flash = stage.simulator.board.flash.copy();
    flash.power_on();
    let (journal, _) = Found::open(&mut flash).map_err(|fault| format!("does not open: {fault:?}"))?;
    Ok(Found::everything(&journal, &mut flash))
}

fn operations(stage: &Stage) -> u64 {
    stage.simulator.board.flash.counts().operations()
}

fn erases(stage: &Stage) -> u64 {
    stage.simulator.board.flash.counts().erases
}

/// Whether a line of the witness says that something was noted.
fn confirms(line: &str) -> bool {
    const SAID: [&str; 7] = [
        "noted",
        "weighed-in",
        "started",
        "undone",
        "skipped",
        "amended",
        "bowl-noted",
    ];
    let said = line.strip_prefix("notice ");
    said.is_some_and(|said| SAID.iter().any(|word| said.split(':').next() == Some(word)))
}

/// Bytes of a small journal: its ring of marks comes round after some 16 pairs.
const SMALL: usize = 48 << 10;

/// Pairs in short that begin the last of six sectors.
pub(super) const NEARLY_FULL: u16 = 122;

/// Records that still fit in the sector being written where a worn journal begins.
const CHANGES_BEFORE: usize = 6;

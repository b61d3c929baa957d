//! A record that was refused puts the same weights in doubt at once as after the next start.

use std::path::Path;

use yarn_scale_core::journal::{Entry, Record};
use yarn_scale_core::ledger::{Ledger, Step as Weighing};
use yarn_scale_core::sock::YarnLetter;
use yarn_scale_sim::device::simulator::calibrated_flash;
use yarn_scale_sim::play::scenario::Script;
use yarn_scale_sim::play::stage::Stage;
use yarn_scale_sim::play::witness::Witness;
use yarn_scale_tests::durability::{Found, Years};
use yarn_scale_tests::knitting;

const STORY: &str = r#"
title = "A change of the plan is refused, then the pair is closed"
invented = true
steps = [
    { power = "on" },
    { expect = { page = "pan", by = "10 s" } },
    { hold = "next" },
    { choose = ["plan", "leg 1", "change-yarn"] },
    { expect = { says = "journal-full", by = "1 s" } },
    { press = ["next", "zero", "zero"] },
    { hold = "next" },
    { choose = ["pairs-on-needles", "pair 2"] },
    { press = "mark" },
]
"#;

/// Where the pair is closed in the story.
const CLOSING: usize = 6;

/// Every entry there is, those before the next pair's checkpoint included.
fn everything(stage: &Stage) -> Vec<Entry> {
    let mut flash = stage.simulator.board.flash.copy();
    let (journal, _) = Found::open(&mut flash).expect("a flash that works");
    Found::everything(&journal, &mut flash)
}

/// The second pair's weights as they stand when it is closed.
fn replayed_to_the_close(entries: &[Entry]) -> Vec<Weighing> {
    let mut ledger = Ledger::default();
    for entry in entries {
        if matches!(entry.record, Record::PairClosed { pair: 2 }) {
            break;
        }
        ledger.apply(entry).expect("in order");
    }
    ledger.steps().to_vec()
}

#[test]
fn what_is_refused_puts_the_same_weights_in_doubt_live_and_replayed() {
    let script = Script::parse(Path::new("refused.toml"), STORY).unwrap_or_else(|bad| panic!("{bad}"));
    let mut stage = Stage::new(&script, 1);
    let mut years = Years::from(calibrated_flash(stage.simulator.board.world(), 48 << 10));
    years.knit_a_pair(1).expect("room");
    let begun = Record::PairBegun {
        pair: 2,
        lines: knitting::plan(),
    };
    years.note(begun).expect("room");
    let [a, b] = [YarnLetter::A, YarnLetter::B];
    for (yarn, mg) in [(a, 80_000), (b, 20_000)] {
        let weight = knitting::weight(mg);
        years.note(Record::WeighIn { yarn, weight }).expect("room");
    }
    let weight = knitting::weight(16_000);
    years
        .note(Record::Mark {
            line: 0,
            yarn: b,
            weight,
        })
        .expect("room");
    let line = knitting::plan()[1];
    while years.note(Record::LineChanged { index: 1, line }).is_ok() {}
    stage.exchange_flash(years.flash);

    let mut witness = Witness::default();
    let mut live = Vec::new();
    for (place, step) in script.scenario.steps.iter().enumerate() {
        stage
            .play(step.get_ref(), &mut witness)
            .unwrap_or_else(|what| panic!("{}", script.complain(place, what)));
        if place < CLOSING {
            live = stage.simulator.app().expect("power").book().ledger().steps().to_vec();
        }
    }
    assert_eq!(
        live.iter().map(|step| step.doubtful).collect::<Vec<_>>(),
        [true, false, true]
    );
    let entries = everything(&stage);
    assert_eq!(live, replayed_to_the_close(&entries));
    // The table that outlives the marks says so, too.
    let lost = entries
        .iter()
        .position(|entry| entry.record == Record::Lost { count: 1 });
    let closed = entries
        .iter()
        .position(|entry| entry.record == Record::PairClosed { pair: 2 });
    assert!(lost.is_some() && lost < closed, "{lost:?}, {closed:?}");
    let condensed = entries.iter().find_map(|entry| match &entry.record {
        Record::Condensed { pair: 2, sections } => Some(sections),
        _ => None,
    });
    let doubtful: Vec<bool> = condensed
        .expect("a table")
        .iter()
        .map(|section| section.doubtful)
        .collect();
    assert_eq!(doubtful, [true]);
}

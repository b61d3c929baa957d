//! Making room at the keys, where the memory is nearly full, and where it is full.

use std::path::Path;

use yarn_scale_core::app::{Effect, Input};
use yarn_scale_core::converter::SampleRate;
use yarn_scale_core::journal::{Record, Room, Sequence, Setting};
use yarn_scale_core::screen::{Body, Value, Word};
use yarn_scale_sim::device::simulator::calibrated_flash;
use yarn_scale_sim::play::scenario::Script;
use yarn_scale_sim::play::stage::Stage;
use yarn_scale_sim::play::witness::Witness;
use yarn_scale_sim::world::{Room as Air, Unit, World};
use yarn_scale_tests::bench::{Bench, Key};
use yarn_scale_tests::durability::{Years, until_full};

/// Twice the first choice is "not now", and what MARK does on it is nothing.
#[test]
fn room_is_made_by_the_keys_and_asked_twice() {
    let mut bench = Bench::weighed_in();
    let room = Room {
        from: Sequence(49),
        pairs: 47,
        newest: 48,
    };
    let kept = |bench: &Bench| bench.deeds().contains(&Record::Setting(Setting::KeptFrom(room.from)));
    let rows = |bench: &Bench| match bench.body() {
        Body::List(list) => (
            list.title,
            list.items.iter().map(|item| item.value).collect::<Vec<Value>>(),
        ),
        other => panic!("{other:?}"),
    };
    // There is need only where the journal says so.
    bench.open(Word::MakeRoom);
    assert!(bench.effects.contains(&Effect::LookForRoom), "{:?}", bench.effects);
    assert_eq!(rows(&bench), (Word::MakeRoom, vec![Value::Quantity(0, Word::Percent)]));
    bench.press(Key::Mark);
    bench.tell(Input::Room(Some(room)));
    for presses in [
        &[Key::Mark][..],
        &[Key::Next, Key::Mark, Key::Mark],
        &[Key::Next, Key::Mark, Key::Zero],
    ] {
        bench.open(Word::MakeRoom);
        for &key in presses {
            bench.press(key);
        }
        assert!(!kept(&bench), "{presses:?}");
    }
    bench.open(Word::MakeRoom);
    assert_eq!(rows(&bench), (Word::MakeRoom, vec![Value::Nothing, Value::Number(47)]));
    bench.press(Key::Next);
    bench.press(Key::Mark);
    assert_eq!(rows(&bench), (Word::BackedUp, vec![Value::Nothing, Value::Number(48)]));
    bench.press(Key::Next);
    bench.press(Key::Mark);
    assert!(kept(&bench));
    assert_eq!(rows(&bench).0, Word::MakeRoom);
    // The press that follows finds nothing to do.
    let noted = bench.journal.len();
    bench.press(Key::Mark);
    bench.press(Key::Mark);
    assert_eq!(bench.journal.len(), noted);
}

/// The last pair was closed, and there was no room for it in short: it is noted as soon as there is.
#[test]
fn the_pair_that_found_no_room_is_noted_in_short_once_there_is() {
    let world = World::new(Unit::typical(1), SampleRate::Ten, Air::constant());
    let mut years = Years::from(calibrated_flash(&world, 96 << 10));
    let (full, _) = until_full(&mut years, |_, _| {});
    let script = Script::parse(Path::new("full.toml"), FULL).expect("a scenario");
    let mut stage = Stage::new(&script, 1);
    stage.exchange_flash(years.flash);
    let in_short = |stage: &Stage| {
        let is_it = |record: &Record| matches!(record, Record::Condensed { pair, .. } if *pair == full);
        let journal = stage.simulator.journal();
        journal.iter().filter(|entry| is_it(&entry.record)).count()
    };
    for step in &script.scenario.steps {
        assert_eq!(in_short(&stage), 0);
        let played = stage.play(step.get_ref(), &mut Witness::default());
        played.unwrap_or_else(|unmet| panic!("{:?}: {unmet}", step.get_ref()));
    }
    assert_eq!(in_short(&stage), 1);
}

const FULL: &str = r#"
title = "The memory is full"
invented = true
steps = [
    { power = "on" },
    { wait = 4 },
    { expect = { says = "journal-full" } },
    { press = "mark" },
    { hold = "next" },
    { choose = ["make-room", "oldest-pairs-go", "gone-up-to-pair"] },
]
"#;

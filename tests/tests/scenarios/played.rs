//! Every scenario file plays green, and any other file is refused with its line.

use std::path::{Path, PathBuf};

use yarn_scale_sim::play::scenario::Script;
use yarn_scale_sim::play::witness::Witness;
use yarn_scale_sim::play::{Played, play};

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("scenarios")
}

fn script(name: &str) -> Script {
    Script::read(&folder().join(name)).unwrap_or_else(|bad| panic!("{bad}"))
}

fn played(script: &Script, seed: u64) -> Played {
    play(script, seed, Witness::default(), |_, _, _| {})
}

fn assert_green(script: &Script, seed: u64) {
    if let Some((step, unmet)) = played(script, seed).unmet {
        panic!("seed {seed}: {}", script.complain(step, unmet));
    }
}

#[test]
fn every_scenario_plays_green() {
    let mut count = 0;
    for entry in std::fs::read_dir(folder()).expect("the folder of scenarios") {
        let file = entry.expect("an entry").path();
        if file.extension().is_some_and(|extension| extension == "toml") {
            let script = Script::read(&file).unwrap_or_else(|bad| panic!("{bad}"));
            assert_green(&script, script.scenario.world.seed);
            count += 1;
        }
    }
    println!("{count} scenarios");
    assert!(count > 0, "no scenario was found");
}

fn refused(text: &str) -> String {
    Script::parse(Path::new("some.toml"), text)
        .expect_err("must be refused")
        .to_string()
}

#[test]
fn what_is_no_scenario_is_refused_with_its_line() {
    let head = "title = \"x\"\ninvented = true\nyarns = { A = 20 }\n";
    let of = |steps: &str| refused(&format!("{head}steps = [\n{steps}\n]\n"));
    let good = "{ quiet = 1 },\n";
    assert_eq!(
        refused("title = \"x\"\ninvented = false\nsteps = []"),
        "some.toml:1: only invented data belongs here: say invented = true"
    );
    assert_eq!(
        of("{ power = \"on\" }"),
        "some.toml: expects nothing, so it shows nothing"
    );
    assert_eq!(of("{ expect = {} }"), "some.toml:5: expects nothing");
    assert_eq!(
        of(&format!("{good}{{ put = \"B\" }}")),
        "some.toml:6: \"B\" is not among the yarns and objects"
    );
    assert!(of(&format!("{good}{{ shove = \"A\" }}")).starts_with("some.toml:6: unknown variant `shove`"));
    assert!(of(&format!("{good}{{ expect = {{ colour = 1 }} }}")).starts_with("some.toml:6: unknown field `colour`"));
    assert_eq!(
        of(&format!("{good}{{ wait = nan }}")),
        "some.toml:6: a time must be between 0 and 40 days"
    );
    assert_eq!(
        of(&format!("{good}{{ wait = \"5 weeks\" }}")),
        "some.toml:6: not a time, such as 5, \"90 s\", \"10 min\", \"2 h\", \"3 d\""
    );
    assert_eq!(
        of(&format!("{good}{{ hand = -1.0 }}")),
        "some.toml:6: a mass must be between 0 and 2000 g"
    );
    assert_eq!(
        of(&format!("{good}{{ press = \"any\" }}")),
        "some.toml:6: not a key, zero, mark or next: \"any\""
    );
    assert!(refused("title = ").starts_with("some.toml:1: "));
    assert!(
        refused("title = \"x\"\ninvented = true\nsteps = [ { quiet = 1 } ]\nmore = 1")
            .starts_with("some.toml:4: unknown field `more`")
    );
}

#[test]
fn an_expectation_that_is_not_met_fails_at_its_line() {
    let text =
        "title = \"x\"\ninvented = true\nsteps = [\n{ power = \"on\" },\n{ expect = { grams = 5.0, by = 5 } },\n]\n";
    let script = Script::parse(Path::new("some.toml"), text).expect("a scenario");
    let (step, unmet) = played(&script, 1).unmet.expect("nothing weighs 5 g");
    assert_eq!(script.lines[step], 5);
    assert_eq!(
        unmet,
        "expected the display = 5 g, found nothing; then expected the display = 5 g within 0.1 g, found 0 g"
    );
}

#[test]
fn what_was_noted_and_never_asked_for_fails_the_scenario() {
    let mut script = script("a_cuff.toml");
    let ask = |step: &toml::Spanned<yarn_scale_sim::play::scenario::Step>| matches!(step.get_ref(), yarn_scale_sim::play::scenario::Step::Expect(expect) if expect.records.is_some());
    let last = script
        .scenario
        .steps
        .iter()
        .rposition(ask)
        .expect("it asks for records");
    script.scenario.steps.remove(last);
    let (_, unmet) = played(&script, 1).unmet.expect("a mark is left over");
    assert_eq!(unmet, "noted, and never asked for: mark");
}

/// The whole pair with a hundred seeds: what the ledger says is what was knitted, within a division in every section.
#[test]
fn the_whole_pair_comes_out_true_with_a_hundred_seeds() {
    let script = script("whole_pair.toml");
    let fails = |seed| {
        let (step, unmet) = played(&script, seed).unmet?;
        Some(format!("seed {seed}: {}", script.complain(step, unmet)))
    };
    // Two at a time: each seed is on its own.
    let half = |from: u64| (from..=100).step_by(2).filter_map(fails).collect::<Vec<_>>();
    let failed: Vec<_> = std::thread::scope(|scope| {
        let odd = scope.spawn(|| half(1));
        let even = half(2);
        odd.join().expect("the other half").into_iter().chain(even).collect()
    });
    assert!(
        failed.is_empty(),
        "{} of 100 failed:\n{}",
        failed.len(),
        failed.join("\n")
    );
}

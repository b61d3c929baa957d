//! Names that a computer gave to yarns: on the device each stands behind its letter, and belongs to its pair.

use yarn_scale_core::journal::{Named, PairEvent, Record};
use yarn_scale_core::screen::Word;
use yarn_scale_core::sock::YarnLetter;
use yarn_scale_tests::bench::{Bench, Key};

use crate::several_pairs::{another, in_hand, mark, skip_all_but_the_last};

/// As the line does it.
fn name(bench: &mut Bench, yarn: YarnLetter, name: &str) {
    let name = name.try_into().expect("short");
    let what = Named::Yarn(yarn);
    bench.adopt(Record::Named { what, name });
}

fn names(bench: &Bench) -> Vec<(YarnLetter, String)> {
    let names = bench.app.view().names;
    names.iter().map(|(yarn, name)| (*yarn, name.to_string())).collect()
}

#[test]
fn each_pair_has_its_own_names_and_power_takes_none() {
    let mut bench = Bench::weighed_in();
    name(&mut bench, YarnLetter::B, "Moss");
    name(&mut bench, YarnLetter::A, "Sloe");
    another(&mut bench);
    assert_eq!((in_hand(&bench), names(&bench)), (2, vec![]));
    name(&mut bench, YarnLetter::A, "Rowan");
    name(&mut bench, YarnLetter::A, "Rowan berry");
    let of_the_second = vec![(YarnLetter::A, "Rowan berry".to_owned())];
    assert_eq!(names(&bench), of_the_second);
    let event = PairEvent::YarnNamed {
        yarn: YarnLetter::A,
        name: "Rowan berry".try_into().expect("short"),
    };
    assert_eq!(
        bench.journal.last().map(|entry| entry.record.clone()),
        Some(Record::OfPair { pair: 2, event })
    );
    let mut bench = bench.power_cycle();
    assert_eq!(names(&bench), of_the_second);
    bench.hold(Key::Next);
    bench.press(Key::Mark);
    bench.press(Key::Mark);
    let of_the_first = [(YarnLetter::A, "Sloe"), (YarnLetter::B, "Moss")];
    assert_eq!(
        (in_hand(&bench), names(&bench)),
        (1, of_the_first.map(|(yarn, name)| (yarn, name.to_owned())).to_vec())
    );
}

/// Where there is no pair yet, the name is kept for none, and nothing else changes.
#[test]
fn a_name_without_a_pair_is_of_none() {
    let mut bench = Bench::new();
    name(&mut bench, YarnLetter::A, "Sloe");
    bench.begin_pair();
    assert_eq!(names(&bench), []);
}

#[test]
fn a_yarn_that_goes_on_in_another_pair_keeps_its_name() {
    let mut bench = Bench::weighed_in();
    name(&mut bench, YarnLetter::B, "Moss");
    let last = bench.app.book().ledger().last(YarnLetter::B);
    let weight = last.expect("weighed in").weight;
    another(&mut bench);
    let event = PairEvent::Carried {
        yarn: YarnLetter::A,
        from: 1,
        was: YarnLetter::B,
        weight,
    };
    bench.adopt(Record::OfPair { pair: 2, event });
    assert_eq!(names(&bench), [(YarnLetter::A, "Moss".to_owned())]);
}

/// Pair 2 was begun last, pair 1 is finished and still in hand: what is named then is its yarn.
#[test]
fn a_finished_pair_in_hand_gets_the_name_of_its_yarn() {
    let mut bench = Bench::weighed_in();
    another(&mut bench);
    bench.open(Word::PairsOnNeedles);
    bench.press(Key::Mark);
    skip_all_but_the_last(&mut bench);
    mark(&mut bench, 15.0);
    assert_eq!((in_hand(&bench), bench.app.book().ledger().is_open()), (1, false));
    name(&mut bench, YarnLetter::B, "Moss");
    let bench = bench.power_cycle();
    let named = |pair| {
        bench
            .app
            .book()
            .yarn_name(pair, YarnLetter::B)
            .map(|name| name.as_str())
    };
    assert_eq!([named(1), named(2)], [Some("Moss"), None]);
}

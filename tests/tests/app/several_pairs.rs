//! Several pairs on the needles: none ends another, each goes on where it was, and a finished one can be opened again.

use yarn_scale_core::journal::{OPEN_PAIRS, PairEvent, Record, Setting};
use yarn_scale_core::screen::{Body, KeyWord, Pairs, Word};
use yarn_scale_core::sock::YarnLetter;
use yarn_scale_core::units::Milligrams;
use yarn_scale_tests::bench::{Bench, Key};

/// Begins another pair by the first preset.
pub(crate) fn another(bench: &mut Bench) {
    bench.open(Word::NewPair);
    bench.press(Key::Mark);
    bench.press(Key::Mark);
}

/// One mark, off and on the pan.
pub(crate) fn mark(bench: &mut Bench, grams: f64) {
    bench.put(grams);
    bench.press(Key::Mark);
    bench.take();
    bench.wait(7.0);
}

/// Of the first preset's ten sections.
pub(crate) fn skip_all_but_the_last(bench: &mut Bench) {
    for _ in 0..9 {
        bench.open(Word::Plan);
        bench.press(Key::Mark);
        bench.choose(Word::SkipSection);
        bench.wait(7.0);
    }
}

pub(crate) fn list(bench: &mut Bench) -> Pairs {
    bench.open(Word::PairsOnNeedles);
    match bench.body() {
        Body::Pairs(list) => list,
        other => panic!("{other:?}"),
    }
}

fn left(bench: &Bench) -> Option<Milligrams> {
    let last = bench.app.book().ledger().last(YarnLetter::B);
    last.map(|step| step.weight.net.value)
}

pub(crate) fn in_hand(bench: &Bench) -> u16 {
    bench.app.book().ledger().pair()
}

#[test]
fn a_new_pair_ends_no_other_and_three_presses_lead_back() {
    let mut bench = Bench::weighed_in();
    mark(&mut bench, 16.0);
    another(&mut bench);
    assert!(
        matches!(bench.body(), Body::Pan(pan) if pan.pair == Some(2)),
        "{:?}",
        bench.body()
    );
    mark(&mut bench, 60.0);
    assert!((left(&bench).expect("weighed in") - Milligrams(60_000)).abs() < Milligrams(100));
    // Hold NEXT, MARK, MARK: the pair that was knitted before is highlighted.
    bench.hold(Key::Next);
    bench.press(Key::Mark);
    bench.press(Key::Mark);
    assert_eq!(in_hand(&bench), 1);
    assert!((left(&bench).expect("weighed in") - Milligrams(16_000)).abs() < Milligrams(100));
    let Body::Pan(pan) = bench.body() else {
        panic!("{:?}", bench.body())
    };
    assert_eq!(pan.pair, Some(1));
    // The choice survives the power.
    let bench = bench.power_cycle();
    assert_eq!(in_hand(&bench), 1);
    assert!(bench.deeds().contains(&Record::Setting(Setting::PairInHand(1))));
    assert!(
        !bench
            .deeds()
            .iter()
            .any(|record| matches!(record, Record::PairClosed { .. }))
    );
}

#[test]
fn a_pair_begun_after_a_choice_is_gone_on_with_also_after_a_power_cut() {
    let mut bench = Bench::weighed_in();
    another(&mut bench);
    list(&mut bench);
    bench.press(Key::Mark);
    assert_eq!(in_hand(&bench), 1);
    another(&mut bench);
    assert_eq!(in_hand(&bench), 3);
    assert_eq!(in_hand(&bench.power_cycle()), 3);
}

#[test]
fn the_ninth_pair_asks_which_one_is_finished() {
    let mut bench = Bench::weighed_in();
    for _ in 1..OPEN_PAIRS {
        another(&mut bench);
    }
    let begun = bench.deeds();
    bench.open(Word::NewPair);
    assert!(matches!(bench.body(), Body::Pairs(ref list) if list.are_full && list.rows.len() == OPEN_PAIRS));
    assert_eq!(bench.deeds(), begun);
    // Choosing one shows it before it is finished.
    bench.press(Key::Next);
    bench.press(Key::Mark);
    let Body::PairSummary(summary) = bench.body() else {
        panic!("{:?}", bench.body())
    };
    assert!(!summary.finished);
    bench.press(Key::Mark);
    assert!(matches!(bench.body(), Body::PairSummary(ref now) if now.finished && now.number == summary.number));
    let is_closed = |record: &Record| *record == Record::PairClosed { pair: summary.number };
    assert!(bench.deeds().iter().any(is_closed));
    bench.press(Key::Zero);
    another(&mut bench);
    assert_eq!(in_hand(&bench), 9);
    assert_eq!(bench.app.book().open_pairs().count(), OPEN_PAIRS);
}

#[test]
fn the_last_mark_finishes_the_pair_and_taking_it_back_opens_it_again() {
    let mut bench = Bench::weighed_in();
    skip_all_but_the_last(&mut bench);
    assert!(bench.app.book().ledger().is_open());
    bench.put(15.0);
    bench.press(Key::Mark);
    // As long as the cake lies there its weight is not final.
    assert!(bench.app.book().ledger().is_open());
    bench.take();
    bench.wait(7.0);
    assert!(!bench.app.book().ledger().is_open());
    let Body::PairSummary(summary) = bench.body() else {
        panic!("{:?}", bench.body())
    };
    assert!(summary.finished);
    assert_eq!(bench.app.view().keys[1], KeyWord::Ok);
    let in_short = |bench: &Bench| {
        let condensed = |record: &&Record| matches!(record, Record::Condensed { .. });
        bench.deeds().iter().filter(condensed).count()
    };
    assert_eq!(in_short(&bench), 1);
    // At the start nothing is noted twice.
    let mut bench = bench.power_cycle();
    assert_eq!(in_short(&bench), 1);
    bench.press(Key::Zero);
    bench.hold(Key::Mark);
    bench.wait(7.0);
    assert!(bench.app.book().ledger().is_open());
    let reopened = Record::OfPair {
        pair: 1,
        event: PairEvent::Reopened,
    };
    let is_it = |entry: &yarn_scale_core::journal::Entry| entry.record == reopened;
    assert!(bench.journal.iter().any(is_it));
    mark(&mut bench, 15.2);
    bench.wait(7.0);
    assert!(!bench.app.book().ledger().is_open());
    assert_eq!(in_short(&bench), 2);
    let bench = bench.power_cycle();
    assert_eq!(in_short(&bench), 2);
}

#[test]
fn a_finished_pair_can_be_opened_again_until_another_is_begun() {
    let mut bench = Bench::weighed_in();
    another(&mut bench);
    list(&mut bench);
    bench.press(Key::Zero);
    // The pair in hand, in its list: its summary.
    list(&mut bench);
    while !matches!(bench.body(), Body::Pairs(ref list) if list.selected == 0) {
        bench.press(Key::Next);
    }
    bench.press(Key::Mark);
    bench.press(Key::Mark);
    assert!(matches!(bench.body(), Body::PairSummary(ref summary) if summary.finished));
    // One MARK too many does nothing to it.
    bench.press(Key::Mark);
    assert!(matches!(bench.body(), Body::Pan(_)), "{:?}", bench.body());
    assert!(!bench.app.book().ledger().is_open());
    list(&mut bench);
    while !matches!(bench.body(), Body::Pairs(ref list) if list.selected == 0) {
        bench.press(Key::Next);
    }
    bench.press(Key::Mark);
    bench.choose(Word::OpenPair);
    assert!(matches!(bench.body(), Body::PairSummary(ref summary) if !summary.finished));
    assert_eq!(bench.app.view().keys[1], KeyWord::Finish);
    bench.press(Key::Mark);
    bench.press(Key::Zero);
    // Home leads to the other pairs.
    assert_eq!(bench.app.view().keys[1], KeyWord::Pairs);
    another(&mut bench);
    let rows = list(&mut bench).rows;
    let numbers: Vec<(u16, bool)> = rows.iter().map(|row| (row.number, row.finished)).collect();
    assert_eq!(numbers, [(3, false), (1, false)]);
}

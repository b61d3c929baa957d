//! Stitches and gauge, set once for the pair: the estimate and the rest of the pair go by them alike.

use yarn_scale_core::forecast::Source;
use yarn_scale_core::journal::{Gauge, PairEvent, Record};
use yarn_scale_core::screen::{Body, ItemLabel, Value, Word};
use yarn_scale_core::sock::{SectionKind, YarnLetter};
use yarn_scale_core::units::Milligrams;
use yarn_scale_tests::bench::{Bench, Key};

fn estimated(bench: &Bench, kind: SectionKind) -> (YarnLetter, Milligrams) {
    let Body::List(list) = bench.body() else {
        panic!("{:?}", bench.body())
    };
    let found = list.items.iter().find_map(|item| match (item.label, item.value) {
        (ItemLabel::KindIn(of, yarn), Value::Measured(mass)) if of == kind => Some((yarn, mass.value)),
        _ => None,
    });
    found.unwrap_or_else(|| panic!("no {kind:?}"))
}

fn set(bench: &mut Bench, row: usize, key: Key, times: u32) {
    bench.hold_for(Key::Zero, 3.0);
    for _ in 0..row {
        bench.press(Key::Next);
    }
    bench.press(Key::Mark);
    for _ in 0..times {
        bench.press(key);
    }
    bench.press(Key::Mark);
}

/// The toe needed of the rest of the pair, by the estimate.
fn toe_needed(bench: &mut Bench) -> Milligrams {
    bench.open(Word::Plan);
    bench.press(Key::Zero);
    bench.wait(1.0);
    bench.press(Key::Next);
    bench.press(Key::Next);
    let Body::Answer(page) = bench.body() else {
        panic!("{:?}", bench.body())
    };
    bench.press(Key::Next);
    let answer = page.answer.expect("an estimate");
    assert_eq!(answer.basis.source, Source::Estimate);
    answer.expected
}

#[test]
fn stitches_are_kept_for_the_pair_and_both_go_by_them() {
    let mut bench = Bench::weighed_in();
    bench.wait(8.0);
    let before = toe_needed(&mut bench);
    bench.open(Word::Estimate);
    let (_, usual) = estimated(&bench, SectionKind::Toe);
    set(&mut bench, 0, Key::Next, 8);
    let (_, wider) = estimated(&bench, SectionKind::Toe);
    assert!(wider > usual, "{usual:?} {wider:?}");
    let noted = bench.journal.iter().any(|entry| {
        matches!(
            entry.record,
            Record::OfPair {
                event: PairEvent::Gauge(Gauge { stitches: 72, .. }),
                ..
            }
        )
    });
    assert!(noted);
    bench.press(Key::Zero);
    let after = toe_needed(&mut bench);
    assert!(after > before, "{before:?} {after:?}");
    // It survives the power.
    let mut bench = bench.power_cycle();
    bench.open(Word::Estimate);
    assert_eq!(estimated(&bench, SectionKind::Toe).1, wider);
}

/// By hand: the usual cuff has rounds for 30 stitches and 42 rounds in 10 cm. At 33 and 46.2 the loops are shorter by 1.1 and the sock of
/// 64 stitches is as narrow as one of 58.2 in the table; at the table's own gauge nothing changes.
#[test]
fn a_firmer_gauge_makes_a_smaller_sock() {
    let mut bench = Bench::weighed_in();
    bench.wait(8.0);
    bench.open(Word::Estimate);
    let (_, usual) = estimated(&bench, SectionKind::Foot);
    set(&mut bench, 1, Key::Next, 0);
    set(&mut bench, 2, Key::Next, 0);
    let (_, same) = estimated(&bench, SectionKind::Foot);
    assert!((same.0 - usual.0).abs() <= usual.0 / 100, "{usual:?} {same:?}");
    set(&mut bench, 1, Key::Next, 6);
    let (_, firmer) = estimated(&bench, SectionKind::Foot);
    assert!(firmer < usual, "{usual:?} {firmer:?}");
}

#[test]
fn each_section_has_the_length_of_its_own_yarn() {
    let mut bench = Bench::weighed_in();
    bench.wait(8.0);
    bench.open(Word::Estimate);
    let before = [SectionKind::Cuff, SectionKind::Leg].map(|kind| estimated(&bench, kind));
    assert_eq!(before.map(|(yarn, _)| yarn), [YarnLetter::B, YarnLetter::A]);
    // B is twice as long for its weight.
    bench.press(Key::Zero);
    bench.open(Word::Yarns);
    bench.press(Key::Next);
    bench.press(Key::Mark);
    bench.choose(Word::LengthOf100Grams);
    bench.hold_for(Key::Next, 3.0);
    bench.press(Key::Mark);
    bench.press(Key::Zero);
    bench.press(Key::Zero);
    bench.open(Word::Estimate);
    let after = [SectionKind::Cuff, SectionKind::Leg].map(|kind| estimated(&bench, kind));
    assert!(after[0].1 < before[0].1, "the cuff is in B");
    assert_eq!(after[1].1, before[1].1, "the leg is in A");
}

#[test]
fn without_a_pair_it_is_only_tried() {
    let mut bench = Bench::new();
    bench.open(Word::Estimate);
    let (_, usual) = estimated(&bench, SectionKind::Leg);
    set(&mut bench, 0, Key::Next, 8);
    assert!(estimated(&bench, SectionKind::Leg).1 > usual);
    assert!(bench.deeds().is_empty());
}

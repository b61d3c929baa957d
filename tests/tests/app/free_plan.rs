//! What is no sock: a plan of parts, of one piece or two; everything else as for socks.

use yarn_scale_core::forecast::{Source, Word as Verdict};
use yarn_scale_core::journal::Record;
use yarn_scale_core::screen::{Body, ItemLabel, Notice, Value, Word};
use yarn_scale_core::sock::{Construction, SectionKind, Sock, YarnLetter};
use yarn_scale_tests::bench::{Bench, Key};

/// So many parts, from the list of plans on; the order is the line that is chosen.
fn begin(parts: i32, order: Word) -> Bench {
    let mut bench = Bench::new();
    bench.open(Word::NewPair);
    begin_from_the_list(&mut bench, parts, order);
    bench
}

fn begin_from_the_list(bench: &mut Bench, parts: i32, order: Word) {
    let is_it = |bench: &Bench| {
        let Body::List(list) = bench.body() else {
            panic!("{:?}", bench.body())
        };
        let highlighted = list.items[usize::from(list.selected)];
        (highlighted.label, highlighted.value) == (ItemLabel::Word(Word::FreePlan), Value::Number(parts))
    };
    while !is_it(bench) {
        bench.press(Key::Next);
    }
    bench.press(Key::Mark);
    bench.choose(order);
}

#[test]
fn from_one_part_to_eight_of_one_piece_or_two() {
    for parts in [1_i32, 3, 4, 8] {
        for (order, pieces) in [(Word::OnePiece, 1), (Word::OneAfterTheOther, 2), (Word::TwoAtATime, 2)] {
            let bench = begin(parts, order);
            let Some(Record::PairBegun { lines, .. }) = bench.deeds().pop() else {
                panic!("{:?}", bench.deeds())
            };
            assert_eq!(
                lines.len(),
                usize::try_from(parts * pieces).unwrap(),
                "{parts} {order:?}"
            );
            let kinds = |sock| lines.iter().filter(move |line| line.sock == sock).map(|line| line.kind);
            let expected = &SectionKind::PARTS[..usize::try_from(parts).unwrap()];
            assert!(kinds(Sock::First).eq(expected.iter().copied()));
            let of = Construction::PartOf(u8::try_from(parts).unwrap());
            assert!(
                lines
                    .iter()
                    .all(|line| line.construction == of && line.yarn == YarnLetter::A)
            );
        }
    }
}

/// Two pieces of two parts from one cake: 10 g and 6 g, then the same again.
#[test]
fn a_pair_of_parts_from_first_weight_to_last() {
    let mut bench = begin(2, Word::OneAfterTheOther);
    bench.put(50.0);
    bench.press(Key::Mark);
    assert!(matches!(bench.notice(), Notice::WeighedIn { .. }), "{:?}", bench.body());
    bench.take();
    let mut left = 50.0;
    for (part, took) in [
        (SectionKind::Part1, 10.0),
        (SectionKind::Part2, 6.0),
        (SectionKind::Part1, 10.0),
    ] {
        left -= took;
        bench.put(left);
        bench.press(Key::Mark);
        let Notice::Noted { line, used, .. } = bench.notice() else {
            panic!("{:?}", bench.body())
        };
        assert_eq!(line.kind, part);
        assert!((f64::from(used.value.0) / 1e3 - took).abs() < 0.1);
        bench.press(Key::Mark);
        bench.take();
    }
    // What is left does for the last part, by the first piece.
    bench.wait(8.0);
    bench.press(Key::Next);
    let Body::Used(used) = bench.body() else {
        panic!("{:?}", bench.body())
    };
    assert_eq!(used.rows[0].kind, SectionKind::Part1);
    assert!(used.rows[0].second.is_some(), "both pieces in one row");
    bench.press(Key::Next);
    let Body::Answer(page) = bench.body() else {
        panic!("{:?}", bench.body())
    };
    let answer = page.answer.expect("the first piece is known");
    assert_eq!((answer.word, answer.basis.source), (Verdict::Enough, Source::FirstSock));
    assert!(page.parts);
}

/// Before anything is known of a part, nothing is said; a pair with as many parts knows it then, one with another number does not.
#[test]
fn history_goes_by_part_and_by_how_many_there_are() {
    let mut bench = begin(2, Word::OnePiece);
    let rest = |bench: &mut Bench| {
        bench.wait(8.0);
        bench.press(Key::Next);
        bench.press(Key::Next);
        let Body::Answer(page) = bench.body() else {
            panic!("{:?}", bench.body())
        };
        bench.press(Key::Next);
        page.answer.map(|answer| answer.basis.source)
    };
    bench.put(50.0);
    bench.press(Key::Mark);
    bench.take();
    assert_eq!(rest(&mut bench), None, "nothing is known of Part 1");
    for left in [40.0, 34.0] {
        bench.put(left);
        bench.press(Key::Mark);
        bench.press(Key::Mark);
        bench.take();
    }
    for (parts, known) in [(2, Some(Source::Records)), (3, None)] {
        bench.wait(8.0);
        if let Body::PairSummary(_) = bench.body() {
            bench.press(Key::Zero);
        }
        bench.open(Word::NewPair);
        begin_from_the_list(&mut bench, parts, Word::OnePiece);
        bench.put(50.0);
        bench.press(Key::Mark);
        bench.take();
        assert_eq!(rest(&mut bench), known, "{parts} parts");
    }
}

//! What is no sock: a plan of parts, of one piece or two; everything else as for socks.

use yarn_scale_core::forecast::{Choice, Socks, Source, Word as Verdict};
use yarn_scale_core::journal::Record;
use yarn_scale_core::screen::{Body, ItemLabel, Notice, Value, Word};
use yarn_scale_core::sock::{Construction, SectionKind, Sock, YarnLetter};
use yarn_scale_tests::bench::{Bench, Key};

use crate::answers::labels;

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
            // At a time both pieces stand together, else one behind the other.
            let at_a_time = lines.windows(2).all(|two| two[0].kind <= two[1].kind);
            assert_eq!(
                at_a_time,
                order == Word::TwoAtATime || lines.len() == expected.len() || parts == 1
            );
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
    // Part 1 is known of two parts only.
    for (parts, known) in [(2, Some(Source::Records)), (3, None), (1, None)] {
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

/// A cake of 50 g, marked at these weights.
fn marked(bench: &mut Bench, weights: &[f64]) {
    for &left in weights {
        bench.put(left);
        bench.press(Key::Mark);
        assert!(
            matches!(bench.notice(), Notice::WeighedIn { .. } | Notice::Noted { .. }),
            "{:?}",
            bench.body()
        );
        bench.press(Key::Mark);
        bench.take();
        bench.wait(8.0);
    }
}

/// One piece of two parts is knitted, 10 and 6 g, and closed: what such a piece takes is known.
fn one_is_known() -> Bench {
    let mut bench = begin(2, Word::OnePiece);
    marked(&mut bench, &[50.0, 40.0, 34.0]);
    assert!(matches!(bench.body(), Body::PairSummary(_)), "{:?}", bench.body());
    bench.press(Key::Zero);
    bench
}

/// What is expected of the rest: 16 g for one piece, 32 for two.
#[test]
fn one_piece_needs_what_one_took_and_two_need_twice_that() {
    for (order, grams) in [
        (Word::OnePiece, 16),
        (Word::OneAfterTheOther, 32),
        (Word::TwoAtATime, 32),
    ] {
        let mut bench = one_is_known();
        bench.open(Word::NewPair);
        begin_from_the_list(&mut bench, 2, order);
        marked(&mut bench, &[50.0]);
        bench.press(Key::Next);
        bench.press(Key::Next);
        let Body::Answer(page) = bench.body() else {
            panic!("{:?}", bench.body())
        };
        let answer = page.answer.expect("it is known");
        let apart = answer.expected.0 - 1_000 * grams;
        assert!(apart.abs() < 200, "{order:?}: {answer:?}");
    }
}

/// What the leftover of 11 g would be good for in a plan of two parts that are knitted so.
fn uses(order: Word) -> Vec<(Vec<SectionKind>, Socks)> {
    let mut bench = one_is_known();
    bench.open(Word::NewPair);
    begin_from_the_list(&mut bench, 2, order);
    bench.put(11.0);
    bench.open(Word::WillItDo);
    let Body::Answer(page) = bench.body() else {
        panic!("{:?}", bench.body())
    };
    assert!(page.parts);
    bench.press(Key::Mark);
    let Body::Uses(uses) = bench.body() else {
        panic!("{:?}", bench.body())
    };
    let told = |choice: &Choice| (choice.kinds.kinds().collect(), choice.socks);
    uses.choices.iter().map(told).collect()
}

#[test]
fn a_leftover_is_asked_for_each_part_of_one_piece_and_of_both() {
    let (one, two) = (SectionKind::Part1, SectionKind::Part2);
    let mut all = uses(Word::OneAfterTheOther);
    // 10 g with a quarter over are more than 11, 6 g are not.
    assert_eq!(all[0], (vec![two], Socks::One));
    all.sort();
    let expected = [vec![one], vec![one, two], vec![two]];
    let expected = expected
        .into_iter()
        .flat_map(|kinds| [(kinds.clone(), Socks::One), (kinds, Socks::Both)]);
    assert_eq!(all, expected.collect::<Vec<_>>());
    // Of a hat there is one.
    let mut of_one_piece = uses(Word::OnePiece);
    of_one_piece.sort();
    all.retain(|(_, socks)| *socks == Socks::One);
    assert_eq!(of_one_piece, all);
}

/// Which part a line is can be changed, and how many there are stays; how it is worked is not asked.
#[test]
fn a_line_becomes_another_part_and_no_section_of_a_sock() {
    let mut bench = begin(3, Word::OnePiece);
    bench.open(Word::Plan);
    bench.press(Key::Mark);
    let words = labels(&bench);
    assert!(words.contains(&ItemLabel::Word(Word::Section)), "{words:?}");
    assert!(!words.contains(&ItemLabel::Word(Word::HowWorked)), "{words:?}");
    bench.choose(Word::Section);
    let line = bench.app.book().ledger().plan().line(0).expect("a line");
    assert_eq!(
        (line.kind, line.construction),
        (SectionKind::Part2, Construction::PartOf(3))
    );
}

/// Rounds of a part are of one size as far as the scale knows.
#[test]
fn how_far_counts_rounds_of_a_part() {
    let mut bench = begin(1, Word::OnePiece);
    marked(&mut bench, &[50.0]);
    bench.open(Word::HowFar);
    assert!(
        matches!(bench.body(), Body::Guide(guide) if guide.say == Word::HowFarBegin),
        "{:?}",
        bench.body()
    );
}

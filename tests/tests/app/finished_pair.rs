//! A pair weighed when it is finished, and while it dries: nothing else on the pan is taken for it.

use yarn_scale_core::forecast::DryWord;
use yarn_scale_core::screen::{Body, Word};
use yarn_scale_tests::bench::{Bench, Key};

fn says(bench: &Bench) -> Word {
    match bench.body() {
        Body::Guide(guide) => guide.say,
        other => panic!("no guide, but {other:?}"),
    }
}

/// One sock in one yarn, all five sections marked, the cake 50 g at first and 14 g in the end; the sock weighs 36 g.
fn finished() -> Bench {
    finished_from(50.0)
}

/// The same from a cake of another weight.
fn finished_from(whole: f64) -> Bench {
    let mut bench = Bench::new();
    bench.open(Word::NewPair);
    bench.choose(Word::OneYarn);
    bench.choose(Word::OneSock);
    bench.put(whole);
    bench.press(Key::Mark);
    for used in [4.0, 17.0, 24.0, 31.0, 36.0] {
        bench.take();
        bench.put(whole - used);
        bench.press(Key::Mark);
        if let Body::Question(_) = bench.body() {
            bench.press(Key::Next);
            bench.press(Key::Mark);
        }
    }
    bench.take();
    bench.wait(8.0);
    assert_eq!(bench.app.book().ledger().cursor(), None, "all is marked");
    assert!(matches!(bench.body(), Body::PairSummary(_)), "{:?}", bench.body());
    bench.press(Key::Mark);
    bench
}

#[test]
fn without_a_mark_there_is_nothing_to_compare_a_pair_with() {
    for page in [Word::PairCheck, Word::DryYet] {
        let mut bench = Bench::weighed_in();
        bench.wait(8.0);
        bench.put(36.0);
        bench.open(page);
        assert_eq!(says(&bench), Word::NothingToCompare, "{page:?}");
    }
}

#[test]
fn a_cake_that_lies_on_the_pan_is_no_pair_that_dries() {
    let mut bench = finished();
    // The cake as it was marked last.
    bench.put(14.0);
    bench.open(Word::DryYet);
    assert_eq!(says(&bench), Word::PutPairOn);
    bench.press(Key::Zero);
    bench.take();
    // The sock, wet.
    bench.put(50.2);
    bench.open(Word::DryYet);
    // The cake has weighed 50, 46 and 33 g, and so has no pair: of this one it is the first weight.
    assert_eq!(dry_word(&bench), DryWord::WeighAgain);
}

fn dry_word(bench: &Bench) -> DryWord {
    match bench.body() {
        Body::Dry(dryness) => dryness.word,
        other => panic!("{other:?}"),
    }
}

/// What is left of the cake weighs nearly what the sock does, and lies still: it is not the sock.
#[test]
fn a_cake_as_heavy_as_the_pair_is_no_pair() {
    for page in [Word::PairCheck, Word::DryYet] {
        let mut bench = finished_from(80.0);
        bench.put(44.0);
        bench.open(page);
        assert_eq!(says(&bench), Word::PutPairOn, "{page:?}");
    }
}

/// Earlier weights of the cake are none of the pair's, though a pair could weigh as much: 33 g before, 45 g now is no pair that dries.
#[test]
fn only_the_pairs_own_weights_tell_whether_it_dries() {
    let mut bench = finished();
    bench.put(48.0);
    bench.open(Word::DryYet);
    assert_eq!(dry_word(&bench), DryWord::WeighAgain);
    bench.press(Key::Zero);
    bench.take();
    bench.put(45.0);
    bench.open(Word::DryYet);
    assert_eq!(dry_word(&bench), DryWord::Drying, "its own second weight");
}

//! Cakes of the other pairs on the needles: asked about, proposing their pair, and going on in another.

use yarn_scale_core::journal::{PairEvent, Record};
use yarn_scale_core::recognise::{Choice, WhyAsked};
use yarn_scale_core::screen::{Body, KeyWord, Notice, Word};
use yarn_scale_core::sock::YarnLetter;
use yarn_scale_tests::bench::{Bench, Key};

use crate::several_pairs::{another, in_hand, list, mark};

/// Two pairs, both socks of each at a time: of pair 1, which is in hand, the first cuff took B from 20 to 16 g, of pair 2 from 60 to 55 g.
/// The second cuffs are next.
fn two_pairs() -> Bench {
    let mut bench = Bench::new();
    for weights in [[20.0, 16.0], [60.0, 55.0]] {
        bench.open(Word::NewPair);
        bench.press(Key::Mark);
        bench.press(Key::Next);
        bench.press(Key::Mark);
        for grams in weights {
            mark(&mut bench, grams);
        }
    }
    list(&mut bench);
    bench.press(Key::Mark);
    assert_eq!(in_hand(&bench), 1);
    bench
}

/// Finishes the pair that stands first on the list, which is in hand.
fn finish_the_first(bench: &mut Bench) {
    list(bench);
    while !matches!(bench.body(), Body::Pairs(ref list) if list.selected == 0) {
        bench.press(Key::Next);
    }
    bench.press(Key::Mark);
    bench.press(Key::Mark);
    bench.press(Key::Zero);
}

fn proposed(bench: &Bench) -> Option<(u16, YarnLetter)> {
    match bench.body() {
        Body::Pan(pan) => pan.proposal,
        other => panic!("{other:?}"),
    }
}

#[test]
fn a_cake_of_another_pair_is_asked_about_and_leads_to_its_pair() {
    let mut bench = two_pairs();
    let before = bench.deeds();
    bench.put(55.0);
    bench.press(Key::Mark);
    let Body::Question(asked) = bench.body() else {
        panic!("{:?}", bench.body())
    };
    assert_eq!(
        asked.why,
        WhyAsked::OtherPair {
            pair: 2,
            yarn: YarnLetter::B
        }
    );
    assert_eq!(
        asked.choices.first_chunk(),
        Some(&[Choice::NotNow, Choice::OtherPair(2)])
    );
    // MARK once more does nothing; the question goes with its load.
    bench.press(Key::Mark);
    assert!(matches!(bench.body(), Body::Pan(_)));
    bench.press(Key::Mark);
    assert!(matches!(bench.body(), Body::Question(_)));
    bench.take();
    assert!(matches!(bench.body(), Body::Pan(_)));
    assert_eq!(bench.deeds(), before);
    bench.put(55.0);
    bench.press(Key::Mark);
    bench.press(Key::Next);
    bench.press(Key::Mark);
    assert_eq!(in_hand(&bench), 2);
    assert_eq!(bench.deeds().len(), before.len() + 1, "nothing but the change of pair");
    // Its next section is noted there without a word.
    bench.take();
    mark(&mut bench, 50.1);
    assert_eq!(bench.app.book().ledger().steps().len(), 3);
    assert_eq!(in_hand(&bench.power_cycle()), 2);
}

#[test]
fn a_cake_proposes_its_pair_and_only_zero_goes_there() {
    let mut bench = two_pairs();
    let before = bench.deeds();
    bench.put(55.0);
    assert_eq!(proposed(&bench), Some((2, YarnLetter::B)));
    assert_eq!(bench.app.view().keys, [KeyWord::ToPair, KeyWord::Mark, KeyWord::Next]);
    // It goes with the load, and comes back with it: nobody has refused it.
    bench.take();
    assert_eq!(proposed(&bench), None);
    assert_eq!(bench.app.view().keys[0], KeyWord::Zero);
    bench.put(55.0);
    assert_eq!(proposed(&bench), Some((2, YarnLetter::B)));
    // Another key does what it always does, and leaves the proposal alone: it is not made again for this load.
    bench.press(Key::Next);
    assert!(matches!(bench.body(), Body::Used(_)));
    while !matches!(bench.body(), Body::Pan(_)) {
        bench.press(Key::Next);
    }
    bench.take();
    bench.put(55.0);
    assert_eq!(proposed(&bench), None);
    assert_eq!(bench.app.view().keys[0], KeyWord::Bowl);
    assert_eq!((in_hand(&bench), bench.deeds()), (1, before.clone()));
    // For another load it is: the next section of that pair is knitted.
    bench.put(16.0);
    assert_eq!(proposed(&bench), None, "it is the pair's own cake");
    bench.put(55.0);
    assert_eq!(proposed(&bench), Some((2, YarnLetter::B)));
    bench.press(Key::Zero);
    assert_eq!((in_hand(&bench), proposed(&bench)), (2, None));
    assert_eq!(bench.deeds().len(), before.len() + 1);
    assert!(matches!(bench.body(), Body::Pan(pan) if pan.pair == Some(2)));
}

#[test]
fn mark_on_a_proposal_asks_as_ever_and_no_other_page_shows_it() {
    let mut bench = two_pairs();
    bench.put(55.0);
    bench.press(Key::Mark);
    assert!(matches!(bench.body(), Body::Question(_)));
    bench.press(Key::Mark);
    assert_eq!(proposed(&bench), None);
    bench.take();
    // What settles while another page is open proposes nothing.
    bench.put(16.0);
    bench.hold(Key::Next);
    bench.put(55.0);
    bench.press(Key::Zero);
    assert_eq!(proposed(&bench), None);
}

#[test]
fn a_hold_leaves_the_proposal_too_and_a_touch_does_not() {
    let mut bench = two_pairs();
    bench.put(55.0);
    bench.shake(55.0, 0.5);
    assert_eq!(proposed(&bench), Some((2, YarnLetter::B)), "it still lies there");
    bench.wait(4.0);
    assert_eq!(proposed(&bench), Some((2, YarnLetter::B)));
    bench.hold(Key::Next);
    bench.press(Key::Zero);
    assert_eq!(proposed(&bench), None);
}

/// What is used up in another pair weighs nothing, as the empty pan does.
#[test]
fn an_empty_pan_proposes_nothing() {
    let mut bench = two_pairs();
    bench.put(55.0);
    bench.press(Key::Zero);
    bench.take();
    bench.press(Key::Mark);
    bench.press(Key::Next);
    bench.press(Key::Mark);
    bench.wait(7.0);
    assert_eq!(account(&bench, 2, YarnLetter::B)[2], 0, "{:?}", bench.body());
    bench.press(Key::Zero);
    list(&mut bench);
    while !matches!(bench.body(), Body::Pairs(ref list) if list.rows[usize::from(list.selected)].number == 1) {
        bench.press(Key::Next);
    }
    bench.press(Key::Mark);
    assert_eq!(in_hand(&bench), 1);
    bench.put(16.0);
    bench.take();
    assert_eq!(proposed(&bench), None);
}

#[test]
fn the_pairs_own_cakes_propose_no_other() {
    let mut bench = two_pairs();
    for grams in [16.0, 14.1, 12.0, 6.0] {
        bench.put(grams);
        assert_eq!(proposed(&bench), None, "{grams}");
    }
    mark(&mut bench, 12.0);
    assert_eq!(bench.app.book().ledger().steps().len(), 3);
    // With one pair there is nothing to propose.
    let mut bench = Bench::weighed_in();
    bench.put(55.0);
    assert_eq!(proposed(&bench), None);
}

#[test]
fn after_the_last_mark_the_cake_of_an_open_pair_proposes_it() {
    let mut bench = two_pairs();
    finish_the_first(&mut bench);
    assert!(!bench.app.book().ledger().is_open());
    // What is left of the finished pair, and a stranger, propose nothing.
    for grams in [16.0, 31.0] {
        bench.put(grams);
        assert_eq!(proposed(&bench), None, "{grams}");
    }
    bench.put(55.0);
    assert_eq!(proposed(&bench), Some((2, YarnLetter::B)));
    bench.press(Key::Zero);
    assert_eq!(in_hand(&bench), 2);
    assert!(bench.app.book().ledger().is_open());
}

/// A new pair in hand that expects its first weight of B; before it pair 1, whose B is 16 g, open or finished.
fn a_third_pair(finished: bool) -> Bench {
    let mut bench = two_pairs();
    if finished {
        finish_the_first(&mut bench);
        // The list of pairs, the other one, and back: the finished one stays known.
        list(&mut bench);
        bench.press(Key::Mark);
        assert_eq!(in_hand(&bench), 2);
        // Its leg is next, in A.
        mark(&mut bench, 50.0);
    } else {
        another(&mut bench);
    }
    bench
}

fn account(bench: &Bench, pair: u16, yarn: YarnLetter) -> [i32; 3] {
    let mut needles = bench.app.book().needles().clone();
    assert!(needles.take_in_hand(pair), "a pair that is known");
    let account = needles.in_hand().account(yarn);
    [account.weighed_in, account.unplanned, account.left].map(|mass| mass.0)
}

#[test]
fn a_yarn_of_another_pair_goes_on_here_and_is_counted_once() {
    for finished in [false, true] {
        let mut bench = a_third_pair(finished);
        let (pair, yarn) = match in_hand(&bench) {
            3 => (3, YarnLetter::B),
            other => (other, YarnLetter::A),
        };
        let before = bench.deeds();
        bench.put(16.0);
        bench.press(Key::Mark);
        let Body::Question(asked) = bench.body() else {
            panic!("{:?}", bench.body())
        };
        let goes_on = Choice::GoesOn {
            from: 1,
            was: YarnLetter::B,
            yarn,
        };
        assert_eq!(
            asked.choices.first_chunk(),
            Some(&[Choice::NotNow, goes_on]),
            "{asked:?}"
        );
        assert!(asked.choices.contains(&Choice::WeighIn(yarn)), "{asked:?}");
        // Only where pair 1 is still open does it make sense to go on with it.
        assert_eq!(asked.choices.contains(&Choice::OtherPair(1)), !finished, "{asked:?}");
        bench.press(Key::Next);
        bench.press(Key::Mark);
        assert!(matches!(bench.notice(), Notice::WeighedIn { .. }), "{:?}", bench.body());
        let noted = bench.deeds();
        let [Record::OfPair { pair: of, event }] = &noted[before.len()..] else {
            panic!("{:?}", &noted[before.len()..])
        };
        assert_eq!(*of, pair);
        assert!(
            matches!(
                event,
                PairEvent::Carried {
                    from: 1,
                    was: YarnLetter::B,
                    ..
                }
            ),
            "{event:?}"
        );
        let near = |mass: i32, grams: i32| (mass - 1_000 * grams).abs() < 150;
        let check = |bench: &Bench| {
            let [came, elsewhere, left] = account(bench, 1, YarnLetter::B);
            assert!(
                near(came, 20) && near(elsewhere, 16) && left == 0,
                "{came} {elsewhere} {left}"
            );
            let [came, elsewhere, left] = account(bench, pair, yarn);
            assert!(
                near(came, 16) && elsewhere == 0 && left == came,
                "{came} {elsewhere} {left}"
            );
        };
        check(&bench);
        // The empty pan may correct it: in both.
        bench.take();
        bench.wait(7.0);
        check(&bench);
        let bench = bench.power_cycle();
        check(&bench);
        let mut needles = bench.app.book().needles().clone();
        let mut weight = |pair| {
            needles.take_in_hand(pair);
            needles.in_hand().steps().last().map(|step| step.weight)
        };
        assert_eq!(weight(1), weight(pair), "to the milligram");
        // One hold takes it back in both.
        let mut bench = bench;
        bench.hold(Key::Mark);
        assert_eq!(account(&bench, pair, yarn), [0; 3]);
        let [came, elsewhere, left] = account(&bench, 1, YarnLetter::B);
        assert!(near(came, 20) && elsewhere == 0 && near(left, 16));
    }
}

/// The pan comes back empty a little higher: the weight is corrected where it went and where it came from.
#[test]
fn the_empty_pan_corrects_a_carried_weight_in_both_pairs() {
    let mut bench = a_third_pair(false);
    bench.put(16.0);
    bench.press(Key::Mark);
    bench.press(Key::Next);
    bench.press(Key::Mark);
    bench.wait(20.0);
    bench.put(0.03);
    let mut needles = bench.app.book().needles().clone();
    let [there, here] = [1, 3].map(|pair| {
        assert!(needles.take_in_hand(pair), "a pair that is known");
        needles.in_hand().steps().last().copied().expect("a weight")
    });
    assert!(there.amended && here.amended, "{there:?} {here:?}");
    assert_eq!(there.weight, here.weight);
}

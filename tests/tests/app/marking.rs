//! The main job on the application: weigh in, knit, press, read.

use yarn_scale_core::app::Effect;
use yarn_scale_core::board::Tone;
use yarn_scale_core::forecast::{KindSet, Word as Verdict};
use yarn_scale_core::journal::{Entry, JournalFault, Record, Sequence};
use yarn_scale_core::recognise::{Choice, WhyAsked};
use yarn_scale_core::screen::{Body, Notice, RefusedWord, View, Word};
use yarn_scale_core::sock::{Line, SectionKind, Sock, YarnLetter, usual_construction};
use yarn_scale_core::units::Stamp;
use yarn_scale_tests::bench::{Bench, Key};

use crate::asking::answer;
use crate::slips::one_cuff;

fn near(mg: i32, expected: i32) -> bool {
    (mg - expected).abs() <= 20
}

/// A cake that weighs 20 g before the cuff and 16 g after gives a 4 g cuff (common practice, no source).
#[test]
fn twenty_before_and_sixteen_after_is_a_cuff_of_four() {
    let mut bench = Bench::with_pair();
    bench.put(20.0);
    bench.press(Key::Mark);
    match bench.notice() {
        Notice::WeighedIn {
            yarn: YarnLetter::B,
            weight,
            ..
        } => assert!(near(weight.value.0, 20_000)),
        other => panic!("{other:?}"),
    }
    bench.take();
    bench.put(16.0);
    bench.press(Key::Mark);
    match bench.notice() {
        Notice::Noted { line, used, left } => {
            assert_eq!(line.kind, SectionKind::Cuff);
            assert!(near(used.value.0, 4_000), "{used:?}");
            assert!(near(left.0, 16_000));
        }
        other => panic!("{other:?}"),
    }
}

#[test]
fn what_the_screen_confirmed_survives_a_power_cut() {
    let mut bench = Bench::with_pair();
    bench.put(20.0);
    bench.press(Key::Mark);
    bench.put(16.0);
    bench.press(Key::Mark);
    let before = bench.app.book().ledger().clone();
    let bench = bench.power_cycle();
    assert_eq!(&before, bench.app.book().ledger());
}

/// The pan comes back empty a little higher: the mark is amended, and only a tenth that turns over is worth a word.
#[test]
fn an_amendment_is_said_only_when_it_changes_a_tenth() {
    for (cake, said) in [(16.0, false), (15.96, true)] {
        let mut bench = Bench::weighed_in();
        bench.put(cake);
        bench.press(Key::Mark);
        bench.wait(20.0);
        bench.views.clear();
        bench.put(0.03);
        let amended = bench.deeds().iter().any(|deed| matches!(deed, Record::Amended { .. }));
        let told = |view: &View| matches!(view.body, Body::Notice(Notice::Amended { .. }));
        assert_eq!(
            (amended, bench.views.iter().any(told)),
            (true, said),
            "cake of {cake} g: {:?}",
            bench.deeds().last()
        );
    }
}

#[test]
fn holding_mark_takes_the_last_mark_back() {
    let mut bench = Bench::with_pair();
    bench.put(20.0);
    bench.press(Key::Mark);
    bench.put(16.0);
    bench.press(Key::Mark);
    bench.hold(Key::Mark);
    assert!(matches!(bench.notice(), Notice::Undone { line: Some(line) } if line.kind == SectionKind::Cuff));
    assert_eq!(bench.app.book().ledger().cursor(), Some(0));
    assert_eq!(bench.app.book().ledger().steps().len(), 1);
}

#[test]
fn a_heavier_cake_is_asked_about_and_can_start_from_here() {
    let mut bench = Bench::with_pair();
    bench.put(20.0);
    bench.press(Key::Mark);
    bench.put(25.0);
    bench.press(Key::Mark);
    let Body::Question(question) = bench.body() else {
        panic!("{:?}", bench.body())
    };
    assert!(matches!(question.why, WhyAsked::Heavier { yarn: YarnLetter::B, by } if near(by.0, 5_000)));
    let from_here = |choice: &Choice| {
        matches!(
            choice,
            Choice::StartFromHere {
                yarn: YarnLetter::B,
                ..
            }
        )
    };
    assert_eq!(question.choices.first(), Some(&Choice::NotNow));
    for _ in 0..question.choices.iter().position(from_here).expect("it is offered") {
        bench.press(Key::Next);
    }
    bench.press(Key::Mark);
    assert!(matches!(bench.notice(), Notice::Started { unplanned, .. } if near(unplanned.0, -5_000)));
    let account = bench.app.book().ledger().account(YarnLetter::B);
    assert_eq!(account.weighed_in, account.used + account.unplanned + account.left);
    assert_eq!(account.used.0, 0);
}

#[test]
fn a_second_press_on_the_same_weight_is_asked_about() {
    let mut bench = Bench::with_pair();
    bench.put(20.0);
    bench.press(Key::Mark);
    bench.press(Key::Next);
    bench.press(Key::Mark);
    let Body::Question(question) = bench.body() else {
        panic!("{:?}", bench.body())
    };
    assert!(matches!(question.why, WhyAsked::Unchanged { .. }));
}

#[test]
fn a_refused_record_is_not_shown_as_noted() {
    let mut bench = Bench::with_pair();
    bench.put(20.0);
    bench.paper.refuse = Some(JournalFault::Full);
    bench.press(Key::Mark);
    assert!(matches!(
        bench.body(),
        Body::Notice(Notice::Refused(RefusedWord::JournalFull))
    ));
    assert!(bench.app.book().ledger().steps().is_empty());
}

#[test]
fn a_forgotten_press_is_made_good_on_an_earlier_visit() {
    let mut bench = Bench::with_pair();
    bench.put(20.0);
    bench.press(Key::Mark);
    bench.take();
    // The cuff is done and weighed, but MARK was not pressed.
    bench.put(16.0);
    bench.take();
    bench.open(Word::Plan);
    // The cursor is on the cuff.
    bench.press(Key::Mark);
    bench.choose(Word::ForgottenMark);
    bench.press(Key::Mark);
    let late = bench.deeds();
    assert!(
        matches!(late.last(), Some(Record::LateMark { line: 0, weight, .. }) if near(weight.net.value.0, 16_000)),
        "{late:?}"
    );
    let used = bench.app.book().ledger().used(0).expect("the cuff is marked");
    assert!(near(used.value.0, 4_000));
}

#[test]
fn a_bowl_is_tared_once_and_subtracted_from_then_on() {
    let mut bench = Bench::with_pair();
    bench.put(85.0);
    bench.press(Key::Zero);
    bench.press(Key::Mark);
    assert!(
        matches!(bench.deeds().as_slice(), [.., Record::Bowl { .. }, Record::Setting(_)]),
        "{:?}",
        bench.deeds()
    );
    bench.put(105.0);
    bench.press(Key::Mark);
    match bench.notice() {
        Notice::WeighedIn { weight, .. } => assert!(near(weight.value.0, 20_000), "{weight:?}"),
        other => panic!("{other:?}"),
    }
}

/// A key held while a notice stands closes the notice and turns no page under it.
#[test]
fn a_key_held_over_a_notice_turns_no_page() {
    for key in [Key::Next, Key::Zero] {
        let mut bench = Bench::with_pair();
        bench.put(20.0);
        bench.press(Key::Mark);
        assert!(matches!(bench.notice(), Notice::WeighedIn { .. }));
        bench.hold_for(key, 2.0);
        assert!(matches!(bench.body(), Body::Pan(_)), "{key:?}: {:?}", bench.body());
        bench.wait(10.0);
        assert!(matches!(bench.body(), Body::Pan(_)), "{key:?}: {:?}", bench.body());
    }
}

/// A cake of 90 g that comes back after hours may have taken up more water than the scale can resolve; within minutes it has not.
#[test]
fn damp_is_said_when_moisture_outweighs_the_scale() {
    let damp_after = |seconds| {
        let mut bench = Bench::with_pair();
        bench.put(90.0);
        bench.press(Key::Mark);
        bench.take();
        bench.wait(seconds);
        // A key wakes the scale, and it sees the empty pan before the cake: else its zero is in doubt, and by more than moisture.
        bench.press(Key::Zero);
        bench.wait(10.0);
        bench.put(86.0);
        bench.wait(4.0);
        match bench.body() {
            Body::Pan(pan) => {
                assert!(near(pan.used.expect("a cuff").value.0, 4_000), "{pan:?}");
                pan.damp
            }
            other => panic!("{other:?}"),
        }
    };
    assert!(!damp_after(120.0));
    assert!(damp_after(3.0 * 3_600.0));
}

/// What a yarn must still do for does not depend on whether a cuff stands in the plan as one line or as two stripes.
#[test]
fn a_section_in_two_lines_of_one_yarn_needs_as_much_as_in_one() {
    let needed = |stripes: usize| {
        let cuff = |sock| Line {
            kind: SectionKind::Cuff,
            sock,
            yarn: YarnLetter::B,
            construction: usual_construction(SectionKind::Cuff),
            stitches: 64,
        };
        let lines = [Sock::First, Sock::Second]
            .into_iter()
            .flat_map(|sock| std::iter::repeat_n(cuff(sock), stripes));
        let begun = Record::PairBegun {
            pair: 1,
            lines: lines.collect(),
        };
        let entry = Entry {
            sequence: Sequence(1),
            at: Stamp(1),
            record: begun,
        };
        let mut bench = Bench::with_journal(vec![entry], 0.0);
        bench.put(30.0);
        bench.press(Key::Mark);
        bench.wait(8.0);
        bench.press(Key::Next);
        bench.press(Key::Next);
        match bench.body() {
            Body::Answer(page) => page.answer.expect("an answer").expected.0,
            other => panic!("{other:?}"),
        }
    };
    let (one, two) = (needed(1), needed(2));
    // Only the ends of the yarn between the stripes may differ.
    assert!(one > 4_000 && (one - two).abs() <= one / 20, "{one} and {two}");
}

/// Cuffs and toes in one yarn. A toe twice as heavy as its estimate leaves too little: the mark that shows it says so, no mark
/// before it does, and the page names the sections to knit from another yarn.
#[test]
fn the_first_mark_that_shows_a_yarn_short_says_so_with_the_way_out() {
    let line = |kind, sock| Line {
        kind,
        sock,
        yarn: YarnLetter::B,
        construction: usual_construction(kind),
        stitches: 64,
    };
    let (cuff, toe) = (SectionKind::Cuff, SectionKind::Toe);
    let lines = [
        (cuff, Sock::First),
        (toe, Sock::First),
        (cuff, Sock::Second),
        (toe, Sock::Second),
    ];
    let begun = Record::PairBegun {
        pair: 1,
        lines: lines.into_iter().map(|(kind, sock)| line(kind, sock)).collect(),
    };
    let entry = Entry {
        sequence: Sequence(1),
        at: Stamp(1),
        record: begun,
    };
    let mut bench = Bench::with_journal(vec![entry], 0.0);
    let warned = |bench: &Bench| bench.effects.contains(&Effect::Beep(Tone::Refused));
    // The cuff leaves enough for the other three to be close.
    for grams in [14.9, 10.9] {
        bench.put(grams);
        bench.press(Key::Mark);
        bench.wait(8.0);
        assert!(matches!(bench.body(), Body::Pan(_)), "{grams} g: {:?}", bench.body());
        assert!(!warned(&bench), "{grams} g: close at most");
        bench.take();
    }
    bench.put(5.3);
    bench.press(Key::Mark);
    // More than twice what its stitches say: asked about first.
    bench.press(Key::Next);
    bench.effects.clear();
    bench.press(Key::Mark);
    assert!(warned(&bench), "heard at once");
    assert!(
        matches!(bench.notice(), Notice::Noted { .. }),
        "what was noted comes first"
    );
    bench.wait(8.0);
    let Body::Answer(page) = bench.body() else {
        panic!("{:?}", bench.body());
    };
    assert_eq!(page.answer.expect("an answer").word, Verdict::Short);
    assert_eq!(page.way_out, Some(KindSet::default().with(toe)));
}

#[test]
fn a_page_whose_digits_stay_is_not_drawn_anew() {
    let mut bench = Bench::with_pair();
    bench.put(90.0);
    bench.press(Key::Mark);
    bench.press(Key::Next);
    bench.put(86.03);
    bench.wait(10.0);
    assert!(matches!(bench.body(), Body::Pan(pan) if pan.used.is_some()));
    let before = bench.views.len();
    bench.wait(30.0);
    let drawn = bench.views.len() - before;
    // The ± falls by some steps while the cell is watched; 300 samples come.
    assert!(drawn <= 6, "{drawn}");
}

/// Two marks by one answer, and the pan comes back empty a little higher: what was weighed at the press is corrected by it, the forgotten
/// one's load is long gone.
#[test]
fn of_two_marks_by_one_answer_the_weighed_one_is_amended() {
    let mut bench = one_cuff();
    bench.put(30.0);
    bench.take();
    bench.put(23.0);
    bench.press(Key::Mark);
    answer(&mut bench, |choice| matches!(choice, Choice::Both(_)));
    let mark = bench.journal.last().expect("the mark").sequence;
    bench.wait(20.0);
    bench.put(0.03);
    let of = bench.deeds().iter().rev().find_map(|deed| match deed {
        Record::Amended { of, .. } => Some(*of),
        _ => None,
    });
    assert_eq!(of, Some(mark));
}

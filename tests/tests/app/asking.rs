//! What the scale does around its question: what it refuses instead, what it sounds, when a question stays and when it goes, and what an
//! answer notes.

use yarn_scale_core::app::{Effect, Input};
use yarn_scale_core::board::{Levels, Tone};
use yarn_scale_core::converter::ConverterFault;
use yarn_scale_core::journal::{Entry, PairEvent, Record, Sequence, Setting};
use yarn_scale_core::measured::Measured;
use yarn_scale_core::recognise::{Choice, WhyAsked};
use yarn_scale_core::screen::{Body, ItemLabel, Notice, RefusedWord, Word};
use yarn_scale_core::sock::{BowlNumber, SectionKind, YarnLetter};
use yarn_scale_core::units::Milligrams;
use yarn_scale_tests::bench::{Bench, Key};

use crate::several_pairs::{another, in_hand, list, mark, skip_all_but_the_last};
use crate::slips::{one_cuff, question};

const B: YarnLetter = YarnLetter::B;

pub(crate) fn answer(bench: &mut Bench, wanted: impl Fn(&Choice) -> bool) {
    let place = question(bench).choices.iter().position(wanted).expect("it is offered");
    for _ in 0..place {
        bench.press(Key::Next);
    }
    bench.press(Key::Mark);
}

fn asks(bench: &Bench) -> bool {
    matches!(bench.body(), Body::Question(_))
}

fn sounds(bench: &Bench, tone: Tone) -> usize {
    let beeps = bench
        .effects
        .iter()
        .filter(|effect| matches!(effect, Effect::Beep(of) if *of == tone));
    beeps.count()
}

fn near(mass: Milligrams, grams: f64) -> bool {
    (f64::from(mass.0) / 1_000.0 - grams).abs() < 0.1
}

/// The newest record of the pair in hand.
fn newest(bench: &Bench) -> PairEvent {
    let mut events = bench
        .journal
        .iter()
        .rev()
        .filter_map(|entry| entry.record.pair_event(1));
    events.next().expect("something was noted").1
}

#[test]
fn a_question_sounds_and_so_does_what_is_noted() {
    let mut bench = one_cuff();
    let before = [Tone::Noted, Tone::Refused].map(|tone| sounds(&bench, tone));
    assert_eq!(before, [2, 0]);
    bench.put(12.0);
    bench.press(Key::Mark);
    assert!(asks(&bench));
    assert_eq!(sounds(&bench, Tone::Refused), 1);
    bench.press(Key::Zero);
    assert!(matches!(bench.body(), Body::Pan(_)), "ZERO leaves it without a change");
    bench.take();
    mark(&mut bench, 30.0);
    assert_eq!([Tone::Noted, Tone::Refused].map(|tone| sounds(&bench, tone)), [3, 1]);
}

/// A cake that is touched again weighs what it did to within 0.3 g; another one is another load.
#[test]
fn a_question_stays_as_long_as_its_load() {
    let mut bench = one_cuff();
    bench.put(12.0);
    bench.press(Key::Mark);
    for grams in [12.2, 11.8] {
        bench.shake(grams, 1.0);
        bench.wait(4.0);
        assert!(asks(&bench), "{grams}");
    }
    bench.put(12.5);
    assert!(matches!(bench.body(), Body::Pan(_)), "{:?}", bench.body());
}

/// She pressed as the tick came, and has taken the cake off before it had stood: what it was is unsure, and nobody can answer.
#[test]
fn what_has_gone_is_not_asked_about() {
    let mut bench = Bench::at_the_tick(one_cuff, 17.2);
    let deeds = bench.deeds();
    bench.set(0.0);
    bench.wait(2.0);
    assert_eq!(bench.notice(), Notice::Refused(RefusedWord::NotSteady));
    assert_eq!(bench.deeds(), deeds);
}

/// A broken cable is told at the press, not after the patience of a mark.
#[test]
fn a_scale_without_numbers_refuses_at_once() {
    let mut bench = one_cuff();
    bench.silence(5.0, ConverterFault::Missing);
    for levels in [true, false] {
        for _ in 0..3 {
            bench.tell(Input::Keys(Levels {
                mark: levels,
                ..Default::default()
            }));
            bench.silence(0.1, ConverterFault::Missing);
        }
    }
    assert_eq!(bench.notice(), Notice::Refused(RefusedWord::Faulty));
}

/// Lighter than an empty pan is no empty pan.
#[test]
fn a_load_below_zero_is_no_yarn_that_is_used_up() {
    let mut bench = one_cuff();
    bench.put(-2.0);
    bench.press(Key::Mark);
    let used_up = matches!(bench.body(), Body::Question(ref asked) if asked.why == WhyAsked::UsedUp { yarn: B });
    assert!(!used_up, "{:?}", bench.body());
}

/// An answer is noted like a mark without a question: what went in one stay is known by that.
#[test]
fn an_answer_in_one_stay_knows_what_went_in_it() {
    let mut bench = Bench::with_pair();
    bench.put(40.0);
    bench.press(Key::Mark);
    bench.wait(7.0);
    bench.put(12.0);
    bench.press(Key::Mark);
    answer(&mut bench, |choice| matches!(choice, Choice::Section { .. }));
    let PairEvent::Mark { used_u, .. } = newest(&bench) else {
        panic!("{:?}", newest(&bench))
    };
    assert!(used_u.is_some(), "both stand on one zero");
}

/// Bowl 1 of 50 g is set, and the cake comes without it: the mark is of the cake alone, and no bowl is set from then on.
#[test]
fn an_answer_in_another_bowl_weighs_in_that() {
    let mut journal = one_cuff().journal;
    let last = journal.last().expect("something").clone();
    let mass = Measured {
        value: Milligrams(50_000),
        u: 20.0,
    };
    let number = BowlNumber(1);
    for record in [
        Record::Bowl { number, mass },
        Record::Setting(Setting::BowlInUse(Some(number))),
    ] {
        journal.push(Entry {
            sequence: Sequence(journal.last().expect("something").sequence.0 + 1),
            at: last.at,
            record,
        });
    }
    let mut bench = Bench::with_journal(journal, 0.0);
    bench.press(Key::Next);
    bench.wait(1.0);
    bench.put(30.0);
    bench.press(Key::Mark);
    answer(
        &mut bench,
        |choice| matches!(choice, Choice::OtherBowl { bowl: None, used, .. } if near(*used, 5.0)),
    );
    let PairEvent::Mark { weight, .. } = newest(&bench) else {
        panic!("{:?}", newest(&bench))
    };
    assert!(near(weight.net.value, 30.0) && weight.bowl.is_none(), "{weight:?}");
    assert_eq!(bench.app.book().bowls().in_use(), None);
}

/// A yarn's first weight without the bowl that is set would be less than nothing: it is said on the home page, and nothing can be noted.
#[test]
fn a_first_weight_without_its_bowl_is_never_noted() {
    let mut bench = Bench::with_pair();
    bench.put(61.0);
    bench.press(Key::Zero);
    bench.take_line(ItemLabel::NewBowl(BowlNumber(1)));
    bench.take();
    bench.put(30.0);
    let before = bench.journal.len();
    bench.press(Key::Mark);
    let asked = question(&bench);
    assert_eq!(
        (asked.why, asked.choices.as_slice()),
        (WhyAsked::BowlMissing, &[Choice::NotNow][..])
    );
    bench.press(Key::Mark);
    assert!(matches!(bench.body(), Body::Pan(_)));
    assert_eq!(bench.journal.len(), before);
    // In the bowl it is weighed in.
    bench.take();
    bench.put(91.0);
    bench.press(Key::Mark);
    assert!(matches!(bench.body(), Body::Notice(Notice::WeighedIn { weight, .. }) if near(weight.value, 30.0)));
}

/// Two in a row go freely; the third asks, aloud, with its section and what it took. A mark between begins anew.
#[test]
fn the_third_that_is_taken_back_is_asked_about_and_a_mark_begins_anew() {
    let mut bench = one_cuff();
    mark(&mut bench, 30.0);
    let hold = |bench: &mut Bench| {
        bench.hold(Key::Mark);
        bench.wait(7.0);
    };
    hold(&mut bench);
    hold(&mut bench);
    assert_eq!(bench.app.book().ledger().steps().len(), 1);
    // The second cuff, and A's first weight.
    for grams in [35.0, 30.0, 100.0] {
        mark(&mut bench, grams);
    }
    let steps = bench.app.book().ledger().steps().len();
    assert_eq!(steps, 4, "{:?}", bench.body());
    hold(&mut bench);
    hold(&mut bench);
    assert_eq!(bench.app.book().ledger().steps().len(), steps - 2);
    let refused = sounds(&bench, Tone::Refused);
    hold(&mut bench);
    assert_eq!(sounds(&bench, Tone::Refused), refused + 1);
    let asked = question(&bench);
    assert!(
        matches!(
            asked.choices.as_slice(),
            [Choice::NotNow, Choice::TakeBack { section: Some(section), used: Some(used), .. }]
                if section.kind == SectionKind::Cuff && near(*used, 5.0)
        ),
        "{asked:?}"
    );
}

/// From any page that shows what went: the notice is read, and home is there.
#[test]
fn what_was_taken_back_leads_home() {
    let mut bench = one_cuff();
    bench.put(33.0);
    bench.press(Key::Next);
    assert!(matches!(bench.body(), Body::Used(_)), "{:?}", bench.body());
    bench.hold(Key::Mark);
    bench.wait(7.0);
    assert!(matches!(bench.body(), Body::Pan(_)), "{:?}", bench.body());
    assert_eq!(bench.app.book().ledger().steps().len(), 1);
}

/// What was taken back in one pair does not count in the next.
#[test]
fn another_pair_begins_anew_with_what_is_taken_back() {
    let mut bench = one_cuff();
    mark(&mut bench, 30.0);
    another(&mut bench);
    mark(&mut bench, 60.0);
    list(&mut bench);
    bench.press(Key::Mark);
    assert_eq!(in_hand(&bench), 1);
    for _ in 0..2 {
        bench.hold(Key::Mark);
        bench.wait(7.0);
    }
    list(&mut bench);
    bench.press(Key::Mark);
    assert_eq!(in_hand(&bench), 2);
    bench.hold(Key::Mark);
    assert!(
        !asks(&bench) && bench.app.book().ledger().steps().is_empty(),
        "{:?}",
        bench.body()
    );
}

/// MARK means the same on the pages behind home, also where there is nothing to mark: that is said.
#[test]
fn a_mark_for_no_section_is_refused() {
    let mut bench = Bench::weighed_in();
    skip_all_but_the_last(&mut bench);
    bench.put(15.0);
    bench.press(Key::Mark);
    bench.wait(7.0);
    let mark_on_the_next_page = |bench: &mut Bench| {
        while matches!(bench.body(), Body::Pan(_)) {
            bench.press(Key::Next);
        }
        bench.press(Key::Mark);
        bench.notice()
    };
    // The pair is finished once the cake is off the pan.
    assert_eq!(
        mark_on_the_next_page(&mut bench),
        Notice::Refused(RefusedWord::PlanDone)
    );
    bench.take();
    bench.wait(7.0);
    assert!(!bench.app.book().ledger().is_open());
    bench.press(Key::Zero);
    bench.put(15.0);
    assert_eq!(mark_on_the_next_page(&mut bench), Notice::Refused(RefusedWord::NoPlan));
}

/// While it asks, or a mark waits, a computer on the line is told that the scale is busy.
#[test]
fn the_scale_is_busy_while_it_asks_and_while_a_mark_waits() {
    let mut bench = one_cuff();
    assert!(!bench.app.is_busy());
    bench.put(12.0);
    bench.press(Key::Mark);
    assert!(asks(&bench) && bench.app.is_busy());
    bench.press(Key::Mark);
    assert!(!bench.app.is_busy());
    bench.shake(20.0, 0.5);
    bench.press(Key::Mark);
    assert!(bench.app.is_busy(), "{:?}", bench.body());
}

/// A load that propped the tick up for a moment while one mark waited is not meant by the next.
#[test]
fn a_glimpse_belongs_to_its_own_mark() {
    let mut bench = Bench::at_the_tick(one_cuff, 17.2);
    // Another cake at once: that one stays, and is meant.
    bench.set(30.0);
    bench.wait(4.0);
    assert!(
        matches!(bench.notice(), Notice::Noted { used, .. } if near(used.value, 5.0)),
        "{:?}",
        bench.body()
    );
    bench.press(Key::Zero);
    bench.take();
    // The next one: a hand lays something down and takes it off again before there is a tick.
    bench.set(50.0);
    bench.wait(0.2);
    bench.hold_for(Key::Mark, 0.1);
    bench.set(0.0);
    bench.wait(3.0);
    assert_eq!(bench.notice(), Notice::Refused(RefusedWord::EmptyPan));
}

/// "Knit this next" holds for one mark.
#[test]
fn after_its_mark_the_chosen_section_is_no_longer_chosen() {
    let mut bench = one_cuff();
    bench.open(Word::Plan);
    let heel = |line: &yarn_scale_core::sock::Line| line.kind == SectionKind::Heel;
    let place = bench
        .app
        .book()
        .ledger()
        .plan()
        .lines
        .iter()
        .position(heel)
        .expect("a heel");
    loop {
        let Body::Plan(plan) = bench.body() else {
            panic!("{:?}", bench.body())
        };
        if usize::from(plan.selected) == place {
            break;
        }
        bench.press(Key::Next);
    }
    bench.press(Key::Mark);
    bench.choose(Word::KnitThisNext);
    bench.press(Key::Zero);
    mark(&mut bench, 28.0);
    assert!(bench.app.book().ledger().is_done(place as u8), "{:?}", bench.body());
    // Taken back, the plan goes on as it was.
    bench.hold(Key::Mark);
    bench.wait(7.0);
    bench.put(30.0);
    bench.press(Key::Mark);
    assert!(
        matches!(bench.notice(), Notice::Noted { line, .. } if line.kind == SectionKind::Cuff),
        "{:?}",
        bench.body()
    );
}

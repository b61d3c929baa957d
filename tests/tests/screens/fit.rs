//! Every text fits its place, in both languages and both units, and nothing is drawn over anything else.

use proptest::prelude::*;
use yarn_scale_core::journal::Language;
use yarn_scale_core::journal::Sequence;
use yarn_scale_core::measured::Measured;
use yarn_scale_core::recognise::{Choice, Source, WhyAsked};
use yarn_scale_core::screen::{
    Body, Idle, KeyWord, LineState, Notice, Pan, PlanPage, PlanRow, Question, Status, Used, UsedCell, UsedRow, View,
    Word, YarnNames, draw,
};
use yarn_scale_core::sock::{BowlNumber, Construction, Line, SectionKind, Sock, YarnLetter};
use yarn_scale_core::units::Milligrams;
use yarn_scale_core::weighing::{Indication, Unit};
use yarn_scale_sim::lab::pages::{LANGUAGES, cases};
use yarn_scale_tests::bench::{Bench, Key};
use yarn_scale_tests::strict::{StrictDisplay, faults_of};

/// The view in both languages and both units.
fn everywhere(view: &View) -> impl Iterator<Item = View> {
    let both = [Unit::Gram, Unit::Ounce].into_iter();
    both.flat_map(move |unit| {
        LANGUAGES.map(|(language, _)| View {
            language,
            unit,
            ..view.clone()
        })
    })
}

pub(crate) fn assert_fits(view: &View) {
    for view in everywhere(view) {
        let faults = faults_of(&view);
        assert!(
            faults.is_empty(),
            "{:?} {:?} {faults:?} {:?}",
            view.language,
            view.unit,
            view.keys
        );
    }
}

#[test]
fn every_case_of_every_page_fits() {
    for case in cases() {
        for view in everywhere(case.view()) {
            let faults = faults_of(&view);
            assert!(
                faults.is_empty(),
                "{}/{} {:?} {:?}: {faults:#?}",
                case.page(),
                case.name(),
                view.language,
                view.unit
            );
        }
    }
}

const KEYS: [KeyWord; 24] = [
    KeyWord::Nothing,
    KeyWord::Zero,
    KeyWord::Bowl,
    KeyWord::Mark,
    KeyWord::WeighIn,
    KeyWord::Next,
    KeyWord::Down,
    KeyWord::Choose,
    KeyWord::Less,
    KeyWord::More,
    KeyWord::Back,
    KeyWord::BackOrUp,
    KeyWord::DownOrUp,
    KeyWord::List,
    KeyWord::Ok,
    KeyWord::Take,
    KeyWord::Calibrate,
    KeyWord::Plan,
    KeyWord::Accept,
    KeyWord::Check,
    KeyWord::Yarn,
    KeyWord::Pairs,
    KeyWord::ToPair,
    KeyWord::Finish,
];

/// Whether the word can stand on one of the two small keys; the long ones are for the big key.
fn fits_small_key(word: KeyWord) -> bool {
    match word {
        KeyWord::WeighIn
        | KeyWord::Calibrate
        | KeyWord::Accept
        | KeyWord::Plan
        | KeyWord::Take
        | KeyWord::BackOrUp
        | KeyWord::DownOrUp
        | KeyWord::List
        | KeyWord::Pairs
        | KeyWord::Finish => false,
        KeyWord::Nothing
        | KeyWord::Zero
        | KeyWord::Bowl
        | KeyWord::Mark
        | KeyWord::Next
        | KeyWord::Down
        | KeyWord::Choose
        | KeyWord::Less
        | KeyWord::More
        | KeyWord::Back
        | KeyWord::Ok
        | KeyWord::Check
        | KeyWord::ToPair
        | KeyWord::Yarn => true,
    }
}

#[test]
fn every_key_word_fits_above_its_key() {
    for word in KEYS {
        let small = if fits_small_key(word) { word } else { KeyWord::Nothing };
        for keys in [[small, word, small], [small, word, KeyWord::Nothing], [word; 3]] {
            assert_fits(&View {
                body: Body::Fault(yarn_scale_core::screen::FaultWord::Overload),
                keys,
                status: Status::default(),
                unit: Unit::Gram,
                language: Language::English,
                names: YarnNames::new(),
            });
        }
    }
}

#[test]
fn every_character_of_the_table_has_a_glyph() {
    // In sentences these stand for something else.
    let blanks = ['@', '&', '#', '~', '$', '^'];
    for word in Word::ALL {
        for (language, _) in LANGUAGES {
            let text = word.text(language);
            assert!(!text.is_empty() && text.trim() == text, "{word:?}");
            for sign in text.chars().filter(|sign| !blanks.contains(sign)) {
                assert!(
                    yarn_scale_core::screen::TEXT.glyph(sign).is_some(),
                    "{word:?} in {language:?}: no glyph for {sign:?}"
                );
            }
        }
    }
}

#[test]
fn the_languages_agree_on_the_blanks_of_a_sentence() {
    for word in Word::ALL {
        let blanks = |language| {
            let mut blanks: Vec<char> = word
                .text(language)
                .chars()
                .filter(|sign| "@&#$".contains(*sign))
                .collect();
            blanks.sort_unstable();
            blanks
        };
        assert_eq!(blanks(Language::English), blanks(Language::German), "{word:?}");
    }
}

/// Some mass of a section, with an uncertainty up to sixty times what the scale gives.
fn some_used() -> impl Strategy<Value = Measured> {
    (-9_900..=99_900_i32, 0.0..3_000.0_f32).prop_map(|(value, u)| Measured {
        value: Milligrams(value),
        u,
    })
}

/// Any mass on the pan.
fn some_mass() -> impl Strategy<Value = Milligrams> {
    (-499_900..=500_000_i32).prop_map(Milligrams)
}

fn some_line() -> impl Strategy<Value = Line> {
    let kinds = prop::sample::select(SectionKind::ALL.as_slice());
    let socks = prop::sample::select(vec![Sock::First, Sock::Second]);
    (kinds, socks, some_yarn()).prop_map(|(kind, sock, yarn)| Line {
        kind,
        sock,
        yarn,
        construction: Construction::Plain,
        stitches: 64,
    })
}

fn some_yarn() -> impl Strategy<Value = YarnLetter> {
    prop::sample::select(YarnLetter::ALL.as_slice())
}

fn some_status() -> impl Strategy<Value = Status> {
    any::<[bool; 4]>().prop_map(|[supply_low, zero_unproven, journal_filling, doubtful]| Status {
        supply_low,
        zero_unproven,
        journal_filling,
        doubtful,
    })
}

/// Home with anything on it. The number is made in the unit that it is drawn in.
fn some_home() -> impl Strategy<Value = View> {
    let numbers = (
        some_mass(),
        prop::option::of(some_used()),
        prop::option::of(0..2_000_u16),
    );
    let names = (some_line(), prop::option::of(some_mass()), prop::option::of(1..=9_u8));
    let flags = any::<[bool; 5]>();
    let unit = prop::sample::select(vec![Unit::Gram, Unit::Ounce]);
    (numbers, names, flags, some_status(), unit).prop_map(
        |((mass, used, metres), (line, last, bowl), [steady, waits, empty, planned, known], status, unit)| View {
            body: Body::Pan(Pan {
                lifted: empty,
                shown: known.then(|| Indication::rounded(mass, unit)),
                steady,
                bowl: bowl.map(BowlNumber),
                yarn: planned.then_some((line.yarn, last)),
                section: planned.then_some(line),
                used,
                other_sock: last.map(|mass| (line.sock, mass)),
                damp: empty,
                metres,
                proposal: (waits && planned).then_some((65_535, YarnLetter::H)),
                pair: steady.then_some(65_535),
                idle: Idle::NoPair,
                mark_waits: waits,
                empty,
                perhaps_empty: waits && steady,
            }),
            keys: [KeyWord::Bowl, KeyWord::WeighIn, KeyWord::Next],
            status,
            unit,
            language: Language::English,
            names: YarnNames::new(),
        },
    )
}

/// Home with what a section has used, in damp air or not.
fn home(used: Measured, damp: bool) -> View {
    let pan = Pan {
        lifted: false,
        shown: Some(Indication::rounded(Milligrams(46_200), Unit::Gram)),
        steady: true,
        bowl: None,
        yarn: None,
        section: None,
        used: Some(used),
        other_sock: None,
        damp,
        metres: None,
        proposal: None,
        pair: None,
        idle: Idle::NoPair,
        mark_waits: false,
        empty: false,
        perhaps_empty: false,
    };
    view_of(Body::Pan(pan))
}

/// A bare bowl that weighs a little less than when it was tared is there all the same.
#[test]
fn a_bare_bowl_is_not_missing() {
    let line = |milligrams| {
        let mut view = home(Measured::default(), false);
        if let Body::Pan(pan) = &mut view.body {
            pan.shown = Some(Indication::rounded(Milligrams(milligrams), Unit::Gram));
            pan.bowl = Some(BowlNumber(1));
            pan.used = None;
        }
        let mut display = StrictDisplay::default();
        draw(&view, &mut display);
        display.lit_within(0..128, 42..52)
    };
    assert_eq!([line(-100), line(-300)], [line(0); 2]);
    assert_ne!(line(-400), line(0));
    assert_eq!(line(-400), line(-31_000));
}

fn view_of(body: Body) -> View {
    View {
        body,
        keys: [KeyWord::BackOrUp, KeyWord::Choose, KeyWord::Down],
        status: Status::default(),
        unit: Unit::Gram,
        language: Language::English,
        names: YarnNames::new(),
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 500, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn home_fits_whatever_is_on_the_pan(view in some_home()) {
        for (language, _) in LANGUAGES {
            let view = View { language, ..view.clone() };
            prop_assert_eq!(faults_of(&view), Vec::<String>::new(), "{:#?}", view);
        }
    }

    /// Whatever a section takes, in both units and languages; what a whole skein took has no room for it in some.
    #[test]
    fn damp_is_said_beside_what_a_section_took(milligrams in 0..99_900_i32, u in 0.0..4_900.0_f32) {
        let used = Measured { value: Milligrams(milligrams), u };
        for (damp, dry) in everywhere(&home(used, true)).zip(everywhere(&home(used, false))) {
            prop_assert_eq!(faults_of(&damp), Vec::<String>::new(), "{:#?}", damp);
            let [with, without] = [&damp, &dry].map(|view| {
                let mut display = StrictDisplay::default();
                draw(view, &mut display);
                display
            });
            prop_assert!(with != without, "{:#?}", damp);
        }
    }

    #[test]
    fn notices_fit_whatever_was_weighed(line in some_line(), used in some_used(), left in some_mass(), yarn in some_yarn()) {
        let weight = Measured { value: left, ..used };
        for notice in [
            Notice::Noted { line, used, left },
            Notice::WeighedIn { yarn, weight, short: Some(left.abs()) },
            Notice::WeightAmended { yarn, weight },
            Notice::Started { yarn, weight, unplanned: used.value },
            Notice::Amended { line: Some(line), used },
            Notice::Undone { line: Some(line) },
            Notice::Skipped { line },
            Notice::BowlNoted { number: BowlNumber(9), mass: weight },
        ] {
            assert_fits(&view_of(Body::Notice(notice)));
        }
    }

    #[test]
    fn questions_fit_whatever_is_asked(yarn in some_yarn(), found in some_yarn(), section in some_line(), by in (0..=500_000_i32).prop_map(Milligrams), used in some_used()) {
        let used = used.value;
        let choices = [
            Choice::NotNow,
            Choice::Section { line: 0, section, yarn, used },
            Choice::OtherBowl { bowl: Some(BowlNumber(9)), yarn, used },
            Choice::OtherBowl { bowl: None, yarn, used },
            Choice::StartFromHere { yarn, unplanned: used },
            Choice::TakeBack { of: Sequence(1), section: Some(section), used: Some(used) },
        ];
        let amount = |source| WhyAsked::Amount { section, used: by, expected: used, source };
        for why in [
            WhyAsked::Heavier { yarn, by },
            amount(Source::OtherSock),
            amount(Source::History),
            amount(Source::Estimate),
            amount(Source::Usual),
            WhyAsked::OtherYarn { planned: yarn, found },
        ] {
            assert_fits(&view_of(Body::Question(Question {
                why,
                weight: Some(by),
                choices: choices.into_iter().collect(),
                selected: 1,
            })));
        }
    }

    #[test]
    fn tables_fit_whatever_was_used(line in some_line(), first in some_used(), second in some_used(), state in 0..3_u8) {
        let cell = |used, amended, doubtful| Some(UsedCell { used, amended, doubtful });
        let row = UsedRow {
            kind: line.kind,
            yarn: line.yarn,
            first: cell(first, true, true),
            second: cell(second, state == 0, state == 1),
        };
        let used = Used { rows: [row; 6].into_iter().collect(), total: first, top: 1 };
        assert_fits(&view_of(Body::Used(used)));
        let state = match state {
            0 => LineState::Done(first),
            1 => LineState::Skipped,
            _ => LineState::Open,
        };
        let rows = [PlanRow { line, state }; 12].into_iter().collect();
        assert_fits(&view_of(Body::Plan(PlanPage { rows, cursor: Some(3), selected: 4 })));
    }
}

#[test]
fn whatever_a_hand_reaches_on_the_device_fits() {
    // A fixed wandering: every page is opened from several sides, with the pan empty, loaded and shaken.
    let mut bench = Bench::new();
    let mut dice = 20_251_u32;
    let mut roll = |sides: u32| {
        dice = dice.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
        dice / 65_536 % sides
    };
    for _ in 0..1_500 {
        match roll(10) {
            0 => bench.put(f64::from(roll(600))),
            1 => bench.take(),
            2 => bench.shake(f64::from(roll(100)), 0.5),
            3 => bench.hold(Key::Next),
            4 => bench.hold(Key::Mark),
            5 => bench.press(Key::Zero),
            6 | 7 => bench.press(Key::Mark),
            _ => bench.press(Key::Next),
        }
    }
    let mut pages: Vec<&str> = Vec::new();
    for view in &bench.views {
        let page = yarn_scale_sim::lab::pages::page_of(&view.body);
        if !pages.contains(&page) {
            pages.push(page);
        }
        for (language, _) in LANGUAGES {
            let view = View {
                language,
                ..view.clone()
            };
            let faults = faults_of(&view);
            assert!(faults.is_empty(), "{faults:#?}\n{view:#?}");
        }
    }
    println!("{} screens on {pages:?}", bench.views.len());
    assert!(
        bench.views.len() > 500 && pages.len() >= 9,
        "the wandering reached too little: {pages:?}"
    );
}

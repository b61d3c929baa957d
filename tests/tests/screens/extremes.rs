//! What no pair reaches, and what takes more room than any case of a page: it fits all the same.

use yarn_scale_core::forecast::{Answer, Basis, KindSet, PerRound, Reserve, Source, Stretch, Word as Verdict};
use yarn_scale_core::measured::Measured;
use yarn_scale_core::screen::{
    About, AnswerPage, Body, Idle, Item, ItemLabel, KeyWord, List, Notice, Pan, Status, Value, View, Word, YarnNames,
};
use yarn_scale_core::sock::{BowlNumber, Construction, Line, SectionKind, Sock, YarnLetter};
use yarn_scale_core::units::Milligrams;
use yarn_scale_core::weighing::{Indication, Unit};

use crate::fit::assert_fits;

const B: YarnLetter = YarnLetter::B;

fn view(body: Body, keys: [KeyWord; 3], status: Status) -> View {
    View {
        body,
        keys,
        status,
        unit: Unit::Gram,
        language: yarn_scale_core::journal::Language::English,
        names: YarnNames::new(),
    }
}

fn fits(body: Body, keys: [KeyWord; 3]) {
    assert_fits(&view(body, keys, Status::default()));
}

fn measured(milligrams: i32, u: f32) -> Measured {
    Measured {
        value: Milligrams(milligrams),
        u,
    }
}

fn cuff() -> Line {
    Line {
        kind: SectionKind::Cuff,
        sock: Sock::Second,
        yarn: B,
        construction: Construction::Plain,
        stitches: 64,
    }
}

#[test]
fn the_longest_home_page_fits_with_all_its_signs() {
    let pan = Pan {
        lifted: false,
        shown: Some(Indication::rounded(Milligrams(-488_800), Unit::Gram)),
        steady: true,
        bowl: Some(BowlNumber(8)),
        yarn: Some((B, Some(Milligrams(23_140)))),
        section: Some(cuff()),
        used: Some(measured(188_800, 4_400.0)),
        other_sock: Some((Sock::First, Milligrams(7_120))),
        damp: false,
        metres: Some(888),
        mark_waits: false,
        proposal: None,
        pair: None,
        idle: Idle::NoPair,
        empty: false,
        perhaps_empty: false,
    };
    for (lit, damp) in [(false, false), (true, false), (false, true)] {
        let pan = Pan { damp, ..pan };
        let status = Status {
            supply_low: lit,
            zero_unproven: lit,
            journal_filling: lit,
            doubtful: lit,
        };
        assert_fits(&view(
            Body::Pan(pan),
            [KeyWord::Bowl, KeyWord::Mark, KeyWord::Next],
            status,
        ));
    }
}

#[test]
fn the_longest_note_fits() {
    let notice = Notice::Noted {
        line: cuff(),
        used: measured(88_810, 4_800.0),
        left: Milligrams(488_800),
    };
    fits(Body::Notice(notice), [KeyWord::Ok; 3]);
}

/// All its numbers are long.
fn long_answer(basis: Basis) -> Answer {
    Answer {
        word: Verdict::Enough,
        likely: Milligrams(518_800),
        reserve: Milligrams(30_000),
        left: measured(637_600, 40.0),
        expected: Milligrams(118_800),
        least: Milligrams(88_800),
        need: Milligrams(148_800),
        basis,
    }
}

#[test]
fn the_longest_answer_fits() {
    let basis = Basis {
        source: Source::FirstSock,
        reserve: Reserve::Spread { pairs: 5 },
        scaled: false,
    };
    let page = AnswerPage {
        about: About::RestOf(B),
        answer: Some(long_answer(basis)),
        way_out: None,
        parts: false,
        weighed_in: true,
        place: (8, 8),
    };
    fits(Body::Answer(page), [KeyWord::Yarn, KeyWord::Mark, KeyWord::Next]);
}

/// What to knit in another yarn: one section stands beside what the answer rests on, more take the room of that, many that of what is needed.
#[test]
fn every_way_out_fits() {
    let kinds = [
        SectionKind::Cuff,
        SectionKind::Leg,
        SectionKind::Heel,
        SectionKind::Gusset,
        SectionKind::Foot,
        SectionKind::Toe,
    ];
    for count in 1..=kinds.len() {
        let way_out = kinds[..count]
            .iter()
            .fold(KindSet::default(), |set, &kind| set.with(kind));
        for source in [Source::FirstSock, Source::Records, Source::Estimate] {
            let basis = Basis {
                source,
                reserve: Reserve::Quarter { pairs: 2 },
                scaled: false,
            };
            let page = AnswerPage {
                about: About::RestOf(B),
                answer: Some(long_answer(basis)),
                way_out: Some(way_out),
                parts: false,
                weighed_in: true,
                place: (8, 8),
            };
            fits(Body::Answer(page), [KeyWord::Yarn, KeyWord::Mark, KeyWord::Next]);
        }
    }
}

/// Sixty rounds were counted, and a whole cone is left.
#[test]
fn the_most_rounds_fit() {
    let stretch = Stretch {
        rounds: 60,
        used: measured(14_870, 20.0),
    };
    let each = PerRound::of(&[stretch], stretch.used.u).expect("something was used");
    let before = |reserve| Value::Rounds(each.rounds_left(measured(488_800, 14.0), Milligrams(reserve)));
    let rows = [
        (Word::BeforeCastOff, before(1_000)),
        (Word::BeforeToe, before(13_420)),
        (Word::BeforeHalf, before(250_000)),
        (Word::EachRound, Value::Small(each.into())),
        (Word::RoundsCounted, Value::Number(60)),
    ];
    list(
        Word::RoundsLeft,
        &rows.map(|(word, value)| (ItemLabel::Word(word), value)),
    );
}

/// A boundary is looked for between a cuff and a heel that are both long done.
#[test]
fn visits_of_long_ago_fit_with_both_amounts() {
    let both = Value::Both(Milligrams(14_140), Milligrams(17_620));
    list(
        Word::WhichVisit,
        &[119, 2_879, 99 * 1_440].map(|minutes| (ItemLabel::MinutesAgo(minutes), both)),
    );
}

fn list(title: Word, rows: &[(ItemLabel, Value)]) {
    for selected in 0..rows.len() {
        let list = List {
            title,
            items: rows.iter().map(|&(label, value)| Item { label, value }).collect(),
            selected: selected as u8,
        };
        fits(Body::List(list), [KeyWord::BackOrUp, KeyWord::Take, KeyWord::Down]);
    }
}

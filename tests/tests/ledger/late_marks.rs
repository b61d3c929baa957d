//! On which visits of the pan a forgotten mark can have belonged: those of its own yarn, between that yarn's neighbours, that nothing was
//! noted from. Each weight is a whole or half gram, each record an hour after the one before.

use yarn_scale_core::book::Book;
use yarn_scale_core::journal::{PairEvent, Record, Setting};
use yarn_scale_core::recognise::{Late, Situation, late_marks};
use yarn_scale_core::sock::{BowlNumber, Order, Preset, YarnLetter};
use yarn_scale_core::units::{Milligrams, Stamp};

use crate::books::{self, A, B, HOUR, measured, on_pan_at, visit_in, weight};

// Places in the plan, of sock 1: cuff, heel and toe are of B, leg and foot of A.
const CUFF: u8 = 0;
const LEG: u8 = 1;
const HEEL: u8 = 2;
const TOE: u8 = 4;

fn weigh_in(yarn: YarnLetter, mg: i32) -> Record {
    let weight = weight(mg);
    Record::WeighIn { yarn, weight }
}

fn mark(line: u8, mg: i32) -> Record {
    let yarn = if matches!(line % 5, 1 | 3) { A } else { B };
    let weight = weight(mg);
    Record::Mark { line, yarn, weight }
}

fn visit(mg: i32) -> Record {
    visit_in(None, mg)
}

/// The pair is begun in the first hour, and B is weighed in with 40 g in the second; the rest follows.
fn book(records: &[Record]) -> Book {
    let begun = books::begun(1, Preset::ContrastCuffsHeelsToes, Order::OneAfterTheOther);
    books::book(&[&[begun, weigh_in(B, 40_000)], records].concat())
}

/// What the section at `line` would have taken on each visit that is offered, the newest first, mg.
fn offered(line: u8, records: &[Record]) -> Vec<i32> {
    let late = late_marks(&book(records), line);
    late.iter().map(|late| late.used.0).collect()
}

fn the_one(line: u8, records: &[Record]) -> Late {
    let late = late_marks(&book(records), line);
    assert_eq!(late.len(), 1, "{late:?}");
    late[0]
}

fn situation(line: u8, mg: i32, records: &[Record]) -> Situation {
    Situation::of(&book(records), line, &on_pan_at(20, mg)).expect("a line of the plan")
}

#[test]
fn a_visit_tells_what_the_section_took_and_when() {
    let late = the_one(CUFF, &[visit(35_000)]);
    assert_eq!((late.yarn, late.line, late.used), (B, CUFF, Milligrams(5_000)));
    assert_eq!((late.visited, late.weight), (Stamp(3 * HOUR), weight(35_000)));
    assert_eq!((late.then, late.before), (None, None));
    // Newest first.
    assert_eq!(offered(CUFF, &[visit(35_000), visit(34_000)]), [6_000, 5_000]);
}

/// Nothing can be knitted from a yarn before its first weight, nor less than it weighs, nor less than 0.3 g; and 0.3 g is no cake.
#[test]
fn what_cannot_be_the_end_of_a_section_is_not_offered() {
    assert_eq!(offered(LEG, &[visit(85_000), weigh_in(A, 100_000)]), [0; 0]);
    assert_eq!(offered(CUFF, &[visit(42_000)]), [0; 0]);
    assert_eq!(offered(CUFF, &[visit(39_720)]), [0; 0]);
    assert_eq!(offered(CUFF, &[visit(280)]), [0; 0]);
    assert_eq!(offered(CUFF, &[visit(39_500), visit(500)]), [39_500, 500]);
    // Between two weights it cannot be lighter than the second: a heel of 7 g that was marked at 28 g with the cuff.
    let heavier = [visit(27_500), visit(35_000), mark(HEEL, 28_000)];
    assert_eq!(offered(CUFF, &heavier), [5_000]);
    let lately = [visit(28_280), visit(35_000), mark(HEEL, 28_000)];
    assert_eq!(offered(CUFF, &lately), [5_000], "less than 0.3 g after it");
}

/// A yarn that went on in another pair lies there for that one.
#[test]
fn what_is_knitted_in_another_pair_is_not_offered() {
    let lines = Preset::ContrastCuffsHeelsToes.lines(Order::OneAfterTheOther);
    let carried = PairEvent::Carried {
        yarn: B,
        from: 1,
        was: B,
        weight: weight(40_000),
    };
    let records = [
        Record::PairBegun { pair: 2, lines },
        Record::OfPair {
            pair: 2,
            event: carried,
        },
        Record::Setting(Setting::PairInHand(1)),
        visit(35_000),
    ];
    assert_eq!(offered(CUFF, &records), [0; 0]);
}

/// In the bowl that was set then, whichever is now.
#[test]
fn a_visit_in_a_bowl_is_weighed_without_it() {
    let bowl = |number, grams| Record::Bowl {
        number: BowlNumber(number),
        mass: measured(1_000 * grams),
    };
    let second = Some(BowlNumber(2));
    let records = [
        bowl(1, 50),
        bowl(2, 100),
        visit_in(second, 135_000),
        Record::Setting(Setting::BowlInUse(Some(BowlNumber(1)))),
    ];
    let late = the_one(CUFF, &records);
    assert_eq!((late.used, late.weight.bowl), (Milligrams(5_000), second));
}

/// What a mark or a first weight was noted from, of this yarn or of another, is that, and no forgotten mark.
#[test]
fn what_was_noted_is_not_offered_again() {
    // The heel's own visit, amended by the empty pan since.
    assert_eq!(offered(CUFF, &[visit(28_200), mark(HEEL, 28_000)]), [0; 0]);
    // A's first weight; its next mark; and A once more as it was.
    let cone = [weigh_in(B, 160_000)];
    let with = |more: &[Record]| [&cone, more].concat();
    assert_eq!(offered(CUFF, &with(&[visit(100_000), weigh_in(A, 100_000)])), [0; 0]);
    let leg = [weigh_in(A, 100_000), visit(85_000), mark(LEG, 85_000)];
    assert_eq!(offered(CUFF, &with(&leg)), [0; 0]);
    let again = [weigh_in(A, 100_000), mark(LEG, 85_000), visit(85_100)];
    assert_eq!(offered(CUFF, &with(&again)), [0; 0]);
    // But not what A weighed long ago, or will weigh after its next mark: it is B that lies there.
    let long_ago = [weigh_in(A, 100_000), mark(LEG, 85_000), visit(100_000), mark(3, 70_000)];
    assert_eq!(offered(CUFF, &with(&long_ago)), [60_000]);
    let later = [weigh_in(A, 100_000), visit(70_000), mark(LEG, 85_000), mark(3, 70_000)];
    assert_eq!(offered(CUFF, &with(&later)), [90_000]);
    // A late mark has used its visit.
    let late = PairEvent::LateMark {
        line: CUFF,
        yarn: B,
        weight: weight(35_000),
        visited: Stamp(3 * HOUR),
        before: None,
    };
    let used = [visit(35_000), Record::OfPair { pair: 1, event: late }];
    assert_eq!(offered(HEEL, &used), [0; 0]);
    // 0.4 g apart is another weight where both are known to 20 mg: 250 mg are the same.
    assert_eq!(offered(CUFF, &with(&[weigh_in(A, 100_000), visit(99_600)])), [60_400]);
    assert_eq!(offered(CUFF, &with(&[weigh_in(A, 100_000), visit(99_800)])), [0; 0]);
    // But not where one of them is known to 0.2 g only.
    let mut doubtful = weight(100_000);
    doubtful.net.u = 200.0;
    let doubtful = Record::WeighIn {
        yarn: A,
        weight: doubtful,
    };
    assert_eq!(offered(CUFF, &with(&[doubtful, visit(99_600)])), [0; 0]);
}

/// A mark behind the visit closes what comes next of its yarn from then on, if it had closed this section; else what it had closed.
#[test]
fn the_mark_behind_it_moves_on() {
    let then = |records: &[Record]| {
        let late = the_one(CUFF, records);
        let (then, _, used) = late.then.expect("a later mark");
        assert_eq!(late.before.map(|(_, line)| line), Some(then));
        (then, used.0)
    };
    assert_eq!(then(&[visit(35_000), mark(HEEL, 28_000)]), (HEEL, 7_000));
    // Pressed for the cuff, when the heel was finished: not the leg's, which is of A.
    assert_eq!(then(&[visit(35_000), mark(CUFF, 28_000)]), (HEEL, 7_000));
    let skipped = [Record::Skipped { line: HEEL }, visit(35_000), mark(CUFF, 28_000)];
    assert_eq!(then(&skipped), (TOE, 7_000));
    let done = [mark(HEEL, 36_000), visit(31_000), mark(CUFF, 26_000)];
    assert_eq!(then(&done), (TOE, 5_000));
    // A weight that closed nothing still does not.
    let from_here = Record::Unplanned {
        yarn: B,
        weight: weight(28_000),
    };
    assert_eq!(then(&[visit(35_000), from_here]), (CUFF, 7_000));
    // What lies before it in the plan stays open.
    let heel = late_marks(&book(&[visit(35_000), mark(HEEL, 28_000)]), HEEL);
    assert_eq!(heel[0].then.map(|(then, _, _)| then), Some(TOE));
}

/// When MARK is pressed, only visits since the yarn's last weight count, and not the one that lies there now.
#[test]
fn the_visits_since_the_last_weight_are_those_that_count() {
    let own = |situation: &Situation| (situation.late.map(|late| (late.line, late.used.0)), situation.visits);
    assert_eq!(
        own(&situation(CUFF, 28_000, &[visit(35_000)])),
        (Some((CUFF, 5_000)), 1)
    );
    assert_eq!(
        own(&situation(CUFF, 28_000, &[visit(35_000), visit(28_100)])),
        (Some((CUFF, 5_000)), 1)
    );
    let before = [visit(38_000), mark(CUFF, 35_000)];
    assert_eq!(own(&situation(HEEL, 23_000, &before)), (None, 0));
    let beside = [weigh_in(A, 100_000), visit(35_000)];
    assert_eq!(own(&situation(CUFF, 28_000, &beside)), (Some((CUFF, 5_000)), 1));
    // A's leg was finished at 85 g, and its foot is now: B has nothing to do with it.
    let leg = [weigh_in(A, 100_000), visit(85_000)];
    assert_eq!(own(&situation(LEG, 70_000, &leg)), (Some((LEG, 15_000)), 1));
    // The cuff was left for later: it was finished at 35 g, and the heel is now.
    let left_out = situation(HEEL, 28_000, &[visit(35_000)]);
    assert_eq!(own(&left_out), (Some((CUFF, 5_000)), 1));
    assert_eq!(
        left_out
            .late
            .and_then(|late| late.then)
            .map(|(line, _, used)| (line, used.0)),
        Some((HEEL, 7_000))
    );
    // Both amounts must fit. A cuff of 9 g would leave a heel of 7 that is just as usual, one of 5 g a heel of 11.
    let both = situation(CUFF, 24_000, &[visit(35_000), visit(31_000)]);
    assert_eq!(own(&both), (Some((CUFF, 5_000)), 2));
}

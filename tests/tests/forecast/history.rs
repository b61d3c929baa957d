//! What the history takes up, what it leaves out, and how it scales.

use yarn_scale_core::forecast::{Socks, Wanted};
use yarn_scale_core::measured::Measured;
use yarn_scale_core::sock::{
    Construction, Decitex, History, PAIRS, PairRecord, SectionKind, Shape, Size, Sock, ToeConstruction,
};
use yarn_scale_core::units::Milligrams;
use yarn_scale_tests::sections::{CUFF, FOOT, SIZE, TOE, grams, history, wanted};

#[test]
fn ripped_doubtful_and_vague_records_are_left_out() {
    let mut past = history(&[(TOE, &[[2.4, 2.5], [2.6, 2.5], [2.5, 2.4]])]);
    let both = [wanted(TOE, Socks::Both)];
    let before = past.predict(both.iter()).unwrap();
    let mut ripped = PairRecord::new(4);
    ripped.add(TOE.0, TOE.1, SIZE, Sock::First, grams(9.0));
    ripped.leave_out(TOE.0, Sock::First);
    let mut vague = PairRecord::new(5);
    let days_apart = Measured {
        value: Milligrams(2_500),
        u: 300.0,
    };
    vague.add(TOE.0, TOE.1, SIZE, Sock::First, days_apart);
    let mut nothing = PairRecord::new(6);
    nothing.add(TOE.0, TOE.1, SIZE, Sock::First, Measured::default());
    for record in [ripped, vague, nothing] {
        past.record(record);
        assert_eq!(past.predict(both.iter()).unwrap(), before);
    }
    assert_eq!(past.uses(TOE.0, TOE.1).count(), 6);
    // Left out stays left out, whatever is added.
    let mut ripped = PairRecord::new(4);
    ripped.add(TOE.0, TOE.1, SIZE, Sock::First, grams(9.0));
    ripped.leave_out(TOE.0, Sock::First);
    ripped.add(TOE.0, TOE.1, SIZE, Sock::First, grams(2.0));
    past.record(ripped);
    assert_eq!(past.predict(both.iter()).unwrap(), before);
    // Another construction is another section.
    let rounded = Wanted::contrast(TOE.0, Construction::Toe(ToeConstruction::Rounded), SIZE, Socks::Both);
    assert_eq!(past.predict([rounded].iter()), None);
}

#[test]
fn recording_a_pair_again_replaces_it_and_the_oldest_gives_way() {
    let mut past = History::default();
    let record = |number: u16, taken: f32| {
        let mut record = PairRecord::new(number);
        record.add(TOE.0, TOE.1, SIZE, Sock::First, grams(taken));
        record
    };
    for number in 1..=PAIRS as u16 + 3 {
        past.record(record(number, 2.0));
        past.record(record(number, 3.0));
    }
    let numbers: Vec<u16> = past.pairs().iter().map(PairRecord::pair).collect();
    assert_eq!(numbers, (4..=PAIRS as u16 + 3).collect::<Vec<_>>());
    assert!(
        past.uses(TOE.0, TOE.1)
            .all(|(_, _, _, used)| used.value == Milligrams(3_000))
    );
}

#[test]
fn striped_sections_add_up_and_share() {
    let mut record = PairRecord::new(1);
    for part in [4.0, 5.0] {
        record.add(FOOT.0, FOOT.1, SIZE, Sock::First, grams(part));
    }
    let mut past = History::default();
    past.record(record);
    let half = Wanted {
        parts: 2,
        ..wanted(FOOT, Socks::One)
    };
    assert_eq!(past.predict([half].iter()).unwrap().expected, 4_500.0);
}

#[test]
fn sizes_scale_by_stitches_rounds_loop_length_and_linear_density() {
    let past = history(&[(TOE, &[[2.4, 2.4]]), (CUFF, &[[4.0, 4.0]])]);
    let expected = |section, size: Size| {
        let found = past
            .predict(
                [Wanted {
                    size,
                    ..wanted(section, Socks::One)
                }]
                .iter(),
            )
            .unwrap();
        (found.expected, found.scaled)
    };
    let stitches = |stitches| Size { stitches, ..SIZE };
    // A cuff of 72 stitches has rounds 72/64 as long; a toe of 72 also 72/64 as many.
    assert_eq!(expected(CUFF, stitches(72)), (4_500.0, true));
    assert_eq!(expected(TOE, stitches(72)), (2_400.0 * 1.125 * 1.125, true));
    assert_eq!(expected(TOE, SIZE), (2_400.0, false));
    assert_eq!(expected(TOE, stitches(0)), (2_400.0, false));
    // Yarn of twice the linear density: a cuff of the same length and stitches takes twice as much; a toe, with as many
    // longer loops, 2 sqrt(2) times as much.
    let double = Size {
        yarn: Decitex(4_762),
        ..SIZE
    };
    let (cuff, toe) = (expected(CUFF, double), expected(TOE, double));
    assert!((cuff.0 / 8_000.0 - 1.0).abs() < 1e-5 && cuff.1, "{cuff:?}");
    assert!((toe.0 / (2_400.0 * 2.0 * 2.0_f32.sqrt()) - 1.0).abs() < 1e-5, "{toe:?}");
    // Counted rounds win over the model.
    let counted = Size { rounds: 30, ..SIZE };
    assert!((counted.multiple_of(Size { rounds: 20, ..SIZE }, Shape::Tube) - 1.5).abs() < 1e-6);
}

/// Twice the stitches are twice the yarn: a part is as long as before, where a toe's rows would go with its stitches.
#[test]
fn a_part_of_what_is_no_sock_grows_as_a_tube_does() {
    let part = (SectionKind::Part1, Construction::PartOf(2));
    let past = history(&[(part, &[[10.0, 10.0], [10.0, 10.0], [10.0, 10.0]])]);
    let wider = Wanted {
        size: Size {
            stitches: 2 * SIZE.stitches,
            ..SIZE
        },
        ..wanted(part, Socks::One)
    };
    let expected = past.predict([wider].iter()).expect("known").expected;
    assert!((expected - 20_000.0).abs() < 1.0, "{expected}");
}

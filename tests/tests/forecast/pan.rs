//! Answers that are read off the pan: halve, pair check, dry yet.

use yarn_scale_core::forecast::{DryWord, Drying, FinishedPair, Gap, Winding, halve, pair_check};
use yarn_scale_core::measured::Measured;
use yarn_scale_core::sock::Decitex;
use yarn_scale_core::units::{Milligrams, Stamp};

const DIVISION: Milligrams = Milligrams(100);

fn mg(value: i32, u: f32) -> Measured {
    Measured {
        value: Milligrams(value),
        u,
    }
}

#[test]
fn halving_says_go_on_slowly_stop_and_back() {
    // A skein of 103 g by the scale, not the 100 g of its band.
    let whole = mg(103_000, 20.0);
    let at = |now| halve(whole, mg(now, 20.0), false, DIVISION);
    assert_eq!(
        (at(103_000).word, at(103_000).to_go),
        (Winding::GoOn, Milligrams(51_500))
    );
    assert_eq!((at(52_400).word, at(52_400).to_go), (Winding::Slowly, Milligrams(900)));
    for now in [51_550, 51_500, 51_450] {
        assert_eq!(at(now).word, Winding::Stop, "{now}");
    }
    assert_eq!((at(51_440).word, at(51_440).to_go), (Winding::Back, Milligrams(-60)));
    let stopped = at(51_520);
    assert_eq!(
        (stopped.target, stopped.difference.value),
        (Milligrams(51_500), Milligrams(40))
    );
    // Difference of the two cakes: twice the pan minus the whole.
    assert!((stopped.difference.u - (4.0_f32 * 400.0 + 400.0).sqrt()).abs() < 1e-3);
}

#[test]
fn halving_onto_the_pan_counts_up() {
    let whole = mg(80_000, 20.0);
    let at = |now| halve(whole, mg(now, 20.0), true, DIVISION);
    assert_eq!((at(0).word, at(0).to_go), (Winding::GoOn, Milligrams(40_000)));
    assert_eq!(at(39_500).word, Winding::Slowly);
    assert_eq!(at(40_000).word, Winding::Stop);
    assert_eq!(at(41_000).word, Winding::Back);
}

#[test]
fn halving_is_no_finer_than_the_scale() {
    let at = |u| halve(mg(80_000, u), mg(40_180, u), false, DIVISION).word;
    assert_eq!((at(20.0), at(200.0)), (Winding::Slowly, Winding::Stop));
}

fn finished(pair: i32, sections: i32) -> FinishedPair {
    FinishedPair {
        pair: mg(pair, 30.0),
        sections: mg(sections, 60.0),
        moisture_u: 100.0,
        ends: 12,
        yarn: Decitex(2_381),
        lightest: Some(Milligrams(2_400)),
        unmarked: 0,
    }
}

#[test]
fn gaps_of_a_pair_are_explained() {
    let meaning = |pair, sections| pair_check(finished(pair, sections)).meaning;
    assert_eq!(meaning(62_100, 62_000), Gap::None);
    // Twelve ends of at most 15 cm are 429 mg at most; twice the doubt of all is 241 mg.
    assert_eq!(meaning(61_500, 62_000), Gap::EndsCutOff);
    assert_eq!(meaning(61_340, 62_000), Gap::EndsCutOff);
    assert_eq!(meaning(61_300, 62_000), Gap::TooMuchMarked);
    assert_eq!(meaning(63_500, 62_000), Gap::Damp);
    // More than the air can do: a section that has no mark.
    assert_eq!(meaning(70_000, 62_000), Gap::MissedMark);
    // A toe's worth is damp if every section has its mark, and a missed mark if one has none.
    assert_eq!(meaning(64_500, 62_000), Gap::Damp);
    let unmarked = FinishedPair {
        unmarked: 1,
        ..finished(64_500, 62_000)
    };
    assert_eq!(pair_check(unmarked).meaning, Gap::MissedMark);
    let gap = pair_check(finished(63_500, 62_000)).gap;
    assert_eq!(gap.value, Milligrams(1_500));
    assert!((gap.u - (30.0_f32.powi(2) + 60.0_f32.powi(2) + 100.0_f32.powi(2)).sqrt()).abs() < 1e-2);
}

#[test]
fn moisture_widens_what_counts_as_a_gap() {
    let days_later = FinishedPair {
        moisture_u: 800.0,
        ..finished(63_500, 62_000)
    };
    assert_eq!(pair_check(days_later).meaning, Gap::None);
}

/// Hours and grams of a drying pair: exponential, as drying ends.
fn dry_for(drying: &mut Drying, hours: impl Iterator<Item = u32>, settles_at: f32) {
    for hour in hours {
        let weight = settles_at + 24_000.0 * (-(hour as f32) / 5.0).exp();
        drying.weigh(Stamp(hour * 3_600), mg(weight as i32, 20.0));
    }
}

#[test]
fn pair_dries_back_to_its_conditioned_weight() {
    let mut drying = Drying::new(mg(62_000, 100.0));
    assert_eq!(drying.dryness(), None);
    let mut words = Vec::new();
    for hour in 0..40 {
        dry_for(&mut drying, hour..hour + 1, 62_000.0);
        words.push(drying.dryness().unwrap().word);
    }
    assert_eq!(words[0], DryWord::WeighAgain);
    let dry = words.iter().position(|&word| word == DryWord::Dry).unwrap();
    assert!(words[1..dry].iter().all(|&word| word == DryWord::Drying), "{words:?}");
    assert!(words[dry..].iter().all(|&word| word == DryWord::Dry), "{words:?}");
    // 0.2 g above after 5 h x ln(24/0.2).
    assert!((23..=25).contains(&dry), "{dry}");
    let mut drying = Drying::new(mg(62_000, 100.0));
    dry_for(&mut drying, 0..10, 62_000.0);
    let half_way = drying.dryness().unwrap();
    assert_eq!(half_way.above.value.0, (24_000.0 * (-9.0_f32 / 5.0).exp()) as i32);
    assert_eq!(half_way.still, 0);
}

#[test]
fn stalled_above_its_weight_is_not_called_dry() {
    let mut drying = Drying::new(mg(62_000, 100.0));
    dry_for(&mut drying, 0..60, 63_000.0);
    let stalled = drying.dryness().unwrap();
    assert_eq!(stalled.word, DryWord::Stalled);
    assert_eq!(stalled.above.value.0 / 100, 10);
    // Once less than a division of the curve is left, after 5 h x ln(24/0.1) = 27 h, it can fall by one division once more.
    let since = 59 * 3_600 - stalled.still;
    assert!((27 * 3_600..36 * 3_600).contains(&since), "{since:?}");
}

#[test]
fn what_lies_still_from_the_first_weighing_on_is_not_called_drying() {
    let mut drying = Drying::new(mg(62_000, 100.0));
    for minutes in 0..100_u32 {
        drying.weigh(Stamp(minutes * 60), mg(64_000 - (minutes % 2) as i32 * 20, 15.0));
        assert_eq!(drying.dryness().unwrap().word, DryWord::WeighAgain, "{minutes}");
    }
}

#[test]
fn many_small_falls_are_one_fall() {
    let mut drying = Drying::new(mg(50_000, 100.0));
    for quarter in 0..100_u32 {
        drying.weigh(Stamp(quarter * 900), mg(62_000 - quarter as i32 * 30, 10.0));
        // A division is 100 mg: the fourth weighing is the first that has fallen by more.
        if quarter > 3 {
            assert_eq!(drying.dryness().unwrap().word, DryWord::Drying, "{quarter}");
        }
    }
    // A weighing that is not later tells nothing.
    let before = drying;
    drying.weigh(Stamp(900), mg(1_000, 10.0));
    assert_eq!(drying, before);
}

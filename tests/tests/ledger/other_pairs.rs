//! What cakes of the other pairs on the needles are worth to recognition, and when one of them proposes its pair.

use yarn_scale_core::journal::{PairEvent, Record, Setting};
use yarn_scale_core::recognise::{Amount, Elsewhere, Habits, Meaning, OnPan, Situation, consider, proposed};
use yarn_scale_core::sock::{BowlNumber, Fibre, Humidity, Label, Order, Preset, SectionKind, Weight};
use yarn_scale_core::units::{Milligrams, Stamp};

use crate::books::{A, B, HOUR, begun, book, mark_of, measured, of_pair, weigh_in, weigh_in_of, weight};
use crate::situation::{of, on_pan, past};

/// Two pairs of the same plan: pair 1 in hand, of which nothing was weighed but A; of pair 2 as told.
fn beside(order: Order, of_two: &[Record]) -> Vec<Record> {
    let mut records = vec![
        begun(1, Preset::ContrastCuffsHeelsToes, Order::OneAfterTheOther),
        weigh_in(A, 400_000),
        begun(2, Preset::ContrastCuffsHeelsToes, order),
    ];
    records.extend_from_slice(of_two);
    records.push(Record::Setting(Setting::PairInHand(1)));
    records
}

fn elsewhere(records: &[Record], on_pan: &OnPan) -> Vec<Elsewhere> {
    let situation = Situation::of(&book(records), 1, on_pan).expect("a line of the plan");
    situation.elsewhere.to_vec()
}

/// A section's density is told by its amount; whoever presses has finished it in half of the cases, and any yarn may lie there.
#[test]
fn a_cake_of_another_pair_is_untouched_or_its_next_section_is_finished() {
    let likely = |order, of_two: &[Record], mg| {
        let found = elsewhere(&beside(order, of_two), &on_pan(mg));
        assert_eq!(found.len(), 1, "not the pair in hand: {found:?}");
        assert_eq!(found[0].pair, 2);
        found[0]
    };
    let is_half = |found: Elsewhere, amount: Amount, took: f32| {
        let half = 0.5 * amount.density(took, 60.0);
        assert!((found.likely / half - 1.0).abs() < 0.1, "{} {half}", found.likely);
    };
    let sewn = Order::OneAfterTheOther;
    let usual = Amount::usual;
    let fresh = [weigh_in_of(2, B, 60_000)];
    is_half(likely(sewn, &fresh, 55_000), usual(SectionKind::Cuff), 5_000.0);
    let cuff = [weigh_in_of(2, B, 60_000), mark_of(2, 0, B, 55_000)];
    is_half(likely(sewn, &cuff, 48_000), usual(SectionKind::Heel), 7_000.0);
    let skipped = [&cuff[..], &[of_pair(2, PairEvent::Skipped { line: 2 })]].concat();
    is_half(likely(sewn, &skipped, 50_000), usual(SectionKind::Toe), 5_000.0);
    let leg = [weigh_in_of(2, A, 90_000)];
    is_half(likely(sewn, &leg, 75_000), usual(SectionKind::Leg), 15_000.0);
    // As the pair's other sock, where that is known; and as even as her socks are.
    let twelve = [weigh_in_of(2, B, 60_000), mark_of(2, 0, B, 48_000)];
    let as_twin = |habits| Amount::as_other_sock(Milligrams(12_000), 0.0, habits).expect("something");
    is_half(
        likely(Order::TwoAtATime, &twelve, 34_000),
        as_twin(Habits::default()),
        14_000.0,
    );
    let mut habits = Habits::default();
    habits.learn(20_000, 28_000);
    let loose = [
        &[past(101, SectionKind::Leg, [20_000, 28_000])],
        &beside(Order::TwoAtATime, &twelve)[..],
    ]
    .concat();
    is_half(elsewhere(&loose, &on_pan(34_000))[0], as_twin(habits), 14_000.0);
    // Untouched: the other half; the whole, where no section is left.
    let as_it_was = likely(sewn, &cuff, 55_000);
    assert!(
        (as_it_was.likely / as_it_was.as_last - 0.5).abs() < 0.01,
        "{as_it_was:?}"
    );
    let all = [0, 2, 4, 5, 7, 9].map(|line| of_pair(2, PairEvent::Skipped { line }));
    let nothing_next = likely(sewn, &[&fresh[..], &all].concat(), 60_000);
    assert_eq!(nothing_next.likely, nothing_next.as_last);
}

#[test]
fn all_yarns_of_other_pairs_share_and_the_one_it_looks_like_is_named() {
    let sewn = Order::OneAfterTheOther;
    let b = weigh_in_of(2, B, 60_000);
    let one = elsewhere(&beside(sewn, &[b.clone(), b.clone()]), &on_pan(60_000))[0];
    let two = elsewhere(&beside(sewn, &[weigh_in_of(2, A, 150_000), b.clone()]), &on_pan(60_000))[0];
    assert_eq!([one.yarn, two.yarn], [B, B]);
    assert!((one.as_last / two.as_last - 2.0).abs() < 0.01, "{one:?} {two:?}");
    assert!((one.likely / two.likely - 2.0).abs() < 0.01, "{one:?} {two:?}");
    // The other way round in the alphabet: the last is not the one that is named, and both count.
    let first = elsewhere(
        &beside(sewn, &[weigh_in_of(2, A, 60_000), weigh_in_of(2, B, 150_000)]),
        &on_pan(60_000),
    )[0];
    assert_eq!(first.yarn, A);
    assert!(first.as_last > 0.9 * two.as_last, "{first:?} {two:?}");
    let alike = elsewhere(&beside(sewn, &[weigh_in_of(2, A, 60_000), b]), &on_pan(60_000))[0];
    assert!((alike.as_last / one.as_last - 1.0).abs() < 0.02, "{alike:?} {one:?}");
}

/// Of a pair that is finished a yarn can only go on as it was: that tells which.
#[test]
fn a_finished_pairs_yarn_is_named_by_its_last_weight() {
    let of_two = [
        weigh_in_of(2, A, 150_000),
        weigh_in_of(2, B, 60_000),
        Record::PairClosed { pair: 2 },
    ];
    let found = elsewhere(&beside(Order::OneAfterTheOther, &of_two), &on_pan(60_000))[0];
    assert_eq!((found.yarn, found.likely), (B, 0.0));
    assert!(found.as_last > 0.0);
}

/// Water comes and goes with hours, fibre and air, in other pairs' cakes as well.
#[test]
fn moisture_counts_for_the_cakes_of_other_pairs() {
    let as_last = |records: &[Record], on_pan: &OnPan| elsewhere(records, on_pan)[0].as_last;
    let sewn = Order::OneAfterTheOther;
    let records = beside(sewn, &[weigh_in_of(2, B, 60_000)]);
    let soon = OnPan {
        at: Stamp(HOUR * 6),
        ..on_pan(59_000)
    };
    assert!(as_last(&records, &on_pan(59_000)) > 10.0 * as_last(&records, &soon));
    let label = |fibre| Label {
        metres_per_100_g: 420,
        fibre,
    };
    let far = on_pan(57_000);
    let wool = as_last(&records, &far);
    // Of the pair's own label, else of the letter's in general.
    let own = of_pair(
        2,
        PairEvent::Label {
            yarn: B,
            label: label(Fibre::Synthetic),
        },
    );
    let dry = as_last(&beside(sewn, &[weigh_in_of(2, B, 60_000), own]), &far);
    let general = Record::Yarn {
        letter: B,
        label: label(Fibre::Synthetic),
    };
    let general = as_last(&[&[general], &records[..]].concat(), &far);
    assert!(dry < 0.2 * wool && general < 0.2 * wool, "{dry} {general} {wool}");
    // By the sensor: 40 % then and 60 % now make it heavier.
    let sensed = PairEvent::WeighIn {
        yarn: B,
        weight: Weight {
            air: Some(Humidity::from_percent(40.0)),
            ..weight(60_000)
        },
    };
    let sensed = beside(sewn, &[of_pair(2, sensed)]);
    let damper = |humidity| OnPan {
        humidity,
        at: Stamp(HOUR * 240),
        ..on_pan(61_500)
    };
    assert!(as_last(&sensed, &damper(Some(60.0))) > 1.2 * as_last(&sensed, &damper(None)));
}

/// A proposal is for what is plain: of loads that look most like another pair's, those that may be another thing as well propose nothing.
#[test]
fn only_a_load_that_is_plainly_of_another_pair_proposes_it() {
    let records = beside(Order::OneAfterTheOther, &[weigh_in_of(2, B, 60_000)]);
    let known = book(&records);
    let (mut plain, mut doubtful) = (0, 0);
    for mg in (40_000..62_000).step_by(250) {
        let first = consider(&of(&known, 1, mg))[0];
        let is_other = matches!(first.meaning, Meaning::OtherPair { .. });
        let is_plain = is_other && first.share >= 30.0 / 31.0;
        let wanted = is_plain.then_some((2, B));
        assert_eq!(proposed(&known, Some(1), &on_pan(mg)), wanted, "{mg}");
        plain += u32::from(is_plain);
        doubtful += u32::from(is_other && !is_plain);
    }
    assert!(plain > 2 && doubtful > 2, "{plain} {doubtful}");
    // Where the pair in hand has no section left: the other's cake, unless it can be a leftover of its own; in the bowl that is set.
    let bowl = Record::Bowl {
        number: BowlNumber(1),
        mass: measured(50_000),
    };
    let set = Record::Setting(Setting::BowlInUse(Some(BowlNumber(1))));
    let in_bowl = book(&[&records[..], &[bowl, set]].concat());
    assert_eq!(proposed(&in_bowl, None, &on_pan(110_000)), Some((2, B)));
    assert_eq!(proposed(&in_bowl, None, &on_pan(60_000)), None);
    let own = book(&beside(
        Order::OneAfterTheOther,
        &[weigh_in_of(2, B, 60_000), weigh_in(B, 60_000)],
    ));
    assert_eq!(proposed(&own, None, &on_pan(60_000)), None);
    let others_own = book(&beside(
        Order::OneAfterTheOther,
        &[weigh_in_of(2, B, 60_000), weigh_in(B, 20_000)],
    ));
    assert_eq!(proposed(&others_own, None, &on_pan(60_000)), Some((2, B)));
}

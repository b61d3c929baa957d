//! From which weight on a cake is taken for which yarn, and when the scale asks: each rule at its edge.

use yarn_scale_core::journal::Record;
use yarn_scale_core::ledger::{Choice, Finding, WhyAsked, recognise};
use yarn_scale_core::measured::Measured;
use yarn_scale_core::sock::{Weight, YarnLetter};
use yarn_scale_core::units::Milligrams;
use yarn_scale_tests::told::{Told, exactly};

const A: YarnLetter = YarnLetter::A;
const B: YarnLetter = YarnLetter::B;
const C: YarnLetter = YarnLetter::C;

/// A cuff that took 5 g on the other sock takes 5 g again, a factor of two either way; a gram more than that is a question.
#[test]
fn a_section_takes_about_what_it_took_on_the_other_sock() {
    let mut told = Told::begun();
    told.weigh_in(B, 50_000);
    let took = |mg| told.finds(0, 50_000 - mg, Some(5_000));
    for mg in [101, 2_499, 2_500, 5_000, 10_000, 10_001, 11_000] {
        assert_eq!(took(mg), Finding::Section(B, Milligrams(mg)), "{mg}");
    }
    let (why, _) = told.asks(0, 50_000 - 11_001, Some(5_000));
    let by = Milligrams(11_001);
    assert_eq!(why, WhyAsked::Lighter { yarn: B, by });
}

/// Half a percent of moisture, and one division: 0.35 g of 50 g.
#[test]
fn a_cake_may_have_gained_moisture_and_still_be_the_same() {
    let mut told = Told::begun();
    told.weigh_in(B, 50_000);
    let (why, choices) = told.asks(0, 50_350, None);
    assert_eq!(why, WhyAsked::Unchanged { yarn: B });
    assert_eq!(choices, [Choice::NotNow, Choice::WeighIn(A)]);
    let by = Milligrams(351);
    let (why, choices) = told.asks(0, 50_351, None);
    assert_eq!(why, WhyAsked::Heavier { yarn: B, by });
    assert_eq!(choices, [Choice::StartFromHere(B), Choice::WeighIn(A), Choice::NotNow]);
}

/// Below one division nothing was knitted; from one division on it is a section.
#[test]
fn a_second_press_is_no_section() {
    let mut told = Told::begun();
    told.weigh_in(B, 50_000);
    let (why, _) = told.asks(0, 50_000 - 99, Some(200));
    assert_eq!(why, WhyAsked::Unchanged { yarn: B });
    assert_eq!(
        told.finds(0, 50_000 - 100, Some(200)),
        Finding::Section(B, Milligrams(100))
    );
}

#[test]
fn what_weighs_as_another_yarn_did_is_asked_about() {
    let mut told = Told::begun();
    told.weigh_in(A, 20_000);
    // B was not weighed in: half a percent and a division about A's 20 g are A.
    for mg in [19_800, 20_200] {
        let (why, choices) = told.asks(0, mg, None);
        assert_eq!(why, WhyAsked::OtherYarn { planned: B, found: A });
        assert_eq!(choices, [Choice::NotNow, Choice::WeighIn(B)]);
    }
    for mg in [19_799, 20_201] {
        assert_eq!(told.finds(0, mg, None), Finding::WeighIn(B));
    }
    // B weighed 25 g: 20 g could be 5 g of B, or A untouched.
    told.weigh_in(B, 25_000);
    assert_eq!(told.asks(0, 20_000, None).0, WhyAsked::Ambiguous);
    // Heavier than B was, and what C weighed.
    told.weigh_in(C, 30_000);
    let (why, _) = told.asks(0, 30_000, None);
    assert_eq!(why, WhyAsked::OtherYarn { planned: B, found: C });
}

/// A weight that another yarn would more likely have after a section is asked about, unless the planned one is likely, too.
#[test]
fn a_likelier_yarn_is_offered() {
    let mut told = Told::begun();
    told.weigh_in(B, 32_000);
    told.weigh_in(C, 26_000);
    let section = |yarn, mg| Choice::Section {
        yarn,
        used: Milligrams(mg),
    };
    let (why, choices) = told.asks(0, 21_000, Some(5_000));
    assert_eq!(why, WhyAsked::Ambiguous);
    let [section_b, section_c] = [section(B, 11_000), section(C, 5_000)];
    let [fresh, from_here] = [Choice::WeighIn(A), Choice::StartFromHere(B)];
    assert_eq!(choices, [section_b, section_c, Choice::NotNow, fresh, from_here]);
    let (why, choices) = told.asks(0, 20_500, Some(5_000));
    let by = Milligrams(11_500);
    assert_eq!(why, WhyAsked::Lighter { yarn: B, by });
    assert_eq!(
        choices,
        [section(C, 5_500), section(B, 11_500), from_here, fresh, Choice::NotNow]
    );
    assert_eq!(
        told.finds(0, 22_000, Some(5_000)),
        Finding::Section(B, Milligrams(10_000))
    );
}

#[test]
fn a_weigh_in_is_offered_for_planned_yarns_a_section_for_what_went() {
    let mut told = Told::begun();
    for (yarn, mg) in [(A, 100_000), (B, 50_000), (C, 20_000)] {
        told.weigh_in(yarn, mg);
    }
    assert_eq!(told.asks(0, 50_000, None).1, [Choice::NotNow]);
    let section = Choice::Section {
        yarn: B,
        used: Milligrams(1),
    };
    assert_eq!(told.asks(0, 49_999, None).1, [Choice::NotNow, section]);
}

/// Two readings of 30 mg each: three times 42.4 mg, half a percent of 50 g and one division are 0.477 g.
#[test]
fn what_two_readings_are_worth_widens_what_is_the_same() {
    let uncertain = |mg| Weight {
        net: Measured {
            value: Milligrams(mg),
            u: 30.0,
        },
        ..exactly(mg)
    };
    let mut told = Told::begun();
    let weight = uncertain(50_000);
    told.tell(Record::WeighIn { yarn: B, weight }).expect("a first weight");
    let finds = |mg| recognise(&told.ledger, 0, uncertain(mg).net, Some(Milligrams(200))).expect("a line");
    let asks_whether_unchanged = |mg| matches!(finds(mg), Finding::Ask(WhyAsked::Unchanged { .. }, _));
    assert!(asks_whether_unchanged(50_477));
    assert!(!asks_whether_unchanged(50_478));
    // The other way three times 42.4 mg must have gone.
    assert!(asks_whether_unchanged(50_000 - 126));
    assert_eq!(finds(50_000 - 127), Finding::Section(B, Milligrams(127)));
}

/// Half of what the other sock took, or a third of what is usual, is the least that is likely.
#[test]
fn a_small_section_is_asked_about_where_another_yarn_is_likelier() {
    let finds = |took, expected| {
        let mut told = Told::begun();
        told.weigh_in(B, 21_000 + took);
        told.weigh_in(C, 26_000);
        told.finds(0, 21_000, expected)
    };
    let is_ambiguous = |took, expected| matches!(finds(took, expected), Finding::Ask(WhyAsked::Ambiguous, _));
    assert!(is_ambiguous(2_499, Some(5_000)));
    assert_eq!(finds(2_500, Some(5_000)), Finding::Section(B, Milligrams(2_500)));
    for none in [None, Some(0)] {
        assert!(is_ambiguous(1_665, none));
        assert_eq!(finds(1_666, none), Finding::Section(B, Milligrams(1_666)));
    }
}

//! The question that follows from what is considered: which choices stand in it, in which order, and why it is asked. What is considered
//! is written down here, so that each rule stands alone.

use yarn_scale_core::measured::Measured;
use yarn_scale_core::recognise::{
    Amount, Cake, Choice, Considered, Late, Meaning, Next, Situation, Source, WhyAsked, ask, consider,
};
use yarn_scale_core::sock::{BowlNumber, Line, Order, Plan, Preset, SectionKind, Weight, YarnLetter};
use yarn_scale_core::units::{Milligrams, Stamp};

const A: YarnLetter = YarnLetter::A;
const B: YarnLetter = YarnLetter::B;

fn measured(mg: i32) -> Measured {
    Measured {
        value: Milligrams(mg),
        u: 20.0,
    }
}

fn cake(yarn: YarnLetter, used: i32, lines: &[u8]) -> Cake {
    let amount = Amount::usual(SectionKind::Cuff);
    Cake {
        yarn,
        last: measured(90_000),
        used: measured(used),
        next: lines.iter().map(|&line| Next { line, amount }).collect(),
        before: None,
    }
}

fn plan() -> Plan {
    let lines = Preset::OneYarn.lines(Order::OneAfterTheOther);
    Plan { lines }
}

fn line(place: u8) -> Line {
    plan().line(place).expect("a line of the plan")
}

/// 23 g went of A, whose sections at 0, 2 and 4 are open; 7 g of B, whose are at 1 and 3, if it is that which lies there.
fn situation() -> Situation {
    Situation {
        net: measured(67_000),
        planned: A,
        cakes: [cake(A, 23_000, &[0, 2, 4]), cake(B, 7_000, &[1, 3])]
            .into_iter()
            .collect(),
        fresh: heapless::Vec::new(),
        bowls: heapless::Vec::new(),
        elsewhere: heapless::Vec::new(),
        late: None,
        visits: 0,
    }
}

fn late() -> Late {
    Late {
        line: 0,
        section: line(0),
        yarn: A,
        visited: Stamp(7),
        weight: Weight {
            net: measured(85_000),
            bowl: None,
            air: None,
        },
        used: Milligrams(5_000),
        then: Some((2, line(2), Milligrams(18_000))),
        before: None,
    }
}

fn considered(meanings: &[Meaning]) -> Vec<Considered> {
    let share = 0.5;
    meanings.iter().map(|&meaning| Considered { meaning, share }).collect()
}

fn choices(situation: &Situation, meanings: &[Meaning]) -> Vec<Choice> {
    ask(situation, &considered(meanings), &plan()).1.to_vec()
}

fn why(situation: &Situation, meanings: &[Meaning]) -> WhyAsked {
    ask(situation, &considered(meanings), &plan()).0
}

fn section(place: u8, yarn: YarnLetter, used: i32) -> Choice {
    Choice::Section {
        line: place,
        section: line(place),
        yarn,
        used: Milligrams(used),
    }
}

fn from_here(yarn: YarnLetter, mg: i32) -> Choice {
    let unplanned = Milligrams(mg);
    Choice::StartFromHere { yarn, unplanned }
}

fn forgotten(seen: bool) -> Meaning {
    Meaning::Forgotten {
        line: 2,
        yarn: A,
        used: Milligrams(23_000),
        seen,
    }
}

/// "Not now" first, and what can always be: the section, and that what went belongs to none. Then the likeliest stands between.
#[test]
fn each_meaning_has_its_choice_in_its_place() {
    let always = [section(0, A, 23_000), from_here(A, 23_000)];
    let all = |first: &[Choice]| {
        let rest = always.iter().filter(|always| !first.contains(always));
        [&[Choice::NotNow], first, &rest.copied().collect::<Vec<_>>()].concat()
    };
    let plain = situation();
    assert_eq!(choices(&plain, &[]), all(&[]));
    for nothing in [
        Meaning::UnknownBowl,
        Meaning::Early,
        Meaning::Disturbed,
        Meaning::Damp,
        Meaning::Anything,
    ] {
        assert_eq!(choices(&plain, &[nothing]), all(&[]), "{nothing:?}");
    }
    // Nobody knows which cake it is, and no yarn waits for its first weight.
    assert_eq!(choices(&plain, &[Meaning::UnknownCake]), all(&[]));
    let used = Milligrams(23_000);
    let of_line = |line, yarn| Meaning::Section { line, yarn, used };
    assert_eq!(
        choices(&plain, &[of_line(3, B)]),
        all(&[section(3, B, 7_000)]),
        "its own line, not the yarn's next"
    );
    assert_eq!(
        choices(&plain, &[Meaning::Untouched(B)]),
        all(&[Choice::NothingUsed(B)])
    );
    assert_eq!(choices(&plain, &[Meaning::RippedBack(B)]), all(&[from_here(B, 7_000)]));
    assert_eq!(choices(&plain, &[Meaning::TwoCakes]), all(&[Choice::NothingUsed(A)]));
    assert_eq!(choices(&plain, &[Meaning::FirstWeight(B)]), all(&[Choice::WeighIn(B)]));
    let (pair, yarn) = (2, B);
    assert_eq!(
        choices(&plain, &[Meaning::OtherPair { pair, yarn }]),
        all(&[Choice::OtherPair(2)])
    );
    let goes_on = Choice::GoesOn {
        from: 2,
        was: B,
        yarn: A,
    };
    assert_eq!(choices(&plain, &[Meaning::GoesOn { pair, yarn }]), all(&[goes_on]));
    let bowl = Some(BowlNumber(1));
    let other_bowl = Meaning::OtherBowl {
        bowl,
        line: 0,
        yarn: A,
        used,
    };
    let in_bowl = Choice::OtherBowl { bowl, yarn: A, used };
    assert_eq!(choices(&plain, &[other_bowl]), all(&[in_bowl]));
    // In the order of what is likely, each once.
    let mixed = [
        Meaning::Untouched(B),
        other_bowl,
        of_line(0, A),
        Meaning::TwoCakes,
        Meaning::Untouched(A),
    ];
    let order = [
        Choice::NothingUsed(B),
        in_bowl,
        section(0, A, 23_000),
        Choice::NothingUsed(A),
    ];
    assert_eq!(choices(&plain, &mixed), all(&order));
}

/// Where the pan has seen the boundary, both marks; else what both took belongs to no section. That all of it was one section stands where that is likely, or last.
#[test]
fn a_forgotten_mark_is_made_good_where_it_belonged() {
    let whole = [section(0, A, 23_000), from_here(A, 23_000)];
    let mut seen = situation();
    seen.late = Some(late());
    let then = Meaning::Untouched(B);
    let nothing = Choice::NothingUsed(B);
    let with = |situation: &Situation, is_seen| choices(situation, &[forgotten(is_seen), then]);
    assert_eq!(
        with(&seen, true),
        [Choice::NotNow, Choice::Both(late()), nothing, whole[0], whole[1]]
    );
    assert_eq!(with(&seen, false), [Choice::NotNow, whole[1], nothing, whole[0]]);
    assert_eq!(with(&situation(), false), [Choice::NotNow, whole[1], nothing, whole[0]]);
}

#[test]
fn a_cake_that_nobody_knows_is_what_waits_for_its_first_weight() {
    let mut one = situation();
    one.fresh = [B, YarnLetter::C].into_iter().collect();
    let first = choices(&one, &[Meaning::UnknownCake]);
    assert_eq!(first.get(..2), Some(&[Choice::NotNow, Choice::WeighIn(B)][..]));
    // Nothing is known of the planned yarn: that it is weighed in can always be, and there is no section yet.
    one.cakes.remove(0);
    assert_eq!(choices(&one, &[]), [Choice::NotNow, Choice::WeighIn(A)]);
}

/// Heavier than it was, no section is finished. 0.04 g is shown as nothing, either way.
#[test]
fn amounts_that_are_none_are_not_offered() {
    let of = |used| {
        let mut one = situation();
        one.cakes[0].used = measured(used);
        choices(&one, &[])
    };
    assert_eq!(of(-3_000), [Choice::NotNow, from_here(A, -3_000)]);
    assert_eq!(of(40), [Choice::NotNow, section(0, A, 40)]);
    assert_eq!(of(-40), [Choice::NotNow]);
    assert_eq!(of(60), [Choice::NotNow, section(0, A, 60), from_here(A, 60)]);
}

/// A ten-thousandth is worth a line, half of that is not.
#[test]
fn what_is_hardly_likely_is_not_offered() {
    let of = |share| {
        let meaning = Meaning::Untouched(B);
        let (_, choices) = ask(&situation(), &[Considered { meaning, share }], &plan());
        choices.contains(&Choice::NothingUsed(B))
    };
    assert_eq!([of(0.000_2), of(0.000_05)], [true, false]);
}

/// No yarn weighs less than nothing: the bowl is not there, and of such a weight nothing can be noted.
#[test]
fn less_than_the_bowl_is_asked_about_and_never_noted() {
    let mut below = situation();
    let bowl_of = |bowl, yarn| Meaning::OtherBowl {
        bowl,
        line: 0,
        yarn,
        used: Milligrams(5_000),
    };
    let bare = Choice::OtherBowl {
        bowl: None,
        yarn: A,
        used: Milligrams(5_000),
    };
    let considered = [
        bowl_of(None, A),
        Meaning::Untouched(A),
        Meaning::Section {
            line: 1,
            yarn: B,
            used: Milligrams(7_000),
        },
    ];
    for (net, asked) in [(-31_000, true), (-151, true), (-149, false), (0, false)] {
        below.net = measured(net);
        let (why, choices) = (why(&below, &considered), choices(&below, &considered));
        assert_eq!(why == WhyAsked::BowlMissing, asked, "{net}");
        assert_eq!(choices == [Choice::NotNow, bare], asked, "{net}: {choices:?}");
    }
    // It may be a heavy doubt about the zero as well.
    below.net = Measured {
        u: 2_000.0,
        ..measured(-3_000)
    };
    assert!(why(&below, &considered) != WhyAsked::BowlMissing);
    below.net = measured(-31_000);
    assert_eq!(choices(&below, &[Meaning::UnknownCake]), [Choice::NotNow]);
}

#[test]
fn why_it_is_asked() {
    let used = Milligrams(7_000);
    let plain = situation();
    let odd = WhyAsked::Amount {
        section: line(0),
        used: Milligrams(23_000),
        expected: Milligrams(5_000),
        source: Source::Usual,
    };
    let another = WhyAsked::OtherYarn { planned: A, found: B };
    let (pair, yarn) = (2, B);
    let other_pair = WhyAsked::OtherPair { pair, yarn };
    let cases = [
        (Meaning::UnknownCake, odd),
        (forgotten(false), odd),
        (Meaning::Early, odd),
        (Meaning::Section { line: 2, yarn: A, used }, odd),
        (Meaning::RippedBack(A), odd),
        (Meaning::Untouched(B), another),
        (Meaning::RippedBack(B), another),
        (Meaning::Section { line: 1, yarn: B, used }, another),
        (Meaning::OtherPair { pair, yarn }, other_pair),
        (Meaning::GoesOn { pair, yarn }, other_pair),
        (Meaning::TwoCakes, WhyAsked::TwoCakes),
        (Meaning::Untouched(A), WhyAsked::Unchanged { yarn: A }),
    ];
    for (likeliest, told) in cases {
        // Only the likeliest counts.
        assert_eq!(
            why(&plain, &[likeliest, Meaning::Untouched(B), Meaning::TwoCakes]),
            told,
            "{likeliest:?}"
        );
    }
    let mut heavier = situation();
    heavier.cakes[0].used = measured(-95_000);
    let by = Milligrams(95_000);
    assert_eq!(
        why(&heavier, &[Meaning::UnknownBowl]),
        WhyAsked::Heavier { yarn: A, by }
    );
    // At a first weight there is nothing to compare with but what it looks like, however likely that is.
    let mut first = situation();
    first.cakes.remove(0);
    let meanings = |known| [Meaning::FirstWeight(A), Meaning::UnknownCake, known];
    for known in [
        Meaning::Untouched(B),
        Meaning::Section { line: 1, yarn: B, used },
        Meaning::RippedBack(B),
    ] {
        assert_eq!(why(&first, &meanings(known)), another, "{known:?}");
    }
    for known in [Meaning::GoesOn { pair, yarn }, Meaning::OtherPair { pair, yarn }] {
        assert_eq!(why(&first, &meanings(known)), other_pair, "{known:?}");
    }
}

/// Noted without a word: the section that comes next or the planned yarn's first weight, at thirty to one. Nothing else, however likely.
#[test]
fn only_what_is_planned_is_noted_without_a_word() {
    let used = Milligrams(7_000);
    let at = |situation: &Situation, meaning, share| situation.certain(&[Considered { meaning, share }]);
    let plain = situation();
    let next = Meaning::Section { line: 0, yarn: A, used };
    assert_eq!(at(&plain, next, 0.968), Some(next));
    assert_eq!(at(&plain, next, 0.967), None, "29.3 to one");
    let others = [
        Meaning::Section { line: 2, yarn: A, used },
        Meaning::Section { line: 0, yarn: B, used },
        Meaning::FirstWeight(B),
        Meaning::Untouched(A),
        Meaning::RippedBack(A),
        forgotten(true),
        Meaning::GoesOn { pair: 2, yarn: B },
    ];
    for other in others {
        assert_eq!(at(&plain, other, 1.0), None, "{other:?}");
    }
    let first = Meaning::FirstWeight(A);
    assert_eq!([at(&plain, first, 0.99), at(&plain, first, 0.9)], [Some(first), None]);
}

/// What cannot be has no place among what is considered.
#[test]
fn nothing_impossible_is_considered() {
    for net in [300, 5_000, 67_000, 90_000, 130_000, 480_000] {
        let mut one = situation();
        one.net = measured(net);
        for cake in &mut one.cakes {
            cake.used = measured(90_000 - net);
        }
        let all = consider(&one);
        assert!(all.iter().all(|considered| considered.share > 0.0), "{net}: {all:?}");
    }
}

//! The plan for a drawer of leftovers: exact against trying everything, fast enough, and what it says.

use std::time::Instant;

use proptest::prelude::*;
use yarn_scale_core::forecast::{Rule, Socks, Wanted};
use yarn_scale_core::sock::{Decitex, History};
use yarn_scale_core::units::Milligrams;
use yarn_scale_sim::computer::plan::{
    Leftover, Numbers, Sections, Set, Unplannable, Worth, as_json, leftover, solve, table,
};
use yarn_scale_tests::sections::{CUFF, CUFFS, HEEL, TOE, history, wanted};

const SCRAP: Milligrams = Milligrams(1_000);

fn leftovers(masses: &[i32]) -> Vec<Leftover> {
    let named = masses.iter().zip('A'..);
    named
        .map(|(&mass, name)| Leftover {
            name: name.to_string(),
            mass: Milligrams(mass),
        })
        .collect()
}

fn numbers(takes: &[i32]) -> Sections {
    let sections: Vec<Numbers> = takes
        .iter()
        .zip('a'..)
        .map(|(&takes, name)| Numbers {
            name: name.to_string(),
            takes: f64::from(takes),
            spread: None,
        })
        .collect();
    Sections::from_numbers(&sections, Rule::default(), 4, Decitex(2_381)).unwrap()
}

/// Tries every assignment of every section to every leftover or none.
fn by_trying_everything(leftovers: &[Leftover], sections: &Sections) -> Worth {
    let choices = leftovers.len() + 1;
    let mut best = Worth::default();
    for number in 0..choices.pow(sections.count() as u32) {
        let mut sets = vec![0 as Set; choices];
        let mut rest = number;
        for section in 0..sections.count() {
            sets[rest % choices] |= 1 << section;
            rest /= choices;
        }
        let each = leftovers
            .iter()
            .zip(&sets)
            .map(|(leftover, &set)| Worth::of(leftover, sections, set, SCRAP));
        let together = each.collect::<Option<Vec<_>>>().map(|all| {
            all.iter().fold(Worth::default(), |sum, one| Worth {
                knitted: sum.knitted + one.knitted,
                used_up: sum.used_up + one.used_up,
                unopened: sum.unopened + one.unopened,
            })
        });
        best = best.max(together.unwrap_or_default());
    }
    best
}

fn check(leftovers: &[Leftover], sections: &Sections) -> Worth {
    let found = solve(leftovers, sections, SCRAP);
    // The plan is a plan: no section twice, none short, and worth what it says.
    let mut covered: Set = 0;
    let mut knitted = 0;
    for (leftover, &set) in leftovers.iter().zip(&found.sets) {
        assert_eq!(covered & set, 0);
        covered |= set;
        assert!(set == 0 || sections.need(set) <= leftover.mass);
        knitted += if set == 0 { 0 } else { sections.expected(set).0 };
    }
    assert_eq!(found.sets.len(), leftovers.len());
    assert_eq!(knitted, found.worth.knitted);
    found.worth
}

proptest! {
    #[test]
    fn nothing_better_is_found_by_trying_everything(
        masses in prop::collection::vec(0_i32..25_000, 0..4),
        takes in prop::collection::vec(0_i32..9_000, 1..6),
    ) {
        let (leftovers, sections) = (leftovers(&masses), numbers(&takes));
        prop_assert_eq!(check(&leftovers, &sections), by_trying_everything(&leftovers, &sections));
    }

    /// Few distinct masses give many ties, which the second and third aim decide.
    #[test]
    fn ties_are_decided_as_stated(
        masses in prop::collection::vec((1_i32..6).prop_map(|grams| grams * 2_500), 1..4),
        takes in prop::collection::vec((1_i32..4).prop_map(|grams| grams * 2_000), 1..6),
    ) {
        let (leftovers, sections) = (leftovers(&masses), numbers(&takes));
        prop_assert_eq!(check(&leftovers, &sections), by_trying_everything(&leftovers, &sections));
    }

    /// Needs that do not add up: by the records, several sections together have less reserve than each alone.
    #[test]
    fn needs_by_records_are_solved_exactly_too(masses in prop::collection::vec(0_i32..25_000, 1..4)) {
        let sections = by_records();
        let leftovers = leftovers(&masses);
        prop_assert_eq!(check(&leftovers, &sections), by_trying_everything(&leftovers, &sections));
    }
}

fn records() -> History {
    let toes = [[2.4, 2.5], [2.6, 2.5], [2.5, 2.4], [2.5, 2.5]];
    let heels = [[3.4, 3.3], [3.1, 3.2], [3.3, 3.4], [3.0, 3.1]];
    history(&[(CUFF, &CUFFS), (HEEL, &heels), (TOE, &toes)])
}

fn by_records() -> Sections {
    let both = |section| wanted(section, Socks::Both);
    let one = |section| wanted(section, Socks::One);
    let sections: [(&str, Wanted); 5] = [
        ("cuffs", both(CUFF)),
        ("heel 1", one(HEEL)),
        ("heel 2", one(HEEL)),
        ("toe 1", one(TOE)),
        ("toe 2", one(TOE)),
    ];
    let named = sections.map(|(name, section)| (name.to_owned(), section));
    Sections::from_history(&named, &records(), Rule::default()).unwrap()
}

#[test]
fn one_section_on_each_sock_counts_as_both_socks() {
    let sections = by_records();
    let together = Sections::from_history(
        &[("toes".to_owned(), wanted(TOE, Socks::Both))],
        &records(),
        Rule::default(),
    )
    .unwrap();
    assert_eq!(sections.need(0b11000), together.need(1));
    assert!(sections.need(0b11000) < sections.need(0b01000) + sections.need(0b10000));
    assert_eq!(sections.names(0b10001), ["cuffs", "toe 2"]);
    let unknown = Wanted::contrast(TOE.0, CUFF.1, wanted(TOE, Socks::One).size, Socks::One);
    let unknown = Sections::from_history(&[("odd".to_owned(), unknown)], &records(), Rule::default());
    assert_eq!(unknown, Err(Unplannable::Unknown));
}

#[test]
fn grams_come_first_then_leftovers_used_up_then_few_opened() {
    // Both toes at 4 g need 5 g by a quarter over. 5.0 g is used up by them; 9 g would keep 5.
    let worth = |masses: &[i32], takes: &[i32]| check(&leftovers(masses), &numbers(takes));
    assert_eq!(
        worth(&[9_000, 5_000], &[4_000]),
        Worth {
            knitted: 4_000,
            used_up: 1,
            unopened: -1
        }
    );
    // One leftover holds both sections: it is opened alone although two would do.
    assert_eq!(
        worth(&[20_000, 20_000], &[4_000, 4_000]),
        Worth {
            knitted: 8_000,
            used_up: 0,
            unopened: -1
        }
    );
    // More grams win over a leftover used up.
    assert_eq!(
        worth(&[8_750], &[7_000, 6_900]),
        Worth {
            knitted: 7_000,
            used_up: 0,
            unopened: -1
        }
    );
    // Nothing does: nothing is planned.
    assert_eq!(worth(&[4_999], &[4_000]), Worth::default());
    assert_eq!(worth(&[], &[4_000]), Worth::default());
}

#[test]
fn numbers_with_a_spread_have_the_reserve_of_an_interval() {
    let section = |spread| Numbers {
        name: "toes".to_owned(),
        takes: 4_800.0,
        spread,
    };
    let need = |spread| {
        Sections::from_numbers(&[section(spread)], Rule::default(), 4, Decitex(2_381))
            .unwrap()
            .need(1)
    };
    // t(0.95; 4) = 2.132 times 300 mg times sqrt(1 + 1/5), and four ends of 15 cm.
    assert_eq!(need(Some((300.0, 5))), Milligrams(4_800 + 701 + 143));
    assert_eq!(need(None), Milligrams(6_000));
    let many: Vec<Numbers> = (0..13).map(|_| section(None)).collect();
    assert_eq!(
        Sections::from_numbers(&many, Rule::default(), 4, Decitex(2_381)),
        Err(Unplannable::TooMany)
    );
}

#[test]
fn twelve_leftovers_and_twelve_sections_take_less_than_a_tenth_second() {
    // Everything fits everywhere: nothing can be ruled out early, the longest case.
    let takes: Vec<i32> = (0..12).map(|place| 2_000 + 137 * place).collect();
    let masses: Vec<i32> = (0..12).map(|place| 100_000 + 1_000 * place).collect();
    let hard: Vec<i32> = (0..12).map(|place| 4_100 + 977 * (place * 5 % 12)).collect();
    for masses in [masses, hard] {
        let (leftovers, sections) = (leftovers(&masses), numbers(&takes));
        let begun = Instant::now();
        let found = solve(&leftovers, &sections, SCRAP);
        let took = begun.elapsed();
        println!("12 leftovers, 12 sections: {took:?}, {:?}", found.worth);
        assert!(found.worth.knitted > 0);
        assert!(took.as_millis() < 100, "{took:?}");
    }
}

#[test]
fn plan_is_printed_for_people_and_for_machines() {
    let (leftovers, sections) = (leftovers(&[12_400, 6_000]), numbers(&[4_800, 9_000, 30_000]));
    let best = solve(&leftovers, &sections, SCRAP);
    let text = table(&leftovers, &sections, &best);
    assert!(text.contains("A           12.4     9.0    11.2     3.4  b"), "{text}");
    assert!(text.contains("from other yarn: c, 30.0 g"), "{text}");
    assert!(text.contains("13.8 g of leftovers will be used"), "{text}");
    let json = as_json(&leftovers, &sections, &best);
    assert_eq!(json["plan"][1]["sections"][0], "a");
    assert_eq!(
        (json["knitted_up_mg"].as_i64(), json["other_yarn"]["takes_mg"].as_i64()),
        (Some(13_800), Some(30_000))
    );
}

#[test]
fn a_decimal_comma_gets_a_hint() {
    let said = leftover("green=12,4").expect_err("a comma");
    assert_eq!(said, "12,4: write the decimal point as a point, 12.4");
    assert_eq!(
        leftover("green=lots").expect_err("no number"),
        "lots is not a number of grams"
    );
}

//! Will it do, and the way out: choices, their order, and what holds for any history.

use proptest::prelude::*;
use yarn_scale_core::forecast::{Rule, Socks, Source, Wanted, Word, answer, way_out, will_it_do};
use yarn_scale_core::measured::Measured;
use yarn_scale_core::sock::{History, PairRecord, SectionKind, Sock};
use yarn_scale_core::units::Milligrams;
use yarn_scale_tests::sections::{CUFF, CUFFS, FOOT, HEEL, SIZE, TOE, ask, grams, history, wanted};

/// Common practice, no source: a 20 g mini skein is what one buys for cuffs, heels and toes of a pair.
#[test]
fn mini_skein_of_twenty_grams_is_a_candidate_for_all_contrast_sections() {
    let sections = [(CUFF, 2.9), (HEEL, 2.9), (TOE, 2.3)];
    let by_estimate =
        sections.map(|(section, taken)| wanted(section, Socks::Both).with_estimate(Milligrams((taken * 1e3) as i32)));
    let uses: Vec<Vec<[f32; 2]>> = sections
        .map(|(_, taken)| {
            [0.98, 1.03, 1.0, 0.99]
                .map(|factor| [taken * factor, taken * factor + 0.05])
                .to_vec()
        })
        .to_vec();
    let recorded = history(&[(CUFF, &uses[0]), (HEEL, &uses[1]), (TOE, &uses[2])]);
    let choices = will_it_do(grams(20.0), &by_estimate, &recorded, Rule::default());
    assert_eq!(choices.len(), 14);
    let best = choices.first().unwrap();
    assert_eq!(
        (best.kinds.count(), best.socks, best.answer.word),
        (3, Socks::Both, Word::Enough)
    );
    // By the estimate and a quarter over it is not ruled out.
    let choices = will_it_do(grams(20.0), &by_estimate, &History::default(), Rule::default());
    let all = choices
        .iter()
        .find(|choice| choice.kinds.count() == 3 && choice.socks == Socks::Both);
    assert_eq!(all.unwrap().answer.word, Word::Close);
}

#[test]
fn best_use_comes_first() {
    let past = history(&[(CUFF, &CUFFS), (TOE, &[[2.4, 2.5], [2.6, 2.5], [2.5, 2.4], [2.5, 2.5]])]);
    let sections = [wanted(CUFF, Socks::Both), wanted(TOE, Socks::Both)];
    let order = |left: f32| -> Vec<(String, Word)> {
        let choices = will_it_do(grams(left), &sections, &past, Rule::default());
        choices
            .iter()
            .map(|choice| {
                let kinds: Vec<_> = choice.kinds.kinds().map(|kind| format!("{kind:?}")).collect();
                (format!("{} {:?}", kinds.join("+"), choice.socks), choice.answer.word)
            })
            .collect()
    };
    let names = |order: &[(String, Word)]| order.iter().map(|(name, _)| name.clone()).collect::<Vec<_>>();
    let twelve = order(12.0);
    assert_eq!(
        names(&twelve)[..3],
        ["Cuff Both", "Toe Both", "Cuff+Toe One"],
        "{twelve:?}"
    );
    assert_eq!(twelve.last().unwrap(), &("Cuff+Toe Both".to_owned(), Word::Short));
    let six = order(6.0);
    assert_eq!(names(&six)[..3], ["Toe Both", "Cuff One", "Toe One"], "{six:?}");
    // Of what does not do, what misses least comes first.
    assert_eq!(
        names(&six)[3..],
        ["Cuff+Toe One", "Cuff Both", "Cuff+Toe Both"],
        "{six:?}"
    );
}

/// A hat, a single sock: who knits one of it is not told what two would take.
#[test]
fn what_is_wanted_once_is_offered_once() {
    let past = history(&[(CUFF, &CUFFS), (TOE, &[[2.4, 2.5]])]);
    let socks = |cuff, toe| -> Vec<(u32, Socks)> {
        let sections = [wanted(CUFF, cuff), wanted(TOE, toe)];
        let choices = will_it_do(grams(30.0), &sections, &past, Rule::default());
        choices
            .iter()
            .map(|choice| (choice.kinds.count(), choice.socks))
            .collect()
    };
    let once = socks(Socks::One, Socks::One);
    assert_eq!(once.len(), 3);
    assert!(once.iter().all(|&(_, socks)| socks == Socks::One), "{once:?}");
    let mixed = socks(Socks::Both, Socks::One);
    let both: Vec<_> = mixed.iter().filter(|&&(_, socks)| socks == Socks::Both).collect();
    assert_eq!(both, [&(1, Socks::Both)], "the cuffs, and never with the one toe");
}

#[test]
fn nothing_known_gives_no_answer_and_nothing_wanted_is_enough() {
    assert_eq!(
        answer(
            grams(5.0),
            &[wanted(TOE, Socks::One)],
            &History::default(),
            Rule::default()
        ),
        None
    );
    assert!(
        will_it_do(
            grams(5.0),
            &[wanted(TOE, Socks::One)],
            &History::default(),
            Rule::default()
        )
        .is_empty()
    );
    let idle = ask(5.0, &[], &History::default());
    assert_eq!(
        (idle.word, idle.need, idle.basis.source),
        (Word::Enough, Milligrams(0), Source::Nothing)
    );
}

#[test]
fn way_out_changes_the_least() {
    let past = history(&[
        (HEEL, &[[5.0, 5.1], [5.1, 5.0], [4.9, 5.0]]),
        (TOE, &[[2.4, 2.5], [2.6, 2.5], [2.5, 2.4]]),
        (FOOT, &[[14.0, 14.2], [14.4, 14.1], [14.1, 14.3]]),
    ]);
    let rest = [(HEEL, 1), (FOOT, 0), (TOE, 1)].map(|(section, ends)| Wanted {
        ends,
        ..wanted(section, Socks::Both)
    });
    let find = |left: f32| way_out(grams(left), &rest, &past, Rule::default());
    let kinds = |left: f32| find(left).map(|way| way.change.kinds().collect::<Vec<_>>());
    assert_eq!(find(50.0), None, "enough as it is");
    assert_eq!(kinds(41.0), Some(vec![SectionKind::Toe]));
    assert_eq!(kinds(36.0), Some(vec![SectionKind::Heel]));
    assert_eq!(kinds(32.0), Some(vec![SectionKind::Heel, SectionKind::Toe]));
    // Feet in another yarn only where contrast sections do not suffice, and then with the feet alone if that does.
    assert_eq!(kinds(20.0), Some(vec![SectionKind::Foot]));
    let way = find(36.0).unwrap();
    assert_eq!(way.rest.word, Word::Enough);
    assert!(
        way.other.need > Milligrams(10_000) && way.other.need < Milligrams(11_500),
        "{:?}",
        way.other
    );
    // Heels in the middle of the yarn had one end each; in another yarn they have two.
    let whole = ask(0.0, &[wanted(HEEL, Socks::Both)], &past);
    assert_eq!(way.other.expected, whole.expected);
    // A section that is begun stays.
    let mut begun = rest;
    begun[0].begun = Milligrams(500);
    let way = way_out(grams(30.0), &begun, &past, Rule::default()).unwrap();
    assert!(!way.change.has(SectionKind::Heel));
}

fn any_history() -> impl Strategy<Value = History> {
    let uses = prop::collection::vec([[2_000_i32..6_000, 2_000..6_000], [1_500..4_000, 1_500..4_000]], 0..8);
    uses.prop_map(|pairs| {
        let mut history = History::default();
        for (number, pair) in (1..).zip(pairs) {
            let mut record = PairRecord::new(number);
            for ((kind, construction), socks) in [CUFF, TOE].into_iter().zip(pair) {
                for (sock, used) in [Sock::First, Sock::Second].into_iter().zip(socks) {
                    let used = Measured {
                        value: Milligrams(used),
                        u: 20.0,
                    };
                    record.add(kind, construction, SIZE, sock, used);
                }
            }
            history.record(record);
        }
        history
    })
}

proptest! {
    #[test]
    fn more_yarn_is_never_worse(past in any_history(), left in 0_i32..60_000, more in 0_i32..10_000) {
        let sections = [CUFF, TOE].map(|section| wanted(section, Socks::Both).with_estimate(Milligrams(3_000)));
        let ask = |mass: i32| {
            let left = Measured { value: Milligrams(mass), u: 20.0 };
            answer(left, &sections, &past, Rule::default()).unwrap()
        };
        let (less, more) = (ask(left), ask(left + more));
        prop_assert!(more.word <= less.word);
        prop_assert_eq!(less.need, more.need);
        prop_assert!(less.least <= less.expected && less.expected <= less.need);
        prop_assert_eq!(less.word == Word::Enough, less.spare().0 >= 0);
        prop_assert_eq!(less.spare(), Milligrams(left) - less.need);
    }

    #[test]
    fn more_confidence_never_needs_less(past in any_history(), low in 0.5_f32..0.99, step in 0.0_f32..0.009) {
        let sections = [CUFF, TOE].map(|section| wanted(section, Socks::One).with_estimate(Milligrams(3_000)));
        let need = |confidence| {
            let rule = Rule { confidence, ..Rule::default() };
            answer(grams(10.0), &sections, &past, rule).unwrap().need
        };
        prop_assert!(need(low) <= need(low + step));
    }

    #[test]
    fn adding_a_section_never_needs_less(past in any_history()) {
        let [cuff, toe] = [CUFF, TOE].map(|section| wanted(section, Socks::Both).with_estimate(Milligrams(3_000)));
        let expected = |sections: &[Wanted]| answer(grams(10.0), sections, &past, Rule::default()).unwrap().expected;
        prop_assert!(expected(&[cuff, toe]) > expected(&[cuff]).max(expected(&[toe])));
    }

    #[test]
    fn choices_are_sorted_and_complete(past in any_history(), left in 0_i32..60_000) {
        let sections = [CUFF, TOE].map(|section| wanted(section, Socks::Both).with_estimate(Milligrams(3_000)));
        let leftover = Measured { value: Milligrams(left), u: 20.0 };
        let choices = will_it_do(leftover, &sections, &past, Rule::default());
        prop_assert_eq!(choices.len(), 6);
        prop_assert!(choices.windows(2).all(|two| two[0].answer.word <= two[1].answer.word));
    }
}

//! The map of pages in `hardware-notes/pages.md` is walked press by press: each row arrives where it says, within three presses.

use yarn_scale_core::journal::Language;
use yarn_scale_core::screen::{Body, ItemLabel, KeyWord, MAX_ROWS, Word};
use yarn_scale_core::sock::{SectionKind, YarnLetter};
use yarn_scale_sim::lab::pages::page_of;
use yarn_scale_tests::bench::{Bench, Key};

const MAP: &str = include_str!("../../../hardware-notes/pages.md");

/// A row of the map: action, presses, page.
fn rows() -> Vec<(String, Vec<String>, String)> {
    let rows = MAP.lines().filter(|line| line.starts_with("| ") && line.contains('`'));
    rows.map(|line| {
        let cells: Vec<&str> = line.trim_matches('|').split('|').map(str::trim).collect();
        let presses = cells[1].split('`').skip(1).step_by(2).map(str::to_owned).collect();
        (cells[0].to_owned(), presses, cells[2].trim_matches('`').to_owned())
    })
    .collect()
}

/// At home, a pair begun and its first yarn weighed in, a cake on the pan.
fn home() -> Bench {
    let mut bench = Bench::new();
    bench.begin_pair();
    bench.put(20.0);
    bench.press(Key::Mark);
    bench.take();
    bench.put(17.0);
    bench.wait(8.0);
    bench
}

fn follow(bench: &mut Bench, press: &str) {
    match press {
        "MARK" => bench.press(Key::Mark),
        "hold MARK" => bench.hold(Key::Mark),
        "NEXT" => bench.press(Key::Next),
        "hold NEXT" => bench.hold(Key::Next),
        "ZERO" => bench.press(Key::Zero),
        "hold ZERO" => bench.hold(Key::Zero),
        _ => run_to(
            bench,
            press
                .strip_prefix("NEXT to ")
                .unwrap_or_else(|| panic!("no press {press:?}")),
        ),
    }
}

/// NEXT, held until the line is highlighted: one press, since it runs.
fn run_to(bench: &mut Bench, label: &str) {
    for _ in 0..=MAX_ROWS {
        let Body::List(list) = bench.body() else {
            panic!("no list, but {:?}", bench.body())
        };
        if let ItemLabel::Word(word) = list.items[usize::from(list.selected)].label
            && word.text(Language::English) == label
        {
            return;
        }
        bench.press(Key::Next);
    }
    panic!("no line {label:?}");
}

#[test]
fn every_row_of_the_map_arrives_within_three_presses() {
    let rows = rows();
    assert!(rows.len() > 20, "{}", rows.len());
    for (action, presses, page) in rows {
        assert!(presses.len() <= 3, "{action}: {presses:?}");
        let mut bench = home();
        for press in &presses {
            follow(&mut bench, press);
        }
        assert_eq!(page_of(&bench.body()), page, "{action}: {presses:?}");
    }
}

#[test]
fn the_map_names_every_line_of_the_list_of_everything() {
    let mut bench = home();
    bench.hold(Key::Next);
    let Body::List(list) = bench.body() else {
        panic!("{:?}", bench.body())
    };
    for item in list.items {
        let ItemLabel::Word(word) = item.label else {
            panic!("{item:?}")
        };
        assert!(
            MAP.contains(&format!("`NEXT to {}`", word.text(Language::English))),
            "{word:?}"
        );
    }
}

#[test]
fn zero_leads_home_from_everywhere_without_a_change() {
    for (action, presses, _) in rows() {
        let mut bench = home();
        for press in &presses {
            follow(&mut bench, press);
        }
        bench.wait(8.0);
        let deeds = bench.deeds();
        for _ in 0..3 {
            let keys = bench.app.view().keys;
            let at_home = matches!(bench.body(), Body::Pan(_));
            let daily = !matches!(keys[0], KeyWord::Back | KeyWord::BackOrUp);
            match (at_home, daily) {
                (true, _) => break,
                // The daily pages go round by NEXT; a value that is set is left by holding MARK.
                (false, true) if keys[2] == KeyWord::Next => bench.press(Key::Next),
                (false, true) if keys[1] == KeyWord::Back => bench.press(Key::Mark),
                (false, true) => bench.hold(Key::Mark),
                (false, false) => bench.press(Key::Zero),
            }
        }
        if let Body::List(_) = bench.body() {
            bench.press(Key::Zero);
        }
        assert!(matches!(bench.body(), Body::Pan(_)), "{action}: {:?}", bench.body());
        assert_eq!(bench.deeds(), deeds, "{action}");
    }
}

/// Where the highlighted row, or the first visible one, is, and how many there are; `None` where there is no list.
fn place(body: &Body) -> Option<(usize, usize)> {
    let (at, rows) = match body {
        Body::List(list) => (list.selected, list.items.len()),
        Body::Plan(plan) => (plan.selected, plan.rows.len()),
        Body::Uses(uses) => (uses.selected, uses.choices.len()),
        Body::Question(question) => (question.selected, question.choices.len()),
        Body::Used(used) => (used.top, used.rows.len()),
        _ => return None,
    };
    Some((usize::from(at), rows))
}

/// Walks the open list to its end and back to its beginning, by single presses down and by held keys both ways.
fn walk_both_ways(bench: &mut Bench, list: &str) {
    let (_, rows) = place(&bench.body()).unwrap_or_else(|| panic!("{list}: no list, but {:?}", bench.body()));
    let at = |bench: &Bench| place(&bench.body()).map(|(at, _)| at);
    let [down, held_down] = match bench.body() {
        // NEXT turns the page there.
        Body::Used(_) => [Key::Zero; 2],
        _ => [Key::Next; 2],
    };
    let arrow = bench.app.view().keys[0];
    assert!(
        matches!(arrow, KeyWord::BackOrUp | KeyWord::DownOrUp),
        "{list}: {arrow:?}"
    );
    bench.hold_for(Key::Zero, 6.0);
    assert_eq!(at(bench), Some(0), "{list}: ZERO held runs up");
    for row in 1..rows {
        bench.press(down);
        assert_eq!(at(bench), Some(row), "{list}: down");
    }
    bench.press(down);
    assert_eq!(at(bench), Some(0), "{list}: round from the last row");
    if !matches!(bench.body(), Body::Used(_)) {
        bench.hold_for(held_down, 6.0);
        assert_eq!(at(bench), Some(rows - 1), "{list}: NEXT held runs down and stops");
        bench.hold(Key::Zero);
        assert!(rows < 2 || at(bench) < Some(rows - 1), "{list}: ZERO held goes up");
    }
    bench.hold_for(Key::Zero, 6.0);
    assert_eq!(at(bench), Some(0), "{list}: up again");
}

#[test]
fn every_list_of_the_map_is_walked_both_ways() {
    let mut walked = 0;
    for (action, presses, _) in rows() {
        let mut bench = home();
        for press in &presses {
            follow(&mut bench, press);
        }
        let fixed = matches!(bench.body(), Body::List(ref list) if list.items.len() <= usize::from(list.selected));
        if place(&bench.body()).is_some_and(|(_, rows)| rows > 0) && !fixed {
            walk_both_ways(&mut bench, &action);
            walked += 1;
        }
    }
    assert!(walked > 12, "{walked}");
}

#[test]
fn lists_behind_other_lists_are_walked_both_ways() {
    let mut bench = home();
    bench.open(Word::WillItDo);
    bench.press(Key::Mark);
    walk_both_ways(&mut bench, "will it do");
    let mut bench = home();
    bench.open(Word::NewPair);
    bench.press(Key::Mark);
    walk_both_ways(&mut bench, "order of the socks");
    let mut bench = home();
    bench.open(Word::Yarns);
    bench.press(Key::Mark);
    walk_both_ways(&mut bench, "one yarn");
    let mut bench = home();
    bench.open(Word::Plan);
    bench.press(Key::Mark);
    walk_both_ways(&mut bench, "one section");
    bench.choose(Word::ForgottenMark);
    walk_both_ways(&mut bench, "earlier visits");
    // A question: the cake that is next weighs more than it did.
    let mut bench = home();
    bench.put(40.0);
    bench.press(Key::Mark);
    assert!(matches!(bench.body(), Body::Question(_)), "{:?}", bench.body());
    walk_both_ways(&mut bench, "question");
    // Calibration: what next, and the coins.
    let mut bench = home();
    bench.take();
    bench.open(Word::Calibration);
    bench.press(Key::Mark);
    walk_both_ways(&mut bench, "calibration");
    bench.choose(Word::Coins);
    walk_both_ways(&mut bench, "coins");
    // Parts.
    let mut bench = home();
    bench.open(Word::Parts);
    bench.press(Key::Mark);
    walk_both_ways(&mut bench, "supply");
    bench.press(Key::Mark);
    walk_both_ways(&mut bench, "load cell");
}

#[test]
fn the_last_sections_of_an_estimate_come_into_sight() {
    let mut bench = home();
    bench.open(Word::Estimate);
    bench.hold_for(Key::Next, 6.0);
    let Body::List(list) = bench.body() else {
        panic!("{:?}", bench.body())
    };
    let highlighted = list.items[usize::from(list.selected)].label;
    assert_eq!(highlighted, ItemLabel::KindIn(SectionKind::Toe, YarnLetter::B));
}

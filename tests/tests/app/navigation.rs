//! The map of pages in `hardware-notes/pages.md` is walked press by press: each row arrives where it says, within three presses.

use yarn_scale_core::journal::Language;
use yarn_scale_core::screen::{Body, ItemLabel, KeyWord, MAX_ROWS};
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
            let daily = keys[0] != KeyWord::Back;
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

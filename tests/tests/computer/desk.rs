//! The desk without a terminal: what it draws, and what its keys do.

use proptest::prelude::*;
use ratatui::Terminal;
use ratatui::backend::TestBackend;
use ratatui::crossterm::event::{KeyCode, KeyEvent, KeyModifiers};
use yarn_scale_core::screen::Body;
use yarn_scale_core::sock::YarnLetter;
use yarn_scale_sim::desk::draw::{SMALLEST, draw};
use yarn_scale_sim::desk::state::{Desk, Next};
use yarn_scale_sim::device::dots;
use yarn_scale_sim::device::panel::Frame;

fn desk() -> Desk {
    Desk::half_way().expect("the opening plays")
}

fn press(desk: &mut Desk, letter: char) -> Next {
    desk.key(KeyEvent::new(KeyCode::Char(letter), KeyModifiers::NONE))
}

fn drawn(desk: &Desk, width: u16, height: u16) -> Vec<String> {
    let mut terminal = Terminal::new(TestBackend::new(width, height)).expect("a terminal in memory");
    terminal.draw(|frame| draw(desk, frame)).expect("drawn");
    let buffer = terminal.backend().buffer();
    let row = |y| (0..width).map(|x| buffer[(x, y)].symbol()).collect();
    (0..height).map(row).collect()
}

#[test]
fn the_first_screen_shows_a_heel_with_what_it_took() {
    let desk = desk();
    let app = desk.simulator.app().expect("the power is on");
    let view = app.view();
    let line = yarn_scale_sim::play::facts::line(&view);
    assert!(
        line.starts_with("pan: ") && line.contains("steady, heel 2, yarn B, used 6.6"),
        "{line}"
    );
    assert_eq!(app.book().ledger().steps().len(), 9, "two weigh-ins and seven sections");
    assert!(app.book().ledger().last(YarnLetter::A).is_some());
}

#[test]
fn the_display_is_drawn_dot_by_dot_and_the_help_is_always_there() {
    let desk = desk();
    let seen = desk.simulator.board.panel().seen();
    assert_ne!(seen, Frame::DARK);
    let small = drawn(&desk, SMALLEST.0, SMALLEST.1);
    for (row, dots) in small[2..].iter().zip(dots::braille(&seen)) {
        assert_eq!(row.chars().skip(1).take(64).collect::<String>(), dots);
    }
    let large = drawn(&desk, 160, 50);
    for (row, blocks) in large[2..].iter().zip(dots::half_blocks(&seen)) {
        assert_eq!(row.chars().skip(1).take(128).collect::<String>(), blocks);
    }
    let huge = drawn(&desk, 280, 80);
    for (row, blocks) in huge[2..].iter().zip(dots::blocks(&seen)) {
        assert_eq!(row.chars().skip(1).take(256).collect::<String>(), blocks);
    }
    for screen in [small, large, huge] {
        let all = screen.join("\n");
        for word in ["z m n press", "t tug", "d a day passes", "q quit", "invented"] {
            assert!(all.contains(word), "{word:?} is not to be seen in\n{all}");
        }
    }
}

#[test]
fn both_ways_of_drawing_show_every_pixel() {
    let mut frame = Frame::DARK;
    for (place, byte) in frame.bytes_mut().iter_mut().enumerate() {
        *byte = (place * 37 + place / 128 * 11) as u8;
    }
    let lit: u32 = frame.bytes().iter().map(|byte| byte.count_ones()).sum();
    let braille: u32 = dots::braille(&frame)
        .concat()
        .chars()
        .map(|sign| (sign as u32 - 0x2800).count_ones())
        .sum();
    let in_block = |sign: char| match sign {
        '█' => 2,
        '▀' | '▄' => 1,
        _ => 0,
    };
    let blocks: u32 = dots::half_blocks(&frame).concat().chars().map(in_block).sum();
    let full = dots::blocks(&frame)
        .concat()
        .chars()
        .filter(|&sign| sign == '█')
        .count();
    assert_eq!((braille, blocks, full), (lit, lit, 2 * lit as usize));
}

#[test]
fn a_letter_that_the_terminal_repeats_is_one_long_hold() {
    let mut desk = desk();
    press(&mut desk, 'N');
    desk.pass(2.0);
    let chosen = |desk: &Desk| {
        let view = desk.simulator.app().expect("power").view();
        let Body::List(list) = view.body else {
            panic!("{:?}", view.body)
        };
        list.selected
    };
    assert_eq!(chosen(&desk), 0);
    for _ in 0..60 {
        press(&mut desk, 'N');
        desk.pass(0.05);
    }
    assert!(chosen(&desk) >= 3, "a held NEXT runs through the menu");
}

#[test]
fn the_socks_grow_are_washed_and_dry() {
    let mut desk = desk();
    let socks = |desk: &Desk| {
        let all = desk.things.all();
        let socks = all.iter().find(|thing| thing.name == "socks").expect("they are there");
        socks.mass_g(desk.simulator.board.world())
    };
    let before = socks(&desk);
    assert!((before - 75.7).abs() < 0.01, "what the opening knits: {before}");
    press(&mut desk, 'K');
    assert!((socks(&desk) - before - 5.0).abs() < 0.01);
    press(&mut desk, 'l');
    let wet = socks(&desk);
    assert!(wet > 1.25 * before, "{wet}");
    for _ in 0..3 {
        press(&mut desk, 'd');
    }
    // Lying in the basket they dry; that is seen when they are weighed.
    press(&mut desk, '2');
    press(&mut desk, '9');
    desk.pass(5.0);
    assert!(socks(&desk) < 1.02 * (before + 5.0), "{}", socks(&desk));
}

/// Opens a line of the menu, some lines down, and lets go.
fn open(desk: &mut Desk, down: usize) {
    press(desk, 'N');
    desk.pass(2.0);
    for _ in 0..down {
        press(desk, 'n');
        desk.pass(0.3);
    }
    press(desk, 'm');
    desk.pass(1.0);
}

/// Pair check and "dry yet?" are lines 6 and 7 of the menu.
#[test]
fn a_finished_pair_is_checked_washed_and_dries() {
    let mut desk = Desk::finished().expect("the opening plays");
    let body = |desk: &Desk| desk.simulator.app().expect("power").view().body;
    assert!(matches!(body(&desk), Body::PairSummary(_)), "{:?}", body(&desk));
    press(&mut desk, 'm');
    desk.pass(1.0);
    press(&mut desk, '9');
    desk.pass(6.0);
    open(&mut desk, 5);
    assert!(matches!(body(&desk), Body::PairCheck(_)), "{:?}", body(&desk));
    press(&mut desk, 'z');
    desk.pass(1.0);
    press(&mut desk, '9');
    press(&mut desk, 'l');
    desk.pass(6.0);
    press(&mut desk, '9');
    desk.pass(6.0);
    open(&mut desk, 6);
    let Body::Dry(wet) = body(&desk) else {
        panic!("{:?}", body(&desk))
    };
    assert!(wet.above.value.0 > 5_000, "{wet:?}");
}

#[test]
fn the_basket_holds_what_the_pages_ask_for() {
    for desk in [Desk::half_way(), Desk::as_built(), Desk::finished()] {
        let desk = desk.expect("the opening plays");
        let names: Vec<&str> = desk.things.all().iter().map(|thing| thing.name.as_str()).collect();
        for thing in [
            "socks",
            "bowl",
            "2 euro",
            "20 x 2 euro",
            "100 g mass",
            "tin",
            "leftover C",
        ] {
            assert!(names.contains(&thing), "{thing} is not in {names:?}");
        }
        assert!(names.len() <= 9, "each has its key: {names:?}");
    }
}

#[test]
fn a_scale_as_built_is_not_calibrated_and_has_coins_beside_it() {
    let mut desk = Desk::as_built().expect("the opening plays");
    desk.pass(5.0);
    let app = desk.simulator.app().expect("the power is on");
    assert!(app.book().ledger().steps().is_empty());
    assert!(app.book().calibration().is_none());
    for thing in ["20 x 2 euro", "100 g mass", "tin"] {
        assert!(desk.things.all().iter().any(|known| known.name == thing), "{thing}");
    }
}

#[test]
fn a_terminal_too_small_says_so() {
    let all = drawn(&desk(), 60, 20).join("\n");
    assert!(all.contains("needs 80 x 24"), "{all}");
}

#[test]
fn mark_marks_and_held_takes_back() {
    let mut desk = desk();
    let steps = |desk: &Desk| desk.simulator.app().map_or(0, |app| app.book().ledger().steps().len());
    let before = steps(&desk);
    press(&mut desk, 'm');
    desk.pass(1.0);
    assert_eq!(steps(&desk), before + 1);
    assert!(desk.said.contains("noted"), "{}", desk.said);
    desk.pass(7.0);
    press(&mut desk, 'M');
    desk.pass(2.0);
    assert_eq!(steps(&desk), before);
}

#[test]
fn cutting_the_power_loses_no_mark() {
    let mut desk = desk();
    press(&mut desk, 'm');
    desk.pass(1.0);
    let ledger = |desk: &Desk| desk.simulator.app().map(|app| app.book().ledger().steps().to_vec());
    let before = ledger(&desk).expect("power");
    press(&mut desk, 'p');
    assert!(ledger(&desk).is_none());
    assert_eq!(desk.simulator.board.panel().seen(), Frame::DARK);
    press(&mut desk, 'd');
    press(&mut desk, 'p');
    assert_eq!(ledger(&desk).expect("power"), before);
}

#[test]
fn it_is_left_by_q_and_by_control_c_alone() {
    let mut desk = desk();
    assert_eq!(press(&mut desk, 'x'), Next::Stay);
    assert_eq!(press(&mut desk, 'q'), Next::Leave);
    assert_eq!(
        desk.key(KeyEvent::new(KeyCode::Char('c'), KeyModifiers::CONTROL)),
        Next::Leave
    );
    assert_eq!(press(&mut desk, 'c'), Next::Stay);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]
    /// Whatever is pressed, the desk goes on and can be drawn, and no mass comes or goes.
    #[test]
    fn any_keys_in_any_order_do_no_harm(keys in prop::collection::vec(prop::sample::select("zmnZMN123456789kKltbfhwcps ?".chars().collect::<Vec<_>>()), 1..40)) {
        let mut desk = desk();
        for key in keys {
            press(&mut desk, key);
            desk.pass(0.4);
            drawn(&desk, 80, 24);
        }
        if let Some(app) = desk.simulator.app() {
            yarn_scale_sim::play::expectation::conserves(app).expect("no mass comes or goes");
            prop_assert_eq!(app.dropped_effects(), 0);
        }
    }
}

#[test]
fn how_deep_the_scale_sleeps_is_always_to_be_seen() {
    let mut desk = desk();
    let says = |desk: &Desk, what: &str| drawn(desk, SMALLEST.0, SMALLEST.1).join("\n").contains(what);
    desk.pass(2.0);
    assert!(says(&desk, "awake, 12 MHz"));
    press(&mut desk, 'n');
    desk.pass(0.05);
    assert!(says(&desk, "awake,125 MHz"), "while a key is pressed");
    desk.pass(310.0);
    assert!(says(&desk, "dark, 12 MHz"));
    desk.pass(1_810.0);
    assert!(says(&desk, "deep, stopped"));
    press(&mut desk, 'n');
    desk.pass(2.0);
    assert!(says(&desk, "awake, 12 MHz"));
    press(&mut desk, 'p');
    assert!(!says(&desk, "awake"));
}

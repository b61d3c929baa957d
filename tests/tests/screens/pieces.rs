//! What is no sock is said in its own words: parts and pieces, read from the pixels.

use yarn_scale_core::screen::{Body, ItemLabel, ROWS, TEXT, Value, Word};
use yarn_scale_sim::device::picture::{Picture, frame_of};
use yarn_scale_tests::bench::{Bench, Key};

/// Whether the screen shows this line of running text, dark columns to either side of it, lit or dark on a lit ground.
fn shows(bench: &Bench, text: &str) -> bool {
    let screen = Picture::from(&frame_of(&bench.app.view()));
    let (width, height) = (usize::from(TEXT.width(text)), usize::from(TEXT.rows));
    let mut line = Picture::dark(width, height);
    line.write(text, 0, 0);
    let is_at = |left: usize, top: usize, lit: bool| {
        (0..width).all(|x| (0..height).all(|y| screen.is_lit(left + x, top + y) == (line.is_lit(x, y) == lit)))
    };
    let ends = |left: usize, top: usize, lit: bool| {
        let dark = |x: usize| x >= screen.width || (0..height).all(|y| screen.is_lit(x, top + y) != lit);
        (left == 0 || dark(left - 1)) && dark(left + width)
    };
    let found = |lit: bool| {
        (0..=usize::from(ROWS) - height)
            .any(|top| (0..=screen.width - width).any(|left| is_at(left, top, lit) && ends(left, top, lit)))
    };
    found(true) || found(false)
}

fn mark(bench: &mut Bench, grams: f64) {
    bench.put(grams);
    bench.press(Key::Mark);
    bench.press(Key::Mark);
    bench.take();
    bench.wait(8.0);
}

/// Two parts, both pieces at a time: weighed in with 50 g, the first piece's Part 1 took 10 g.
fn first_piece() -> Bench {
    let mut bench = Bench::new();
    bench.open(Word::NewPair);
    let is_it = |bench: &Bench| match bench.body() {
        Body::List(list) => {
            let item = list.items[usize::from(list.selected)];
            (item.label, item.value) == (ItemLabel::Word(Word::FreePlan), Value::Number(2))
        }
        other => panic!("{other:?}"),
    };
    while !is_it(&bench) {
        bench.press(Key::Next);
    }
    bench.press(Key::Mark);
    bench.choose(Word::TwoAtATime);
    mark(&mut bench, 50.0);
    mark(&mut bench, 40.0);
    bench
}

#[test]
fn home_tells_what_the_other_piece_took() {
    let mut bench = first_piece();
    bench.put(35.0);
    assert!(shows(&bench, "1: 10.0"), "{:?}", bench.body());
}

#[test]
fn the_plan_names_part_and_piece() {
    let mut bench = first_piece();
    bench.open(Word::Plan);
    assert!(
        shows(&bench, "Part 1.2") && !shows(&bench, "Part 1 2"),
        "{:?}",
        bench.body()
    );
}

#[test]
fn the_question_compares_with_the_other_piece() {
    let mut bench = first_piece();
    bench.put(10.0);
    bench.press(Key::Mark);
    assert!(matches!(bench.body(), Body::Question(_)), "{:?}", bench.body());
    assert!(shows(&bench, "Part 1.2 30.0 g?") && shows(&bench, "Piece 1 took 10.0."));
}

#[test]
fn the_rest_and_a_leftover_are_told_for_pieces() {
    let mut bench = first_piece();
    mark(&mut bench, 30.0);
    mark(&mut bench, 24.0);
    bench.press(Key::Next);
    bench.press(Key::Next);
    assert!(matches!(bench.body(), Body::Answer(_)), "{:?}", bench.body());
    assert!(shows(&bench, "as piece 1 took"));
    bench.press(Key::Next);
    mark(&mut bench, 18.0);
    bench.press(Key::Zero);
    bench.put(40.0);
    bench.open(Word::WillItDo);
    assert!(matches!(bench.body(), Body::Answer(_)), "{:?}", bench.body());
    let page = ["1 piece:", "2 pieces:", "1 sock:", "2 socks:"].map(|text| shows(&bench, text));
    assert!(
        matches!(page, [true, false, false, false] | [false, true, false, false]),
        "{page:?}"
    );
}

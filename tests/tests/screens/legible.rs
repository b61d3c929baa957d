//! What must be read at arm's length, by a tired eye, can be.
//!
//! The panel: a 1.3 inch module of 128 by 64 pixels has an active area of 29.42 mm by 14.70 mm (module data sheets, from
//! memory; the diagonal of 32.9 mm agrees with the 1.3 inch of its name). Character height by ISO 9241-303 (from memory,
//! the standard was not at hand): 16 minutes of arc at least, 20 to 22 preferred; stroke width 8 to 20 % of the height; width
//! 50 to 100 % of the height.

use yarn_scale_core::screen::{Body, Glyph, Pan};
use yarn_scale_core::screen::{COLUMNS, ROWS};
use yarn_scale_core::screen::{FIGURES, HEADING, TEXT};
use yarn_scale_sim::device::picture::{Picture, frame_of};
use yarn_scale_sim::lab::pages::{LANGUAGES, cases};

const ACTIVE_WIDTH_MM: f64 = 29.42;
const ACTIVE_HEIGHT_MM: f64 = 14.70;

/// Smallest character height of ISO 9241-303, minutes of arc (from memory).
const LEAST_ARC_MINUTES: f64 = 16.0;

/// The distance of a scale that stands beside the chair, mm.
const ARMS_LENGTH_MM: f64 = 600.0;

fn pitch_mm() -> f64 {
    ACTIVE_HEIGHT_MM / f64::from(ROWS)
}

fn height_mm(rows: u8) -> f64 {
    f64::from(rows) * pitch_mm()
}

/// The angle under which a height is seen, minutes of arc.
fn arc_minutes(height_mm: f64, distance_mm: f64) -> f64 {
    2.0 * (height_mm / 2.0 / distance_mm).atan().to_degrees() * 60.0
}

#[test]
fn the_panel_is_what_its_name_says() {
    let diagonal_inch = ACTIVE_WIDTH_MM.hypot(ACTIVE_HEIGHT_MM) / 25.4;
    assert!((diagonal_inch - 1.3).abs() < 0.01, "{diagonal_inch}");
    let across = ACTIVE_WIDTH_MM / f64::from(COLUMNS);
    assert!(
        (across - pitch_mm()).abs() < 0.001,
        "pixels are square: {across} by {}",
        pitch_mm()
    );
}

#[test]
fn the_main_number_is_five_millimetres_high_above_the_preferred_angle() {
    let height = height_mm(FIGURES.capital);
    let angle = arc_minutes(height, ARMS_LENGTH_MM);
    println!("main number {height:.2} mm, {angle:.1} minutes of arc at 60 cm");
    assert!(height >= 5.0, "{height} mm");
    assert!(angle >= 22.0, "{angle} minutes");
    // One row less than 22 would not do.
    assert!(height_mm(21) < 5.0);
}

#[test]
fn headings_can_be_read_at_arms_length_and_running_text_in_the_hand() {
    let heading = arc_minutes(height_mm(HEADING.capital), ARMS_LENGTH_MM);
    let text = arc_minutes(height_mm(TEXT.capital), 390.0);
    println!("headings {heading:.1} minutes at 60 cm, text {text:.1} minutes at 39 cm");
    assert!(heading >= LEAST_ARC_MINUTES, "{heading}");
    assert!(text >= LEAST_ARC_MINUTES, "{text}");
}

#[test]
fn figures_have_the_strokes_and_the_width_of_legible_characters() {
    let height = f64::from(FIGURES.capital);
    for figure in ('0'..='9').map(glyph) {
        let width = f64::from(figure.width()) / height;
        assert!((0.5..=1.0).contains(&width), "{width}");
    }
    // The upright of the one: its broadest run in the middle row is one stroke.
    let upright = (0..glyph('1').width())
        .filter(|&column| glyph('1').column(column) >> 13 & 1 == 1)
        .count();
    let stroke = upright as f64 / height;
    assert!((0.08..=0.20).contains(&stroke), "{stroke}");
}

fn glyph(character: char) -> Glyph {
    FIGURES.glyph(character).expect("a figure")
}

/// Pixels in which two glyphs differ, laid over each other from their upper left corners.
fn difference(one: Glyph, other: Glyph) -> usize {
    let width = one.width().max(other.width());
    let differing = (0..width).map(|column| (one.column(column) ^ other.column(column)).count_ones());
    differing.sum::<u32>() as usize
}

#[test]
fn no_figure_can_be_taken_for_another() {
    let mut closest = (usize::MAX, ' ', ' ');
    for one in '0'..='9' {
        for other in (one..='9').skip(1) {
            let apart = difference(glyph(one), glyph(other));
            closest = closest.min((apart, one, other));
            // Two strokes of the figure: 4 columns by 5 rows each.
            assert!(apart >= 40, "{one} and {other} differ in {apart} pixels only");
        }
    }
    println!("closest figures: {closest:?}");
    for [one, other] in [['1', '7'], ['0', '8'], ['5', '6']] {
        println!("{one} and {other}: {} pixels", difference(glyph(one), glyph(other)));
    }
}

#[test]
fn no_yarn_letter_can_be_taken_for_another() {
    for one in 'A'..='H' {
        for other in (one..='H').skip(1) {
            let letter = |letter| HEADING.glyph(letter).expect("a letter");
            let apart = difference(letter(one), letter(other));
            assert!(apart >= 8, "{one} and {other} differ in {apart} pixels only");
        }
    }
}

/// W was once taken for H: in headings no two capitals are alike within fewer pixels than a stroke has.
#[test]
fn no_capital_of_a_heading_can_be_taken_for_another() {
    let letter = |letter| HEADING.glyph(letter).expect("a letter");
    for one in 'A'..='Z' {
        for other in (one..='Z').skip(1) {
            let apart = difference(letter(one), letter(other));
            assert!(apart >= 6, "{one} and {other} differ in {apart} pixels only");
        }
    }
    let apart = difference(letter('H'), letter('W'));
    assert!(apart >= 24, "H and W differ in {apart} pixels only");
}

/// Below the bar of a highlighted row is a dark row, whatever the next line says. Above it only a letter that reaches below its line ends.
#[test]
fn a_highlighted_row_touches_no_other_line() {
    let mut bars = 0;
    for case in cases() {
        if !["list", "plan", "uses", "question", "pairs", "pair-summary"].contains(&case.page()) {
            continue;
        }
        for (language, name) in LANGUAGES {
            let picture = Picture::from(&frame_of(&case.in_language(language)));
            // Below the title, without the scroll bar; the keys stand below.
            let row = |y: usize| lit(&picture, 0..124, y..y + 1);
            let is_bar = |y: usize| row(y) > 62 && lit(&picture, 0..1, y..y + 1) == 1;
            for y in (12..51).filter(|&y| is_bar(y) && !is_bar(y + 1)) {
                assert_eq!(row(y + 1), 0, "{}/{}.{name}, row {}", case.page(), case.name(), y + 1);
                bars += 1;
            }
        }
    }
    assert!(bars > 80, "{bars}");
}

/// The home page of that name.
fn home(name: &str) -> Picture {
    let case = cases().iter().find(|case| case.page() == "pan" && case.name() == name);
    Picture::from(&frame_of(case.expect("a case of the home page").view()))
}

fn lit(picture: &Picture, columns: std::ops::Range<usize>, rows: std::ops::Range<usize>) -> usize {
    let pixels = rows.flat_map(|y| columns.clone().map(move |x| (x, y)));
    pixels.filter(|&(x, y)| picture.is_lit(x, y)).count()
}

#[test]
fn a_steady_number_looks_different_at_once_from_one_that_swings() {
    let (steady, swinging) = (home("steady"), home("swinging"));
    let (sign, number) = ((0..24, 17..40), (26..110, 17..40));
    let light = |picture, (columns, rows): &(std::ops::Range<usize>, std::ops::Range<usize>)| {
        lit(picture, columns.clone(), rows.clone()) as f64
    };
    let sign = light(&steady, &sign) / light(&swinging, &sign);
    let number = light(&steady, &number) / light(&swinging, &number);
    println!("steady against swinging: sign {sign:.1} times the light, number {number:.1} times");
    assert!(sign > 2.5, "{sign}");
    assert!(number > 1.5, "{number}");
    // And in words.
    let words = lit(&swinging, 0..128, 43..52);
    assert!(words > 100, "{words}");
}

#[test]
fn steadiness_is_never_shown_by_the_number_alone() {
    for case in cases() {
        let Body::Pan(Pan { steady, .. }) = case.view().body else {
            continue;
        };
        let picture = Picture::from(&frame_of(case.view()));
        // The corner of the sign's lit ground.
        assert_eq!(lit(&picture, 2..5, 25..28) == 9, steady, "{}", case.name());
    }
}

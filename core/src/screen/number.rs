//! Numbers as text, from integers: whole divisions, in the language's decimal mark.

use heapless::String;

use crate::journal::Language;
use crate::weighing::{Indication, Unit};

/// A number with its signs; the longest is `-21474836.48`.
pub(super) type Number = String<16>;

/// The number of `indication` in figures; a negative one with `minus` in front. There is no minus zero.
pub(super) fn figures(indication: Indication, language: Language, minus: char) -> Number {
    let places = match indication.unit() {
        Unit::Gram => 1,
        Unit::Ounce => 2,
    };
    fixed(indication.steps(), places, language, minus)
}

/// `value` with its last `places` figures after the decimal mark.
pub(super) fn fixed(value: i32, places: u8, language: Language, minus: char) -> Number {
    let mut reversed = Number::new();
    let mut rest = value.unsigned_abs();
    let mut place: u8 = 0;
    // A push that does not fit is dropped; twelve signs are the most there can be, and sixteen fit.
    while rest > 0 || place <= places {
        if place == places && places > 0 {
            let _ = reversed.push(decimal_mark(language));
        }
        let _ = reversed.push(char::from_digit(rest % 10, 10).unwrap_or('0'));
        rest /= 10;
        place = place.saturating_add(1);
    }
    if value < 0 {
        let _ = reversed.push(minus);
    }
    reversed.chars().rev().collect()
}

const fn decimal_mark(language: Language) -> char {
    match language {
        Language::English => '.',
        Language::German => ',',
    }
}

/// A whole number.
pub(super) fn whole(value: i32) -> Number {
    fixed(value, 0, Language::English, '−')
}

/// A code that helps the device's makers: eight hexadecimal digits in two groups, as `firmware/place` takes it.
pub(super) fn code(value: u32) -> Number {
    let mut text = Number::new();
    for place in (0..8_u32).rev() {
        let digit = value >> place.saturating_mul(4) & 0xF;
        // Nine signs fit into sixteen.
        let _ = text.push(char::from_digit(digit, 16).unwrap_or('0'));
        if place == 4 {
            let _ = text.push('-');
        }
    }
    text
}

//! Text and numbers as they stand on the page.

use yarn_scale_core::forecast::length::Length;
use yarn_scale_core::measured::Measured;
use yarn_scale_core::units::Milligrams;

/// A name or any other foreign text: nothing in it is markup, and its direction of writing ends with it.
pub(super) fn foreign(text: &str) -> String {
    format!("<bdi>{}</bdi>", escaped(text))
}

/// Text in which nothing is markup, within an element or an attribute in quotes.
pub(super) fn escaped(text: &str) -> String {
    let mut escaped = String::with_capacity(text.len());
    for sign in text.chars() {
        match sign {
            '&' => escaped.push_str("&amp;"),
            '<' => escaped.push_str("&lt;"),
            '>' => escaped.push_str("&gt;"),
            '"' => escaped.push_str("&quot;"),
            '\'' => escaped.push_str("&#39;"),
            // No control character but a space has a place in HTML.
            sign if sign.is_control() => escaped.push('\u{FFFD}'),
            sign => escaped.push(sign),
        }
    }
    escaped
}

/// Grams to the hundredth, rounded half away from zero.
pub(super) fn grams(mass: Milligrams) -> String {
    let sign = if mass.0 <= -5 { "\u{2212}" } else { "" };
    hundredths(sign, (mass.0.unsigned_abs().saturating_add(5)) / 10)
}

/// Grams and the half-width of the 95 % interval, that rounded up: the page shows no more certainty than there is.
pub(super) fn measured(mass: Measured) -> String {
    let half = hundredths("", mass.expanded().0.unsigned_abs().div_ceil(10));
    format!("{} \u{B1} {half}", grams(mass.value))
}

/// Metres to the tenth.
pub(super) fn metres(length: Length) -> String {
    format!("{:.1}", f64::from(length.millimetres) / 1_000.0)
}

fn hundredths(sign: &str, value: u32) -> String {
    format!("{sign}{}.{:02}", value / 100, value % 100)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nothing_foreign_is_markup() {
        let bad = "</title><script>\"'&\u{0}";
        assert_eq!(escaped(bad), "&lt;/title&gt;&lt;script&gt;&quot;&#39;&amp;\u{FFFD}");
    }

    #[test]
    fn grams_are_rounded_and_uncertainties_rounded_up() {
        let of = |mg, u| {
            measured(Measured {
                value: Milligrams(mg),
                u,
            })
        };
        // 1.96 x 31.5 mg is 61.7 mg: 0.07 g, never 0.06.
        assert_eq!(of(4_005, 31.5), "4.01 \u{B1} 0.07");
        assert_eq!(of(-4, 0.0), "0.00 \u{B1} 0.01");
        assert_eq!(of(-14_206, 0.0), "\u{2212}14.21 \u{B1} 0.01");
    }
}

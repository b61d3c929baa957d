//! Text and numbers as they stand on the page.

use core::fmt::{self, Display, Formatter, Write};

use super::pair::Name;
use super::words::Words;
use crate::forecast::Length;
use crate::measured::Measured;
use crate::sock::YarnLetter;
use crate::units::Milligrams;

/// Text in which nothing is markup, within an element or an attribute in quotes.
pub(super) struct Escaped<'a>(pub(super) &'a str);

impl Display for Escaped<'_> {
    fn fmt(&self, out: &mut Formatter<'_>) -> fmt::Result {
        for sign in self.0.chars() {
            match sign {
                '&' => out.write_str("&amp;")?,
                '<' => out.write_str("&lt;")?,
                '>' => out.write_str("&gt;")?,
                '"' => out.write_str("&quot;")?,
                '\'' => out.write_str("&#39;")?,
                // No control character but a space has a place in HTML.
                sign if sign.is_control() => out.write_char('\u{FFFD}')?,
                sign => out.write_char(sign)?,
            }
        }
        Ok(())
    }
}

/// A name or any other foreign text: nothing in it is markup, and its direction of writing ends with it.
pub(super) struct Foreign<'a>(pub(super) &'a str);

impl Display for Foreign<'_> {
    fn fmt(&self, out: &mut Formatter<'_>) -> fmt::Result {
        write!(out, "<bdi>{}</bdi>", Escaped(self.0))
    }
}

/// A yarn's letter, and its name if it has one.
pub(super) struct Titled<'a>(pub(super) YarnLetter, pub(super) Option<&'a Name>);

impl Display for Titled<'_> {
    fn fmt(&self, out: &mut Formatter<'_>) -> fmt::Result {
        out.write_char(self.0.symbol())?;
        self.1.map_or(Ok(()), |name| write!(out, ", {}", Foreign(name)))
    }
}

/// Grams to the hundredth, rounded half away from zero.
pub(super) struct Grams(pub(super) Milligrams, pub(super) &'static Words);

impl Display for Grams {
    fn fmt(&self, out: &mut Formatter<'_>) -> fmt::Result {
        if self.0.0 <= -5 {
            out.write_char('\u{2212}')?;
        }
        let hundredths = self.0.0.unsigned_abs().saturating_add(5) / 10;
        Fixed(hundredths, 2, self.1).fmt(out)
    }
}

/// Grams and the half-width of the 95 % interval, that rounded up: the page shows no more certainty than there is.
pub(super) struct PlusMinus(pub(super) Measured, pub(super) &'static Words);

impl Display for PlusMinus {
    fn fmt(&self, out: &mut Formatter<'_>) -> fmt::Result {
        let half = self.0.expanded().0.unsigned_abs().div_ceil(10);
        write!(out, "{} \u{B1} {}", Grams(self.0.value, self.1), Fixed(half, 2, self.1))
    }
}

/// Metres to the tenth.
pub(super) struct Metres(pub(super) Length, pub(super) &'static Words);

impl Display for Metres {
    fn fmt(&self, out: &mut Formatter<'_>) -> fmt::Result {
        if self.0.millimetres <= -50 {
            out.write_char('\u{2212}')?;
        }
        let tenths = self.0.millimetres.unsigned_abs().saturating_add(50) / 100;
        Fixed(tenths, 1, self.1).fmt(out)
    }
}

/// A number whose last figures, two at the most, stand behind the decimal mark.
pub(super) struct Fixed(pub(super) u32, pub(super) u32, pub(super) &'static Words);

impl Display for Fixed {
    fn fmt(&self, out: &mut Formatter<'_>) -> fmt::Result {
        let one = 10_u32.saturating_pow(self.1).max(1);
        let (whole, part) = (self.0.checked_div(one), self.0.checked_rem(one));
        let (whole, part, mark) = (whole.unwrap_or_default(), part.unwrap_or_default(), self.2.decimal_mark);
        match self.1 {
            0 => write!(out, "{whole}"),
            1 => write!(out, "{whole}{mark}{part}"),
            _ => write!(out, "{whole}{mark}{part:02}"),
        }
    }
}

/// Something, or what stands where it is not known.
pub(super) struct Else<T>(pub(super) Option<T>, pub(super) &'static str);

impl<T: Display> Display for Else<T> {
    fn fmt(&self, out: &mut Formatter<'_>) -> fmt::Result {
        match &self.0 {
            Some(known) => known.fmt(out),
            None => out.write_str(self.1),
        }
    }
}

/// A field of RFC 4180: in quotes where a comma, a quote or the end of a line is in it.
pub(super) struct Field<'a>(pub(super) &'a str);

impl Display for Field<'_> {
    fn fmt(&self, out: &mut Formatter<'_>) -> fmt::Result {
        if !self.0.contains([',', '"', '\r', '\n']) {
            return out.write_str(self.0);
        }
        out.write_char('"')?;
        for sign in self.0.chars() {
            if sign == '"' {
                out.write_char('"')?;
            }
            out.write_char(sign)?;
        }
        out.write_char('"')
    }
}

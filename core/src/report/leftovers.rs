//! What each leftover is good for: the answers that the scale gives to "will it do?".

use core::fmt::{self, Display, Formatter, Write};

use heapless::Vec;

use super::Background;
use super::markup::{Grams, PlusMinus, Titled};
use super::pair::Yarn;
use super::sections::head;
use super::words::{Words, answer, kind, words};
use crate::forecast::{Answer, Choice, MOST_KINDS, Reserve, Rule, Socks, Source, Wanted, Word, estimate, will_it_do};
use crate::journal::Language;
use crate::sock::{Decitex, Size};

/// The table of a yarn that is left; nothing if it is good for nothing.
pub(super) fn table(out: &mut impl Write, yarn: &Yarn, background: &Background<'_>) -> fmt::Result {
    if yarn.left.value.0 <= 0 {
        return Ok(());
    }
    let language = background.language;
    let words = words(language);
    let sections: Vec<Wanted, MOST_KINDS> = background
        .contrast
        .iter()
        .map(|section| in_yarn(section, yarn))
        .collect();
    let choices = will_it_do(yarn.left, &sections, background.history, Rule::default());
    if choices.is_empty() {
        return Ok(());
    }
    writeln!(
        out,
        "<h4>{} {}: {} g {}</h4>",
        words.yarn,
        Titled(yarn.letter, yarn.name.as_ref()),
        PlusMinus(yarn.left, words),
        words.left
    )?;
    head(out, words.good_for, &words.good_for_heads)?;
    out.write_str("<tbody>\n")?;
    // What will do or nearly so, a few of it; where nothing does, what misses least. The best come first.
    let good = |choice: &Choice| choice.answer.word != Word::Short;
    for (choice, place) in choices.iter().zip(0..MOST_SHOWN) {
        if place > 0 && !good(choice) {
            break;
        }
        row(out, choice, language)?;
    }
    out.write_str("</tbody>\n</table>\n")
}

/// A section of the knitter's plan, in the leftover's own thickness.
fn in_yarn(section: &Wanted, yarn: &Yarn) -> Wanted {
    let size = Size {
        yarn: Decitex::from_metres_per_100_g(yarn.metres_per_100_g),
        ..section.size
    };
    Wanted { size, ..*section }.with_estimate(estimate(size, section.kind, section.construction))
}

fn row(out: &mut impl Write, choice: &Choice, language: Language) -> fmt::Result {
    let words = words(language);
    out.write_str("<tr><td>")?;
    for (section, place) in choice.kinds.kinds().zip(0..u8::MAX) {
        let between = if place > 0 { " + " } else { "" };
        write!(out, "{between}{}", kind(section, language))?;
    }
    let socks = match choice.socks {
        Socks::One => words.one_sock,
        Socks::Both => words.both_socks,
    };
    let likely = choice.answer.likely;
    let sign = if likely.0 > 0 { "+" } else { "" };
    writeln!(
        out,
        ", {socks}</td><td><strong>{}</strong></td><td class=\"n\">{sign}{}</td><td>{}</td></tr>",
        answer(choice.answer.word, words),
        Grams(likely, words),
        Rests(&choice.answer, words)
    )
}

/// What an answer rests on, in words.
pub(super) struct Rests<'a>(pub(super) &'a Answer, pub(super) &'static Words);

impl Display for Rests<'_> {
    fn fmt(&self, out: &mut Formatter<'_>) -> fmt::Result {
        let Self(answer, words) = self;
        out.write_str(match answer.basis.source {
            Source::Nothing => words.from_nothing,
            Source::FirstSock => words.from_sock_1,
            Source::Records => match answer.basis.reserve {
                Reserve::Quarter { pairs: 1 } => words.from_one_pair,
                Reserve::Quarter { pairs: 2 } => words.from_two_pairs,
                Reserve::Quarter { .. } | Reserve::Spread { .. } => words.from_records,
            },
            Source::Estimate => words.from_estimate,
        })?;
        if answer.basis.scaled {
            write!(out, ", {}", words.scaled)?;
        }
        let reserve = Grams(answer.reserve, words);
        match answer.basis.reserve {
            Reserve::Spread { pairs } => write!(out, ", {pairs} {}, {} {reserve} g", words.of_pairs, words.reserve),
            Reserve::Quarter { .. } => write!(out, ", {} {reserve} g {}", words.reserve, words.quarter),
        }
    }
}

/// More choices than these are no help.
const MOST_SHOWN: usize = 5;

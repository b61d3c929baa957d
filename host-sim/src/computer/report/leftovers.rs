//! What each leftover is good for: the answers that the scale gives to "will it do?".

use std::fmt::Write;

use yarn_scale_core::book::Book;
use yarn_scale_core::forecast::{
    Answer, Choice, Reserve, Rule, Socks, Wanted, Word, contrast_sections, estimate::estimate, will_it_do,
};
use yarn_scale_core::measured::Measured;
use yarn_scale_core::sock::{Decitex, Size};

use super::markup::{grams, measured};
use super::yarns::title;
use crate::computer::story::{Pair, Yarn};
use crate::computer::table::kind_name;

/// The table of a pair's leftovers; nothing if there are none.
pub(super) fn leftovers(pair: &Pair, book: &Book) -> String {
    let mut html = String::new();
    for yarn in &pair.yarns {
        let Some(left) = yarn.weights.last().map(|(_, mass)| *mass) else {
            continue;
        };
        let choices = choices(left, yarn, book);
        if left.value.0 <= 0 || choices.is_empty() {
            continue;
        }
        let _ = writeln!(
            html,
            "<tbody>\n<tr><th scope=\"rowgroup\" colspan=\"4\">Yarn {}: {} g left</th></tr>",
            title(yarn),
            measured(left)
        );
        for choice in shown(&choices) {
            let _ = writeln!(
                html,
                "<tr><td>{}</td><td><strong>{}</strong></td><td class=\"n\">{}</td><td>{}</td></tr>",
                use_of(choice),
                word(choice.answer.word),
                over(&choice.answer),
                basis(&choice.answer)
            );
        }
        html.push_str("</tbody>\n");
    }
    if html.is_empty() {
        return html;
    }
    format!(
        "<table><caption>What the leftovers are good for, best use first, as they last weighed in this pair</caption>\n\
         <thead><tr><th scope=\"col\">For</th><th scope=\"col\">Answer</th><th scope=\"col\">Over (+) or missing (\u{2212}), g</th>\
         <th scope=\"col\">Rests on</th></tr></thead>\n{html}</table>\n"
    )
}

/// Every choice among the contrast sections of the knitter's plan, in the leftover's own thickness.
fn choices(left: Measured, yarn: &Yarn, book: &Book) -> Vec<Choice> {
    let sections: Vec<Wanted> = contrast_sections(book.ledger())
        .iter()
        .map(|section| {
            let size = Size {
                yarn: Decitex::from_metres_per_100_g(yarn.metres_per_100_g),
                ..section.size
            };
            Wanted { size, ..*section }.with_estimate(estimate(size, section.kind, section.construction))
        })
        .collect();
    will_it_do(left, &sections, book.history(), Rule::default()).to_vec()
}

/// What will do or nearly so, a few of it; where nothing does, what misses least.
fn shown(choices: &[Choice]) -> impl Iterator<Item = &Choice> {
    let good = choices
        .iter()
        .filter(|choice| choice.answer.word != Word::Short)
        .count();
    choices.iter().take(good.clamp(1, MOST_SHOWN))
}

fn use_of(choice: &Choice) -> String {
    let kinds: Vec<&str> = choice.kinds.kinds().map(kind_name).collect();
    let socks = match choice.socks {
        Socks::One => "one sock",
        Socks::Both => "both socks",
    };
    format!("{}, {socks}", kinds.join(" + "))
}

const fn word(word: Word) -> &'static str {
    match word {
        Word::Enough => "enough",
        Word::Close => "close",
        Word::Short => "short",
    }
}

fn over(answer: &Answer) -> String {
    let sign = if answer.likely.0 > 0 { "+" } else { "" };
    format!("{sign}{}", grams(answer.likely))
}

/// What an answer rests on, in words.
pub(super) fn basis(answer: &Answer) -> String {
    use yarn_scale_core::forecast::Source;
    let source = match answer.basis.source {
        Source::Nothing => "nothing to knit",
        Source::FirstSock => "sock 1",
        Source::Records => "own records",
        Source::Estimate => "estimate by stitches",
    };
    let scaled = if answer.basis.scaled { ", scaled" } else { "" };
    let reserve = grams(answer.reserve);
    match answer.basis.reserve {
        Reserve::Spread { pairs } => format!("{source}{scaled}, {pairs} pairs, reserve {reserve} g"),
        Reserve::Quarter => format!("{source}{scaled}, reserve {reserve} g (a quarter)"),
    }
}

/// More choices than these help nobody.
const MOST_SHOWN: usize = 5;

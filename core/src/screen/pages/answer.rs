//! One answer of the forecasts: one word and one number, and below, smaller, what they rest on.

use crate::forecast::{Answer, Basis, KindSet, Reserve, Socks, Source, Word as Verdict};
use crate::screen::canvas::{Align, Canvas, Style};
use crate::screen::fonts::TEXT;
use crate::screen::frame::Surface;
use crate::screen::layout::{COLUMNS, Field};
use crate::screen::number::whole;
use crate::screen::parts::{HEAD, badge, heading, signed_number, yarn_badge};
use crate::screen::speech::{Speech, Text, joined};
use crate::screen::view::{About, AnswerPage};
use crate::screen::words::Word;

/// The three lines below the word and the number.
const LINES: [Field; 3] = [
    Field::new(0, 19, COLUMNS, 10),
    Field::new(0, 30, COLUMNS, 10),
    Field::new(0, 41, COLUMNS, 10),
];

/// Draws an answer.
pub(in crate::screen) fn answer<D: Surface>(canvas: &mut Canvas<'_, D>, page: &AnswerPage) {
    let speech = canvas.speech;
    let head = match page.about {
        About::RestOf(yarn) => yarn_badge(canvas, HEAD, yarn),
        About::Leftover { .. } => HEAD,
    };
    let place = match page.place {
        (_, 0 | 1) => Text::new(),
        (place, count) => joined(&[&whole(place.into()), "/", &whole(count.into())]),
    };
    let style = Style::of(&TEXT);
    let [upper, middle, last] = LINES;
    canvas.text(last, &place, style.align(Align::Right));
    let Some(answer) = page.answer else {
        heading(canvas, head, speech.word(Word::NothingKnown));
        return canvas.paragraph(
            Field { height: 21, ..upper },
            speech.word(Word::NothingKnownWhy),
            11,
            style,
        );
    };
    verdict(canvas, head, answer);
    let beside = last.first(COLUMNS.saturating_sub(TEXT.width(&place).saturating_add(3)));
    let lines = match (page.about, page.way_out) {
        (About::RestOf(_), None) => [
            needs(speech, Word::Needs, answer),
            source(speech, answer.basis),
            reserve(speech, answer),
        ],
        (About::RestOf(_), Some(change)) => [
            needs(speech, Word::Needs, answer),
            joined(&[speech.word(Word::OtherYarnFor)]),
            kinds(speech, change),
        ],
        (About::Leftover { kinds: set, socks }, _) => {
            let word = match socks {
                Socks::One => Word::OneSockNeeds,
                Socks::Both => Word::BothSocksNeed,
            };
            [
                kinds(speech, set),
                needs(speech, word, answer),
                short_basis(speech, answer),
            ]
        }
    };
    let [first, second, third] = lines;
    canvas.text(upper, &first, style);
    canvas.text(middle, &second, style);
    canvas.text(beside, &third, style)
}

/// The word, on a lit ground if it is a warning, and the number at the right end.
fn verdict<D: Surface>(canvas: &mut Canvas<'_, D>, head: Field, answer: Answer) {
    let speech = canvas.speech;
    let head = signed_number(canvas, head, answer.likely);
    match answer.word {
        Verdict::Enough => heading(canvas, head, speech.word(Word::Enough)),
        Verdict::Close => heading(canvas, head, speech.word(Word::Close)),
        Verdict::Short => {
            badge(canvas, head, speech.word(Word::Short));
        }
    }
}

/// `needs 12.0–15.0 g`: the range at the stated confidence.
fn needs(speech: Speech, word: Word, answer: Answer) -> Text {
    let [least, most] = [answer.least, answer.need].map(|mass| speech.number(mass));
    joined(&[speech.word(word), " ", &least, "–", &most, " ", speech.unit()])
}

fn kinds(speech: Speech, set: KindSet) -> Text {
    let mut text = Text::new();
    for kind in set.kinds() {
        // Six names fit into a text.
        let _ = text.push_str(if text.is_empty() { "" } else { ", " });
        let _ = text.push_str(speech.word(kind.word()));
    }
    text
}

fn source(speech: Speech, basis: Basis) -> Text {
    let word = match (basis.source, basis.scaled) {
        (Source::Nothing, _) => Word::SourceNothing,
        (Source::FirstSock, false) => Word::SourceFirstSock,
        (Source::FirstSock, true) => Word::SourceFirstSockScaled,
        (Source::Records, false) => Word::SourceRecords,
        (Source::Records, true) => Word::SourceRecordsScaled,
        (Source::Estimate, _) => Word::SourceEstimate,
    };
    joined(&[speech.word(word)])
}

/// `reserve 2.2 g (5 pairs)`: how much more than expected is kept in hand, and what says so.
fn reserve(speech: Speech, answer: Answer) -> Text {
    let why = match answer.basis.reserve {
        Reserve::Spread { pairs } => joined(&[&whole(pairs.into()), " ", speech.word(Word::Pairs)]),
        Reserve::Quarter => joined(&[speech.word(Word::AQuarter)]),
    };
    reserve_by(speech, answer, &why)
}

/// The same with what the expectation rests on, in few words.
fn short_basis(speech: Speech, answer: Answer) -> Text {
    let basis = answer.basis;
    let why = match (basis.source, basis.scaled, basis.reserve) {
        (Source::Nothing, _, _) => return joined(&[speech.word(Word::SourceNothing)]),
        (Source::FirstSock, _, _) => joined(&[speech.word(Word::ByFirstSock)]),
        (Source::Records, true, _) => joined(&[speech.word(Word::ByRecordsScaled)]),
        (Source::Records, false, Reserve::Spread { pairs }) => {
            joined(&[&whole(pairs.into()), " ", speech.word(Word::Pairs)])
        }
        (Source::Records, false, Reserve::Quarter) => joined(&[speech.word(Word::ByRecords)]),
        (Source::Estimate, _, _) => joined(&[speech.word(Word::ByEstimate)]),
    };
    reserve_by(speech, answer, &why)
}

fn reserve_by(speech: Speech, answer: Answer, why: &str) -> Text {
    let mass = speech.mass_rounded_up(answer.reserve);
    joined(&[speech.word(Word::Reserve), " ", &mass, " (", why, ")"])
}

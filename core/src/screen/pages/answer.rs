//! One answer of the forecasts: one word and one number, and below, smaller, what they rest on.

use crate::forecast::{Answer, Basis, KindSet, Reserve, Socks, Source, Word as Verdict};
use crate::screen::canvas::{Align, Canvas, Style};
use crate::screen::fonts::TEXT;
use crate::screen::frame::Surface;
use crate::screen::layout::{COLUMNS, Field};
use crate::screen::number::whole;
use crate::screen::parts::{HEAD, badge, heading, signed_number, yarn_badge};
use crate::screen::speech::{Blanks, Speech, Text, joined};
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
            reserve(speech, answer.basis),
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
                short_basis(speech, answer.basis),
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
    let head = signed_number(canvas, head, answer.over);
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

fn reserve(speech: Speech, basis: Basis) -> Text {
    match basis.reserve {
        Reserve::Spread { pairs } => speech.sentence(
            Word::ReserveSpread,
            Blanks {
                number: pairs,
                ..Blanks::default()
            },
        ),
        Reserve::Quarter => joined(&[speech.word(Word::ReserveQuarter)]),
    }
}

/// Where the numbers come from, in few words.
fn short_basis(speech: Speech, basis: Basis) -> Text {
    let word = match (basis.source, basis.scaled) {
        (Source::Nothing, _) => Word::SourceNothing,
        (Source::FirstSock, _) => Word::ByFirstSock,
        (Source::Records, false) => Word::ByRecords,
        (Source::Records, true) => Word::ByRecordsScaled,
        (Source::Estimate, _) => Word::ByEstimate,
    };
    match basis.reserve {
        Reserve::Spread { pairs } => joined(&[
            speech.word(word),
            ", ",
            &whole(pairs.into()),
            " ",
            speech.word(Word::Pairs),
        ]),
        Reserve::Quarter => joined(&[speech.word(word), ", +25 %"]),
    }
}

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
use crate::sock::SectionKind;

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
    let Some(answer) = page.answer else {
        canvas.text(last, &place, style.align(Align::Right));
        if !page.weighed_in {
            return heading(canvas, head, speech.word(Word::NotWeighedIn));
        }
        heading(canvas, head, speech.word(Word::NothingKnown));
        return canvas.paragraph(
            Field { height: 21, ..upper },
            speech.word(Word::NothingKnownWhy),
            11,
            style,
        );
    };
    if page.weighed_in {
        verdict(canvas, head, answer);
    } else {
        heading(canvas, head, speech.word(Word::NotWeighedIn));
    }
    let lines = match (page.about, page.way_out) {
        (About::RestOf(_), None) => [
            needs(speech, Word::Needs, answer),
            source(speech, answer.basis, page.parts),
            reserve(speech, answer),
        ],
        (About::RestOf(_), Some(change)) => {
            let needs = needs(speech, Word::Needs, answer);
            let change = kinds(speech, change);
            let other = joined(&[&change, ": ", speech.word(Word::AnotherYarn)]);
            let other_for = joined(&[speech.word(Word::OtherYarnFor)]);
            if TEXT.width(&change) > COLUMNS {
                canvas.text(upper, &other_for, style);
                return canvas.paragraph(Field { height: 21, ..middle }, &change, 11, style);
            } else if TEXT.width(&other) > COLUMNS {
                [needs, other_for, change]
            } else {
                [needs, short_basis(speech, answer.basis), other]
            }
        }
        (About::Leftover { kinds: set, socks }, _) => {
            let word = need_word(set, socks);
            [
                kinds(speech, set),
                with_reserve(speech, word, answer),
                short_basis(speech, answer.basis),
            ]
        }
    };
    // Which answer this is stands at the end of the last line that has room for it.
    let has_room = |line: &Text| TEXT.width(line).saturating_add(TEXT.width(&place)).saturating_add(3) <= COLUMNS;
    let place_at = lines.iter().rposition(has_room);
    for ((field, line), at) in LINES.into_iter().zip(&lines).zip(0..) {
        canvas.text(field, line, style);
        if place_at == Some(at) {
            canvas.text(field, &place, style.align(Align::Right));
        }
    }
}

/// The word, on a lit ground if it is a warning, and the number at the right end.
fn verdict<D: Surface>(canvas: &mut Canvas<'_, D>, head: Field, answer: Answer) {
    let speech = canvas.speech;
    let head = signed_number(canvas, head, answer.likely);
    let word = speech.word(verdict_word(answer.word));
    match answer.word {
        Verdict::Enough | Verdict::Close => heading(canvas, head, word),
        Verdict::Short => {
            badge(canvas, head, word);
        }
    }
}

pub(super) const fn verdict_word(verdict: Verdict) -> Word {
    match verdict {
        Verdict::Enough => Word::Enough,
        Verdict::Close => Word::Close,
        Verdict::Short => Word::Short,
    }
}

/// `needs 12.0–15.0 g`: the range at the stated confidence.
fn needs(speech: Speech, word: Word, answer: Answer) -> Text {
    let [least, most] = [answer.least, answer.need].map(|mass| speech.number(mass));
    joined(&[speech.word(word), " ", &least, "–", &most, " ", speech.unit()])
}

/// `2 socks: 14.0 + 1.9 g`: what they will likely take, and the reserve.
fn with_reserve(speech: Speech, word: Word, answer: Answer) -> Text {
    let expected = speech.number(answer.expected);
    joined(&[
        speech.word(word),
        " ",
        &expected,
        " + ",
        &speech.mass_rounded_up(answer.reserve),
    ])
}

/// Whether it is needed for one or for both, socks or pieces of a free plan.
pub(super) fn need_word(kinds: KindSet, socks: Socks) -> Word {
    match (kinds.kinds().any(SectionKind::is_part), socks) {
        (false, Socks::One) => Word::OneSockNeeds,
        (false, Socks::Both) => Word::BothSocksNeed,
        (true, Socks::One) => Word::OnePieceNeeds,
        (true, Socks::Both) => Word::BothPiecesNeed,
    }
}

pub(super) fn kinds(speech: Speech, set: KindSet) -> Text {
    let mut text = Text::new();
    for kind in set.kinds() {
        // Six names fit into a text.
        let _ = text.push_str(if text.is_empty() { "" } else { ", " });
        let _ = text.push_str(speech.word(kind.word()));
    }
    text
}

fn source(speech: Speech, basis: Basis, parts: bool) -> Text {
    let word = match (basis.source, basis.scaled) {
        (Source::Nothing, _) => Word::SourceNothing,
        (Source::FirstSock, false) if parts => Word::SourceFirstPiece,
        (Source::FirstSock, true) if parts => Word::SourceFirstPieceScaled,
        (Source::FirstSock, false) => Word::SourceFirstSock,
        (Source::FirstSock, true) => Word::SourceFirstSockScaled,
        (Source::Records, false) => few_records(basis.reserve).unwrap_or(Word::SourceRecords),
        (Source::Records, true) => Word::SourceRecordsScaled,
        (Source::Estimate, _) => Word::SourceEstimate,
    };
    joined(&[speech.word(word)])
}

/// Records of so few pairs that it is said of how many.
const fn few_records(reserve: Reserve) -> Option<Word> {
    match reserve {
        Reserve::Quarter { pairs: 1 } => Some(Word::ByOnePair),
        Reserve::Quarter { pairs: 2 } => Some(Word::ByTwoPairs),
        Reserve::Quarter { .. } | Reserve::Spread { .. } => None,
    }
}

/// `reserve 2.2, 5 pairs`: how much more than expected is kept in hand, and what says so.
fn reserve(speech: Speech, answer: Answer) -> Text {
    let why = match answer.basis.reserve {
        Reserve::Spread { pairs } => joined(&[&whole(pairs.into()), " ", speech.word(Word::Pairs)]),
        Reserve::Quarter { .. } => joined(&["25 %"]),
    };
    joined(&[
        speech.word(Word::Reserve),
        " ",
        &speech.number(answer.reserve),
        ", ",
        &why,
    ])
}

/// Where the numbers come from, in few words.
fn short_basis(speech: Speech, basis: Basis) -> Text {
    let word = match (basis.source, basis.scaled) {
        (Source::Nothing, _) => Word::SourceNothing,
        (Source::FirstSock, _) => Word::ByFirstSock,
        (Source::Records, false) => few_records(basis.reserve).unwrap_or(Word::ByRecords),
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
        Reserve::Quarter { .. } => joined(&[speech.word(word), ", +25 %"]),
    }
}

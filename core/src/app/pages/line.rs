//! What can be done with one line of the plan. Recorded marks are never touched: only open sections change.

use heapless::Vec;

use super::super::dispatch::App;
use super::super::keys::{Key, Press};
use super::super::setup::stepped;
use super::{LIST_KEYS, OnList, Page, Shows, on_list};
use crate::forecast::estimate::USUAL_STITCHES;
use crate::journal::Record;
use crate::screen::{Body, Edit, Item, ItemLabel, KeyWord, List, Value, Word};
use crate::sock::{Construction, HeelConstruction, Line, MAX_LINES, Ribbing, SectionKind, ToeConstruction, YarnLetter};

/// What can be done, in the order of the list.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Deed {
    Next,
    EarlierVisit,
    ChangeYarn,
    ChangeKind,
    ChangeConstruction,
    Stitches,
    Skip,
    Another,
}

/// As many as there are deeds.
const DEEDS: usize = 8;

pub(super) fn view(app: &App, line: u8, selected: u8) -> Shows {
    let Some(section) = app.book.ledger().plan().line(line) else {
        return super::plan::view(app, line);
    };
    let items = deeds(app, line, section).into_iter().map(|deed| item(deed, section));
    let list = List {
        title: Word::ThisSection,
        items: items.collect(),
        selected,
    };
    (Body::List(list), LIST_KEYS)
}

/// The page on which the stitches of a round are set.
pub(super) fn stitches_view(stitches: u8) -> Shows {
    let value = if stitches == 0 {
        Value::Word(Word::NotKnown)
    } else {
        Value::Number(stitches.into())
    };
    let edit = Edit {
        title: Word::Stitches,
        value,
        hint: Some(Word::HoldMarkToLeave),
    };
    (Body::Edit(edit), [KeyWord::Less, KeyWord::Ok, KeyWord::More])
}

pub(super) fn press(app: &mut App, press: Press, line: u8, selected: u8) {
    let Some(section) = app.book.ledger().plan().line(line) else {
        return;
    };
    let deeds = deeds(app, line, section);
    match on_list(press, selected, deeds.len()) {
        OnList::Back => app.page = Page::Plan { selected: line },
        OnList::Highlight(selected) => app.page = Page::Line { line, selected },
        OnList::Take => {
            if let Some(&deed) = deeds.get(usize::from(selected)) {
                act(app, line, section, deed);
            }
        }
        OnList::Nothing => {}
    }
}

pub(super) fn stitches_press(app: &mut App, press: Press, line: u8, stitches: u8) {
    match press {
        Press::Held(Key::Mark) => app.page = Page::Line { line, selected: 0 },
        Press::Short(Key::Mark) => {
            if let Some(section) = app.book.ledger().plan().line(line) {
                app.note(Record::LineChanged {
                    index: line,
                    line: Line { stitches, ..section },
                });
            }
            app.page = Page::Line { line, selected: 0 };
        }
        _ => {
            let stitches = stepped(press, stitches.into(), 4).clamp(0, 200);
            app.page = Page::Stitches {
                line,
                stitches: u8::try_from(stitches).unwrap_or(0),
            };
        }
    }
}

fn item(deed: Deed, section: Line) -> Item {
    let (word, value) = match deed {
        Deed::Next => (Word::KnitThisNext, Value::Nothing),
        Deed::EarlierVisit => (Word::ForgottenMark, Value::Nothing),
        Deed::ChangeYarn => (Word::ChangeYarn, Value::Yarn(section.yarn)),
        Deed::ChangeKind => (Word::Section, Value::Kind(section.kind)),
        Deed::ChangeConstruction => (Word::HowWorked, Value::Word(construction_word(section.construction))),
        Deed::Stitches if section.stitches == 0 => (Word::Stitches, Value::Word(Word::NotKnown)),
        Deed::Stitches => (Word::Stitches, Value::Number(section.stitches.into())),
        Deed::Skip => (Word::SkipSection, Value::Nothing),
        Deed::Another => (Word::AnotherSection, Value::Nothing),
    };
    Item {
        label: ItemLabel::Word(word),
        value,
    }
}

fn deeds(app: &App, line: u8, section: Line) -> Vec<Deed, DEEDS> {
    let open = !app.book.ledger().is_done(line) && !app.book.ledger().is_skipped(line);
    let shaped = open && section.construction != Construction::Plain;
    let room = app.book.ledger().plan().lines.len() < MAX_LINES;
    let in_order = [
        (Deed::Next, open),
        (Deed::EarlierVisit, true),
        (Deed::ChangeYarn, open),
        (Deed::ChangeKind, open),
        (Deed::ChangeConstruction, shaped),
        (Deed::Stitches, open),
        (Deed::Skip, open),
        (Deed::Another, room),
    ];
    in_order
        .into_iter()
        .filter(|&(_, offered)| offered)
        .map(|(deed, _)| deed)
        .collect()
}

fn act(app: &mut App, line: u8, section: Line, deed: Deed) {
    let changed = match deed {
        Deed::Next => {
            app.chosen_line = Some(line);
            return app.page = Page::Pan;
        }
        Deed::EarlierVisit => return app.page = Page::Visits { line, selected: 0 },
        Deed::Skip => {
            app.note(Record::Skipped { line });
            return app.page = Page::Pan;
        }
        Deed::Stitches => {
            let stitches = if section.stitches == 0 {
                USUAL_STITCHES
            } else {
                section.stitches
            };
            return app.page = Page::Stitches { line, stitches };
        }
        Deed::Another => {
            let end = u8::try_from(app.book.ledger().plan().lines.len()).unwrap_or(u8::MAX);
            app.note(Record::LineChanged {
                index: end,
                line: section,
            });
            return app.page = Page::Plan { selected: end };
        }
        Deed::ChangeYarn => Line {
            yarn: next(&YarnLetter::ALL, section.yarn),
            ..section
        },
        Deed::ChangeKind => {
            let kind = next(&SectionKind::ALL, section.kind);
            Line {
                kind,
                construction: crate::sock::usual_construction(kind),
                ..section
            }
        }
        Deed::ChangeConstruction => Line {
            construction: other_construction(section.construction),
            ..section
        },
    };
    app.note(Record::LineChanged {
        index: line,
        line: changed,
    });
}

/// The one after `now`, the first after the last.
fn next<T: Copy + PartialEq>(all: &[T], now: T) -> T {
    let mut after = all.iter().skip_while(|&&one| one != now).skip(1);
    after.next().or_else(|| all.first()).copied().unwrap_or(now)
}

fn other_construction(construction: Construction) -> Construction {
    const RIBBINGS: [Ribbing; 3] = [Ribbing::OneByOne, Ribbing::TwoByTwo, Ribbing::Twisted];
    const HEELS: [HeelConstruction; 3] = [
        HeelConstruction::FlapAndGusset,
        HeelConstruction::ShortRow,
        HeelConstruction::Afterthought,
    ];
    const TOES: [ToeConstruction; 3] = [
        ToeConstruction::Wedge,
        ToeConstruction::Rounded,
        ToeConstruction::Asymmetric,
    ];
    match construction {
        Construction::Plain => Construction::Plain,
        Construction::Ribbed(ribbing) => Construction::Ribbed(next(&RIBBINGS, ribbing)),
        Construction::Heel(heel) => Construction::Heel(next(&HEELS, heel)),
        Construction::Toe(toe) => Construction::Toe(next(&TOES, toe)),
    }
}

const fn construction_word(construction: Construction) -> Word {
    match construction {
        Construction::Plain => Word::Plain,
        Construction::Ribbed(Ribbing::OneByOne) => Word::RibOneByOne,
        Construction::Ribbed(Ribbing::TwoByTwo) => Word::RibTwoByTwo,
        Construction::Ribbed(Ribbing::Twisted) => Word::RibTwisted,
        Construction::Heel(HeelConstruction::FlapAndGusset) => Word::HeelFlap,
        Construction::Heel(HeelConstruction::ShortRow) => Word::HeelShortRow,
        Construction::Heel(HeelConstruction::Afterthought) => Word::HeelAfterthought,
        Construction::Toe(ToeConstruction::Wedge) => Word::ToeWedge,
        Construction::Toe(ToeConstruction::Rounded) => Word::ToeRounded,
        Construction::Toe(ToeConstruction::Asymmetric) => Word::ToeAsymmetric,
    }
}

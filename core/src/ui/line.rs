//! What can be done with one line of the plan: an open section changes; a mark is taken back, given to another section, or set late.

use heapless::Vec;

use super::action::{Action, Actions, To};
use super::change::{Change, mark_of};
use super::context::Context;
use super::highlight::{Highlight, OnList};
use super::keys::Press;
use super::shows::{Shows, list};
use crate::forecast::USUAL_STITCHES;
use crate::journal::Record;
use crate::screen::{Item, ItemLabel, Value, Word};
use crate::sock::{Construction, HeelConstruction, Line, MAX_LINES, Ribbing, SectionKind, ToeConstruction, YarnLetter};

/// What can be done, in the order of the list.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Deed {
    Next,
    EarlierVisit,
    TakeBack,
    MoveMark,
    ChangeYarn,
    ChangeKind,
    ChangeConstruction,
    Stitches,
    Skip,
    Another,
}

/// As many as there are deeds.
const DEEDS: usize = 10;

/// One line of the plan.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct LinePage {
    line: u8,
    highlight: Highlight,
}

impl LinePage {
    pub(super) fn of(line: u8) -> Self {
        Self {
            line,
            highlight: Highlight::default(),
        }
    }

    pub(super) fn press(&mut self, context: &Context<'_>, press: Press) -> Actions {
        let Some(section) = context.ledger().plan().line(self.line) else {
            return Actions::none();
        };
        let deeds = deeds(context, self.line, section);
        match self.highlight.press(press, deeds.len()) {
            Some(OnList::Back) => Actions::go(To::Plan(Some(self.line))),
            Some(OnList::Take(row)) => {
                let deed = deeds.get(row);
                deed.map_or_else(Actions::none, |&deed| act(context, self.line, section, deed))
            }
            None => Actions::none(),
        }
    }

    pub(super) fn view(&self, context: &Context<'_>) -> Shows {
        let section = context.ledger().plan().line(self.line);
        let deeds = section
            .map(|section| deeds(context, self.line, section))
            .unwrap_or_default();
        list(Word::ThisSection, self.highlight, &|place| {
            Some(item(*deeds.get(place)?, section?))
        })
    }
}

fn item(deed: Deed, section: Line) -> Item {
    let (word, value) = match deed {
        Deed::Next => (Word::KnitThisNext, Value::Nothing),
        Deed::EarlierVisit => (Word::ForgottenMark, Value::Nothing),
        Deed::TakeBack => (Word::TakeMarkBack, Value::Nothing),
        Deed::MoveMark => (Word::MoveMark, Value::Nothing),
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

fn deeds(context: &Context<'_>, line: u8, section: Line) -> Vec<Deed, DEEDS> {
    let open = !context.ledger().is_done(line) && !context.ledger().is_skipped(line);
    let marked = mark_of(context.ledger(), line).is_some();
    let shaped = open && !matches!(section.construction, Construction::Plain | Construction::PartOf(_));
    let room = context.ledger().plan().lines.len() < MAX_LINES;
    let in_order = [
        (Deed::Next, open),
        (Deed::EarlierVisit, true),
        (Deed::TakeBack, marked),
        (Deed::MoveMark, marked),
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

fn act(context: &Context<'_>, line: u8, section: Line, deed: Deed) -> Actions {
    let changed = match deed {
        Deed::Next => return Actions::from(Action::Choose(line)).and_go(To::Pan),
        Deed::EarlierVisit => return Actions::go(To::Visits(line)),
        Deed::TakeBack => {
            let mark = mark_of(context.ledger(), line);
            return mark.map_or_else(Actions::none, |of| Actions::go(To::Change(line, Change::TakeBack(of))));
        }
        Deed::MoveMark => return Actions::go(To::Moving(line)),
        Deed::Skip => return Actions::note(Record::Skipped { line }).and_go(To::Pan),
        Deed::Stitches if section.stitches == 0 => return Actions::go(To::Stitches(line, USUAL_STITCHES)),
        Deed::Stitches => return Actions::go(To::Stitches(line, section.stitches)),
        Deed::Another => {
            let end = u8::try_from(context.ledger().plan().lines.len()).unwrap_or(u8::MAX);
            let another = Record::LineChanged {
                index: end,
                line: section,
            };
            return Actions::note(another).and_go(To::Plan(Some(end)));
        }
        Deed::ChangeYarn => Line {
            yarn: next(&YarnLetter::ALL, section.yarn),
            ..section
        },
        Deed::ChangeKind => {
            if section.kind.is_part() {
                let kind = next(&SectionKind::PARTS, section.kind);
                Line { kind, ..section }
            } else {
                let kind = next(&SectionKind::OF_A_SOCK, section.kind);
                let construction = crate::sock::usual_construction(kind);
                Line {
                    kind,
                    construction,
                    ..section
                }
            }
        }
        Deed::ChangeConstruction => Line {
            construction: other_construction(section.construction),
            ..section
        },
    };
    Actions::note(Record::LineChanged {
        index: line,
        line: changed,
    })
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
        Construction::PartOf(of) => Construction::PartOf(of),
        Construction::Ribbed(ribbing) => Construction::Ribbed(next(&RIBBINGS, ribbing)),
        Construction::Heel(heel) => Construction::Heel(next(&HEELS, heel)),
        Construction::Toe(toe) => Construction::Toe(next(&TOES, toe)),
    }
}

const fn construction_word(construction: Construction) -> Word {
    match construction {
        Construction::Plain | Construction::PartOf(_) => Word::Plain,
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

//! What is known of a yarn: the length of 100 g from its band, and its fibre.

use super::super::dispatch::App;
use super::super::keys::{Key, Press};
use super::super::pages::{LIST_KEYS, OnList, Page, Shows, on_list};
use super::stepped;
use crate::journal::Record;
use crate::screen::{Body, Edit, Item, ItemLabel, KeyWord, List, Value, Word};
use crate::sock::{Fibre, Label, YarnLetter};

/// Where the page of one yarn stands.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(in super::super) enum YarnStage {
    /// Choosing a letter.
    Which {
        /// Highlighted row.
        selected: u8,
    },
    /// What is known of one.
    Known {
        /// Which yarn.
        yarn: YarnLetter,
        /// Highlighted row.
        selected: u8,
    },
    /// Setting the length of 100 g.
    Length {
        /// Which yarn.
        yarn: YarnLetter,
        /// Metres.
        metres: u16,
    },
}

/// Sock yarn is between 200 and 500 m per 100 g; laceweight reaches further.
const MOST_METRES: i32 = 1_500;
/// Where the editing begins when nothing is known: the usual four-ply sock yarn.
const USUAL_METRES: u16 = 420;

pub(in super::super) fn view(app: &App, stage: YarnStage) -> Shows {
    match stage {
        YarnStage::Which { selected } => {
            let items = YarnLetter::ALL.iter().map(|&yarn| Item {
                label: ItemLabel::Yarn(yarn),
                value: app
                    .book
                    .ledger()
                    .last(yarn)
                    .map_or(Value::Nothing, |step| Value::Mass(step.weight.net.value)),
            });
            (
                Body::List(List {
                    title: Word::Yarns,
                    items: items.collect(),
                    selected,
                }),
                LIST_KEYS,
            )
        }
        YarnStage::Known { yarn, selected } => {
            let label = app.book.ledger().label(yarn);
            let length = match label.metres_per_100_g {
                0 => Value::Word(Word::NotKnown),
                metres => Value::Quantity(metres.into(), Word::Metres),
            };
            let items = [
                Item {
                    label: ItemLabel::Word(Word::LengthOf100Grams),
                    value: length,
                },
                Item {
                    label: ItemLabel::Word(Word::Fibre),
                    value: Value::Word(word(label.fibre)),
                },
            ];
            (
                Body::List(List {
                    title: Word::Yarn,
                    items: items.into_iter().collect(),
                    selected,
                }),
                LIST_KEYS,
            )
        }
        YarnStage::Length { metres, .. } => {
            let value = Value::Quantity(metres.into(), Word::Metres);
            let edit = Edit {
                title: Word::LengthOf100Grams,
                value,
                hint: Some(Word::HoldMarkToLeave),
            };
            (Body::Edit(edit), [KeyWord::Less, KeyWord::Ok, KeyWord::More])
        }
    }
}

pub(in super::super) fn press(app: &mut App, press: Press, stage: YarnStage) {
    let next = match stage {
        YarnStage::Which { selected } => match on_list(press, selected, YarnLetter::ALL.len()) {
            OnList::Back => return app.page = Page::Pan,
            OnList::Highlight(selected) => YarnStage::Which { selected },
            OnList::Take => match YarnLetter::ALL.get(usize::from(selected)) {
                Some(&yarn) => YarnStage::Known { yarn, selected: 0 },
                None => return,
            },
            OnList::Nothing => return,
        },
        YarnStage::Known { yarn, selected } => match on_list(press, selected, 2) {
            OnList::Back => YarnStage::Which {
                selected: u8::try_from(yarn.index()).unwrap_or(0),
            },
            OnList::Highlight(selected) => YarnStage::Known { yarn, selected },
            OnList::Take if selected == 0 => {
                let known = app.book.ledger().label(yarn).metres_per_100_g;
                YarnStage::Length {
                    yarn,
                    metres: if known == 0 { USUAL_METRES } else { known },
                }
            }
            OnList::Take => {
                let label = app.book.ledger().label(yarn);
                app.note(Record::Yarn {
                    letter: yarn,
                    label: Label {
                        fibre: after(label.fibre),
                        ..label
                    },
                });
                return;
            }
            OnList::Nothing => return,
        },
        YarnStage::Length { yarn, metres } => match press {
            Press::Held(Key::Mark) => YarnStage::Known { yarn, selected: 0 },
            Press::Short(Key::Mark) => {
                let label = Label {
                    metres_per_100_g: metres,
                    ..app.book.ledger().label(yarn)
                };
                app.note(Record::Yarn { letter: yarn, label });
                YarnStage::Known { yarn, selected: 0 }
            }
            _ => {
                let metres = stepped(press, metres.into(), 20).clamp(0, MOST_METRES);
                YarnStage::Length {
                    yarn,
                    metres: u16::try_from(metres).unwrap_or(0),
                }
            }
        },
    };
    app.page = Page::Yarns(next);
}

const fn word(fibre: Fibre) -> Word {
    match fibre {
        Fibre::WoolPolyamide => Word::WoolPolyamide,
        Fibre::Wool => Word::Wool,
        Fibre::Cotton => Word::Cotton,
        Fibre::Silk => Word::Silk,
        Fibre::Synthetic => Word::Synthetic,
    }
}

const fn after(fibre: Fibre) -> Fibre {
    match fibre {
        Fibre::WoolPolyamide => Fibre::Wool,
        Fibre::Wool => Fibre::Cotton,
        Fibre::Cotton => Fibre::Silk,
        Fibre::Silk => Fibre::Synthetic,
        Fibre::Synthetic => Fibre::WoolPolyamide,
    }
}

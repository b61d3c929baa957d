//! What is known of a yarn: the length of 100 g from its band, and its fibre.

use super::action::{Actions, To};
use super::context::Context;
use super::highlight::{Highlight, OnList};
use super::keys::Press;
use super::shows::{Shows, item, list};
use super::stepped::{OnValue, edit, stepped};
use crate::journal::Record;
use crate::screen::{Item, ItemLabel, KeyWord, Value, Word};
use crate::sock::{Fibre, Label, YarnLetter};

/// What is known of the yarns.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct YarnsPage {
    stage: YarnStage,
}

/// Where the page of one yarn stands.
#[derive(Clone, Copy, Debug, PartialEq)]
enum YarnStage {
    /// Choosing a letter.
    Which {
        /// Highlighted row.
        highlight: Highlight,
    },
    /// What is known of one.
    Known {
        /// Which yarn.
        yarn: YarnLetter,
        /// Highlighted row.
        highlight: Highlight,
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

impl YarnsPage {
    pub(super) fn new() -> Self {
        let highlight = Highlight::default();
        Self {
            stage: YarnStage::Which { highlight },
        }
    }

    pub(super) fn press(&mut self, context: &Context<'_>, press: Press) -> Actions {
        match &mut self.stage {
            YarnStage::Which { highlight } => match highlight.press(press, YarnLetter::ALL.len()) {
                Some(OnList::Back) => return Actions::go(To::Pan),
                Some(OnList::Take(row)) => {
                    if let Some(&yarn) = YarnLetter::ALL.get(row) {
                        self.stage = YarnStage::known(yarn);
                    }
                }
                None => {}
            },
            YarnStage::Known { yarn, highlight } => {
                let (letter, label) = (*yarn, context.ledger().label(*yarn));
                match highlight.press(press, 2) {
                    Some(OnList::Back) => {
                        let highlight = Highlight(u8::try_from(letter.index()).unwrap_or(0));
                        self.stage = YarnStage::Which { highlight };
                    }
                    Some(OnList::Take(0)) => {
                        self.stage = YarnStage::Length {
                            yarn: letter,
                            metres: match label.metres_per_100_g {
                                0 => USUAL_METRES,
                                known => known,
                            },
                        };
                    }
                    Some(OnList::Take(_)) => {
                        let fibre = after(label.fibre);
                        let label = Label { fibre, ..label };
                        return Actions::note(Record::Yarn { letter, label });
                    }
                    None => {}
                }
            }
            YarnStage::Length { yarn, metres } => {
                let (letter, metres_per_100_g) = (*yarn, *metres);
                match stepped(press, metres_per_100_g.into(), 20, (0, MOST_METRES)) {
                    OnValue::Leave => self.stage = YarnStage::known(letter),
                    OnValue::Done => {
                        let label = Label {
                            metres_per_100_g,
                            ..context.ledger().label(letter)
                        };
                        self.stage = YarnStage::known(letter);
                        return Actions::note(Record::Yarn { letter, label });
                    }
                    OnValue::Set(set) => *metres = u16::try_from(set).unwrap_or(0),
                }
            }
        }
        Actions::none()
    }

    pub(super) fn view(&self, context: &Context<'_>) -> Shows {
        match self.stage {
            YarnStage::Which { highlight } => list(Word::Yarns, highlight, &|place| {
                let &yarn = YarnLetter::ALL.get(place)?;
                let last = context.ledger().last(yarn);
                Some(Item {
                    label: ItemLabel::Yarn(yarn),
                    value: last.map_or(Value::Nothing, |step| Value::Mass(step.weight.net.value)),
                })
            }),
            YarnStage::Known { yarn, highlight } => {
                let label = context.ledger().label(yarn);
                let length = match label.metres_per_100_g {
                    0 => Value::Word(Word::NotKnown),
                    metres => Value::Quantity(metres.into(), Word::Metres),
                };
                let items = [
                    item(Word::LengthOf100Grams, length),
                    item(Word::Fibre, Value::Word(word(label.fibre))),
                ];
                list(Word::Yarn, highlight, &|place| items.get(place).copied())
            }
            YarnStage::Length { metres, .. } => {
                let value = Value::Quantity(metres.into(), Word::Metres);
                edit(Word::LengthOf100Grams, value, KeyWord::Ok)
            }
        }
    }
}

impl YarnStage {
    fn known(yarn: YarnLetter) -> Self {
        Self::Known {
            yarn,
            highlight: Highlight::default(),
        }
    }
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

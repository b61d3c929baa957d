//! Which parts this scale was built with: what no software can find out by itself is asked, once before the first calibration, and
//! again from the list of everything.
//!
//! Where the panel's picture begins, by a picture: who looks at it sees whether a frame touches all four edges. What the supply is: a
//! lithium cell is empty where three alkaline cells are not. What the load cell can carry.

use super::action::{Action, Actions, To};
use super::context::Context;
use super::highlight::{Highlight, OnList};
use super::keys::{Key, Press};
use super::shows::{Shows, item, list};
use crate::journal::{Record, Setting, SupplyKind};
use crate::screen::{Body, KeyWord, Value, Word};
use crate::units::Milligrams;

/// What is asked now.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct PartsPage(Asked);

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Asked {
    /// Whether the frame touches all four edges, with the picture beginning in this column.
    Panel(u8),
    /// What it is supplied from.
    Supply(Highlight),
    /// What the load cell can carry.
    Cell(Highlight),
}

/// First columns that panels have, commonest first (SSD1306: 0; modules with an SH1106: 2, few another).
const COLUMNS: [u8; 5] = [0, 2, 1, 3, 4];

const SUPPLIES: [(SupplyKind, Word); 4] = [
    (SupplyKind::Alkaline, Word::SupplyAlkaline),
    (SupplyKind::NickelMetalHydride, Word::SupplyNickel),
    (SupplyKind::Lithium, Word::SupplyLithium),
    (SupplyKind::Usb, Word::SupplyUsb),
];

/// Rated loads of the cells on sale, grams.
const CELLS: [u16; 3] = [300, 500, 1_000];

impl PartsPage {
    /// What has never been answered; on a scale that knows its parts, all from the first on.
    pub(super) fn open(context: &Context<'_>) -> Self {
        let settings = context.book.settings();
        Self(if settings.panel.is_none() || Self::is_answered(context) {
            panel(context)
        } else if settings.supply.is_none() {
            Asked::Supply(Highlight::default())
        } else {
            cell(context)
        })
    }

    /// Whether all has been answered once.
    pub(super) fn is_answered(context: &Context<'_>) -> bool {
        let settings = context.book.settings();
        settings.panel.is_some() && settings.supply.is_some() && settings.cell_grams.is_some()
    }

    pub(super) fn press(&mut self, context: &Context<'_>, press: Press) -> Actions {
        match &mut self.0 {
            Asked::Panel(column) => match press {
                Press::Short(Key::Zero) => {
                    let before = context.book.settings().panel.unwrap_or_default();
                    Actions::from(Action::PanelBegins(before)).and_go(To::Pan)
                }
                Press::Short(Key::Mark) => {
                    let column = *column;
                    self.0 = Asked::Supply(Highlight::default());
                    Actions::note(Record::Setting(Setting::PanelOffset(column)))
                }
                Press::Short(Key::Next) => {
                    let mut others = COLUMNS.iter().cycle().skip_while(|&&one| one != *column).skip(1);
                    *column = others.next().copied().unwrap_or_default();
                    Action::PanelBegins(*column).into()
                }
                Press::Held(_) | Press::Down(_) | Press::Again(_) => Actions::none(),
            },
            Asked::Supply(highlight) => match highlight.press(press, SUPPLIES.len()) {
                Some(OnList::Back) => {
                    self.0 = panel(context);
                    Actions::none()
                }
                Some(OnList::Take(row)) => {
                    self.0 = cell(context);
                    let kind = SUPPLIES.get(row);
                    kind.map_or_else(Actions::none, |&(kind, _)| {
                        Actions::note(Record::Setting(Setting::Supply(kind)))
                    })
                }
                None => Actions::none(),
            },
            Asked::Cell(highlight) => match highlight.press(press, CELLS.len()) {
                Some(OnList::Back) => {
                    self.0 = Asked::Supply(Highlight::default());
                    Actions::none()
                }
                Some(OnList::Take(row)) => {
                    let next = if context.calibrated { To::Pan } else { To::Calibrate };
                    let grams = CELLS.get(row);
                    grams.map_or_else(Actions::none, |&grams| {
                        Actions::note(Record::Setting(Setting::CellCapacity(grams))).and_go(next)
                    })
                }
                None => Actions::none(),
            },
        }
    }

    pub(super) fn view(&self, _: &Context<'_>) -> Shows {
        match self.0 {
            Asked::Panel(_) => (Body::Edges, [KeyWord::Back, KeyWord::Ok, KeyWord::Next]),
            Asked::Supply(highlight) => list(Word::SuppliedFrom, highlight, &|place| {
                let &(_, name) = SUPPLIES.get(place)?;
                Some(item(name, Value::Nothing))
            }),
            Asked::Cell(highlight) => list(Word::LoadCell, highlight, &|place| {
                let &grams = CELLS.get(place)?;
                Some(item(
                    Word::CellCarries,
                    Value::Mass(Milligrams::from_grams(grams.into())),
                ))
            }),
        }
    }
}

/// What the scale is fed from; alkaline cells until the setting is made.
pub(super) fn supplied_from(context: &Context<'_>) -> Word {
    let kind = context.book.settings().supply.unwrap_or_default();
    let named = SUPPLIES.iter().find(|(one, _)| *one == kind);
    named.map_or(Word::NotKnown, |&(_, name)| name)
}

/// The first question, with the picture where it begins now.
fn panel(context: &Context<'_>) -> Asked {
    Asked::Panel(context.book.settings().panel.unwrap_or_default())
}

/// The last one, the cell in use highlighted.
fn cell(context: &Context<'_>) -> Asked {
    let carries = |&grams: &u16| Milligrams::from_grams(grams.into()) == context.capacity;
    let row = CELLS.iter().position(carries).and_then(|row| u8::try_from(row).ok());
    Asked::Cell(Highlight(row.unwrap_or_default()))
}

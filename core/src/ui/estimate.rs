//! Grams for each section from stitches and gauge, before anything has been knitted. What is set here holds for the whole pair, and the
//! rest of the pair is answered from it.

use heapless::Vec;

use super::action::{Actions, To};
use super::context::Context;
use super::highlight::{Highlight, LIST_KEYS, OnList};
use super::keys::{Key, Press};
use super::shows::Shows;
use super::stepped::stepped;
use crate::forecast::estimate::{DOUBT, USUAL_STITCHES, estimate_at};
use crate::forecast::gauge_of;
use crate::journal::{Gauge, PairEvent, Record};
use crate::measured::Measured;
use crate::screen::{Body, Edit, Item, ItemLabel, KeyWord, List, MAX_ROWS, Value, Word};
use crate::sock::{Line, Order, Preset, SectionKind};

/// Grams from stitches and gauge.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct EstimatePage {
    highlight: Highlight,
    /// What holds while no pair is begun that could keep it.
    gauge: Gauge,
    setting: Option<(Field, u8)>,
}

/// What can be set, in the order of the list.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Field {
    Stitches,
    StitchesPer10Cm,
    RoundsPer10Cm,
}

const FIELDS: [Field; 3] = [Field::Stitches, Field::StitchesPer10Cm, Field::RoundsPer10Cm];

impl EstimatePage {
    pub(super) fn open(context: &Context<'_>) -> Self {
        Self {
            highlight: Highlight::default(),
            gauge: context.ledger().gauge(),
            setting: None,
        }
    }

    pub(super) fn press(&mut self, context: &Context<'_>, press: Press) -> Actions {
        if let Some((field, value)) = self.setting {
            return self.set(context, press, field, value);
        }
        match self.highlight.press(press, self.items(context).len()) {
            Some(OnList::Back) => return Actions::go(To::Pan),
            Some(OnList::Take(row)) => {
                // The others are answers.
                self.setting = FIELDS.get(row).map(|&field| {
                    let known = field.of(self.gauge);
                    (field, if known == 0 { field.usual() } else { known })
                });
            }
            None => {}
        }
        Actions::none()
    }

    fn set(&mut self, context: &Context<'_>, press: Press, field: Field, value: u8) -> Actions {
        match press {
            Press::Held(Key::Mark) => self.setting = None,
            Press::Short(Key::Mark) => {
                self.setting = None;
                self.gauge = field.with(self.gauge, value);
                let ledger = context.ledger();
                if ledger.is_open() {
                    let event = PairEvent::Gauge(self.gauge);
                    return Actions::note(Record::OfPair {
                        pair: ledger.pair(),
                        event,
                    });
                }
            }
            Press::Short(Key::Zero | Key::Next)
            | Press::Held(Key::Zero | Key::Next)
            | Press::Down(_)
            | Press::Again(_) => {
                let (least, most) = field.range();
                let value = stepped(press, value.into(), 4).clamp(least, most);
                self.setting = Some((field, u8::try_from(value).unwrap_or_else(|_| field.usual())));
            }
        }
        Actions::none()
    }

    fn items(&self, context: &Context<'_>) -> Vec<Item, MAX_ROWS> {
        let fields = FIELDS.into_iter().map(|field| Item {
            label: ItemLabel::Word(field.word()),
            value: field.value(field.of(self.gauge)),
        });
        let gauge = gauge_of(self.gauge);
        let sections = SectionKind::OF_A_SOCK.into_iter().filter_map(|kind| {
            let line = line_of(context, kind)?;
            let mut size = context.ledger().size(line);
            if line.stitches == 0 {
                size.stitches = self.gauge.stitches;
            }
            let value = estimate_at(size, gauge, kind, line.construction)?;
            let u = DOUBT * value.0 as f32;
            Some(Item {
                label: ItemLabel::KindIn(kind, line.yarn),
                value: Value::Measured(Measured { value, u }),
            })
        });
        fields.chain(sections).take(MAX_ROWS).collect()
    }

    pub(super) fn view(&self, context: &Context<'_>) -> Shows {
        if let Some((field, value)) = self.setting {
            let edit = Edit {
                title: field.word(),
                value: field.value(value),
                hint: Some(Word::HoldMarkToLeave),
            };
            return (Body::Edit(edit), [KeyWord::Less, KeyWord::Ok, KeyWord::More]);
        }
        let list = List {
            title: Word::Estimate,
            items: self.items(context),
            selected: self.highlight.0,
        };
        (Body::List(list), LIST_KEYS)
    }
}

/// The section as it is planned, in its own yarn; as it usually is where no sock is planned or the plan has no such section.
fn line_of(context: &Context<'_>, kind: SectionKind) -> Option<Line> {
    let planned = context.ledger().plan().lines.iter().find(|line| line.kind == kind);
    let usual = Preset::OneYarn.lines(Order::OneSock);
    let as_usual = |line: &Line| Line {
        kind,
        construction: crate::sock::usual_construction(kind),
        ..*line
    };
    planned.copied().or_else(|| usual.first().map(as_usual))
}

impl Field {
    const fn of(self, gauge: Gauge) -> u8 {
        match self {
            Self::Stitches => gauge.stitches,
            Self::StitchesPer10Cm => gauge.stitches_per_10_cm,
            Self::RoundsPer10Cm => gauge.rounds_per_10_cm,
        }
    }

    const fn with(self, gauge: Gauge, value: u8) -> Gauge {
        match self {
            Self::Stitches => Gauge {
                stitches: value,
                ..gauge
            },
            Self::StitchesPer10Cm => Gauge {
                stitches_per_10_cm: value,
                ..gauge
            },
            Self::RoundsPer10Cm => Gauge {
                rounds_per_10_cm: value,
                ..gauge
            },
        }
    }

    /// Where the setting begins; the two of the gauge in halves.
    const fn usual(self) -> u8 {
        // See `Gauge::FOUR_PLY`.
        match self {
            Self::Stitches => USUAL_STITCHES,
            Self::StitchesPer10Cm => 60,
            Self::RoundsPer10Cm => 84,
        }
    }

    const fn range(self) -> (i32, i32) {
        match self {
            Self::Stitches => (20, 160),
            Self::StitchesPer10Cm => (20, 120),
            Self::RoundsPer10Cm => (20, 180),
        }
    }

    const fn word(self) -> Word {
        match self {
            Self::Stitches => Word::Stitches,
            Self::StitchesPer10Cm => Word::StitchesPer10Cm,
            Self::RoundsPer10Cm => Word::RoundsPer10Cm,
        }
    }

    const fn value(self, value: u8) -> Value {
        match (self, value) {
            (Self::Stitches, 0) => Value::Word(Word::NotKnown),
            // There is no room for a word.
            (Self::StitchesPer10Cm | Self::RoundsPer10Cm, 0) => Value::Nothing,
            (Self::Stitches, count) => Value::Number(count as i32),
            (Self::StitchesPer10Cm | Self::RoundsPer10Cm, halves) => Value::Halves(halves as i32),
        }
    }
}

//! Grams for each section from stitches and gauge, before anything has been knitted. What is set here holds for the whole pair, and the
//! rest of the pair is answered from it.

use super::action::{Actions, To};
use super::context::Context;
use super::highlight::{Highlight, OnList};
use super::keys::Press;
use super::shows::{Shows, item, list};
use super::stepped::{OnValue, edit, stepped};
use crate::forecast::{DOUBT, USUAL_STITCHES, estimate_at, gauge_of};
use crate::journal::{Gauge, PairEvent, Record};
use crate::measured::Measured;
use crate::screen::{Item, ItemLabel, KeyWord, Value, Word};
use crate::sock::{Line, SectionKind, Sock, YarnLetter, usual_construction};

/// Grams from stitches and gauge.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct EstimatePage {
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
        match self
            .highlight
            .press(press, FIELDS.len().saturating_add(SectionKind::OF_A_SOCK.len()))
        {
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
        match stepped(press, value.into(), 4, field.range()) {
            OnValue::Leave => self.setting = None,
            OnValue::Done => {
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
            OnValue::Set(value) => self.setting = Some((field, u8::try_from(value).unwrap_or(u8::MAX))),
        }
        Actions::none()
    }

    /// What is set, then what that makes of each section.
    fn item(&self, context: &Context<'_>, place: usize) -> Option<Item> {
        if let Some(field) = FIELDS.get(place) {
            return Some(item(field.word(), field.value(field.of(self.gauge))));
        }
        let kind = *SectionKind::OF_A_SOCK.get(place.checked_sub(FIELDS.len())?)?;
        let line = line_of(context, kind);
        let mut size = context.ledger().size(line);
        if line.stitches == 0 {
            size.stitches = self.gauge.stitches;
        }
        let value = estimate_at(size, gauge_of(self.gauge), kind, line.construction)?;
        let u = DOUBT * value.0 as f32;
        Some(Item {
            label: ItemLabel::KindIn(kind, line.yarn),
            value: Value::Measured(Measured { value, u }),
        })
    }

    pub(super) fn view(&self, context: &Context<'_>) -> Shows {
        if let Some((field, value)) = self.setting {
            return edit(field.word(), field.value(value), KeyWord::Ok);
        }
        list(Word::Estimate, self.highlight, &|place| self.item(context, place))
    }
}

/// The section as it is planned, in its own yarn; as it usually is where no sock is planned or the plan has no such section.
fn line_of(context: &Context<'_>, kind: SectionKind) -> Line {
    let planned = context.ledger().plan().lines.iter().find(|line| line.kind == kind);
    planned.copied().unwrap_or(Line {
        kind,
        sock: Sock::First,
        yarn: YarnLetter::A,
        construction: usual_construction(kind),
        stitches: 0,
    })
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

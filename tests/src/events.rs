//! Any event of a pair at all, for property tests.

use proptest::prelude::*;
use yarn_scale_core::journal::{Gauge, PairEvent, Record, Sequence};

use crate::records::{any_label, any_letter, any_weight, record_of_kind};

/// A place for each kind of event; a new kind does not compile until it has one, and [`event_of_kind`] makes it.
#[must_use]
pub const fn event_kind(event: &PairEvent) -> usize {
    match event {
        PairEvent::LineChanged { .. } => 0,
        PairEvent::WeighIn { .. } => 1,
        PairEvent::Mark { .. } => 2,
        PairEvent::Unplanned { .. } => 3,
        PairEvent::Amended { .. } => 4,
        PairEvent::Undone { .. } => 5,
        PairEvent::Skipped { .. } => 6,
        PairEvent::LateMark { .. } => 7,
        PairEvent::Moved { .. } => 8,
        PairEvent::TakenBack { .. } => 9,
        PairEvent::Carried { .. } => 10,
        PairEvent::Label { .. } => 11,
        PairEvent::YarnNamed { .. } => 12,
        PairEvent::Gauge(_) => 13,
        PairEvent::Rounds { .. } => 14,
        PairEvent::Reopened => 15,
    }
}

/// How many kinds of event there are.
pub const EVENT_KINDS: usize = 16;

/// Anything that can happen to a pair, each kind as likely as the others.
pub fn any_event() -> impl Strategy<Value = PairEvent> {
    (0..EVENT_KINDS).prop_flat_map(event_of_kind)
}

/// Any event of a kind.
pub fn event_of_kind(kind: usize) -> BoxedStrategy<PairEvent> {
    let of_schema_1 = match kind {
        0 => 5,
        1 => 6,
        2 => {
            return (record_of_kind(7), proptest::option::of(0.0_f32..1e4))
                .prop_map(|(record, used_u)| match record {
                    Record::Mark { line, yarn, weight } => PairEvent::Mark {
                        line,
                        yarn,
                        weight,
                        used_u,
                    },
                    _ => unreachable!("a mark"),
                })
                .boxed();
        }
        3..=7 => kind + 5,
        8 => {
            return (any::<u32>(), any::<u8>())
                .prop_map(|(of, line)| PairEvent::Moved { of: Sequence(of), line })
                .boxed();
        }
        9 => {
            return any::<u32>()
                .prop_map(|of| PairEvent::TakenBack { of: Sequence(of) })
                .boxed();
        }
        10 => {
            return (any_letter(), any::<u16>(), any_letter(), any_weight())
                .prop_map(|(yarn, from, was, weight)| PairEvent::Carried {
                    yarn,
                    from,
                    was,
                    weight,
                })
                .boxed();
        }
        11 => {
            return (any_letter(), any_label())
                .prop_map(|(yarn, label)| PairEvent::Label { yarn, label })
                .boxed();
        }
        12 => {
            return (any_letter(), "\\PC{0,6}")
                .prop_map(|(yarn, name)| PairEvent::YarnNamed {
                    yarn,
                    name: name.as_str().try_into().unwrap_or_default(),
                })
                .boxed();
        }
        13 => {
            return any::<[u8; 3]>()
                .prop_map(|[stitches, stitches_per_10_cm, rounds_per_10_cm]| {
                    PairEvent::Gauge(Gauge {
                        stitches,
                        stitches_per_10_cm,
                        rounds_per_10_cm,
                    })
                })
                .boxed();
        }
        15 => return Just(PairEvent::Reopened).boxed(),
        _ => {
            return (any::<u8>(), any_letter(), any_weight(), any::<u16>())
                .prop_map(|(line, yarn, weight, rounds)| PairEvent::Rounds {
                    line,
                    yarn,
                    weight,
                    rounds,
                })
                .boxed();
        }
    };
    record_of_kind(of_schema_1)
        .prop_map(|record| record.pair_event(0).expect("it belongs to a pair").1)
        .boxed()
}

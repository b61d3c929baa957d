//! How deep the scale sleeps: the display dims, goes off, and after half an hour the converter with it.
//!
//! While the display is off the converter still looks, in bursts on cells (`bursts.rs`), so that a load on the pan wakes the scale; after
//! [`DEEP`] only a key does, and on cells every clock stops.

use crate::book::Settings;
use crate::units::{Duration, Instant};

/// The display dims after this.
const DIM: Duration = Duration::from_secs(60);
/// The converter is powered down this long after the display.
const DEEP: Duration = Duration::from_secs(30 * 60);
/// How deep the scale sleeps.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Sleep {
    pub(super) last_use: Instant,
    pub(super) depth: Depth,
}

#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Depth {
    #[default]
    Awake,
    Dimmed,
    Dark,
    Deep,
}

impl Sleep {
    pub(super) fn is_dark(self) -> bool {
        self.depth >= Depth::Dark
    }

    pub(super) fn converter_on(self) -> bool {
        self.depth < Depth::Deep
    }

    fn begins(self, depth: Depth, settings: &Settings) -> Option<Instant> {
        let dark = Duration::from_secs(u32::from(settings.sleep_minutes).saturating_mul(60));
        let after = match depth {
            Depth::Awake => return None,
            Depth::Dimmed => Duration(DIM.0.min(dark.0)),
            Depth::Dark => dark,
            Depth::Deep => Duration(dark.0.saturating_add(DEEP.0)),
        };
        Some(self.last_use + after)
    }

    pub(super) fn next(self) -> Depth {
        match self.depth {
            Depth::Awake => Depth::Dimmed,
            Depth::Dimmed => Depth::Dark,
            Depth::Dark | Depth::Deep => Depth::Deep,
        }
    }

    /// When it will sleep deeper.
    pub(super) fn deadline(self, settings: &Settings) -> Option<Instant> {
        if self.depth == Depth::Deep {
            None
        } else {
            self.begins(self.next(), settings)
        }
    }
}

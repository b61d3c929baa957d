//! The converter in bursts while the display is dark on cells: on for as long as a word takes to settle, then off.
//!
//! A burst costs its settling, 400 ms at 10 words a second and 50 ms at 80 (HX711 data sheet), and is repeated so often that a load has its
//! number within 3 s, or 1 s. A word that does not fit what lay there is believed when the next says the same.

use super::application::App;
use super::input::Effect;
use crate::converter::{ConverterFault, RawSample, SampleRate};
use crate::units::{Duration, FineCounts, Instant};

/// Where a burst stands.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) enum Bursts {
    /// The converter runs on, or is off for good.
    #[default]
    Never,
    /// Off until the next burst.
    Off {
        /// When bursts began.
        since: Instant,
        /// When the next one is due.
        due: Instant,
    },
    /// In the middle of one.
    On {
        /// When bursts began.
        since: Instant,
        /// When this one was due.
        due: Instant,
        /// Sum of its words, and how many they are.
        sum: i32,
        words: u8,
        /// Words before did not fit what lay on the pan.
        odd: bool,
    },
}

impl Bursts {
    /// When the next burst is due.
    pub(super) const fn due(self) -> Option<Instant> {
        match self {
            Self::Off { due, .. } => Some(due),
            Self::Never | Self::On { .. } => None,
        }
    }

    /// When bursts began, while there are any.
    const fn since(self) -> Option<Instant> {
        match self {
            Self::Off { since, .. } | Self::On { since, .. } => Some(since),
            Self::Never => None,
        }
    }
}

impl App {
    /// Whether the converter is off between two bursts.
    pub(super) const fn between_bursts(&self) -> bool {
        matches!(self.bursts, Bursts::Off { .. })
    }

    /// The display goes dark: from now on a word now and then will do, unless a plug feeds the scale.
    pub(super) fn begin_bursts(&mut self) {
        if self.plugged {
            return;
        }
        self.bursts = Bursts::Off {
            since: self.now,
            due: self.now + every(self.scale.rate()),
        };
        self.emit(Effect::ConverterPower(false));
    }

    /// The converter runs on again, if it was in bursts.
    pub(super) fn end_bursts(&mut self) {
        let Some(since) = self.bursts.since() else { return };
        let off = self.between_bursts();
        self.bursts = Bursts::Never;
        self.scale.has_dozed(since, self.now);
        if off {
            self.converter_on();
        }
    }

    /// Begins a burst when it is due.
    pub(super) fn burst_in_time(&mut self) {
        if let Bursts::Off { since, due } = self.bursts
            && self.now >= due
        {
            self.bursts = Bursts::On {
                since,
                due,
                sum: 0,
                words: 0,
                odd: false,
            };
            self.converter_on();
        }
    }

    /// A settled word, or why there is none: handed on to the scale, or looked at in a burst. A load that has come wakes the scale, and the
    /// word is its first.
    pub(super) fn seen_in_burst(
        &mut self,
        sample: Result<RawSample, ConverterFault>,
    ) -> Option<Result<RawSample, ConverterFault>> {
        let Bursts::On {
            since,
            due,
            sum,
            words,
            odd,
        } = self.bursts
        else {
            return (!self.between_bursts()).then_some(sample);
        };
        let Ok(RawSample(counts)) = sample else {
            self.burst_is_over(since, due);
            return None;
        };
        let (sum, words) = (sum.saturating_add(counts.0), words.saturating_add(1));
        if words < needed(self.scale.rate()) {
            self.bursts = Bursts::On {
                since,
                due,
                sum,
                words,
                odd,
            };
            return None;
        }
        // A burst has words, so the division is never refused.
        let level = sum.saturating_mul(FineCounts::PER_COUNT).checked_div(words.into());
        let gross = self.scale.glimpse(self.now, FineCounts(level.unwrap_or(sum)));
        if !self.is_another_load(gross) {
            self.burst_is_over(since, due);
            return None;
        }
        if !odd {
            self.bursts = Bursts::On {
                since,
                due,
                sum: 0,
                words: 0,
                odd: true,
            };
            return None;
        }
        self.used_at = Some(gross);
        self.touched();
        Some(sample)
    }

    /// The next one is due by the time of this one, however late its words were.
    fn burst_is_over(&mut self, since: Instant, due: Instant) {
        let mut next = due + every(self.scale.rate());
        if next <= self.now {
            next = self.now + every(self.scale.rate());
        }
        self.bursts = Bursts::Off { since, due: next };
        self.emit(Effect::ConverterPower(false));
    }
}

/// Words of a burst: those of half a tick.
const fn needed(rate: SampleRate) -> u8 {
    match rate {
        SampleRate::Ten => 1,
        SampleRate::Eighty => 4,
    }
}

/// From one burst to the next. A load that comes just after one is seen in the next, 400 ms (50 ms) and a second look later, and has its
/// number two or three ticks after that.
const fn every(rate: SampleRate) -> Duration {
    match rate {
        SampleRate::Ten => Duration(2_000),
        SampleRate::Eighty => Duration(600),
    }
}

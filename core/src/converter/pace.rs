//! At which rate the converter converts: found by the time between conversions, so that its strap need not be a setting.
//!
//! One interval says little: a conversion that is taken late makes one long and the next short, one that is lost makes two into one. Four
//! in a row that fit the same rate are no accident. A rate once found stays until four in a row fit the other one, or until too many have
//! passed without any four that fit either.

use super::SampleRate;
use crate::units::{Duration, Instant};

/// Finds the rate, and goes on watching it.
#[derive(Clone, Copy, Debug, Default)]
pub struct Pace {
    last: Option<Instant>,
    fits: Option<SampleRate>,
    in_a_row: u8,
    strays: u8,
    stray_for: Duration,
    found: Option<Result<SampleRate, OddRate>>,
}

/// Conversions come, but neither ten nor eighty a second.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct OddRate {
    /// How many a second they were on the whole.
    pub hertz: u16,
}

impl Pace {
    /// A conversion has come at `now`.
    pub fn take(&mut self, now: Instant) {
        let Some(last) = self.last.replace(now) else { return };
        let interval = now.since(last);
        let fits = SampleRate::of_interval(interval);
        self.in_a_row = match fits {
            None => 0,
            _ if fits == self.fits => self.in_a_row.saturating_add(1),
            Some(_) => 1,
        };
        self.fits = fits;
        if let Some(rate) = fits.filter(|_| self.in_a_row >= SURE) {
            self.found = Some(Ok(rate));
            self.strays = 0;
            self.stray_for = Duration(0);
            return;
        }
        self.strays = self.strays.saturating_add(1);
        self.stray_for = Duration(self.stray_for.0.saturating_add(interval.0));
        if self.strays >= ASTRAY {
            let hertz = u32::from(self.strays)
                .saturating_mul(1_000)
                .checked_div(self.stray_for.0)
                .unwrap_or(u32::MAX);
            self.found = Some(Err(OddRate {
                hertz: u16::try_from(hertz).unwrap_or(u16::MAX),
            }));
            self.strays = 0;
            self.stray_for = Duration(0);
        }
    }

    /// None has come, or none was asked for: the next interval says nothing.
    pub const fn interrupt(&mut self) {
        self.last = None;
    }

    /// What has been found so far.
    #[must_use]
    pub const fn found(&self) -> Option<Result<SampleRate, OddRate>> {
        self.found
    }
}

/// Intervals in a row that make a rate.
const SURE: u8 = 4;
/// Intervals without so many in a row, after which it is said that no rate fits: 3 s at ten a second. A converter that loses every third
/// conversion at random still has four good ones in a row among so many 96 times in 100 (computed).
const ASTRAY: u8 = 32;

#[cfg(test)]
mod tests {
    use super::*;

    fn found(intervals: impl IntoIterator<Item = u32>) -> Option<Result<SampleRate, OddRate>> {
        let mut pace = Pace::default();
        let mut now = Instant(900);
        pace.take(now);
        for interval in intervals {
            now = now + Duration(interval);
            pace.take(now);
        }
        pace.found()
    }

    /// The chip's own clock is off by -5 to +12 % (HX711 data sheet's range as `SampleRate` quotes it); a loop takes conversions late.
    #[test]
    fn four_intervals_tell_the_rate() {
        assert_eq!(found([100; 3]), None);
        for (intervals, rate) in [
            ([89, 90, 89, 89], SampleRate::Ten),
            ([105, 106, 105, 105], SampleRate::Ten),
            ([120, 80, 110, 92], SampleRate::Ten),
            ([11, 11, 12, 11], SampleRate::Eighty),
            ([13, 13, 14, 13], SampleRate::Eighty),
            ([16, 9, 12, 13], SampleRate::Eighty),
        ] {
            assert_eq!(found(intervals), Some(Ok(rate)), "{intervals:?}");
        }
    }

    #[test]
    fn a_rate_that_is_neither_is_said() {
        for (interval, hertz) in [(25, 40), (50, 20), (200, 5), (5, 200)] {
            assert_eq!(found([interval; 31]), None, "{interval}");
            assert_eq!(found([interval; 32]), Some(Err(OddRate { hertz })), "{interval}");
        }
        // A pin that floats.
        assert!(matches!(
            found([100, 13, 12].into_iter().cycle().take(60)),
            Some(Err(_))
        ));
        // Once it is mended, four are enough.
        assert_eq!(
            found([[25; 40], [100; 40]].concat().into_iter().take(44)),
            Some(Ok(SampleRate::Ten))
        );
    }

    #[test]
    fn a_rate_stays_found_while_conversions_are_late_or_lost() {
        let late = [100, 100, 100, 100, 180, 20, 100, 300, 100, 200, 100, 100, 400, 150, 50];
        assert_eq!(
            found(late.into_iter().chain([100, 100, 200].into_iter().cycle().take(12))),
            Some(Ok(SampleRate::Ten))
        );
        let drawing = [13, 12, 12, 13, 38, 5, 12, 26, 3, 12, 25];
        assert_eq!(found(drawing), Some(Ok(SampleRate::Eighty)));
    }

    #[test]
    fn a_pause_is_no_interval() {
        let mut pace = Pace::default();
        for at in 0..60 {
            pace.take(Instant(1_000 * at));
            pace.interrupt();
        }
        assert_eq!(pace.found(), None);
    }
}

//! Mean and spread of a run of values, one at a time, and how surely they foretell the next.

/// Count, mean and spread of values seen so far, in constant memory.
///
/// Welford's recurrence: a sum of squares would lose its digits in `f32`.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub(super) struct Spread {
    count: u16,
    mean: f32,
    squares: f32,
}

impl Spread {
    /// Takes one more value; beyond 65,535 values nothing changes any more.
    pub(super) fn add(&mut self, value: f32) {
        if self.count == u16::MAX {
            return;
        }
        self.count = self.count.saturating_add(1);
        let before = value - self.mean;
        self.mean += before / f32::from(self.count);
        self.squares += before * (value - self.mean);
    }

    /// How many values there were.
    #[must_use]
    pub(super) const fn count(&self) -> u16 {
        self.count
    }

    /// Their mean; 0 if there were none.
    #[must_use]
    pub(super) const fn mean(&self) -> f32 {
        self.mean
    }

    /// Degrees of freedom: one less than the count.
    #[must_use]
    pub(super) fn freedom(&self) -> f32 {
        f32::from(self.count.saturating_sub(1))
    }

    /// Variance of the population they were drawn from; 0 for fewer than two values.
    #[must_use]
    pub(super) fn variance(&self) -> f32 {
        if self.count < 2 {
            0.0
        } else {
            self.squares / self.freedom()
        }
    }

    /// Variance of the error with which the mean foretells the next value: `s^2 (1 + 1/n)`; 0 for fewer than two values.
    ///
    /// Source: G. J. Hahn, W. Q. Meeker, Statistical Intervals, the prediction interval for one future observation of a normal population.
    #[must_use]
    pub(super) fn variance_of_next(&self) -> f32 {
        self.variance() * (1.0 + 1.0 / f32::from(self.count.max(1)))
    }
}

impl Extend<f32> for Spread {
    fn extend<T: IntoIterator<Item = f32>>(&mut self, values: T) {
        for value in values {
            self.add(value);
        }
    }
}

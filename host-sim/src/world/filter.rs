//! The converter's decimating filter: a sinc of fourth order.
//!
//! A conversion is its input of the last four conversion times, weighted with a cubic B-spline: hence a step takes four conversions
//! to settle (HX711 data sheet: 400 ms at 10 samples a second), white noise comes out with neighbours correlated by
//! 1191/2416 = 0.493, and the standard error of a mean of n samples is sigma x sqrt(2.09 / n).

/// What each of the last intervals adds to the conversions that see it as newest, second, third, oldest.
#[derive(Clone, Debug, Default)]
pub(crate) struct Filter {
    intervals: [[f64; 4]; 4],
}

impl Filter {
    /// A filter that has seen `level` for ever.
    #[must_use]
    pub(crate) fn settled(level: f64) -> Self {
        Self {
            intervals: [flat(level); 4],
        }
    }

    /// Takes an interval in which the input stood at `level`, and converts.
    pub(crate) fn hold(&mut self, level: f64) -> f64 {
        self.push(flat(level))
    }

    /// Takes an interval as equal steps of its input, oldest first, and converts.
    pub(crate) fn steps(&mut self, weights: &Weights, input: &[f64]) -> f64 {
        let mut parts = [0.0; 4];
        for (value, weight) in input.iter().zip(&weights.0) {
            for (part, w) in parts.iter_mut().zip(weight) {
                *part += value * w;
            }
        }
        self.push(parts)
    }

    fn push(&mut self, newest: [f64; 4]) -> f64 {
        self.intervals.rotate_right(1);
        self.intervals[0] = newest;
        self.intervals.iter().enumerate().map(|(age, parts)| parts[age]).sum()
    }
}

/// The weights of the steps of one interval, by its age in conversions.
#[derive(Clone, Debug)]
pub(crate) struct Weights(Vec<[f64; 4]>);

impl Weights {
    /// For intervals of `count` steps; exact for an input that is constant within a step.
    #[must_use]
    pub(crate) fn new(count: usize) -> Self {
        Self(
            (0..count)
                .map(|step| {
                    let from = step as f64 / count as f64;
                    let to = (step + 1) as f64 / count as f64;
                    // An interval of age a spans the kernel's argument from a (its end) to a + 1 (its beginning).
                    core::array::from_fn(|age| seen(age as f64 + 1.0 - from) - seen(age as f64 + 1.0 - to))
                })
                .collect(),
        )
    }
}

/// Share of the kernel within the last `s` conversion times: the integral of the cubic B-spline from 0 to `s`.
#[must_use]
pub fn seen(s: f64) -> f64 {
    let power = |x: f64| if x > 0.0 { x.powi(4) } else { 0.0 };
    if s >= 4.0 {
        return 1.0;
    }
    (power(s) - 4.0 * power(s - 1.0) + 6.0 * power(s - 2.0) - 4.0 * power(s - 3.0)) / 24.0
}

fn flat(level: f64) -> [f64; 4] {
    [level / 24.0, level * 11.0 / 24.0, level * 11.0 / 24.0, level / 24.0]
}

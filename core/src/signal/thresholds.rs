//! How sure one must be that a load is at rest.
use crate::converter::SampleRate;

/// How sure the judge must be that a load is at rest, 64ths of a natural logarithm of odds.
///
/// Where to stop between quick and sure is one number, [`Thresholds::acquire`]. Measured at 10 samples a second on 4 080 simulated
/// handlings (`yarn-scale-lab measure --tradeoff --seed 3`) with earlier trees, by which 184 was chosen; with the present ones, which wait
/// longer, 176 is in use, chosen by the worst of the worlds (below):
///
/// | acquire | hand-off to steady p50 / p95 / p99.9, s | error p50 / p95 / p99.9, mg | steady while handled, per 100 | wrong, per 100 | pulls, per 100 | slack shown, % |
/// |---|---|---|---|---|---|---|
/// | 113 | 0.60 / 1.29 / 1.77 | 9.2 / 36 / 87 | 2.03 | 0.10 | 2.97 | 100.0 |
/// | 144 | 0.63 / 1.31 / 1.86 | 9.0 / 36 / 87 | 1.45 | 0.10 | 1.59 | 100.0 |
/// | 176 | 0.65 / 1.35 / 1.96 | 8.9 / 35 / 85 | 0.88 | 0.10 | 0.97 | 99.9 |
/// | 184 | 0.66 / 1.36 / 1.96 | 8.8 / 34 / 85 | 0.81 | 0.10 | 0.92 | 99.8 |
/// | 208 | 0.70 / 1.42 / 2.16 | 8.6 / 33 / 84 | 0.42 | 0.07 | 0.77 | 99.7 |
/// | 240 | 0.78 / 1.52 / 2.93 | 8.1 / 32 / 80 | 0.15 | 0.05 | 0.62 | 99.3 |
///
/// Stricter than 184, units of middling noise wait longer than 0.70 s in the median. What is left of *wrong* hardly depends on it: most
/// are emptied pans of cells that still warm up, whose zero has moved by nearly two divisions or more under the load. The zero is set
/// anew there, and either the number goes to zero, which is no longer the change that was weighed, or it stays, and the pan is empty and
/// says otherwise. The way is shared between that change and the next (see `weighing/display.rs`); the rest are
/// hands that lay still until they left, a tenth of a second before, and the noise of the noisiest units.
///
/// In the family of worlds (`measure --worlds`, 4 080 handlings in each, seed 7; median in the mean of all, then per 100 the worst world's and, for
/// wrong, the worst but for those of pink noise, where it hardly depends on it): 168 gave 0.80 s, 1.50 handled, 0.25 wrong; 176 0.81 s, 1.20, 0.17;
/// 184 0.83 s, 1.18, 0.17.
///
/// Why no setting has both the speed and the error that one would like: over cells of 500 g and 1 kg with the data sheet's noise times 1 to
/// 6 (log-uniform), half of it correlated through the converter's filter, one sample has a standard deviation of 28.7 mg in the root mean
/// square, and a mean of `n` has the variance `28.7² × 1.55 / n`. Nineteen units in a hundred are noisy, 51 mg a sample. Trusted after
/// 1.15 s in the median, as is wished of them, of which 0.35 s are settling, they have nine samples and a standard error of 21 mg: 41 mg
/// at 95 % of theirs, so that 32 mg at 95 % of all is out of reach unless they wait for twice as many. A median error of 8 mg wants
/// acquire = 240, 0.11 s more in the median and 0.16 s at 95 %. A section is not bound by that: its marks go on learning after the press
/// (see [`goes_on_from`](crate::weighing::SteadyLoad::goes_on_from)).
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Thresholds {
    /// To give the steady sign.
    pub acquire: i16,
    /// Below this it is taken away.
    pub release: i16,
}

impl Thresholds {
    /// Where handling with a still hand is mistaken for rest less than once in a hundred times, by simulation.
    #[must_use]
    pub const fn usual(rate: SampleRate) -> Self {
        Self {
            acquire: match rate {
                SampleRate::Ten => 176,
                SampleRate::Eighty => 232,
            },
            release: -32,
        }
    }

    /// What the odds must reach after `len` ticks without a jump: less and less, for a load that lies still is at rest.
    pub(super) fn enough(self, was_steady: bool, len: usize) -> i16 {
        let enough = if was_steady { self.release } else { self.acquire };
        let patience = len.saturating_sub(PATIENT).min(LONGEST_PATIENCE);
        let easier = i16::try_from(patience).unwrap_or_default().saturating_mul(EASIER);
        enough.saturating_sub(easier).max(PATIENT_ENOUGH)
    }
}

/// Ticks without a jump after which the judge need not be quite so sure.
const PATIENT: usize = 7;
/// 64ths of a natural logarithm of odds by which it is easier with every further tick.
const EASIER: i16 = 12;
/// Ticks over which that goes on.
const LONGEST_PATIENCE: usize = 64;
/// What is enough in the end, 64ths of a natural logarithm of odds. Four seconds without a jump are rest, whatever came before them:
/// of a million ticks in such stretches none had worse odds than this. Else a yarn that a pull has left lying differently would never be
/// trusted, since the trees wait for it to come back to where it was.
const PATIENT_ENOUGH: i16 = -224;

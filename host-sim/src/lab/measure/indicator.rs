//! What is measured: anything that turns words of the converter into a shown mass and a steady sign.

/// What an estimator shows after a sample.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Shown {
    /// Unrounded estimate, g.
    pub grams: Option<f64>,
    /// What its display says, in tenths of a gram.
    pub tenths: Option<i64>,
    /// The steady sign.
    pub steady: bool,
}

/// A load or a difference with its uncertainty.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stated {
    /// Value, g.
    pub grams: f64,
    /// Half-width of the stated 95 % interval, g; `None` where none is stated.
    pub interval: Option<f64>,
}

/// An estimator under test.
pub trait Indicator {
    /// Takes the word that arrived at `t_ms`, signed 24 bit. A word that never arrived is not handed over.
    fn sample(&mut self, t_ms: u64, raw: i32) -> Shown;

    /// Keeps the present load for a difference later, if a mark would take it now; gives it a number. `None` if it would wait.
    fn keep(&mut self) -> Option<usize>;

    /// Whether it asks if the pan is empty.
    fn asks(&self) -> bool {
        false
    }

    /// ZERO is pressed.
    fn zero(&mut self) {}

    /// What lies on the pan is the bowl.
    fn bowl(&mut self) {}

    /// What went off the pan from one kept load to another, by all that is known by now: asked at the second mark, or in the end.
    fn used(&self, before: usize, after: usize) -> Option<Stated>;
}

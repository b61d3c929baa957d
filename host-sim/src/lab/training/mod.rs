//! Growing the decision trees that judge steadiness, again and the same every time.
//!
//! `yarn-scale-lab train --rate 10 core/src/signal/trees_at_ten.rs` (and 80, `trees_at_eighty.rs`) simulates handlings, lets the core's own
//! estimator take its features from them, labels each tick by the truth, and grows trees by gradient boosting. Two generators feed it:
//! the simulator's own scenarios, and `scene`, which was written apart from them and draws wider (loads handed over late or bit by
//! bit, forces evenly spread, knits and handlings with hardly a pause), so that the trees learn what hands have in common and not
//! how one generator draws them. Seeds are far from those of `yarn-scale-lab measure`.
//!
//! The estimator that takes the features holds the trees of before: what was trusted is itself a feature. Starting from other trees
//! gives slightly other ones; two rounds are enough to forget the start.

mod boost;
mod command;
mod labels;
mod physics;
mod scene;

pub use command::TrainArgs;

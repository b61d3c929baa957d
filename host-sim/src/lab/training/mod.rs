//! Growing the decision trees that judge steadiness, again and the same every time.
//!
//! `yarn-scale-lab train --rate 10 core/src/signal/trees_at_ten.rs` (and 80, `trees_at_eighty.rs`) simulates handlings, lets the core's own
//! estimator take its features from them, labels each tick by the truth, and grows trees by gradient boosting. Two generators feed it:
//! the simulator's own scenarios, and `scene`, which was written apart from them and draws wider (loads handed over late or bit by
//! bit, forces evenly spread, knits and handlings with hardly a pause), so that the trees learn what hands have in common and not
//! how one generator draws them. Units and hands come from the family of worlds, but for those that are kept out. Seeds are far from
//! those of `yarn-scale-lab measure`.
//!
//! Nothing goes in but rate, number of sessions, number of trees and seed: the same come out again, on the same machine to the last bit
//! (another one's exponential function may differ in its last bits).

mod boost;
mod command;
mod labels;
mod physics;
mod scene;

pub use command::{Course, TrainArgs};

//! The documents hold what they say.

mod dependencies;
mod documents;
mod notes;
mod order;
mod release;

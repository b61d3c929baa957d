//! The documents hold what they say.

mod documents;
mod notes;
mod order;
mod release;

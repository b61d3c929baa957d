//! The documents hold what they say.

mod dependencies;
mod documents;
mod manual;
mod notes;
mod order;
mod release;

//! The documents hold what they say.

mod dependencies;
mod documents;

//! The documents hold what they say.

mod documents;

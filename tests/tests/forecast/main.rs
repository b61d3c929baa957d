//! The answers, against arithmetic and published values.

mod answers;
mod choices;
mod coverage;
mod extremes;
mod history;
mod journal;
mod moisture;
mod pan;
mod plan;
mod published_textile;
mod rounds;

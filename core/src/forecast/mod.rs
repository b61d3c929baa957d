//! The answers: will it do, rest of the pair, halve, pair check, dry yet, estimate.
//!
//! Pure functions of plain data. Nothing here knows how the ledger stores its marks or how a page looks.

pub mod spread;
pub mod student;

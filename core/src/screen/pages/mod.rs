//! One file a page.

mod advice;
mod answer;
mod edges;
mod edit;
mod finished;
mod guide;
mod halve;
mod list;
mod notice;
mod pairs;
mod pan;
mod plan;
mod question;
mod signs;
mod used;
mod uses;

pub(super) use advice::{bare_code, fault, other_board};
pub(super) use answer::answer;
pub(super) use edges::edges;
pub(super) use edit::edit;
pub(super) use finished::{dry, pair_check};
pub(super) use guide::guide;
pub(super) use halve::halve;
pub(super) use list::list;
pub(super) use notice::notice;
pub(super) use pairs::{pair_summary, pairs};
pub(super) use pan::pan;
pub(super) use plan::plan;
pub(super) use question::question;
pub(super) use signs::signs;
pub(super) use used::used;
pub(super) use uses::uses;

//! Faults of core go where errors go: behind `?`, in a box, onto a terminal.

use std::error::Error;

use yarn_scale_core::board::ScreenFault;
use yarn_scale_core::converter::ConverterFault;
use yarn_scale_core::journal::{DecodeFault, JournalFault};
use yarn_scale_core::ledger::ApplyFault;
use yarn_scale_core::link::{FrameFault, Refusal};
use yarn_scale_core::signal::SensorFault;
use yarn_scale_core::weighing::CalibrationFault;

const fn is_error<E: Error + Send + Sync + 'static>() {}

/// The compiler checks it.
const _: () = {
    is_error::<ApplyFault>();
    is_error::<CalibrationFault>();
    is_error::<ConverterFault>();
    is_error::<DecodeFault>();
    is_error::<FrameFault>();
    is_error::<JournalFault>();
    is_error::<Refusal>();
    is_error::<ScreenFault>();
    is_error::<SensorFault>();
};

#[test]
fn a_refusal_by_the_journal_says_why_behind_it() {
    let refusal = Refusal::NotNoted(JournalFault::Full);
    assert_eq!(refusal.to_string(), "the scale's journal did not take it");
    let why = refusal.source().map(ToString::to_string);
    assert_eq!(why.as_deref(), Some("the journal is full"));
    assert!(Refusal::Busy.source().is_none());
}

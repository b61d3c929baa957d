//! Log lines for a debug probe, by `defmt` and with its feature only: without it nothing of this file is in the program.

use crate::app::App;
use crate::journal::{Entry, JournalFault, StartCause};

#[cfg(feature = "defmt")]
use crate::{
    app::Health,
    journal::{PairEvent, Record},
    weighing::Condition,
};

/// Writes a line, or nothing.
macro_rules! line {
    ($level:ident, $($arguments:tt)*) => {
        #[cfg(feature = "defmt")]
        defmt::$level!($($arguments)*);
    };
}

/// The journal has been replayed.
#[cfg_attr(not(feature = "defmt"), allow(unused_variables, reason = "unused without defmt"))]
pub(crate) fn started(cause: StartCause, journal: Result<(), JournalFault>) {
    line!(info, "started: {}, journal {}", cause, journal);
}

/// A record is in the journal, or is not.
#[cfg_attr(not(feature = "defmt"), allow(unused_variables, reason = "unused without defmt"))]
pub(crate) fn noted(outcome: Result<&Entry, JournalFault>) {
    #[cfg(feature = "defmt")]
    match outcome {
        Ok(entry) => defmt::info!("noted {}: {}", entry.sequence, entry.record),
        Err(fault) => defmt::error!("not noted: {}", fault),
    }
}

/// The converter was powered up or down.
#[cfg_attr(not(feature = "defmt"), allow(unused_variables, reason = "unused without defmt"))]
pub(crate) fn converter(on: bool) {
    line!(info, "converter {}", if on { "on" } else { "off" });
}

/// The display's brightness was set, 0 for off.
#[cfg_attr(not(feature = "defmt"), allow(unused_variables, reason = "unused without defmt"))]
pub(crate) fn brightness(level: u8) {
    line!(info, "display at {}", level);
}

/// The display does not answer.
pub(crate) fn display_lost() {
    line!(warn, "the display does not answer");
}

/// What was seen last, so that only changes are told.
#[derive(Clone, Debug, Default)]
pub(crate) struct Watch {
    #[cfg(feature = "defmt")]
    condition: Option<Condition>,
    #[cfg(feature = "defmt")]
    health: Option<Health>,
    #[cfg(feature = "defmt")]
    line_open: bool,
}

impl Watch {
    /// Tells of a changed condition of the scale, a changed outcome of the self-test, and a computer that has come or gone.
    #[cfg_attr(
        not(feature = "defmt"),
        allow(
            unused_variables,
            clippy::unused_self,
            clippy::needless_pass_by_ref_mut,
            clippy::missing_const_for_fn,
            reason = "unused without defmt"
        )
    )]
    pub(crate) fn look(&mut self, app: &App, line_open: bool) {
        #[cfg(feature = "defmt")]
        {
            let condition = app.scale().condition();
            if self.condition.replace(condition) != Some(condition) {
                defmt::info!("scale: {}", condition);
            }
            let health = app.health();
            if self.health.is_none_or(|before| before.sound() != health.sound()) {
                defmt::info!("self-test {}: {}", if health.sound() { "good" } else { "bad" }, health);
                self.health = Some(health);
            }
            if self.line_open != line_open {
                defmt::info!("computer {}", if line_open { "talks" } else { "is quiet" });
                self.line_open = line_open;
            }
        }
    }
}

#[cfg(feature = "defmt")]
impl defmt::Format for Record {
    fn format(&self, to: defmt::Formatter<'_>) {
        match self {
            Self::Started(cause) => defmt::write!(to, "started: {}", cause),
            Self::Calibrated(calibration) => defmt::write!(to, "calibrated: {}", calibration),
            Self::Bowl { number, mass } => defmt::write!(to, "bowl {}: {}", number, mass),
            Self::PairBegun { pair, lines } => defmt::write!(to, "pair {} of {} sections begun", pair, lines.len()),
            Self::LineChanged { index, .. } => defmt::write!(to, "section {} changed", index),
            Self::WeighIn { yarn, weight } => defmt::write!(to, "yarn {} weighed in: {}", yarn, weight),
            Self::Mark { line, yarn, weight } | Self::SharedZeroMark { line, yarn, weight, .. } => {
                defmt::write!(to, "mark of section {}, yarn {}: {}", line, yarn, weight);
            }
            Self::Unplanned { yarn, weight } => defmt::write!(to, "yarn {} from here: {}", yarn, weight),
            Self::Amended { of, weight } => defmt::write!(to, "{} amended: {}", of, weight),
            Self::Undone { of } => defmt::write!(to, "{} undone", of),
            Self::Skipped { line } => defmt::write!(to, "section {} skipped", line),
            Self::LateMark { line, yarn, weight, .. } => {
                defmt::write!(to, "late mark of section {}, yarn {}: {}", line, yarn, weight);
            }
            Self::Visit { gross, bowl, .. } => defmt::write!(to, "visit: {} in bowl {}", gross, bowl),
            Self::PairClosed { pair } => defmt::write!(to, "pair {} closed", pair),
            Self::Setting(setting) => defmt::write!(to, "setting: {}", setting),
            Self::Yarn { letter, label } => defmt::write!(to, "yarn {}: {}", letter, label),
            Self::ClockSet { unix } => defmt::write!(to, "clock set to {}", unix),
            Self::Named { what, name } => defmt::write!(to, "{} is named {}", what, name.as_str()),
            Self::Lost { count } => defmt::write!(to, "{} records lost", count),
            Self::Condensed { pair, .. } => defmt::write!(to, "pair {} in short", pair),
            Self::Checkpoint { from, .. } => defmt::write!(to, "checkpoint from {}", from),
            Self::Control { weight } => defmt::write!(to, "control skein: {}", weight),
            Self::OfPair { pair, event } => defmt::write!(to, "pair {}: {}", pair, event),
            Self::Kept { pair, number, event } => defmt::write!(to, "pair {}, kept {}: {}", pair, number, event),
            Self::Bench { check, value, passed } => defmt::write!(to, "check {}: {}, passed {}", check, value, passed),
            Self::Reserved => defmt::write!(to, "reserved"),
        }
    }
}

#[cfg(feature = "defmt")]
impl defmt::Format for PairEvent {
    fn format(&self, to: defmt::Formatter<'_>) {
        match self {
            Self::LineChanged { index, .. } => defmt::write!(to, "section {} changed", index),
            Self::WeighIn { yarn, weight } => defmt::write!(to, "yarn {} weighed in: {}", yarn, weight),
            Self::Mark { line, yarn, weight, .. } => {
                defmt::write!(to, "mark of section {}, yarn {}: {}", line, yarn, weight);
            }
            Self::Unplanned { yarn, weight } => defmt::write!(to, "yarn {} from here: {}", yarn, weight),
            Self::Amended { of, weight } => defmt::write!(to, "{} amended: {}", of, weight),
            Self::Undone { of } | Self::TakenBack { of } => defmt::write!(to, "{} taken back", of),
            Self::Skipped { line } => defmt::write!(to, "section {} skipped", line),
            Self::LateMark { line, yarn, weight, .. } => {
                defmt::write!(to, "late mark of section {}, yarn {}: {}", line, yarn, weight);
            }
            Self::Moved { of, line } => defmt::write!(to, "{} moved to section {}", of, line),
            Self::Carried { yarn, from, weight, .. } => {
                defmt::write!(to, "yarn {} from pair {}: {}", yarn, from, weight);
            }
            Self::Label { yarn, label } => defmt::write!(to, "yarn {}: {}", yarn, label),
            Self::YarnNamed { yarn, name } => defmt::write!(to, "yarn {} is named {}", yarn, name.as_str()),
            Self::Gauge(gauge) => defmt::write!(to, "gauge: {}", gauge),
            Self::Rounds { line, rounds, .. } => defmt::write!(to, "{} rounds of section {}", rounds, line),
            Self::Reopened => defmt::write!(to, "open again"),
        }
    }
}

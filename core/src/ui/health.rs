//! What the device knows of its own state, for the diagnostics page and the export.

use crate::journal::Room;
use crate::units::Millivolts;

/// What a computer sees of the scale's drive.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub enum DriveShows {
    /// No computer sees it.
    #[default]
    Nothing,
    /// A computer is there, and the files are not yet.
    Soon,
    /// Everything that has been noted.
    News,
    /// The state of a while ago: something was noted since.
    Older,
}

/// The state of the device.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Health {
    /// The supply, where it is measured.
    pub supply: Option<Millivolts>,
    /// Days that the cells last, where there are any and nothing else feeds the scale.
    pub lasts: Option<u16>,
    /// Hours in use a day, by which they last so long.
    pub hours_a_day: u16,
    /// How full the journal is, %.
    pub journal_percent: Option<u8>,
    /// The pairs that go if room is made, where that was asked and there is need.
    pub room: Option<Room>,
    /// Places in the journal where something is missing or damaged.
    pub gaps: u16,
    /// Restarts after a hang, as far as the journal goes back.
    pub hangs: u16,
    /// Restarts after an error of the program, as far.
    pub errors: u16,
    /// Conversions a second: the one that the converter is set to where it fits, else what was counted.
    pub a_second: Option<u16>,
    /// What a computer sees of the drive.
    pub drive: DriveShows,
    /// The converter answers and the load cell is the right way round.
    pub weighs: bool,
}

impl Health {
    /// The verdict of the self-test.
    #[must_use]
    pub const fn sound(&self) -> bool {
        self.weighs && self.gaps == 0 && self.journal_percent.is_some()
    }
}

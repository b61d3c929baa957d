//! What goes into the application, and what comes out.

use crate::bench::Task;
use crate::board::{Climate, Levels, Tone};
use crate::converter::{ConverterFault, RawSample};
use crate::journal::{Entry, JournalFault, Record, Replayed, Room, StartCause, Usage};
use crate::ui::DriveShows;
use crate::units::{Instant, Millivolts};

/// Everything that can happen to the scale. Each comes with the time at which it happened.
#[derive(Clone, Copy, Debug)]
pub enum Input<'a> {
    /// A record that a computer has brought into the journal.
    Adopted(&'a Entry),
    /// The record asked for by the last [`Effect::Append`] is safely in the journal, or is not.
    Appended(Result<&'a Entry, JournalFault>),
    /// A computer asks this of the check on the bench.
    Check(Task),
    /// The air beside the cell.
    Climate(Climate),
    /// What a computer sees of the drive.
    Drive(DriveShows),
    /// How full the journal is.
    Journal(Usage),
    /// Key levels, bounces included.
    Keys(Levels),
    /// Whether a plug on the USB feeds the scale.
    Plugged(bool),
    /// All of the journal has been replayed; why the device started.
    Ready(StartCause),
    /// What reading the journal gives, at start-up, oldest first.
    Replayed(Replayed<'a>),
    /// Now is the time to reckon with what the pan has told, after [`Effect::AskAnew`].
    AskAnew,
    /// A backup is being restored; the shell begins anew once that is done.
    Restoring,
    /// A record was refused: it will be missing before the next one.
    Refused,
    /// The pairs that go if room is made; none where there is no need.
    Room(Option<Room>),
    /// A conversion, or why there is none.
    Sample(Result<RawSample, ConverterFault>),
    /// The supply.
    Supply(Millivolts),
    /// Nothing but time.
    Tick,
    /// The shell's clock has stood still for an unknown time: it has rested as [`Wait::stopped`] allows.
    TimeLost,
}

/// What the shell has to do.
#[allow(clippy::large_enum_variant, reason = "there is no allocator to box a plan with")]
#[derive(Clone, Debug, PartialEq)]
pub enum Effect {
    /// Come back with [`Input::AskAnew`] at once, with a fast processor.
    AskAnew,
    /// Note this in the journal and answer with [`Input::Appended`].
    Append(Record),
    /// Sound the buzzer.
    Beep(Tone),
    /// Set the display's brightness, 0 to 255; 0 is off.
    Brightness(u8),
    /// Power the converter up or down.
    ConverterPower(bool),
    /// Find out which pairs go if room is made, and answer with [`Input::Room`].
    LookForRoom,
    /// Let the drive show what has been noted by now.
    BringNews,
    /// Begin the display's picture in this column of its controller's memory.
    PanelBegins(u8),
}

/// How long the shell may rest.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Wait {
    /// Until this time at the latest.
    pub until: Instant,
    /// A conversion ends the rest, too; otherwise only a key or the time does.
    pub for_samples: bool,
    /// Nothing but a key or a plug is waited for: every clock may stop, the shell's own with them, until one comes.
    pub stopped: bool,
}

//! The drive: its volume is made when a computer comes, stays as it is while that reads it, and is made anew when news is wanted.

use embedded_storage::nor_flash::NorFlash;

use super::contents::{Contents, Reader};
use super::files;
use super::scsi::{Medium, Target};
use super::source::Source;
use super::transfer::{Filling, Sectors, Transfer};
use super::volume::Volume;
use crate::app::App;
use crate::board::{Board, Pipe};
use crate::journal::Journal;
use crate::ui::DriveShows;
use crate::units::{Duration, Instant};

/// The drive that a computer sees.
#[derive(Clone, Debug)]
pub struct Drive {
    transfer: Transfer,
    contents: Contents,
    volume: Option<Volume>,
    state: State,
    /// In idle time it is found out what the next computer will want to know.
    preparing: bool,
    /// When a computer was there last.
    up_at: Instant,
}

/// What the computer finds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum State {
    /// No computer is there.
    Alone,
    /// There is no medium until this time, so that the computer notices.
    Away(Instant),
    /// It is found out how large the files are.
    Making,
    /// The medium is there.
    There,
    /// The computer's user has ejected it.
    Ejected,
}

impl Default for Drive {
    fn default() -> Self {
        Self {
            transfer: Transfer::new(Target::new([b'0'; 16])),
            contents: Contents::default(),
            volume: None,
            state: State::Alone,
            preparing: false,
            up_at: Instant::default(),
        }
    }
}

impl Drive {
    /// Answers the computer, and makes the volume where there is none yet. Never waits.
    #[inline(never)]
    pub fn poll<B: Board>(&mut self, board: &mut B, app: &App, journal: Option<&Journal>, now: Instant) {
        let number = board.number();
        let (pipe, flash) = board.drive();
        if pipe.take_reset() {
            self.transfer.reset();
        }
        if pipe.is_up() {
            self.up_at = now;
        } else if !pipe.is_powered() || now.since(self.up_at) > RESET_TAKES {
            self.lose();
            self.state = State::Alone;
            self.prepare(app, journal, flash);
            return;
        } else {
            // A computer resets the bus when it is at a loss, and goes on with the same volume.
            return;
        }
        let mut source = Source::new(journal, flash);
        match self.state {
            State::Alone => {
                self.transfer.target.is(number);
                self.begin(app, journal);
            }
            State::Away(until) if now >= until => self.begin(app, journal),
            State::Away(_) | State::Ejected => {}
            State::Making | State::There if !self.contents.snapshot.still_stands(journal) => {
                self.go_away(now);
            }
            State::Making => self.make(&mut source),
            State::There => {
                if self.transfer.target.medium() == Medium::Away {
                    self.state = State::Ejected;
                }
            }
        }
        let volume = self.volume.as_ref();
        let contents = &mut self.contents;
        let mut sectors = Volumes {
            volume,
            reader: Reader {
                contents,
                source: &mut source,
            },
        };
        self.transfer.work(pipe, &mut sectors, PACKETS_A_TURN);
    }

    /// Takes the medium away and brings another, with all that has been noted by then.
    pub fn bring_news(&mut self, now: Instant) {
        match self.state {
            State::Alone | State::Away(_) => {}
            State::Making | State::There | State::Ejected => self.go_away(now),
        }
    }

    /// What the knitter should know.
    #[must_use]
    pub fn shows(&self, journal: Option<&Journal>) -> DriveShows {
        match self.state {
            State::Alone | State::Ejected => DriveShows::Nothing,
            State::Away(_) | State::Making => DriveShows::Soon,
            State::There if self.contents.snapshot.is_old(journal) => DriveShows::Older,
            State::There => DriveShows::News,
        }
    }

    /// Whether a volume is there, or being made, that is read from the journal: then nothing that is in it may be erased without need.
    #[must_use]
    pub const fn holds_journal(&self) -> bool {
        matches!(self.state, State::Making | State::There)
    }

    /// When it should be polled again, if no computer asks before.
    #[must_use]
    pub const fn deadline(&self, now: Instant) -> Option<Instant> {
        match self.state {
            State::Making => Some(now),
            State::Away(until) => Some(until),
            State::Alone if self.preparing => Some(now),
            State::There if self.transfer.is_filling() => Some(now),
            State::Alone | State::There | State::Ejected => None,
        }
    }

    /// Whether idle time is used, in slices of some milliseconds at the fast clock.
    #[must_use]
    pub const fn is_preparing(&self) -> bool {
        self.preparing
    }

    /// The journal is another one: what was found out is worth nothing.
    pub const fn forget(&mut self) {
        self.contents.forget();
    }

    /// Finds out how large the files are before a computer comes, a little at a time, and keeps it while the journal stays as it is.
    fn prepare<F: NorFlash>(&mut self, app: &App, journal: Option<&Journal>, flash: &mut F) {
        self.preparing = app.is_idle() && {
            if !self.contents.is_of(app, journal) {
                self.contents.begin(app, journal);
            }
            self.contents.find_out(&mut Source::new(journal, flash))
        };
    }

    fn begin(&mut self, app: &App, journal: Option<&Journal>) {
        self.preparing = false;
        self.contents.begin(app, journal);
        self.state = State::Making;
    }

    fn make<F: NorFlash>(&mut self, source: &mut Source<'_, F>) {
        if self.contents.find_out(source) {
            return;
        }
        self.volume = files::volume(&self.contents.snapshot, &self.contents.sizes());
        // A journal's texts always fit: its flash is far smaller than the largest volume. If they did not, there would be no medium.
        self.state = match &self.volume {
            Some(volume) => {
                self.transfer.insert(volume.sectors());
                State::There
            }
            None => State::Ejected,
        };
    }

    fn go_away(&mut self, now: Instant) {
        self.lose();
        self.state = State::Away(now + NOTICED);
    }

    fn lose(&mut self) {
        self.transfer.eject();
        self.volume = None;
    }
}

/// Sectors of the volume, as long as there is one.
struct Volumes<'v, 'a, 's, F> {
    volume: Option<&'v Volume>,
    reader: Reader<'a, 's, F>,
}

impl<F: NorFlash> Sectors for Volumes<'_, '_, '_, F> {
    fn read(&mut self, sector: u32, out: &mut Filling) {
        if let Some(volume) = self.volume {
            volume.read(sector, &mut self.reader, out);
        }
    }
}

/// So long a medium stays away that every computer has asked for it meanwhile: they ask every second or two (from memory).
const NOTICED: Duration = Duration::from_secs(4);

/// A computer that resets the bus takes the device up again within this time; one that starts anew takes longer (from memory).
const RESET_TAKES: Duration = Duration::from_secs(3);

/// Packets in a turn of the loop, which has a scale to be: a sector and what belongs to it.
const PACKETS_A_TURN: u8 = 12;

//! The loop of both shells: inputs from the board into the application, its effects back onto the board.

use crate::app::{App, Configuration, Effect, Input, Wait};
use crate::board::{Board, Converter, Levels, Screen, Speed};
use crate::drive::Drive;
use crate::journal::{Entry, Journal, JournalFault, Record, StartCause};
use crate::link::{Server, ServerContext};
use crate::log;
use crate::screen::{View, draw};
use crate::units::{Duration, Instant, Stamp};

/// The application with its journal and its screen: everything but the wires.
#[derive(Clone, Debug)]
pub struct Device {
    app: App,
    journal: Result<Journal, JournalFault>,
    drawn: Option<View>,
    sending: bool,
    /// A key was pressed, and what it did is not on the panel yet.
    answering: bool,
    plugged: Option<bool>,
    look_at: Instant,
    tidied: bool,
    panel_again_at: Instant,
    configuration: Configuration,
    server: Server,
    drive: Drive,
    watch: log::Watch,
}

impl Device {
    /// A device that has not started yet.
    // Kept apart from `start`, and neither is inlined: the application is 14 KB, and a shell's stack must hold it once, not thrice.
    #[inline(never)]
    #[must_use]
    pub fn new(configuration: Configuration) -> Self {
        Self {
            app: App::new(configuration),
            journal: Err(JournalFault::Unsuitable),
            drawn: None,
            sending: false,
            answering: true,
            plugged: None,
            look_at: Instant::default(),
            tidied: false,
            panel_again_at: Instant::default(),
            configuration,
            server: Server::default(),
            drive: Drive::default(),
            watch: log::Watch::default(),
        }
    }

    /// Starts: replays the journal, then weighs.
    #[inline(never)]
    pub fn start<B: Board>(&mut self, board: &mut B, cause: StartCause) {
        let now = board.now();
        let app = &mut self.app;
        // Without its journal the scale still weighs; every mark then says that it was not noted.
        self.journal = Journal::open(board.flash(), |replayed| app.handle(now, Input::Replayed(replayed)));
        app.handle(now, Input::Ready(cause));
        log::started(cause, self.journal.as_ref().map(|_| ()).map_err(|&fault| fault));
        self.obey(board, now);
    }

    /// One turn of the loop. Never waits; says how long the shell may rest before the next.
    ///
    /// What it calls is not inlined: the stack holds what one of them needs at a time, not what all of them do.
    pub fn step<B: Board>(&mut self, board: &mut B) -> Wait {
        let now = board.now();
        if board.has_lost_time() {
            self.tell(board, now, Input::TimeLost);
        }
        let plugged = board.plugged();
        if self.plugged.replace(plugged) != Some(plugged) {
            self.tell(board, now, Input::Plugged(plugged));
        }
        if self.journal.as_ref().is_ok_and(Journal::is_restoring) {
            self.tell(board, now, Input::Restoring);
        }
        let levels = board.levels();
        self.hasten(board, levels != Levels::default());
        self.tell(board, now, Input::Keys(levels));
        if self.app.wants_samples() {
            match board.converter().read(now) {
                Ok(sample) => {
                    self.server.converted(now, sample);
                    self.tell(board, now, Input::Sample(Ok(sample)));
                }
                Err(nb::Error::Other(fault)) => self.tell(board, now, Input::Sample(Err(fault))),
                Err(nb::Error::WouldBlock) => {}
            }
        }
        if now >= self.look_at {
            self.look_at = now + LOOK_EVERY;
            if let Ok(usage) = self.journal.as_ref().map(Journal::usage) {
                self.tell(board, now, Input::Journal(usage));
            }
            if let Some(supply) = board.supply() {
                self.tell(board, now, Input::Supply(supply));
            }
            if let Some(climate) = board.climate() {
                self.tell(board, now, Input::Climate(climate));
            }
        }
        self.serve(board, now);
        self.tidy(board);
        self.drive.poll(board, &self.app, self.journal.as_ref().ok(), now);
        let shows = self.drive.shows(self.journal.as_ref().ok());
        if self.app.health().drive != shows {
            self.app.handle(now, Input::Drive(shows));
        }
        self.show(board, now);
        self.watch.look(&self.app, self.server.is_open(now));
        self.answering &= self.sending;
        self.hasten(board, false);
        let wait = self.app.wait();
        let until = if self.sending {
            now
        } else {
            wait.until.min(self.look_at)
        };
        let drive = self.drive.deadline(now);
        Wait {
            until: drive.map_or(until, |drive| drive.min(until)),
            stopped: wait.stopped && !self.sending && drive.is_none(),
            ..wait
        }
    }

    /// The speed that is needed: fast from the first touch of a key until the panel shows what it did, on USB, and while much is counted;
    /// slow otherwise.
    fn hasten<B: Board>(&mut self, board: &mut B, touched: bool) {
        self.answering |= touched || self.app.is_in_haste();
        let fast = self.answering || self.drive.is_preparing();
        board.run_at(if fast { Speed::Fast } else { Speed::Slow });
    }

    /// The application, to look at.
    #[must_use]
    pub const fn app(&self) -> &App {
        &self.app
    }

    /// The journal, to look at.
    #[must_use]
    pub fn journal(&self) -> Option<&Journal> {
        self.journal.as_ref().ok()
    }

    fn tell<B: Board>(&mut self, board: &mut B, now: Instant, input: Input<'_>) {
        self.app.handle(now, input);
        self.obey(board, now);
    }

    /// Does what the application asks for, and tells it how that went, until it asks for nothing more.
    fn obey<B: Board>(&mut self, board: &mut B, now: Instant) {
        while let Some(effect) = self.app.poll() {
            match effect {
                Effect::AskAnew => {
                    // Whose cake it is, or what a leftover is good for, takes a slow processor longer than a conversion does.
                    board.run_at(Speed::Fast);
                    self.app.handle(now, Input::AskAnew);
                }
                Effect::Append(record) => {
                    // To find its place and to reckon with it would take a slow processor longer than a conversion does.
                    board.run_at(Speed::Fast);
                    let at = self.app.stamp();
                    let noted = self.append(board, at, record);
                    log::noted(noted.as_ref().map_err(|&fault| fault));
                    self.app
                        .handle(now, Input::Appended(noted.as_ref().map_err(|&fault| fault)));
                }
                Effect::Beep(tone) => board.beep(tone),
                Effect::Brightness(level) => {
                    log::brightness(level);
                    board.screen().brightness(level);
                }
                Effect::LookForRoom => {
                    let journal = self.journal.as_ref().ok();
                    let room = journal.and_then(|journal| journal.room(board.flash()).ok().flatten());
                    self.app.handle(now, Input::Room(room));
                }
                Effect::BringNews => self.drive.bring_news(now),
                Effect::PanelBegins(column) => {
                    board.screen().begins_at(column);
                    // The same picture elsewhere: at once, not when the panel is next looked after.
                    self.drawn = None;
                }
                Effect::ConverterPower(on) => {
                    log::converter(on);
                    board.converter().power(on);
                }
            }
        }
    }

    fn append<B: Board>(&mut self, board: &mut B, at: Stamp, record: Record) -> Result<Entry, JournalFault> {
        let journal = self.journal.as_mut().map_err(|fault| *fault)?;
        let missing = journal.missing();
        let noted = journal.append(board.flash(), at, record);
        if journal.missing() > missing {
            self.app.handle(board.now(), Input::Refused);
        }
        noted
    }

    #[inline(never)]
    fn renew(&mut self) {
        self.app = App::new(self.configuration);
        // It does not know yet that a computer is there: a scale that sleeps would not hear it.
        self.plugged = None;
    }

    /// Answers the computer, if one asks. After a restore the scale begins anew with what was restored.
    #[inline(never)]
    fn serve<B: Board>(&mut self, board: &mut B, now: Instant) {
        let (app, journal) = (&mut self.app, &mut self.journal);
        self.server.poll(&mut ServerContext {
            board,
            app,
            journal,
            now,
        });
        if self.server.take_restored(self.journal.as_ref().ok(), now) {
            self.renew();
            self.drive.forget();
            self.start(board, StartCause::Restored);
        }
    }

    /// Erases ahead in idle time: an erase can take a good part of a second.
    #[inline(never)]
    fn tidy<B: Board>(&mut self, board: &mut B) {
        let idle = self.app.is_idle();
        if idle && !self.tidied {
            // What fails here is tried again, and reported, by the append that needs it.
            let _ = self.journal.as_mut().map(|journal| {
                if self.drive.holds_journal() {
                    journal.tidy_blank(board.flash())
                } else {
                    journal.tidy(board.flash())
                }
            });
        }
        self.tidied = idle;
    }

    /// Draws a new view, and sends it slice by slice; a panel that does not answer is tried again a second later.
    #[inline(never)]
    fn show<B: Board>(&mut self, board: &mut B, now: Instant) {
        if !self.sending {
            if self.app.is_laborious() {
                board.run_at(Speed::Fast);
            }
            let view = self.app.view();
            if self.drawn.as_ref() == Some(&view) || now < self.panel_again_at {
                return;
            }
            // A page takes as much charge at either speed, but no sample waits for a fast one.
            board.run_at(Speed::Fast);
            draw(&view, board.screen().frame());
            board.screen().begin();
            self.hasten(board, false);
            self.drawn = Some(view);
            self.sending = true;
        }
        match board.screen().flush() {
            Ok(()) => self.sending = false,
            Err(nb::Error::WouldBlock) => {}
            Err(nb::Error::Other(_)) => {
                log::display_lost();
                self.sending = false;
                self.drawn = None;
                self.panel_again_at = now + LOOK_EVERY;
            }
        }
    }
}

/// The supply and the air are looked at this often, and a silent panel tried again.
const LOOK_EVERY: Duration = Duration::from_secs(1);

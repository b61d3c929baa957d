//! The device on its simulated board, with power that comes and goes: the core's own loop on a clock that jumps.

use yarn_scale_core::app::{App, Chip, Configuration, Key};
use yarn_scale_core::journal::{Entry, Journal, Record, Replayed, StartCause};
use yarn_scale_core::run::Device;
use yarn_scale_core::units::{Counts, Duration, Instant, Milligrams, Stamp};
use yarn_scale_core::weighing::Calibration;

use crate::device::board::SimBoard;
use crate::device::flash::SimFlash;
use crate::world::World;

/// The device and everything around it.
#[derive(Debug)]
pub struct Simulator {
    /// The board: world, keys, panel, flash.
    pub board: SimBoard,
    device: Option<Device>,
}

impl Simulator {
    /// A device in a world, switched off, whose journal holds nothing but its calibration.
    #[must_use]
    pub fn new(world: World) -> Self {
        let flash = calibrated_flash(&world, JOURNAL_BYTES);
        Self::with_flash(world, flash)
    }

    /// A device in a world, switched off, with this journal.
    #[must_use]
    pub fn with_flash(world: World, flash: SimFlash) -> Self {
        Self {
            board: SimBoard::new(world, flash),
            device: None,
        }
    }

    /// The same device in the same world at the same moment, to go another way from here. Its flash is in memory only.
    #[must_use]
    pub fn copy(&self) -> Self {
        Self {
            board: self.board.copy(),
            device: self.device.clone(),
        }
    }

    /// The application, while the power is on.
    #[must_use]
    pub fn app(&self) -> Option<&App> {
        self.device.as_ref().map(Device::app)
    }

    /// Whether the power is on.
    #[must_use]
    pub fn is_on(&self) -> bool {
        self.device.is_some()
    }

    /// Power comes on.
    pub fn switch_on(&mut self) {
        if self.device.is_none() {
            self.board.switch_on();
            let device = self.device.insert(Device::new(configuration()));
            device.start(&mut self.board, StartCause::PowerOn);
        }
    }

    /// Power goes.
    pub fn switch_off(&mut self) {
        self.device = None;
        self.board.switch_off();
    }

    /// World seconds by the device's clock while it runs: the world itself stands at the last conversion until the next.
    #[must_use]
    pub fn now_s(&self) -> f64 {
        if self.is_on() {
            self.board.clock_s()
        } else {
            self.board.world().now()
        }
    }

    /// Presses a key shortly, now or as soon as the fingers are free.
    pub fn press(&mut self, key: Key) {
        let now = self.board.clock();
        self.board.fingers.press(key, now);
    }

    /// Holds a key.
    pub fn hold(&mut self, key: Key) {
        let now = self.board.clock();
        self.board.fingers.hold(key, now);
    }

    /// Holds a key, or goes on holding it.
    pub fn keep_down(&mut self, key: Key) {
        let now = self.board.clock();
        self.board.fingers.keep_down(key, now);
    }

    /// Lets `seconds` pass, and calls `each` after every turn of the loop. A flash chip that has lost its power takes the
    /// device with it.
    pub fn pass(&mut self, seconds: f64, mut each: impl FnMut(&mut Self)) {
        let until_s = self.now_s() + seconds;
        while let Some(device) = &mut self.device {
            let until = self.board.instant_of(until_s);
            let wait = device.step(&mut self.board);
            if self.board.flash.is_off() {
                self.switch_off();
            }
            each(self);
            if self.device.is_none() {
                break;
            }
            let now = self.board.clock();
            if now >= until {
                return;
            }
            if wait.stopped && self.board.fingers.next_change().is_none() && !self.board.world().supply.usb {
                self.board.stand_still(until_s);
                return;
            }
            let conversion = self.board.next_conversion().filter(|_| wait.for_samples);
            let wakes = [Some(wait.until), conversion, self.board.fingers.next_change()];
            let wake = wakes.into_iter().flatten().fold(until, Instant::min);
            // While a frame is on its way the loop goes round once a page.
            self.board.move_to(wake.max(now + PAGE_TIME).min(until));
            self.board.keep_up();
        }
        // Without power, days pass quickly.
        self.board.world_mut().advance(until_s, |_| {});
    }

    /// Every entry of the journal as a device that is switched on would find it, oldest first.
    #[must_use]
    pub fn journal(&self) -> Vec<Entry> {
        let mut flash = SimFlash::with_content(self.board.flash.content().to_vec());
        let mut entries = Vec::new();
        let opened = Journal::open(&mut flash, |replayed| {
            if let Replayed::Entry(entry) = replayed {
                entries.push(entry.clone());
            }
        });
        // A simulated chip can always be read.
        debug_assert!(opened.is_ok());
        entries
    }
}

/// What the device knows of its hardware: the same as the firmware's.
fn configuration() -> Configuration {
    let capacity = Milligrams::from_grams(500);
    Configuration {
        capacity,
        calibration: Calibration::nominal(capacity),
        calibrated: false,
        version: env!("CARGO_PKG_VERSION"),
        // A number of its own, and a reset by power.
        chip: Chip {
            flash_number: 0x0C0F_FEE0_5EED_1E55,
            reset: 1 << 8,
        },
    }
}

/// A flash chip of this many bytes whose journal holds the calibration that a careful owner made in this world.
#[must_use]
pub fn calibrated_flash(world: &World, bytes: usize) -> SimFlash {
    let mut flash = SimFlash::blank(bytes);
    let found = world.calibration();
    let zero = Counts(found.zero_counts.round() as i32).fine();
    let calibration = Calibration::straight(zero, found.counts_per_g as f32);
    if let (Ok(mut journal), Ok(calibration)) = (Journal::open(&mut flash, |_| {}), calibration) {
        // A blank chip takes the first record.
        let noted = journal.append(&mut flash, Stamp(0), Record::Calibrated(calibration));
        debug_assert!(noted.is_ok());
    }
    flash
}

/// Bytes of the journal's area on the device.
pub const JOURNAL_BYTES: usize = 1 << 20;

/// Time to send a page of the display at 400 kHz.
const PAGE_TIME: Duration = Duration(3);

//! The three keys: levels only, for debouncing is the core's.
//!
//! One thing the core cannot do: see a press that came and went while a flash write held the whole chip still. The pins
//! latch falling edges by themselves; an edge found after such an absence, on a key that is up again, is passed on as a press.

use embedded_hal::digital::InputPin;
use rp2040_hal::gpio::bank0::{Gpio10, Gpio11, Gpio12};
use rp2040_hal::gpio::{FunctionSioInput, Interrupt, Pin, PinId, PullUp};
use yarn_scale_core::board::Levels;
use yarn_scale_core::units::{Duration, Instant};

type Wire<Id> = Pin<Id, FunctionSioInput, PullUp>;

/// The keys on their wires.
pub(crate) struct Keys {
    zero: Key<Gpio10>,
    mark: Key<Gpio11>,
    next: Key<Gpio12>,
    attended: Instant,
}

impl Keys {
    /// Takes over the wires; from now on each edge wakes the core.
    pub(crate) fn new(zero: Wire<Gpio10>, mark: Wire<Gpio11>, next: Wire<Gpio12>) -> Self {
        Self {
            zero: Key::new(zero),
            mark: Key::new(mark),
            next: Key::new(next),
            attended: Instant(0),
        }
    }

    /// Says that a key would have been seen at `now`: the core has just been woken, or has just looked.
    pub(crate) fn attend(&mut self, now: Instant) {
        self.attended = now;
    }

    /// Arms the keys to end the sleep of all clocks, unless one is down already; says whether it did.
    pub(crate) fn arm(&mut self) -> bool {
        let armed = self.zero.arm() && self.mark.arm() && self.next.arm();
        if !armed {
            self.disarm();
        }
        armed
    }

    /// Ends that; a press that has come and gone meanwhile is passed on.
    pub(crate) fn disarm(&mut self) {
        self.zero.disarm();
        self.mark.disarm();
        self.next.disarm();
        self.attended = Instant(0);
    }

    /// Until when an unseen press is passed on: its end is no edge of the pin, so the core must be awake then.
    pub(crate) fn passed_on_until(&self) -> Instant {
        self.zero.until.max(self.mark.until).max(self.next.until)
    }

    /// The levels at `now`, with the presses between two looks.
    pub(crate) fn levels(&mut self, now: Instant) -> Levels {
        let absent = now.since(self.attended) > NOTICED;
        self.attended = now;
        Levels {
            zero: self.zero.level(now, absent),
            mark: self.mark.level(now, absent),
            next: self.next.level(now, absent),
        }
    }
}

/// One key to ground.
struct Key<Id: PinId> {
    wire: Wire<Id>,
    /// An unseen press is passed on until then.
    until: Instant,
}

impl<Id: PinId> Key<Id> {
    fn new(mut wire: Wire<Id>) -> Self {
        for edge in [Interrupt::EdgeLow, Interrupt::EdgeHigh] {
            wire.clear_interrupt(edge);
            wire.set_interrupt_enabled(edge, true);
        }
        Self {
            wire,
            until: Instant(0),
        }
    }

    fn arm(&mut self) -> bool {
        // The latch is the same that `level` reads: an old edge would end the sleep at once.
        self.wire.clear_interrupt(Interrupt::EdgeLow);
        self.wire.set_dormant_wake_enabled(Interrupt::EdgeLow, true);
        self.wire.is_high().unwrap_or(false)
    }

    fn disarm(&mut self) {
        self.wire.set_dormant_wake_enabled(Interrupt::EdgeLow, false);
    }

    fn level(&mut self, now: Instant, absent: bool) -> bool {
        let fell = self.wire.interrupt_status(Interrupt::EdgeLow);
        self.wire.clear_interrupt(Interrupt::EdgeLow);
        self.wire.clear_interrupt(Interrupt::EdgeHigh);
        if fell && absent {
            self.until = now + PASSED_ON;
        }
        self.wire.is_low().unwrap_or(false) || now < self.until
    }
}

/// An absence no press is lost in: shorter than the core's debouncing.
const NOTICED: Duration = Duration(15);

/// How long an unseen press is passed on: longer than the core's debouncing.
const PASSED_ON: Duration = Duration(40);

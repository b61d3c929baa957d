//! What a page may look at: the book, the scale, the key that was pressed. It can change none of it.

use super::health::Health;
use super::keys::Key;
use crate::bench::Sheet;
use crate::board::Climate;
use crate::book::{Book, Stay};
use crate::journal::Record;
use crate::ledger::Ledger;
use crate::measured::Measured;
use crate::sock::{BowlNumber, Humidity, Line, Weight, YarnLetter};
use crate::units::{Instant, Milligrams, Stamp};
use crate::weighing::{Scale, SteadyLoad};

/// Lighter than this, the pan is empty.
pub(crate) const EMPTY_BELOW: Milligrams = Milligrams(300);

/// Less than a division was not knitted.
const NOTHING_USED: Milligrams = Milligrams(100);

/// All that a page knows at a press, or when it is looked at.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Context<'a> {
    /// What is recorded.
    pub book: &'a Book,
    /// What is on the pan.
    pub scale: &'a Scale,
    /// The marks of this stay on the pan.
    pub stay: &'a Stay,
    /// The line of the plan that the next mark closes.
    pub cursor: Option<u8>,
    /// The load that stood when the finger came to a key, if that was just now.
    pub latched: Option<(Key, SteadyLoad)>,
    /// The device's time.
    pub now: Stamp,
    /// The air beside the cell, where a sensor is fitted.
    pub air: Option<Climate>,
    /// A mark waits for a load that stands.
    pub mark_waits: bool,
    /// The pair that the load on the pan proposes, and its yarn.
    pub proposal: Option<(u16, YarnLetter)>,
    /// The pan is lifted, and has been for longer than a hand takes to lift a cake off.
    pub lift_stands: bool,
    /// A number may be shown: the device has a calibration.
    pub calibrated: bool,
    /// Most the pan may carry.
    pub capacity: Milligrams,
    /// The state of the device.
    pub health: Health,
    /// The check on the bench.
    pub sheet: &'a Sheet,
    /// The shell's clock.
    pub clock: Instant,
    /// Version of the program.
    pub version: &'static str,
}

impl<'a> Context<'a> {
    /// The ledger of the running pair.
    #[must_use]
    pub(crate) const fn ledger(&self) -> &'a Ledger {
        self.book.ledger()
    }

    /// The section that the next mark closes.
    #[must_use]
    pub(crate) fn section(&self) -> Option<Line> {
        self.cursor.and_then(|line| self.ledger().plan().line(line))
    }

    /// Net of a bowl.
    #[must_use]
    pub(crate) fn net(&self, gross: Measured, bowl: Option<BowlNumber>) -> Measured {
        Measured {
            value: gross.value - self.book.bowls().of(bowl).value,
            u: gross.u,
        }
    }

    /// Net of the bowl in use.
    #[must_use]
    pub(crate) fn net_of(&self, load: &SteadyLoad) -> Measured {
        self.net(self.scale.gross(load), self.book.bowls().in_use())
    }

    /// What is noted of a gross weight in a bowl, with the humidity of the air where a sensor is fitted.
    #[must_use]
    pub(crate) fn weight(&self, gross: Measured, bowl: Option<BowlNumber>) -> Weight {
        let air = self.air.map(|air| Humidity::from_percent(air.humidity_percent));
        Weight {
            net: self.net(gross, bowl),
            bowl,
            air,
        }
    }

    /// The load and its net mass, if it can be the yarn of the section that comes next before that is finished: lighter than it was,
    /// and not by far more than the section can take.
    #[must_use]
    pub(crate) fn section_on_pan(&self) -> Option<(SteadyLoad, Measured)> {
        let line = self.cursor?;
        let load = self.scale.steady()?;
        let (gross, net) = (self.scale.gross(&load), self.net_of(&load));
        let last = self.ledger().last(self.section()?.yarn)?.weight.net;
        let used = last.minus(net);
        let least = NOTHING_USED.max(Milligrams::whole(3.0 * used.u));
        let most = crate::recognise::at_most(self.ledger(), line)?;
        let can_be = gross.value >= EMPTY_BELOW && used.value >= least && used.value <= most;
        can_be.then_some((load, net))
    }

    /// The standard uncertainty of what has gone since the yarn's last weight, if that and `load` stand on one zero, mg.
    #[must_use]
    pub(crate) fn difference_u(&self, yarn: YarnLetter, bowl: Option<BowlNumber>, load: &SteadyLoad) -> Option<f32> {
        self.stay.difference_u(self.book, self.scale, yarn, bowl, load)
    }

    /// A mark, with what is known of what went since the yarn's last weight.
    #[must_use]
    pub(crate) fn boundary(&self, line: u8, yarn: YarnLetter, weight: Weight, load: &SteadyLoad) -> Record {
        self.stay.boundary(self.book, self.scale, (line, yarn, weight), load)
    }
}

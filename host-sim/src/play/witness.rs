//! Who looks on while a scenario is played: remembers what the display showed, and what went into the core.

use std::collections::HashSet;

use yarn_scale_core::app::App;

use super::{facts, words};
use crate::device::board::Given;
use crate::device::panel::Frame;
use crate::device::simulator::Simulator;

/// What was seen and heard.
#[derive(Debug, Default)]
pub struct Witness {
    /// Screens worth telling: another page, or another thing said.
    pub moments: Vec<Moment>,
    /// Every different frame, in the order of its first showing.
    pub frames: Vec<Frame>,
    /// What a recording needs, if one is made.
    pub recording: Option<Recording>,
    known: HashSet<Frame>,
    told: Option<(String, Option<String>)>,
    sent: u64,
}

/// A screen and when it came.
#[derive(Clone, Debug)]
pub struct Moment {
    /// World seconds.
    pub at_s: f64,
    /// What it showed, in a line.
    pub line: String,
    /// What it looked like.
    pub frame: Frame,
}

/// Everything that went in and came out, by power-on.
#[derive(Debug, Default)]
pub struct Recording {
    /// The boots, in order.
    pub boots: Vec<Boot>,
}

/// From one power-on to the end of the supply.
#[derive(Debug, Default)]
pub struct Boot {
    /// The journal as it was at power-on.
    pub before: Vec<u8>,
    /// What the core was given, and when since power-on, ms.
    pub given: Vec<(u64, Given)>,
    /// The frames that were completely sent and differ from the one before.
    pub shown: Vec<(u64, Frame)>,
    /// When the supply went, ms.
    pub off_ms: u64,
    /// The journal as it was then.
    pub after: Vec<u8>,
}

impl Witness {
    /// One who also keeps what a recording needs.
    #[must_use]
    pub fn recording() -> Self {
        Self {
            recording: Some(Recording::default()),
            ..Self::default()
        }
    }

    /// The device is about to be switched on, with this journal.
    pub fn before_switching_on(&mut self, journal: &[u8]) {
        self.sent = 0;
        self.told = None;
        if let Some(recording) = &mut self.recording {
            recording.boots.push(Boot {
                before: journal.to_vec(),
                ..Boot::default()
            });
        }
    }

    /// Looks at the device after a turn of its loop.
    pub fn look(&mut self, simulator: &mut Simulator) {
        let now_ms = simulator.board.powered_for_ms();
        let given = simulator.board.take_inputs();
        simulator.board.take_tones();
        if let Some(boot) = self.boot() {
            boot.given.extend(given.into_iter().map(|given| (now_ms, given)));
        }
        let panel = simulator.board.panel();
        let sent = panel.frames_sent();
        let (shown, seen) = (*panel.shown(), panel.seen());
        if sent != self.sent {
            self.sent = sent;
            if let Some(boot) = self.boot()
                && boot.shown.last().is_none_or(|(_, last)| *last != shown)
            {
                boot.shown.push((now_ms, shown));
            }
            if self.known.insert(seen) {
                self.frames.push(seen);
            }
            self.tell(simulator, seen);
        }
        if !simulator.is_on() {
            self.switched_off(simulator, now_ms);
        }
    }

    fn tell(&mut self, simulator: &Simulator, frame: Frame) {
        let Some(view) = simulator.app().map(App::view) else {
            return;
        };
        let now = (words::page(&view), words::says(&view));
        if self.told.as_ref() != Some(&now) {
            self.told = Some(now);
            self.moments.push(Moment {
                at_s: simulator.now_s(),
                line: facts::line(&view),
                frame,
            });
        }
    }

    fn switched_off(&mut self, simulator: &Simulator, now_ms: u64) {
        self.sent = 0;
        self.told = None;
        if let Some(boot) = self.boot().filter(|boot| boot.after.is_empty()) {
            boot.off_ms = now_ms;
            boot.after = simulator.board.flash.content().to_vec();
        }
    }

    fn boot(&mut self) -> Option<&mut Boot> {
        self.recording.as_mut()?.boots.last_mut()
    }
}

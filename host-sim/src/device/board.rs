//! The device's board on a computer: the world on the converter's wires, fingers on the keys, a panel, a flash chip, a lead.

use yarn_scale_core::board::{Board, Climate, Converter, Levels, Link, Speed, Tone};
use yarn_scale_core::converter::{ConverterFault, RawSample};
use yarn_scale_core::units::{Counts, Instant, Millivolts};

use crate::device::endpoints::Endpoints;
use crate::device::flash::SimFlash;
use crate::device::keys::Fingers;
use crate::device::panel::Panel;
use crate::world::{Port, World};

/// The board. Its clock stands still between two turns of the loop; who runs the loop moves it on.
#[derive(Debug)]
pub struct SimBoard {
    now: Instant,
    /// The converter and the world behind it.
    pub converter: Wire,
    /// Fingers on the keys.
    pub fingers: Fingers,
    /// The lead to a computer.
    pub link: Lead,
    /// The drive on the same lead.
    pub pipe: Endpoints,
    /// The chip that keeps the journal.
    pub flash: SimFlash,
    /// Whether a humidity sensor is fitted.
    pub humidity_sensor: bool,
    panel: Panel,
    speed: Speed,
    /// How long every clock has stood still since power-on, s, and whether the device has been told.
    stood_still: f64,
    told: bool,
    heard: Vec<Tone>,
    inputs: Vec<Given>,
}

/// What the board gave the core.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Given {
    /// A conversion.
    Sample(Counts),
    /// Key levels, when they changed.
    Levels(Levels),
    /// The supply.
    Supply(Millivolts),
    /// The air.
    Climate(Climate),
}

/// The converter on its wires, and the conversions that were read from it.
#[derive(Clone, Debug)]
pub struct Wire {
    port: Port,
    read: Vec<Counts>,
}

/// The serial line to a computer: what has been sent and not yet been read, both ways.
#[derive(Clone, Debug, Default)]
pub struct Lead {
    /// From the computer.
    pub to_device: Vec<u8>,
    /// To the computer.
    pub to_computer: Vec<u8>,
}

impl SimBoard {
    /// A board in a world, with this flash chip; the power is off.
    #[must_use]
    pub fn new(mut world: World, flash: SimFlash) -> Self {
        world.power(false);
        Self {
            now: Instant(0),
            converter: Wire {
                port: Port::new(world),
                read: Vec::new(),
            },
            fingers: Fingers::default(),
            link: Lead::default(),
            pipe: Endpoints::default(),
            flash,
            humidity_sensor: false,
            panel: Panel::default(),
            speed: Speed::default(),
            stood_still: 0.0,
            told: true,
            heard: Vec::new(),
            inputs: Vec::new(),
        }
    }

    /// The same board in the same world, with the flash in memory only.
    #[must_use]
    pub fn copy(&self) -> Self {
        Self {
            now: self.now,
            converter: self.converter.clone(),
            fingers: self.fingers.clone(),
            link: self.link.clone(),
            pipe: self.pipe.clone(),
            flash: self.flash.copy(),
            humidity_sensor: self.humidity_sensor,
            panel: self.panel.clone(),
            speed: self.speed,
            stood_still: self.stood_still,
            told: self.told,
            heard: self.heard.clone(),
            inputs: self.inputs.clone(),
        }
    }

    /// The world.
    #[must_use]
    pub fn world(&self) -> &World {
        &self.converter.port.world
    }

    /// The world, to act on.
    pub fn world_mut(&mut self) -> &mut World {
        &mut self.converter.port.world
    }

    /// The panel, to look at.
    #[must_use]
    pub fn panel(&self) -> &Panel {
        &self.panel
    }

    /// The device's time, without asking for it.
    #[must_use]
    pub fn clock(&self) -> Instant {
        self.now
    }

    /// Power comes on: the clock starts from nothing, the panel is blank, no key is down.
    pub fn switch_on(&mut self) {
        self.flash.power_on();
        self.converter.port.switch_on();
        self.now = Instant(0);
        self.panel = Panel::default();
        self.fingers = Fingers::default();
        (self.speed, self.stood_still, self.told) = (Speed::default(), 0.0, true);
        self.inputs.clear();
    }

    /// Power goes.
    pub fn switch_off(&mut self) {
        self.world_mut().power(false);
        self.panel = Panel::default();
        self.link = Lead::default();
        self.pipe = Endpoints::default();
    }

    /// The same in world seconds.
    #[must_use]
    pub fn clock_s(&self) -> f64 {
        self.converter.port.switched_on() + self.now.0 as f64 / 1_000.0
    }

    /// Time since power-on, ms, whether the device's clock ran or not.
    #[must_use]
    pub fn powered_for_ms(&self) -> u64 {
        self.now.0 + (self.stood_still * 1_000.0).round() as u64
    }

    /// Every clock of the device stands still until this instant of the world; only a key or a plug lets them run again.
    pub fn stand_still(&mut self, until_s: f64) {
        self.world_mut().advance(until_s, |_| {});
        let slept = (until_s - self.clock_s()).max(0.0);
        self.converter.port.clock_stood(slept);
        self.stood_still += slept;
        self.told = false;
    }

    /// How fast the processor runs.
    #[must_use]
    pub fn speed(&self) -> Speed {
        self.speed
    }

    /// The clock moves on, never back.
    pub fn move_to(&mut self, now: Instant) {
        self.now = self.now.max(now);
    }

    /// Lets the world catch up with the clock while no conversion drives it.
    pub fn keep_up(&mut self) {
        let until = self.clock_s();
        let world = self.world_mut();
        if world.next_due().is_none() {
            world.advance(until, |_| {});
        }
    }

    /// When the next conversion is ready, on the board's clock; `None` while the converter is off.
    #[must_use]
    pub fn next_conversion(&self) -> Option<Instant> {
        let due = self.world().next_due()? - self.converter.port.switched_on();
        Some(Instant((due * 1_000.0).ceil() as u64))
    }

    /// The board's clock at an instant of the world.
    #[must_use]
    pub fn instant_of(&self, world_s: f64) -> Instant {
        Instant(
            ((world_s - self.converter.port.switched_on()) * 1_000.0)
                .max(0.0)
                .ceil() as u64,
        )
    }

    /// The tones sounded since the last call.
    pub fn take_tones(&mut self) -> Vec<Tone> {
        std::mem::take(&mut self.heard)
    }

    /// What went into the core since the last call, in order.
    pub fn take_inputs(&mut self) -> Vec<Given> {
        let samples = self.converter.read.drain(..).map(Given::Sample);
        self.inputs.extend(samples);
        std::mem::take(&mut self.inputs)
    }
}

impl Board for SimBoard {
    type Converter = Wire;
    type Screen = Panel;
    type Link = Lead;
    type Pipe = Endpoints;
    type Flash = SimFlash;

    fn now(&mut self) -> Instant {
        self.now
    }

    fn converter(&mut self) -> &mut Wire {
        &mut self.converter
    }

    fn levels(&mut self) -> Levels {
        let before = self.fingers.now();
        let levels = self.fingers.levels(self.now);
        if levels != before {
            self.inputs.push(Given::Levels(levels));
        }
        levels
    }

    fn supply(&mut self) -> Option<Millivolts> {
        // A supply of some volts fits.
        let supply = Millivolts((self.world().supply.volts() * 1_000.0) as u16);
        self.inputs.push(Given::Supply(supply));
        Some(supply)
    }

    fn climate(&mut self) -> Option<Climate> {
        let room = &self.world().room;
        let climate = Climate {
            humidity_percent: room.humidity as f32,
            celsius: room.air_celsius() as f32,
        };
        self.humidity_sensor.then(|| {
            self.inputs.push(Given::Climate(climate));
            climate
        })
    }

    fn screen(&mut self) -> &mut Panel {
        &mut self.panel
    }

    fn link(&mut self) -> &mut Lead {
        &mut self.link
    }

    fn flash(&mut self) -> &mut SimFlash {
        &mut self.flash
    }

    fn plugged(&mut self) -> bool {
        self.world().supply.usb
    }

    fn has_lost_time(&mut self) -> bool {
        // Not asked for by `levels`, which keeps what changed for the recording.
        let touched = self.fingers.next_change().is_some_and(|at| at <= self.now);
        let woken = touched || self.world().supply.usb;
        let lost = woken && !self.told;
        self.told |= woken;
        lost
    }

    fn run_at(&mut self, speed: Speed) {
        self.speed = speed;
    }

    fn drive(&mut self) -> (&mut Endpoints, &mut SimFlash) {
        (&mut self.pipe, &mut self.flash)
    }

    fn number(&self) -> [u8; 16] {
        *b"51AB0000000000F5"
    }

    fn beep(&mut self, tone: Tone) {
        self.heard.push(tone);
    }
}

impl Converter for Wire {
    fn read(&mut self, now: Instant) -> nb::Result<RawSample, ConverterFault> {
        let sample = self.port.read(now)?;
        self.read.push(sample.0);
        Ok(sample)
    }

    fn power(&mut self, on: bool) {
        self.port.power(on);
    }
}

impl Link for Lead {
    fn read(&mut self, into: &mut [u8]) -> usize {
        let count = into.len().min(self.to_device.len());
        for (slot, byte) in into.iter_mut().zip(self.to_device.drain(..count)) {
            *slot = byte;
        }
        count
    }

    fn write(&mut self, bytes: &[u8]) -> usize {
        self.to_computer.extend_from_slice(bytes);
        bytes.len()
    }
}

//! OLED display, 128 x 64, with an SSD1306 or an SH1106, over any I2C: only what changed is sent, a page at a time.
//!
//! Either chip's memory is 8 pages of columns, 8 pixels high, least significant bit on top (SSD1306 data sheet, "Graphic Display Data
//! RAM"). An SH1106 knows page addressing only, which an SSD1306 knows as well; it has 132 columns, of which most modules show those
//! from the second on, or the third (SH1106 data sheet, "Set Page Address", "Set Column Address"). Shops sell either as "SSD1306",
//! and neither can be read over this bus: who looks at the panel says where its picture begins ([`Screen::begins_at`]). Each gets both
//! chips' commands for the charge pump; to the other one they mean nothing that is not set again before the next data.
//!
//! Two copies of the frame stand here: as it is drawn, and what the panel is known to show. A slice sends the span of one page in
//! which the two differ: 3 ms at most at 400 kHz.
//!
//! A panel that does not answer is left alone but for [`Panel::tend`], which sets it up anew, whole, when it answers again, and
//! which also catches one that lost its power unnoticed. To one that is lit only that is repeated which a loss of power would
//! have cost: rows and clock stand as after reset, and a panel that is told them again while it is lit can flicker.

use embedded_hal::i2c::I2c;
use yarn_scale_core::board::{Screen, ScreenFault};
use yarn_scale_core::screen::Frame;

/// The panel on its bus.
#[derive(Debug)]
pub struct Panel<Bus> {
    bus: Bus,
    address: u8,
    frame: Frame,
    shown: Frame,
    state: State,
    /// First page that the frame on its way has not yet reached.
    next_page: usize,
    /// The page that `tend` sends next, changed or not.
    tended_page: usize,
    brightness: u8,
    /// Column of the controller's memory that is seen leftmost.
    first_column: u8,
}

/// What is known of the panel.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum State {
    /// Not spoken to yet.
    Fresh,
    /// Set up; `shown` is what it shows.
    Known,
    /// Did not answer; [`Panel::tend`] tries again.
    Lost,
}

impl<Bus: I2c> Panel<Bus> {
    /// A dark panel at `address`; nothing is sent yet.
    pub const fn new(bus: Bus, address: u8) -> Self {
        Self {
            bus,
            address,
            frame: Frame::DARK,
            shown: Frame::DARK,
            state: State::Fresh,
            next_page: PAGES,
            tended_page: 0,
            brightness: FULL,
            first_column: 0,
        }
    }

    /// Refreshes a panel whose picture does not change: call about once a second. One page is sent again, and what a loss of power costs, so
    /// that a panel that lost it unnoticed is lit and whole within 8 calls; one known to have been away is so at once.
    ///
    /// # Errors
    /// [`ScreenFault`] if the panel does not answer.
    pub fn tend(&mut self) -> Result<(), ScreenFault> {
        if self.brightness == 0 {
            return Ok(());
        }
        if self.state != State::Known {
            return self.set_up();
        }
        let page = self.tended_page;
        if page == 0 {
            self.commands(&PUMP)?;
        }
        self.commands(&HANGING)?;
        self.light()?;
        self.tended_page = (page + 1) % PAGES;
        self.send(page, 0, COLUMNS - 1)
    }

    /// Whether a frame is on its way.
    pub const fn sending(&self) -> bool {
        self.next_page < PAGES
    }

    /// Sets the panel up from whatever state it is in, dark until its memory is ours.
    fn set_up(&mut self) -> Result<(), ScreenFault> {
        self.commands(&[DISPLAY_OFF])?;
        self.commands(&SET_UP)?;
        self.commands(&PUMP)?;
        self.commands(&HANGING)?;
        for page in 0..PAGES {
            self.send(page, 0, COLUMNS - 1)?;
        }
        self.light()?;
        self.state = State::Known;
        Ok(())
    }

    /// Tells the panel its brightness.
    fn light(&mut self) -> Result<(), ScreenFault> {
        match self.brightness {
            0 => self.commands(&[DISPLAY_OFF]),
            level => self.commands(&[CONTRAST, level, DISPLAY_ON]),
        }
    }

    /// Sends a few command bytes (at most 31).
    fn commands(&mut self, bytes: &[u8]) -> Result<(), ScreenFault> {
        let mut message = [COMMANDS_FOLLOW; 32];
        let length = 1 + bytes.len();
        message[1..length].copy_from_slice(bytes);
        let sent = self.bus.write(self.address, &message[..length]);
        self.answered(sent.is_ok())
    }

    /// Sends columns `first ..= last` of a page.
    fn send(&mut self, page: usize, first: usize, last: usize) -> Result<(), ScreenFault> {
        let column = first as u8 + self.first_column;
        self.commands(&[PAGE | page as u8, COLUMN_LOW | column & 15, COLUMN_HIGH | column >> 4])?;
        let mut message = [DATA_FOLLOWS; 1 + COLUMNS];
        let span = page * COLUMNS + first..=page * COLUMNS + last;
        let length = 1 + span.clone().count();
        let drawn = &self.frame.bytes()[span.clone()];
        message[1..length].copy_from_slice(drawn);
        self.shown.bytes_mut()[span].copy_from_slice(drawn);
        let sent = self.bus.write(self.address, &message[..length]);
        self.answered(sent.is_ok())
    }

    /// Forgets a panel that has not answered.
    fn answered(&mut self, answered: bool) -> Result<(), ScreenFault> {
        if answered {
            return Ok(());
        }
        self.state = State::Lost;
        self.next_page = PAGES;
        Err(ScreenFault)
    }

    /// First and last column in which a page differs from what the panel shows.
    fn difference(&self, page: usize) -> Option<(usize, usize)> {
        let (drawn, shown) = (self.frame.page(page), self.shown.page(page));
        let differs = |column: &usize| drawn[*column] != shown[*column];
        Some(((0..COLUMNS).find(differs)?, (0..COLUMNS).rfind(differs)?))
    }
}

impl<Bus: I2c> Screen for Panel<Bus> {
    fn frame(&mut self) -> &mut Frame {
        &mut self.frame
    }

    fn begin(&mut self) {
        self.next_page = 0;
    }

    fn flush(&mut self) -> nb::Result<(), ScreenFault> {
        match self.state {
            State::Fresh => self.set_up()?,
            State::Known => {}
            State::Lost => {
                // Or `tend` would wait for ever for this frame's end before it tries the panel again.
                self.next_page = PAGES;
                return Err(nb::Error::Other(ScreenFault));
            }
        }
        while self.sending() {
            let page = self.next_page;
            self.next_page += 1;
            if let Some((first, last)) = self.difference(page) {
                self.send(page, first, last)?;
                return if self.sending() {
                    Err(nb::Error::WouldBlock)
                } else {
                    Ok(())
                };
            }
        }
        Ok(())
    }

    fn begins_at(&mut self, column: u8) {
        if column != self.first_column {
            self.first_column = column;
            if self.state == State::Known {
                // All of it stands elsewhere now: it is set up anew with the next frame.
                self.state = State::Fresh;
            }
        }
    }

    fn brightness(&mut self, level: u8) {
        if level == self.brightness {
            return;
        }
        self.brightness = level;
        if self.state == State::Known {
            // A panel that has just gone is found out by the next frame.
            let _ = self.light();
        }
    }
}

const PAGES: usize = 8;
const COLUMNS: usize = 128;

/// Contrast of a fresh panel: all there is.
const FULL: u8 = 0xFF;

// Control bytes and commands, SSD1306 data sheet, "MCU I2C Interface" and "Command Table".
const COMMANDS_FOLLOW: u8 = 0x00;
const DATA_FOLLOWS: u8 = 0x40;
const CONTRAST: u8 = 0x81;
const DISPLAY_OFF: u8 = 0xAE;
const DISPLAY_ON: u8 = 0xAF;
const COLUMN_LOW: u8 = 0x00;
const COLUMN_HIGH: u8 = 0x10;
const PAGE: u8 = 0xB0;

/// What stands as after reset, but for a program that ran before: in the order of the data sheet's "Software Configuration".
const SET_UP: [u8; 14] = [
    0xA8, 0x3F, // 64 rows
    0xD3, 0x00, // no vertical offset
    0x40, // first row on top
    0xDA, 0x12, // rows wired alternately
    0xD5, 0x80, // clock
    0xA4, // pixels from memory
    0xA6, // a set bit is lit
    0x20, 0x02, // page addressing
    0x2E, // no scrolling
];

/// What lights the panel: voltages of the pixels and the charge pump, by the command of either chip.
const PUMP: [u8; 8] = [
    0xD9, 0xF1, // pre-charge for the built-in charge pump
    0xDB, 0x40, // deselect level, as the module's maker sets it
    0xAD, 0x8B, // SH1106: charge pump on; SSD1306: reference current from outside, as after reset
    0x8D, 0x14, // SSD1306: charge pump on; SH1106: no command, and a column
];

/// Column 0 on the left and row 0 on top, as the modules hang.
const HANGING: [u8; 2] = [0xA1, 0xC8];

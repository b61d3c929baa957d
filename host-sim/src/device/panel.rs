//! The 128 x 64 display: what is drawn into it, and what it shows once that has been sent.

use yarn_scale_core::board::{Screen, ScreenFault};
pub use yarn_scale_core::screen::Frame;

/// Columns.
pub const WIDTH: usize = 128;
/// Rows.
pub const HEIGHT: usize = 64;

/// The display: the frame being drawn, the frame being sent and the frame that is seen.
#[derive(Clone, Debug)]
pub struct Panel {
    drawn: Frame,
    sending: Option<(Frame, usize)>,
    shown: Frame,
    brightness: u8,
    frames_sent: u64,
}

impl Default for Panel {
    fn default() -> Self {
        Self {
            drawn: Frame::DARK,
            sending: None,
            shown: Frame::DARK,
            brightness: 0,
            frames_sent: 0,
        }
    }
}

impl Panel {
    /// What an eye sees: nothing while the brightness is 0.
    #[must_use]
    pub fn seen(&self) -> Frame {
        if self.brightness == 0 { Frame::DARK } else { self.shown }
    }

    /// What stands in the panel's memory, dark or not.
    #[must_use]
    pub fn shown(&self) -> &Frame {
        &self.shown
    }

    /// Brightness, 0 to 255.
    #[must_use]
    pub fn level(&self) -> u8 {
        self.brightness
    }

    /// How many frames were sent completely.
    #[must_use]
    pub fn frames_sent(&self) -> u64 {
        self.frames_sent
    }
}

impl Screen for Panel {
    /// Nothing is hidden here: the picture begins where it is said to.
    fn begins_at(&mut self, _column: u8) {}

    fn frame(&mut self) -> &mut Frame {
        &mut self.drawn
    }

    fn begin(&mut self) {
        self.sending = Some((self.drawn, 0));
    }

    fn flush(&mut self) -> nb::Result<(), ScreenFault> {
        let Some((frame, from)) = self.sending else {
            return Ok(());
        };
        let to = from + SLICE;
        self.shown.bytes_mut()[from..to].copy_from_slice(&frame.bytes()[from..to]);
        if to < frame.bytes().len() {
            self.sending = Some((frame, to));
            return Err(nb::Error::WouldBlock);
        }
        self.sending = None;
        self.frames_sent += 1;
        Ok(())
    }

    fn brightness(&mut self, level: u8) {
        self.brightness = level;
    }
}

/// Bytes sent at a time: one page, as the device does.
const SLICE: usize = WIDTH;

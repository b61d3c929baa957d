//! The drive's end of the lead to a computer: packets that have been sent and not yet been read, both ways.

use std::collections::VecDeque;

use yarn_scale_core::board::{PACKET, Pipe};

/// The drive's endpoints.
#[derive(Clone, Debug, Default)]
pub struct Endpoints {
    /// Whether a computer is at its other end, and has taken the device up.
    pub is_up: bool,
    /// The bus was reset.
    pub was_reset: bool,
    /// From the computer.
    pub to_device: VecDeque<Vec<u8>>,
    /// To the computer, which has not looked yet.
    pub to_computer: VecDeque<Vec<u8>>,
}

/// Packets that a computer takes in a turn of the device's loop.
const TAKEN_AT_ONCE: usize = 16;

impl Pipe for Endpoints {
    fn read(&mut self, packet: &mut [u8; PACKET]) -> Option<usize> {
        let sent = self.to_device.pop_front()?;
        let length = sent.len().min(PACKET);
        packet[..length].copy_from_slice(&sent[..length]);
        Some(length)
    }

    fn write(&mut self, packet: &[u8]) -> bool {
        let is_free = self.to_computer.len() < TAKEN_AT_ONCE;
        if is_free {
            self.to_computer.push_back(packet.to_vec());
        }
        is_free
    }

    fn is_powered(&self) -> bool {
        self.is_up
    }

    fn is_up(&self) -> bool {
        self.is_up
    }

    fn take_reset(&mut self) -> bool {
        std::mem::take(&mut self.was_reset)
    }
}

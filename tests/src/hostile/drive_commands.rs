//! Any packets from a computer: whatever it sends, each command that is one gets as many bytes as it asked for and its status, no sector is
//! asked for that is not there, and after a reset the drive is a drive.
//!
//! A byte chooses what comes next: a command, its bytes as they follow and its wrapper right or nearly; a packet of any bytes; a medium
//! that goes or comes; a reset.

use std::collections::VecDeque;

use yarn_scale_core::drive::scsi::{SECTOR, Target};
use yarn_scale_core::drive::transfer::{Filling, PACKET, Pipe, Sectors, Transfer};

use super::Entropy;

/// Sectors of the medium.
const COUNT: u32 = 300;
/// Most bytes that are waited for: a computer that asks for more is reset in the middle of it.
const PATIENCE: u32 = 4 * SECTOR as u32;

pub(super) fn check(data: &[u8]) {
    let mut entropy = Entropy::new(data);
    let mut transfer = Transfer::new(Target::new([b'0'; 16]));
    transfer.insert(COUNT);
    let mut host = Host::default();
    while !entropy.is_empty() {
        match entropy.below(8) {
            0 => {
                let length = entropy.below(PACKET + 1);
                host.sent.push_back(entropy.take(length).to_vec());
                host.rounds(&mut transfer);
                host.reset(&mut transfer);
            }
            1 => transfer.eject(),
            2 => transfer.insert(COUNT),
            3 => host.reset(&mut transfer),
            _ => host.command(&mut transfer, &mut entropy),
        }
    }
    host.reset(&mut transfer);
    transfer.insert(COUNT);
    let capacity = [0x25, 0, 0, 0, 0, 0, 0, 0, 0, 0];
    host.ask(&mut transfer, &capacity, 8, true);
    host.ask(&mut transfer, &capacity, 8, true);
    assert_eq!(host.came, [0, 0, 1, 0x2B, 0, 0, 2, 0], "no drive any more");
}

#[derive(Default)]
struct Host {
    sent: VecDeque<Vec<u8>>,
    came: Vec<u8>,
    status: Option<[u8; 13]>,
    /// Bytes of data that are still to come before the status; none where whatever comes is passed over.
    wants: Option<u32>,
    tag: u32,
}

impl Host {
    fn command(&mut self, transfer: &mut Transfer, entropy: &mut Entropy<'_>) {
        let (length, is_inward) = match entropy.below(4) {
            0 => (entropy.number(), true),
            1 => (u32::from(entropy.byte()), false),
            2 => (u32::from(entropy.byte()), true),
            _ => (SECTOR as u32 * u32::from(entropy.byte() % 5), true),
        };
        let bytes = 1 + entropy.below(16);
        let block = entropy.take(bytes).to_vec();
        if !block.is_empty() {
            self.ask(transfer, &block, length, is_inward);
        }
    }

    fn ask(&mut self, transfer: &mut Transfer, block: &[u8], length: u32, is_inward: bool) {
        self.tag += 1;
        let mut wrapper = b"USBC".to_vec();
        wrapper.extend(self.tag.to_le_bytes());
        wrapper.extend(length.to_le_bytes());
        wrapper.extend([if is_inward { 0x80 } else { 0 }, 0, block.len() as u8]);
        wrapper.extend(block);
        wrapper.resize(31, 0);
        self.sent.push_back(wrapper);
        if !is_inward {
            let data = vec![0xA5; length as usize];
            self.sent.extend(data.chunks(PACKET).map(<[u8]>::to_vec));
        }
        self.came.clear();
        self.status = None;
        self.wants = Some(if is_inward { length } else { 0 });
        self.rounds(transfer);
        self.wants = None;
        if is_inward && length > PATIENCE {
            assert!(self.came.len() as u32 >= PATIENCE, "it stops in the middle");
            self.reset(transfer);
            return;
        }
        let status = self.status.expect("a command without a status");
        assert_eq!(self.came.len() as u32, if is_inward { length } else { 0 });
        let number = |at: usize| u32::from_le_bytes([status[at], status[at + 1], status[at + 2], status[at + 3]]);
        assert_eq!((&status[..4], number(4)), (&b"USBS"[..], self.tag));
        assert!(number(8) <= length && status[12] <= 2, "{status:?} of {length}");
        assert!(self.sent.is_empty() && !transfer.is_busy());
    }

    fn rounds(&mut self, transfer: &mut Transfer) {
        for _ in 0..2 * PATIENCE as usize / PACKET {
            transfer.work(self, &mut Disk, 3);
        }
    }

    fn reset(&mut self, transfer: &mut Transfer) {
        transfer.reset();
        *self = Self {
            tag: self.tag,
            ..Self::default()
        };
    }
}

impl Pipe for Host {
    fn read(&mut self, packet: &mut [u8; PACKET]) -> Option<usize> {
        let sent = self.sent.pop_front()?;
        packet[..sent.len()].copy_from_slice(&sent);
        Some(sent.len())
    }

    fn write(&mut self, packet: &[u8]) -> bool {
        assert!(packet.len() <= PACKET);
        let Some(wants) = self.wants else {
            return true;
        };
        if wants > 0 && self.came.len() as u32 >= PATIENCE {
            return false;
        }
        if wants == 0 {
            assert!(self.status.is_none(), "a second status");
            self.status = Some(
                packet
                    .try_into()
                    .expect("a status, and no data behind what was asked for"),
            );
        } else {
            let wants = wants.checked_sub(packet.len() as u32).expect("more than was asked for");
            assert!(packet.len() == PACKET || wants == 0, "a short packet in the middle");
            self.wants = Some(wants);
            self.came.extend(packet);
        }
        true
    }

    fn is_powered(&self) -> bool {
        true
    }

    fn is_up(&self) -> bool {
        true
    }

    fn take_reset(&mut self) -> bool {
        false
    }
}

struct Disk;

impl Sectors for Disk {
    fn read(&mut self, sector: u32, out: &mut Filling) {
        assert!(sector < COUNT, "sector {sector} is not there");
        assert!(out.bytes.iter().all(|byte| *byte == 0));
        out.bytes.fill(sector as u8);
    }
}

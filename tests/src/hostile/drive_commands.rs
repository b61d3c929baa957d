//! Any packets from a computer: whatever it sends, each command that is one gets as many bytes as it asked for and its status, and after a
//! reset, or plugged in again, the drive is a drive.
//!
//! A byte chooses what comes next: a command, its bytes as they follow and its wrapper right or nearly; a packet of any bytes; a medium
//! that goes or comes; a reset.

use std::sync::OnceLock;

use yarn_scale_core::app::{App, Chip, Configuration};
use yarn_scale_core::board::PACKET;
use yarn_scale_core::converter::SampleRate;
use yarn_scale_core::drive::Drive;
use yarn_scale_core::units::{Instant, Milligrams};
use yarn_scale_core::weighing::Calibration;
use yarn_scale_sim::device::board::SimBoard;
use yarn_scale_sim::device::flash::SimFlash;
use yarn_scale_sim::world::{Room, Unit, World};

use super::Entropy;

const SECTOR: u32 = 512;
/// Most bytes that are waited for: a computer that asks for more is reset in the middle of it.
const PATIENCE: u32 = 4 * SECTOR;
/// Turns of the device's loop until the medium is there that was made before, and until all the bytes have come.
const TURNS: u32 = 60;
const CAPACITY: [u8; 10] = [0x25, 0, 0, 0, 0, 0, 0, 0, 0, 0];

pub(super) fn check(data: &[u8]) {
    /// A drive that has found out what its files hold, and how many sectors it has.
    static MADE: OnceLock<(Drive, Vec<u8>)> = OnceLock::new();
    let (drive, capacity) = MADE.get_or_init(|| {
        let mut host = Host::with(Drive::default());
        host.turns(100_000);
        host.capacity();
        assert_ne!(host.came, [0; 8], "no medium yet");
        (host.drive, host.came)
    });
    let mut entropy = Entropy::new(data);
    let mut host = Host::with(drive.clone());
    while !entropy.is_empty() {
        match entropy.below(8) {
            0 => {
                let length = entropy.below(PACKET + 1);
                host.board.pipe.to_device.push_back(entropy.take(length).to_vec());
                host.turns(TURNS);
                host.reset();
            }
            1 => host.plug_in_again(),
            2 => host.drive.bring_news(Instant(host.now)),
            3 => host.reset(),
            _ => host.command(&mut entropy),
        }
    }
    host.plug_in_again();
    host.capacity();
    assert_eq!(host.came, *capacity, "no drive any more");
}

/// The computer, and the drive at the other end of its lead.
struct Host {
    drive: Drive,
    app: App,
    board: SimBoard,
    now: u64,
    came: Vec<u8>,
    tag: u32,
}

impl Host {
    fn with(drive: Drive) -> Self {
        let world = World::new(Unit::perfect(), SampleRate::Ten, Room::constant());
        let capacity = Milligrams::from_grams(500);
        let app = App::new(Configuration {
            capacity,
            calibration: Calibration::nominal(capacity),
            calibrated: true,
            version: "test",
            chip: Chip::default(),
        });
        let mut host = Self {
            drive,
            app,
            board: SimBoard::new(world, SimFlash::blank(0x1_0000)),
            now: 0,
            came: Vec::new(),
            tag: 0,
        };
        host.plug_in_again();
        host
    }

    fn turns(&mut self, turns: u32) {
        for _ in 0..turns {
            self.now += 1;
            self.drive.poll(&mut self.board, &self.app, None, Instant(self.now));
        }
    }

    fn plug_in_again(&mut self) {
        self.board.pipe = Default::default();
        self.turns(1);
        self.board.pipe.is_up = true;
        self.turns(TURNS);
    }

    fn reset(&mut self) {
        self.board.pipe.to_device.clear();
        self.board.pipe.was_reset = true;
        self.turns(1);
        self.board.pipe.to_computer.clear();
    }

    /// Asks for it twice: at first it is told that the medium is new.
    fn capacity(&mut self) {
        self.ask(&CAPACITY, 8, true);
        self.ask(&CAPACITY, 8, true);
    }

    fn command(&mut self, entropy: &mut Entropy<'_>) {
        let (length, is_inward) = match entropy.below(4) {
            0 => (entropy.number(), true),
            1 => (u32::from(entropy.byte()), false),
            2 => (u32::from(entropy.byte()), true),
            _ => (SECTOR * u32::from(entropy.byte() % 5), true),
        };
        let bytes = 1 + entropy.below(16);
        let block = entropy.take(bytes).to_vec();
        if !block.is_empty() {
            self.ask(&block, length, is_inward);
        }
    }

    fn ask(&mut self, block: &[u8], length: u32, is_inward: bool) {
        self.tag += 1;
        let mut wrapper = b"USBC".to_vec();
        wrapper.extend(self.tag.to_le_bytes());
        wrapper.extend(length.to_le_bytes());
        wrapper.extend([if is_inward { 0x80 } else { 0 }, 0, block.len() as u8]);
        wrapper.extend(block);
        wrapper.resize(31, 0);
        self.board.pipe.to_device.push_back(wrapper);
        if !is_inward {
            let data = vec![0xA5; length as usize];
            self.board
                .pipe
                .to_device
                .extend(data.chunks(PACKET).map(<[u8]>::to_vec));
        }
        let wanted = if is_inward { length } else { 0 };
        self.came.clear();
        while (self.came.len() as u32) < wanted {
            let packet = self.packet();
            self.came.extend(&packet);
            let came = self.came.len() as u32;
            assert!(came <= wanted, "more than was asked for");
            assert!(packet.len() == PACKET || came == wanted, "a short packet in the middle");
            if came >= PATIENCE && came < wanted {
                return self.reset();
            }
        }
        let status = self.packet();
        assert_eq!(status.len(), 13, "a status, and no data behind what was asked for");
        let number = |at: usize| u32::from_le_bytes([status[at], status[at + 1], status[at + 2], status[at + 3]]);
        assert_eq!((&status[..4], number(4)), (&b"USBS"[..], self.tag));
        assert!(number(8) <= length && status[12] <= 2, "{status:?} of {length}");
        self.turns(1);
        let pipe = &self.board.pipe;
        assert!(
            pipe.to_device.is_empty() && pipe.to_computer.is_empty(),
            "a second status"
        );
    }

    /// The next packet to the computer.
    fn packet(&mut self) -> Vec<u8> {
        for _ in 0..TURNS {
            if let Some(packet) = self.board.pipe.to_computer.pop_front() {
                return packet;
            }
            self.turns(1);
        }
        panic!("a command without its answer");
    }
}

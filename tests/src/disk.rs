//! A computer that reads the drive of the simulated scale: bulk-only transport and SCSI, written from the documents alone.

use std::io::{Cursor, Read};

use rand::RngExt;
use rand_pcg::Pcg64Mcg;
use yarn_scale_sim::device::simulator::Simulator;

/// How a command ended.
pub const GOOD: u8 = 0;
/// The same, not good.
pub const FAILED: u8 = 1;

/// Commands that a disk knows.
const USUAL: [u8; 16] = [
    0x00, 0x03, 0x12, 0x1A, 0x1B, 0x1E, 0x23, 0x25, 0x28, 0x2A, 0x2F, 0x35, 0x5A, 0x9E, 0xA8, 0xAA,
];

/// A computer and the scale that is plugged into it.
#[derive(Debug)]
pub struct Computer {
    /// The scale.
    pub scale: Simulator,
    tag: u32,
}

impl Computer {
    /// Plugs a scale in, which must be on.
    #[must_use]
    pub fn with(mut scale: Simulator) -> Self {
        scale.board.pipe.is_up = true;
        Self { scale, tag: 0 }
    }

    /// Lets a turn or two of the device's loop pass.
    pub fn wait(&mut self) {
        self.scale.pass(0.004, |_| {});
    }

    /// Sends a packet.
    pub fn send(&mut self, packet: &[u8]) {
        self.scale.board.pipe.to_device.push_back(packet.to_vec());
    }

    /// Takes `size` bytes; a short packet ends them.
    ///
    /// # Panics
    /// If nothing comes for long.
    pub fn receive(&mut self, size: usize) -> Vec<u8> {
        let mut came = Vec::new();
        let mut patience = 2_000;
        loop {
            while let Some(packet) = self.scale.board.pipe.to_computer.pop_front() {
                let is_short = packet.len() < 64;
                came.extend(packet);
                if came.len() >= size || is_short {
                    return came;
                }
                patience = 2_000;
            }
            assert!(patience > 0, "nothing comes");
            patience -= 1;
            self.wait();
        }
    }

    /// Sends a command and nothing else.
    fn wrap(&mut self, block: &[u8], size: usize, way: u8) {
        self.tag += 1;
        let mut wrapper = b"USBC".to_vec();
        wrapper.extend(self.tag.to_le_bytes());
        wrapper.extend(u32::try_from(size).unwrap_or(u32::MAX).to_le_bytes());
        wrapper.extend([way, 0, block.len() as u8]);
        wrapper.extend(block);
        wrapper.resize(31, 0);
        self.send(&wrapper);
    }

    /// Carries a command out: what comes, what was not moved of the `size` bytes that were asked for, and how it ended.
    ///
    /// # Panics
    /// If the drive does not answer, or not to this command.
    pub fn command(&mut self, block: &[u8], size: usize) -> (Vec<u8>, u32, u8) {
        self.wrap(block, size, 0x80);
        let came = if size > 0 { self.receive(size) } else { Vec::new() };
        let status = self.receive(13);
        assert_eq!((status.len(), &status[..4]), (13, &b"USBS"[..]));
        assert_eq!(status[4..8], self.tag.to_le_bytes());
        let residue = u32::from_le_bytes([status[8], status[9], status[10], status[11]]);
        (came, residue, status[12])
    }

    /// Sense key and code of the last command.
    pub fn sense(&mut self) -> (u8, u8) {
        let (sense, ..) = self.command(&[3, 0, 0, 0, 18], 18);
        (sense[2], sense[12])
    }

    /// Asks until there is a medium; says how often it asked in vain.
    ///
    /// # Panics
    /// If none comes.
    pub fn ready(&mut self) -> u32 {
        for asked in 0..5_000 {
            if self.command(&[0; 6], 0).2 == GOOD {
                return asked;
            }
            let sense = self.sense();
            assert!([(2, 0x3A), (6, 0x28)].contains(&sense), "{sense:?}");
            self.wait();
        }
        panic!("no medium comes");
    }

    /// How many sectors the volume has.
    pub fn sectors(&mut self) -> u32 {
        let (answer, _, status) = self.command(&[0x25], 8);
        assert_eq!(status, GOOD);
        u32::from_be_bytes([answer[0], answer[1], answer[2], answer[3]]) + 1
    }

    /// The contents of sectors.
    pub fn read(&mut self, first: u32, count: u16) -> Vec<u8> {
        let ([a, b, c, d], [e, f]) = (first.to_be_bytes(), count.to_be_bytes());
        let size = 512 * usize::from(count);
        let (came, residue, status) = self.command(&[0x28, 0, a, b, c, d, 0, e, f], size);
        assert_eq!((came.len(), residue, status), (size, 0, GOOD));
        came
    }

    /// The first sectors of the volume, where every file begins that is not long.
    pub fn dump_file_area(&mut self) -> Vec<u8> {
        self.read(0, 400)
    }

    /// Does something that no good computer does, or something good in a bad moment.
    pub fn behave_badly(&mut self, dice: &mut Pcg64Mcg) {
        let mut block = [0_u8; 16];
        dice.fill(&mut block);
        if dice.random_bool(0.7) {
            block[0] = USUAL[dice.random_range(0..USUAL.len())];
        }
        if block[0] == 0x1B {
            // An ejected drive has nothing more to say.
            block[4] &= 1;
        }
        if block[0] == 0x28 && dice.random_bool(0.8) {
            block[2..9].copy_from_slice(&[
                0,
                0,
                dice.random_range(0..2),
                dice.random(),
                0,
                0,
                dice.random_range(0..3),
            ]);
        }
        let size = [0, 1, 13, 36, 64, 65, 512, 1_000][dice.random_range(0..8)];
        match dice.random_range(0..8) {
            0 => {
                let mut noise = vec![0; [1, 30, 31, 32, 64][dice.random_range(0..5)]];
                dice.fill(noise.as_mut_slice());
                self.send(&noise);
                self.wait();
                self.recover();
            }
            1 => {
                self.wrap(&block, size, 0);
                for _ in 0..size.div_ceil(64) {
                    self.send(&[0xA5; 64]);
                }
                for _ in 0..size.div_ceil(64) {
                    self.wait();
                }
                self.recover();
            }
            // It goes away in the middle of it.
            2 => {
                self.wrap(&block, size, 0x80);
                self.wait();
                self.recover();
            }
            _ => {
                let (.., status) = self.command(&block, size);
                assert!(status < 3);
            }
        }
    }

    /// Resets the bus, and forgets what was under way.
    pub fn recover(&mut self) {
        let pipe = &mut self.scale.board.pipe;
        pipe.to_device.clear();
        pipe.was_reset = true;
        self.wait();
        self.scale.board.pipe.to_computer.clear();
    }

    /// The whole volume.
    pub fn dump(&mut self) -> Vec<u8> {
        let sectors = self.sectors();
        let mut image = Vec::new();
        let mut first = 0;
        while first < sectors {
            let count = u16::try_from((sectors - first).min(64)).expect("few");
            image.extend(self.read(first, count));
            first += u32::from(count);
        }
        image
    }
}

/// A file of a volume, read by an implementation of FAT that is not ours.
///
/// # Panics
/// If there is no such volume or file.
#[must_use]
pub fn file(image: &[u8], name: &str) -> Vec<u8> {
    let volume = fatfs::FileSystem::new(Cursor::new(image.to_vec()), fatfs::FsOptions::new()).expect("a volume");
    let mut content = Vec::new();
    let mut file = volume.root_dir().open_file(name).expect(name);
    file.read_to_end(&mut content).expect(name);
    content
}

//! The drive's answers to SCSI commands: a removable disk that can be read and not written.
//!
//! Commands and layouts: SPC-3 (INQUIRY, MODE SENSE, REQUEST SENSE, TEST UNIT READY) and SBC-2 (READ CAPACITY, READ, START STOP UNIT);
//! READ FORMAT CAPACITIES: MMC-5. From memory of those documents; a host's requests are played against this in the tests.

/// Bytes of a sector, the unit in which a disk is read.
pub(super) const SECTOR: usize = 512;

/// A short answer, made up on the spot.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Answer {
    bytes: [u8; 36],
    length: u8,
}

/// What a command asks for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Reply {
    /// These bytes; none at all where the command has nothing to send.
    Answer(Answer),
    /// The contents of `count` sectors from `first`.
    Sectors {
        /// The first one; it and all others are there.
        first: u32,
        /// How many.
        count: u32,
    },
}

/// Why a command was refused, as REQUEST SENSE tells: sense key, additional code and its qualifier.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) struct Sense {
    key: u8,
    code: u8,
}

impl Sense {
    /// Nothing to report.
    pub(super) const NONE: Self = Self { key: 0, code: 0 };
    /// There is no medium: it was ejected, or is being made anew.
    pub(super) const NO_MEDIUM: Self = Self { key: 2, code: 0x3A };
    /// No such command.
    pub(super) const NO_SUCH_COMMAND: Self = Self { key: 5, code: 0x20 };
    /// No such sector.
    pub(super) const OUT_OF_RANGE: Self = Self { key: 5, code: 0x21 };
    /// A field of the command has a value that is not served.
    pub(super) const INVALID_FIELD: Self = Self { key: 5, code: 0x24 };
    /// The medium may have changed; said once after a change.
    pub(super) const CHANGED: Self = Self { key: 6, code: 0x28 };
    /// It cannot be written.
    pub(super) const WRITE_PROTECTED: Self = Self { key: 7, code: 0x27 };
}

/// Whether the volume can be read now.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) enum Medium {
    /// There is none.
    #[default]
    Away,
    /// It has come, and the host has not been told.
    New,
    /// It is there, and the host knows.
    There,
}

/// The disk as the host's commands see it.
#[derive(Clone, Debug, Default)]
pub(super) struct Target {
    medium: Medium,
    sectors: u32,
    sense: Sense,
    serial: [u8; 16],
}

impl Target {
    /// A disk without a medium. `serial` is the scale's own number, in figures and capitals.
    #[must_use]
    pub(super) const fn new(serial: [u8; 16]) -> Self {
        Self {
            medium: Medium::Away,
            sectors: 0,
            sense: Sense::NONE,
            serial,
        }
    }

    /// The scale's own number, in figures and capitals.
    pub(super) const fn is(&mut self, serial: [u8; 16]) {
        self.serial = serial;
    }

    /// A volume of so many sectors is there from now on.
    pub(super) const fn insert(&mut self, sectors: u32) {
        self.medium = Medium::New;
        self.sectors = sectors;
    }

    /// From now on there is no volume.
    pub(super) const fn eject(&mut self) {
        self.medium = Medium::Away;
    }

    /// Whether there is a volume.
    #[must_use]
    pub(super) const fn medium(&self) -> Medium {
        self.medium
    }

    /// The bus was reset: what was to be reported is not any more.
    pub(super) const fn reset(&mut self) {
        self.sense = Sense::NONE;
    }

    /// A command that was under way has failed.
    pub(super) const fn fail(&mut self, sense: Sense) {
        self.sense = sense;
    }

    /// Carries out one command.
    ///
    /// # Errors
    /// The reason for its refusal, which REQUEST SENSE then tells.
    pub(super) fn command(&mut self, block: &[u8; 16]) -> Result<Reply, Sense> {
        let reply = self.answer(block);
        self.sense = reply.err().unwrap_or_default();
        reply
    }

    fn answer(&mut self, block: &[u8; 16]) -> Result<Reply, Sense> {
        let &[code, second, third, _, fifth, ..] = block;
        match code {
            TEST_UNIT_READY => self.ready().map(|()| Reply::Answer(Answer::NOTHING)),
            REQUEST_SENSE => {
                let Sense { key, code } = self.sense;
                // Fixed format, current: ten bytes follow the eighth.
                Ok(Answer::of(&[0x70, 0, key, 0, 0, 0, 0, 10, 0, 0, 0, 0, code, 0, 0, 0, 0, 0]).upto(fifth.into()))
            }
            INQUIRY => self.inquiry([second, third]).map(|answer| answer.upto(wide(block, 3))),
            // The fourth byte of the header's three says write-protected; no pages.
            MODE_SENSE_6 => Ok(Answer::of(&[3, 0, PROTECTED, 0]).upto(fifth.into())),
            MODE_SENSE_10 => Ok(Answer::of(&[0, 6, 0, PROTECTED, 0, 0, 0, 0]).upto(wide(block, 7))),
            READ_FORMAT_CAPACITIES => {
                let [a, b, c, d] = self.sectors.to_be_bytes();
                let [_, e, f, g] = SECTOR_BYTES.to_be_bytes();
                let kind = if self.medium == Medium::Away { 3 } else { 2 };
                Ok(Answer::of(&[0, 0, 0, 8, a, b, c, d, kind, e, f, g]).upto(wide(block, 7)))
            }
            READ_CAPACITY_10 => {
                self.ready()?;
                let [a, b, c, d] = self.sectors.saturating_sub(1).to_be_bytes();
                let [e, f, g, h] = SECTOR_BYTES.to_be_bytes();
                Ok(Answer::of(&[a, b, c, d, e, f, g, h]).upto(8))
            }
            SERVICE_ACTION_IN if second & 0x1F == READ_CAPACITY_16 => {
                self.ready()?;
                let [a, b, c, d] = self.sectors.saturating_sub(1).to_be_bytes();
                let [e, f, g, h] = SECTOR_BYTES.to_be_bytes();
                let mut bytes = [0; 32];
                bytes[4..12].copy_from_slice(&[a, b, c, d, e, f, g, h]);
                Ok(Answer::of(&bytes).upto(wide(block, 12)))
            }
            READ_10 => {
                self.ready()?;
                self.sectors_asked_for(block)
            }
            VERIFY_10 => {
                self.ready()?;
                self.sectors_asked_for(block).map(|_| Reply::Answer(Answer::NOTHING))
            }
            // Nothing is ever on its way to the medium.
            SYNCHRONIZE_CACHE => self.ready().map(|()| Reply::Answer(Answer::NOTHING)),
            START_STOP_UNIT => {
                // "Load or eject" without "start": the host's user has ejected the drive. The rest turns no motor.
                if fifth & 3 == 2 {
                    self.medium = Medium::Away;
                }
                Ok(Reply::Answer(Answer::NOTHING))
            }
            WRITE_6 | WRITE_10 | WRITE_12 | WRITE_16 | WRITE_AND_VERIFY | WRITE_SAME_10 | WRITE_SAME_16 | UNMAP
            | FORMAT_UNIT | MODE_SELECT_6 | MODE_SELECT_10 => Err(Sense::WRITE_PROTECTED),
            // "Allow" is what hosts say before they eject, and they give up if it is refused. "Prevent" is refused on purpose: a host that
            // cannot lock the medium goes on asking for it.
            PREVENT_ALLOW_REMOVAL if fifth & 3 == 0 => Ok(Reply::Answer(Answer::NOTHING)),
            _ => Err(Sense::NO_SUCH_COMMAND),
        }
    }

    fn ready(&mut self) -> Result<(), Sense> {
        match self.medium {
            Medium::Away => Err(Sense::NO_MEDIUM),
            Medium::New => {
                self.medium = Medium::There;
                Err(Sense::CHANGED)
            }
            Medium::There => Ok(()),
        }
    }

    fn inquiry(&self, [vital, page]: [u8; 2]) -> Result<Answer, Sense> {
        match (vital & 1, page) {
            (0, 0) => {
                let mut bytes = [0; 36];
                // A removable disk after SPC-2, 31 bytes follow the fifth; maker and product in their fixed widths.
                bytes[..8].copy_from_slice(&[0, 0x80, 4, 2, 31, 0, 0, 0]);
                bytes[8..].copy_from_slice(NAMES);
                Ok(Answer::of(&bytes))
            }
            (1, PAGES) => Ok(Answer::of(&[0, PAGES, 0, 2, PAGES, SERIAL])),
            (1, SERIAL) => {
                let mut bytes = [0; 20];
                bytes[..4].copy_from_slice(&[0, SERIAL, 0, 16]);
                bytes[4..].copy_from_slice(&self.serial);
                Ok(Answer::of(&bytes))
            }
            _ => Err(Sense::INVALID_FIELD),
        }
    }

    fn sectors_asked_for(&self, block: &[u8; 16]) -> Result<Reply, Sense> {
        let &[_, _, a, b, c, d, ..] = block;
        let (first, count) = (u32::from_be_bytes([a, b, c, d]), wide(block, 7).into());
        let is_there = first.checked_add(count).is_some_and(|end| end <= self.sectors);
        is_there
            .then_some(Reply::Sectors { first, count })
            .ok_or(Sense::OUT_OF_RANGE)
    }
}

impl Answer {
    /// No bytes.
    pub(super) const NOTHING: Self = Self {
        bytes: [0; 36],
        length: 0,
    };

    fn of(bytes: &[u8]) -> Self {
        let mut answer = Self::NOTHING;
        for (into, byte) in answer.bytes.iter_mut().zip(bytes) {
            *into = *byte;
            answer.length = answer.length.saturating_add(1);
        }
        answer
    }

    /// No more of it than the host has room for.
    fn upto(self, room: u16) -> Reply {
        Reply::Answer(Self {
            length: u8::try_from(room).map_or(self.length, |room| self.length.min(room)),
            ..self
        })
    }

    /// Its bytes.
    #[must_use]
    pub(super) fn bytes(&self) -> &[u8] {
        self.bytes.get(..usize::from(self.length)).unwrap_or_default()
    }
}

/// The number of two bytes, high byte first, at `at`.
fn wide(block: &[u8; 16], at: usize) -> u16 {
    let byte = |at: usize| block.get(at).copied().unwrap_or(0);
    u16::from_be_bytes([byte(at), byte(at.saturating_add(1))])
}

const SECTOR_BYTES: u32 = SECTOR as u32;
/// "Write protected", in the header that MODE SENSE gives.
const PROTECTED: u8 = 0x80;
/// Vital product data: which pages there are; the serial number.
const PAGES: u8 = 0;
const SERIAL: u8 = 0x80;
/// Vendor, product, revision: 8, 16 and 4 characters.
const NAMES: &[u8; 28] = b"yarn    scale           1   ";

const TEST_UNIT_READY: u8 = 0x00;
const REQUEST_SENSE: u8 = 0x03;
const FORMAT_UNIT: u8 = 0x04;
const WRITE_6: u8 = 0x0A;
const INQUIRY: u8 = 0x12;
const MODE_SELECT_6: u8 = 0x15;
const MODE_SENSE_6: u8 = 0x1A;
const START_STOP_UNIT: u8 = 0x1B;
const PREVENT_ALLOW_REMOVAL: u8 = 0x1E;
const READ_FORMAT_CAPACITIES: u8 = 0x23;
const READ_CAPACITY_10: u8 = 0x25;
const READ_10: u8 = 0x28;
const WRITE_10: u8 = 0x2A;
const WRITE_AND_VERIFY: u8 = 0x2E;
const VERIFY_10: u8 = 0x2F;
const SYNCHRONIZE_CACHE: u8 = 0x35;
const WRITE_SAME_10: u8 = 0x41;
const UNMAP: u8 = 0x42;
const MODE_SELECT_10: u8 = 0x55;
const MODE_SENSE_10: u8 = 0x5A;
const WRITE_16: u8 = 0x8A;
const WRITE_SAME_16: u8 = 0x93;
const SERVICE_ACTION_IN: u8 = 0x9E;
const READ_CAPACITY_16: u8 = 0x10;
const WRITE_12: u8 = 0xAA;

//! What a computer makes of a damaged image or backup: whatever differs from the sound one must be told.

use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64Mcg;
use yarn_scale_core::journal::Record;
use yarn_scale_core::measured::Measured;
use yarn_scale_sim::computer::story::Story;
use yarn_scale_sim::computer::{Backup, Damage};
use yarn_scale_sim::device::flash::SimFlash;

use crate::knitting::knitted;

/// A chip with twelve pairs, the last one not condensed yet, and their visits.
///
/// # Panics
/// If the chip is too small.
#[must_use]
pub fn twelve_pairs() -> SimFlash {
    use yarn_scale_core::journal::Journal;
    use yarn_scale_core::units::Stamp;
    let mut flash = knitted(1 << 18, 11);
    let mut journal = Journal::open(&mut flash, |_| {}).expect("a journal");
    let mut note = |record: Record| {
        journal.append(&mut flash, Stamp(12), record).expect("room");
    };
    for (place, record) in crate::knitting::pair(12, yarn_scale_core::journal::Sequence(1))
        .into_iter()
        .enumerate()
    {
        // Of the running pair nothing is amended: the numbers are not known here, and it is not closed.
        if !matches!(record, Record::Amended { .. } | Record::PairClosed { .. }) {
            note(record);
            note(crate::knitting::visit(20_000 + place as i32));
        }
    }
    flash
}

/// A sound file, and what it says.
#[derive(Debug)]
pub struct Harmed {
    bytes: Vec<u8>,
    rows: Rows,
}

/// What was done to a file, one harm at a time.
#[derive(Clone, Debug, Default)]
pub struct Counts {
    /// How often.
    pub tried: u64,
    /// Refused, or said to be damaged.
    pub told: u64,
    /// Nothing that is shown differs, and nothing was said.
    pub same: u64,
    /// Told, and a section that differs is not marked as in doubt.
    pub unmarked: u64,
    /// Something differs, and nothing was said.
    pub silent: Vec<String>,
}

/// What a table shows: sections by pair and place, visits, names.
type Rows = (Vec<(u16, String, Measured, bool)>, Vec<(u32, i32)>, Vec<Option<String>>);

impl Harmed {
    /// The image of a chip.
    ///
    /// # Panics
    /// If it holds no journal.
    #[must_use]
    pub fn image(flash: SimFlash) -> Self {
        let bytes = flash.content().to_vec();
        let backup = Backup::from_bytes(bytes.clone()).expect("a journal");
        assert!(Damage::of(&backup).is_none(), "{}", Damage::of(&backup));
        Self {
            bytes,
            rows: rows(&backup),
        }
    }

    /// The backup of a chip.
    ///
    /// # Panics
    /// If it holds no journal.
    #[must_use]
    pub fn backup(flash: SimFlash) -> Self {
        let backup = Backup::from_image(flash.content().to_vec()).expect("a journal");
        let bytes = backup.to_bytes().expect("entries of the usual length");
        Self {
            bytes,
            rows: rows(&backup),
        }
    }

    /// The bytes that were written.
    #[must_use]
    pub fn written(&self) -> Vec<usize> {
        let is_written = |&place: &usize| self.bytes[place] != 0xFF;
        (0..self.bytes.len()).filter(is_written).collect()
    }

    /// Turns every bit of every written byte over, one at a time.
    #[must_use]
    pub fn flip_all(&self) -> Counts {
        let mut counts = Counts::default();
        for byte in self.written() {
            for bit in 0..8 {
                self.flip(byte, bit, &mut counts);
            }
        }
        counts
    }

    /// The same with some bits that are drawn.
    #[must_use]
    pub fn flip_drawn(&self, count: usize, seed: u64) -> Counts {
        let mut counts = Counts::default();
        let mut random = Pcg64Mcg::seed_from_u64(seed);
        let written = self.written();
        for _ in 0..count {
            let byte = written[random.random_range(0..written.len())];
            self.flip(byte, random.random_range(0..8), &mut counts);
        }
        counts
    }

    fn flip(&self, byte: usize, bit: u8, counts: &mut Counts) {
        let mut bytes = self.bytes.clone();
        bytes[byte] ^= 1 << bit;
        self.look(bytes, counts, &|| format!("byte {byte:#x}, bit {bit}"));
    }

    /// Cuts the file at some places; at every one if there are no more than that.
    #[must_use]
    pub fn cut_drawn(&self, count: usize, seed: u64) -> Counts {
        let mut counts = Counts::default();
        let mut random = Pcg64Mcg::seed_from_u64(seed);
        for number in 0..count.min(self.bytes.len()) {
            let all = count >= self.bytes.len();
            let length = if all {
                number
            } else {
                random.random_range(0..self.bytes.len())
            };
            self.look(self.bytes[..length].to_vec(), &mut counts, &|| {
                format!("cut at {length}")
            });
        }
        counts
    }

    /// Swaps some pairs of frames.
    #[must_use]
    pub fn swap_drawn(&self, count: usize, seed: u64) -> Counts {
        let mut counts = Counts::default();
        let mut random = Pcg64Mcg::seed_from_u64(seed);
        let frames = self.frames().1.len();
        for _ in 0..count {
            self.swap(
                random.random_range(0..frames),
                random.random_range(0..frames),
                &mut counts,
            );
        }
        counts
    }

    /// Swaps every pair of frames.
    #[must_use]
    pub fn swap_all(&self) -> Counts {
        let mut counts = Counts::default();
        let frames = self.frames().1.len();
        for one in 0..frames {
            for two in one + 1..frames {
                self.swap(one, two, &mut counts);
            }
        }
        counts
    }

    fn swap(&self, one: usize, two: usize, counts: &mut Counts) {
        let (first, mut frames) = self.frames();
        frames.swap(one, two);
        let bytes = [first, &frames.concat()].concat();
        self.look(bytes, counts, &|| format!("frames {one} and {two} swapped"));
    }

    /// Puts a frame in the place of another, or leaves one out, or gives one twice.
    #[must_use]
    pub fn repeat_and_leave_out_drawn(&self, count: usize, seed: u64) -> Counts {
        let mut counts = Counts::default();
        let mut random = Pcg64Mcg::seed_from_u64(seed);
        for _ in 0..count {
            let (first, mut frames) = self.frames();
            let (one, two) = (
                random.random_range(0..frames.len()),
                random.random_range(0..frames.len()),
            );
            let what = random.random_range(0..3);
            match what {
                0 => frames[one] = frames[two],
                1 => drop(frames.remove(one)),
                _ => frames.insert(one, frames[two]),
            }
            let bytes = [first, &frames.concat()].concat();
            self.look(bytes, &mut counts, &|| format!("frames {one} and {two}, harm {what}"));
        }
        counts
    }

    /// The line in front, and the frames with their zeros.
    fn frames(&self) -> (&[u8], Vec<&[u8]>) {
        let line = self
            .bytes
            .iter()
            .position(|&byte| byte == b'\n')
            .map_or(0, |place| place + 1);
        let (first, rest) = self.bytes.split_at(line);
        (first, rest.split_inclusive(|&byte| byte == 0).collect())
    }

    fn look(&self, bytes: Vec<u8>, counts: &mut Counts, what: &dyn Fn() -> String) {
        counts.tried += 1;
        let Ok(backup) = Backup::from_bytes(bytes) else {
            counts.told += 1;
            return;
        };
        let found = rows(&backup);
        let told = !Damage::of(&backup).is_none();
        let same = found == self.rows;
        match (told, same) {
            (true, _) => {
                counts.told += 1;
                let unmarked = |row: &&(u16, String, Measured, bool)| !row.3 && !self.rows.0.contains(row);
                counts.unmarked += u64::from(found.0.iter().any(|row| unmarked(&row)));
            }
            (false, true) => counts.same += 1,
            (false, false) => counts.silent.push(what()),
        }
    }
}

fn rows(backup: &Backup) -> Rows {
    let story = Story::of(backup);
    let sections = story.pairs.iter().flat_map(|pair| {
        let rows = pair.sections.iter();
        rows.map(|section| {
            let name = format!("{:?} {:?}", section.line.kind, section.line.sock);
            (pair.number, name, section.used, section.doubtful)
        })
    });
    let visits = story.visits.iter().map(|visit| (visit.at.0, visit.gross.value.0));
    let names = story
        .pairs
        .iter()
        .map(|pair| pair.name.as_ref().map(ToString::to_string));
    (sections.collect(), visits.collect(), names.collect())
}

//! A flash chip that says it has programmed what it was given and has not: worn out, or its supply too low. Only reading back shows it.

use embedded_storage::nor_flash::{ErrorType, NorFlash, ReadNorFlash};
use yarn_scale_core::journal::{Journal, Record, Replayed, Setting};
use yarn_scale_core::units::Stamp;
use yarn_scale_sim::device::flash::{FlashFault, SimFlash};

/// A chip that, in one of its writes, keeps only the bytes before a place.
struct Liar {
    chip: SimFlash,
    writes: u64,
    lies_in: u64,
    keeps: usize,
}

impl ErrorType for Liar {
    type Error = FlashFault;
}

impl ReadNorFlash for Liar {
    const READ_SIZE: usize = 1;

    fn read(&mut self, offset: u32, bytes: &mut [u8]) -> Result<(), FlashFault> {
        self.chip.read(offset, bytes)
    }

    fn capacity(&self) -> usize {
        self.chip.capacity()
    }
}

impl NorFlash for Liar {
    const WRITE_SIZE: usize = 1;
    const ERASE_SIZE: usize = 4_096;

    fn erase(&mut self, from: u32, to: u32) -> Result<(), FlashFault> {
        self.chip.erase(from, to)
    }

    fn write(&mut self, offset: u32, bytes: &[u8]) -> Result<(), FlashFault> {
        self.writes += 1;
        let kept = if self.writes == self.lies_in {
            &bytes[..self.keeps.min(bytes.len())]
        } else {
            bytes
        };
        self.chip.write(offset, kept)
    }
}

#[test]
fn what_the_chip_did_not_keep_is_not_confirmed() {
    let mut lies = 0;
    for lies_in in 1..40 {
        for keeps in [0, 1, 3, 7] {
            let mut flash = Liar {
                chip: SimFlash::blank(48 << 10),
                writes: 0,
                lies_in,
                keeps,
            };
            let mut journal = Journal::open(&mut flash, |_| {}).expect("a blank chip");
            let mut noted = Vec::new();
            for number in 0..12 {
                let record = Record::Setting(Setting::Brightness(number));
                if let Ok(entry) = journal.append(&mut flash, Stamp(number.into()), record) {
                    noted.push(entry);
                }
            }
            lies += u32::from(flash.writes >= lies_in);
            let mut found = Vec::new();
            Journal::open(&mut flash, |replayed| {
                if let Replayed::Entry(entry) = replayed {
                    found.push(entry.clone());
                }
            })
            .expect("a journal");
            for entry in &noted {
                assert!(
                    found.contains(entry),
                    "write {lies_in} kept {keeps} bytes: {entry:?} was confirmed"
                );
            }
            assert!(noted.len() >= 11, "write {lies_in}: {} noted", noted.len());
        }
    }
    assert!(lies > 60, "{lies}");
}

//! A flash chip that does not answer once, at each of its calls in turn: the journal says so, believes nothing that is not
//! there, and goes on as soon as the chip answers again.

use embedded_storage::nor_flash::{ErrorType, NorFlash, ReadNorFlash};
use yarn_scale_core::journal::{Entry, Journal, JournalFault, Record, Replayed, Setting};
use yarn_scale_core::units::Stamp;
use yarn_scale_sim::device::flash::{FlashFault, SimFlash};
use yarn_scale_tests::durability::{only_settings, tell};

/// A chip that fails in one call.
struct Fickle {
    chip: SimFlash,
    calls: u64,
    fails_in: u64,
}

impl Fickle {
    fn call(&mut self) -> Result<(), FlashFault> {
        self.calls += 1;
        if self.calls == self.fails_in {
            Err(FlashFault::File)
        } else {
            Ok(())
        }
    }
}

impl ErrorType for Fickle {
    type Error = FlashFault;
}

impl ReadNorFlash for Fickle {
    const READ_SIZE: usize = 1;

    fn read(&mut self, offset: u32, bytes: &mut [u8]) -> Result<(), FlashFault> {
        self.call()?;
        self.chip.read(offset, bytes)
    }

    fn capacity(&self) -> usize {
        self.chip.capacity()
    }
}

impl NorFlash for Fickle {
    const WRITE_SIZE: usize = 1;
    const ERASE_SIZE: usize = 4_096;

    fn erase(&mut self, from: u32, to: u32) -> Result<(), FlashFault> {
        self.call()?;
        self.chip.erase(from, to)
    }

    fn write(&mut self, offset: u32, bytes: &[u8]) -> Result<(), FlashFault> {
        self.call()?;
        self.chip.write(offset, bytes)
    }
}

fn open(flash: &mut Fickle) -> Result<(Journal, Vec<Entry>), JournalFault> {
    let mut entries = Vec::new();
    let journal = Journal::open(flash, |replayed| match replayed {
        Replayed::Entry(entry) => entries.push(entry.clone()),
        // Cut off in its writing: it was never confirmed.
        Replayed::Unreadable { .. } => {}
        Replayed::Gap { .. } => panic!("{replayed:?} although nothing was lost"),
    })?;
    Ok((journal, entries))
}

/// A chip on which the ring of marks has come round, and how many calls opening it and one more record take.
fn worn() -> (SimFlash, u64, u64) {
    let chip = tell(&only_settings(1_600), 48 << 10).expect("a story");
    assert!(chip.wear().iter().any(|&erases| erases > 0), "it has not come round");
    let mut flash = Fickle {
        chip: chip.copy(),
        calls: 0,
        fails_in: 0,
    };
    let (mut journal, _) = open(&mut flash).expect("a chip that answers");
    let opening = flash.calls;
    journal.append(&mut flash, Stamp(1), record(0)).expect("room");
    journal.tidy(&mut flash).expect("a chip that answers");
    (chip, opening, flash.calls)
}

const fn record(number: u8) -> Record {
    Record::Setting(Setting::Brightness(number))
}

#[test]
fn a_chip_that_does_not_answer_while_it_is_read_is_no_empty_journal() {
    let (chip, opening, _) = worn();
    assert!(opening > 100, "{opening}");
    for fails_in in 1..=opening {
        let mut flash = Fickle {
            chip: chip.copy(),
            calls: 0,
            fails_in,
        };
        assert_eq!(
            open(&mut flash).err(),
            Some(JournalFault::Flash),
            "call {fails_in} of {opening}"
        );
    }
}

#[test]
fn a_chip_that_does_not_answer_once_while_it_is_written_costs_no_record() {
    let (chip, opening, all) = worn();
    let mut refused = 0;
    for fails_in in opening + 1..=all {
        let mut flash = Fickle {
            chip: chip.copy(),
            calls: 0,
            fails_in,
        };
        let (mut journal, before) = open(&mut flash).expect("it answers while it is opened");
        let mut noted = Vec::new();
        for number in 1..=3 {
            match journal.append(&mut flash, Stamp(number.into()), record(number)) {
                Ok(entry) => noted.push(entry),
                Err(fault) => {
                    assert_eq!(fault, JournalFault::Flash);
                    refused += 1;
                }
            }
            // The same once more; what fails here is tried again by the next append.
            let _ = journal.tidy(&mut flash);
        }
        assert!(noted.len() >= 2, "call {fails_in}: {noted:?}");
        let (_, after) = open(&mut flash).expect("it answers again");
        let first = after.first().map(|entry| entry.sequence);
        let kept = before.iter().filter(|entry| Some(entry.sequence) >= first);
        for entry in kept.chain(&noted) {
            assert!(after.contains(entry), "call {fails_in}: {entry:?} is gone");
        }
    }
    assert!(refused > 10, "{refused}");
}

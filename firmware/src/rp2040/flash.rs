//! The journal's area of the on-board flash, written through the boot ROM's own routines.
//!
//! While the chip erases or programs, nothing can be read from it: not the program, not an interrupt handler. The last step
//! therefore runs from RAM with interrupts off, calls only the boot ROM, and restores fast reading with the second-stage loader
//! kept in RAM (RP2040 data sheet, "Flash Access Functions" and "Boot Stage 2").

use core::cell::RefCell;

use embedded_storage::nor_flash::{ErrorType, NorFlash, NorFlashError, NorFlashErrorKind, ReadNorFlash};
use rp2040_hal::rom_data;
use yarn_scale_firmware::rp2040::pins;

use super::supply::Supply;

/// The area between the linker's `_journal_start` and `_journal_end`.
pub(crate) struct Flash<'a> {
    supply: &'a RefCell<Supply>,
    /// Second-stage loader, to be called when the flash has been written.
    loader: [u32; LOADER_WORDS],
}

/// Why flash was not written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum FlashFault {
    /// Not aligned to the chip's pages or sectors.
    NotAligned,
    /// Beyond the journal's area.
    OutOfBounds,
    /// Supply too low to be sure that a write would end.
    SupplyLow,
}

impl NorFlashError for FlashFault {
    fn kind(&self) -> NorFlashErrorKind {
        match self {
            Self::NotAligned => NorFlashErrorKind::NotAligned,
            Self::OutOfBounds => NorFlashErrorKind::OutOfBounds,
            Self::SupplyLow => NorFlashErrorKind::Other,
        }
    }
}

/// What one visit to the boot ROM does, addresses from the start of the flash chip.
enum Operation<'b> {
    Erase { from: u32, length: usize },
    Program { at: u32, page: &'b [u8; PAGE] },
    Exchange { bytes: &'b mut [u8; NUMBER_EXCHANGE] },
}

/// The number that every such chip is given when it is made (W25Q16JV data sheet, "Read Unique ID Number": command 4Bh, four
/// bytes without meaning, then eight of the number).
pub(crate) fn unique_number() -> [u8; 8] {
    let mut bytes = [0; NUMBER_EXCHANGE];
    bytes[0] = READ_NUMBER;
    perform(Operation::Exchange { bytes: &mut bytes }, &loader());
    let mut number = [0; 8];
    number.copy_from_slice(&bytes[NUMBER_EXCHANGE - 8..]);
    number
}

/// The second-stage loader, to be kept in RAM.
fn loader() -> [u32; LOADER_WORDS] {
    let mut loader = [0; LOADER_WORDS];
    for (word, bytes) in loader.iter_mut().zip(super::setup::BOOT2.chunks_exact(4)) {
        *word = u32::from_le_bytes([bytes[0], bytes[1], bytes[2], bytes[3]]);
    }
    loader
}

fn perform(operation: Operation<'_>, loader: &[u32; LOADER_WORDS]) {
    let rom = Rom {
        connect: rom_data::connect_internal_flash::ptr(),
        leave_fast_reading: rom_data::flash_exit_xip::ptr(),
        erase: rom_data::flash_range_erase::ptr(),
        program: rom_data::flash_range_program::ptr(),
        flush: rom_data::flash_flush_cache::ptr(),
    };
    cortex_m::interrupt::free(|_| {
        // SAFETY: interrupts are off, the second core and DMA are never started, `permit` has kept the range within the
        // journal's area, and the bytes and the loader are in RAM (on the stack).
        unsafe { without_flash(&rom, operation, loader) };
    });
}

impl<'a> Flash<'a> {
    /// The journal's area; it may be the only one that writes flash.
    pub(crate) fn new(supply: &'a RefCell<Supply>) -> Self {
        Self {
            supply,
            loader: loader(),
        }
    }

    /// Refuses what is not wholly within the area or not aligned, and anything while supply is low.
    fn permit(&self, from: u32, to: u32, alignment: u32) -> Result<(), FlashFault> {
        if from > to || to > AREA {
            return Err(FlashFault::OutOfBounds);
        }
        if !from.is_multiple_of(alignment) || !to.is_multiple_of(alignment) {
            return Err(FlashFault::NotAligned);
        }
        match self.supply.borrow_mut().millivolts() {
            Some(supply) if supply < pins::WRITE_SUPPLY => Err(FlashFault::SupplyLow),
            _ => Ok(()),
        }
    }
}

impl ErrorType for Flash<'_> {
    type Error = FlashFault;
}

impl ReadNorFlash for Flash<'_> {
    const READ_SIZE: usize = 1;

    fn read(&mut self, offset: u32, bytes: &mut [u8]) -> Result<(), FlashFault> {
        let from = usize::try_from(offset).map_err(|_| FlashFault::OutOfBounds)?;
        let to = from.checked_add(bytes.len()).ok_or(FlashFault::OutOfBounds)?;
        bytes.copy_from_slice(area().get(from..to).ok_or(FlashFault::OutOfBounds)?);
        Ok(())
    }

    fn capacity(&self) -> usize {
        AREA as usize
    }
}

impl NorFlash for Flash<'_> {
    // A page can be programmed in parts: bits left at one stay as they were.
    const WRITE_SIZE: usize = 1;
    const ERASE_SIZE: usize = 4_096;

    fn erase(&mut self, from: u32, to: u32) -> Result<(), FlashFault> {
        self.permit(from, to, Self::ERASE_SIZE as u32)?;
        for sector in (from..to).step_by(Self::ERASE_SIZE) {
            perform(
                Operation::Erase {
                    from: AREA_OFFSET + sector,
                    length: Self::ERASE_SIZE,
                },
                &self.loader,
            );
        }
        Ok(())
    }

    fn write(&mut self, offset: u32, bytes: &[u8]) -> Result<(), FlashFault> {
        let length = u32::try_from(bytes.len()).map_err(|_| FlashFault::OutOfBounds)?;
        let end = offset.checked_add(length).ok_or(FlashFault::OutOfBounds)?;
        self.permit(offset, end, Self::WRITE_SIZE as u32)?;
        let mut rest = bytes;
        let mut at = offset;
        while !rest.is_empty() {
            let start = at as usize % PAGE;
            let (now, later) = rest.split_at(rest.len().min(PAGE - start));
            let mut page = [0xFF; PAGE];
            page[start..start + now.len()].copy_from_slice(now);
            perform(
                Operation::Program {
                    at: AREA_OFFSET + at - start as u32,
                    page: &page,
                },
                &self.loader,
            );
            at += now.len() as u32;
            rest = later;
        }
        Ok(())
    }
}

/// The journal's area as it can be read.
fn area() -> &'static [u8] {
    let start = (FLASH_START + AREA_OFFSET) as *const u8;
    // SAFETY: memory.x keeps this range of the flash chip for the journal, it is always readable, and all writing goes through
    // `Flash`, whose `&mut` cannot be had while a slice made by its `read` is in use.
    unsafe { core::slice::from_raw_parts(start, AREA as usize) }
}

/// The boot ROM's routines, looked up while flash can still be read.
struct Rom {
    connect: unsafe extern "C" fn(),
    leave_fast_reading: unsafe extern "C" fn(),
    erase: unsafe extern "C" fn(u32, usize, u32, u8),
    program: unsafe extern "C" fn(u32, *const u8, usize),
    flush: unsafe extern "C" fn(),
}

/// Erases or programs, with flash unreadable in between.
///
/// # Safety
/// Nothing else may run meanwhile, the operation must be within what may be written, and all arguments must be in RAM.
#[unsafe(link_section = ".data.without_flash")]
#[inline(never)]
unsafe fn without_flash(rom: &Rom, operation: Operation<'_>, loader: &[u32; LOADER_WORDS]) {
    // SAFETY: the order of the data sheet; the loader is Thumb code that runs from any address and returns.
    unsafe {
        (rom.connect)();
        (rom.leave_fast_reading)();
        match operation {
            Operation::Erase { from, length } => (rom.erase)(from, length, BLOCK, BLOCK_ERASE),
            Operation::Program { at, page } => (rom.program)(at, page.as_ptr(), PAGE),
            Operation::Exchange { bytes } => exchange(bytes),
        }
        (rom.flush)();
        let restore: unsafe extern "C" fn() = core::mem::transmute(loader.as_ptr().cast::<u8>().add(1));
        restore();
    }
}

/// Sends bytes to the flash chip and puts what it says meanwhile in their place, the chip being selected by hand.
///
/// # Safety
/// As for [`without_flash`], whose code this becomes a part of: plain loads and stores, so that nothing is called that is not in RAM.
#[inline(always)]
unsafe fn exchange(bytes: &mut [u8; NUMBER_EXCHANGE]) {
    // SAFETY: registers of the flash controller, which the boot ROM has left in plain serial mode, and of its select line.
    unsafe {
        let select = CHIP_SELECT.read_volatile() & !(0b11 << 8);
        CHIP_SELECT.write_volatile(select | 0b10 << 8); // low: selected
        for byte in bytes.iter_mut() {
            DATA.write_volatile((*byte).into());
            while STATUS.read_volatile() & RECEIVED == 0 {}
            *byte = DATA.read_volatile() as u8;
        }
        CHIP_SELECT.write_volatile(select | 0b11 << 8); // high; the flush puts it back to the controller
    }
}

/// The chip's command that reads its number, and the bytes that are exchanged for it.
const READ_NUMBER: u8 = 0x4B;
const NUMBER_EXCHANGE: usize = 1 + 4 + 8;

// RP2040 data sheet: IO_QSPI, GPIO_QSPI_SS_CTRL (its bits 9 and 8 override the level); SSI, SR and DR0.
const CHIP_SELECT: *mut u32 = 0x4001_800C as *mut u32;
const STATUS: *const u32 = 0x1800_0028 as *const u32;
const DATA: *mut u32 = 0x1800_0060 as *mut u32;
/// In the status, that a byte has come in.
const RECEIVED: u32 = 1 << 3;

/// Bytes in a program page of the chip.
const PAGE: usize = 256;

/// Words in the second-stage loader.
const LOADER_WORDS: usize = 64;

/// Where flash appears in memory.
const FLASH_START: u32 = 0x1000_0000;

/// First byte of the journal's area, from the start of the chip.
const AREA_OFFSET: u32 = 0x10_0000;

/// Bytes in the journal's area.
const AREA: u32 = 0x10_0000;

/// Large block and its erase command, for ranges that hold one (W25Q16JV data sheet: 64 KiB, D8h).
const BLOCK: u32 = 1 << 16;
const BLOCK_ERASE: u8 = 0xD8;

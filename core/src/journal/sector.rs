//! One erase sector as a queue of the storage library, which gives each item its checksums and survives torn writes.
//!
//! The library would also order sectors among themselves, but by marks of one byte that a torn erase can fake; here the
//! numbers of the records do that (`ring.rs`), and each sector is a queue of its own.

use core::ops::ControlFlow;

use embedded_storage::nor_flash::NorFlash;
use embedded_storage_async::nor_flash as asynchronous;
use sequential_storage::Error;
use sequential_storage::cache::page_pointers::ArrayPagePointers;
use sequential_storage::cache::{Cache, Uncached};
use sequential_storage::queue::{QueueConfig, QueueStorage};

use super::blocking::{Blocking, Refusal, run};
use super::{JournalFault, packed};

/// Bytes of a sector: the unit of erasing.
pub(super) const SECTOR: u32 = 4_096;

/// Gives each intact item of a sector to `each`, oldest first, until it breaks off.
///
/// # Errors
/// [`JournalFault::Flash`] if the flash cannot be read. A sector without intact items is no error.
pub(super) fn read<F: NorFlash>(
    flash: &mut F,
    start: u32,
    each: &mut dyn FnMut(&[u8]) -> ControlFlow<()>,
) -> Result<(), JournalFault> {
    let config = config::<F>(start)?;
    // As long as any item that a sector can hold: an item too long for it would hide all that follow.
    let mut buffer = [0; SECTOR as usize];
    let walk = async {
        let mut queue = QueueStorage::new(Blocking(flash), config, cache());
        let mut items = queue.iter().await?;
        while let Some(item) = items.next(&mut buffer).await? {
            if each(&item).is_break() {
                break;
            }
        }
        Ok(())
    };
    match run(walk) {
        Some(Ok(())) => Ok(()),
        Some(Err(ref error)) if is_unreadable(error) => Ok(()),
        Some(Err(_)) | None => Err(JournalFault::Flash),
    }
}

/// Bytes between the sector's begin and the place where the next item would be written.
///
/// # Errors
/// [`JournalFault::Flash`] if the flash cannot be read.
pub(super) fn used<F: NorFlash>(flash: &mut F, start: u32) -> Result<u32, JournalFault> {
    let config = config::<F>(start)?;
    let measure = async {
        let mut queue = QueueStorage::new(Blocking(flash), config, cache());
        queue.space_left().await
    };
    match run(measure) {
        Some(Ok(left)) => Ok(SECTOR.saturating_sub(padded::<F>(1)).saturating_sub(left)),
        Some(Err(ref error)) if is_unreadable(error) => Ok(SECTOR),
        Some(Err(_)) | None => Err(JournalFault::Flash),
    }
}

/// Bytes that an item of this length takes behind its header.
pub(super) fn padded<F: NorFlash>(length: usize) -> u32 {
    u32::try_from(length.next_multiple_of(word::<F>())).unwrap_or(SECTOR)
}

/// Bytes of a flash word: what the marks at both ends of a sector take.
fn word<F: NorFlash>() -> usize {
    F::WRITE_SIZE.max(F::READ_SIZE).max(1)
}

/// Writes a row of items ([`packed`]) behind those that are there, as far as there is room, and reads them back the way replay
/// will. Gives the row behind those that are there then: there may be no room, or the flash may not have kept one.
///
/// Nothing is written where anything stands: what an item leaves of foreign bits could read as items of ours.
///
/// # Errors
/// [`JournalFault::Flash`] if the flash refuses.
pub(super) fn push<'r, F: NorFlash>(flash: &mut F, start: u32, row: &'r [u8]) -> Result<&'r [u8], JournalFault> {
    let config = config::<F>(start)?;
    let used = used(flash, start)?;
    if !is_blank_from(flash, start, used)? {
        return Ok(row);
    }
    let mut unwritten = row;
    let write = async {
        let mut queue = QueueStorage::new(Blocking(flash), config, cache());
        while let Some((item, behind)) = packed::split(unwritten) {
            queue.push(item, false).await?;
            unwritten = behind;
        }
        Ok(())
    };
    match run(write) {
        Some(Ok(()) | Err(Error::FullStorage)) => {}
        Some(Err(ref error)) if is_unreadable(error) => {}
        Some(Err(_)) | None => return Err(JournalFault::Flash),
    }
    let mut unread = row;
    read(flash, start, &mut |found| {
        if let Some((item, behind)) = packed::split(unread)
            && found == item
        {
            unread = behind;
        }
        ControlFlow::Continue(())
    })?;
    Ok(unread)
}

/// Programs bytes over whatever stands there: ones become zeros.
///
/// # Errors
/// [`JournalFault::Flash`] if the flash refuses.
pub(super) fn program<F: NorFlash>(flash: &mut F, place: u32, bytes: &[u8]) -> Result<(), JournalFault> {
    // The same way as the library's, so that an image holds the writing once.
    match run(asynchronous::NorFlash::write(&mut Blocking(flash), place, bytes)) {
        Some(Ok(())) => Ok(()),
        Some(Err(_)) | None => Err(JournalFault::Flash),
    }
}

/// Whether every byte of a sector is blank.
///
/// # Errors
/// [`JournalFault::Flash`] if the flash cannot be read.
pub(super) fn is_blank<F: NorFlash>(flash: &mut F, start: u32) -> Result<bool, JournalFault> {
    is_blank_from(flash, start, 0)
}

/// Whether every byte of a sector from this one on is blank.
fn is_blank_from<F: NorFlash>(flash: &mut F, start: u32, from: u32) -> Result<bool, JournalFault> {
    let mut chunk = [0; CHUNK as usize];
    let mut skip = (from % CHUNK) as usize;
    for offset in (from.saturating_sub(from % CHUNK)..SECTOR).step_by(chunk.len()) {
        flash
            .read(start.saturating_add(offset), &mut chunk)
            .map_err(|_| JournalFault::Flash)?;
        // A device without a journal looks at all of it before it weighs: a byte should cost little.
        if chunk.iter().skip(skip).any(|&byte| byte != 0xFF) {
            return Ok(false);
        }
        skip = 0;
    }
    Ok(true)
}

/// Makes a sector blank, if it is not.
///
/// # Errors
/// [`JournalFault::Flash`] if the flash refuses, or is not blank after that.
pub(super) fn clear<F: NorFlash>(flash: &mut F, start: u32) -> Result<(), JournalFault> {
    if is_blank(flash, start)? {
        return Ok(());
    }
    flash
        .erase(start, start.saturating_add(SECTOR))
        .map_err(|_| JournalFault::Flash)?;
    if is_blank(flash, start)? {
        Ok(())
    } else {
        Err(JournalFault::Flash)
    }
}

/// Bytes looked at in one go.
const CHUNK: u32 = 64;

/// What the library may remember of a sector during one call, so that it looks for the place of the next item only once.
fn cache() -> Cache<Uncached, ArrayPagePointers<1>, Uncached> {
    Cache::new(Uncached, ArrayPagePointers::new(), Uncached)
}

fn config<'f, F: NorFlash>(start: u32) -> Result<QueueConfig<Blocking<'f, F>>, JournalFault> {
    QueueConfig::try_new(start..start.saturating_add(SECTOR)).map_err(|_| JournalFault::Unsuitable)
}

/// Whether a sector is in a state that nothing of ours has left it in.
const fn is_unreadable(error: &Error<Refusal>) -> bool {
    matches!(
        error,
        Error::Corrupted { .. }
            | Error::LogicBug { .. }
            | Error::Storage {
                value: Refusal::Repair,
                ..
            }
    )
}

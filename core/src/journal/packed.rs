//! Entries in a row, each behind its length: two bytes, the more significant one first.

use heapless::Vec;

use super::JournalFault;

/// Adds an entry.
///
/// # Errors
/// [`JournalFault::Full`] if there is no room for it; nothing is added then.
pub fn put<const N: usize>(row: &mut Vec<u8, N>, entry: &[u8]) -> Result<(), JournalFault> {
    let length = u16::try_from(entry.len()).map_err(|_| JournalFault::Full)?;
    if row.capacity().saturating_sub(row.len()) < entry.len().saturating_add(2) {
        return Err(JournalFault::Full);
    }
    // There is room: it was looked at.
    let _ = row.extend_from_slice(&length.to_be_bytes());
    let _ = row.extend_from_slice(entry);
    Ok(())
}

/// The first entry and the row behind it; `None` at the end, or where no whole entry follows.
#[must_use]
pub fn split(row: &[u8]) -> Option<(&[u8], &[u8])> {
    let (length, rest) = row.split_first_chunk::<2>()?;
    rest.split_at_checked(usize::from(u16::from_be_bytes(*length)))
}

//! Entries as bytes: schema version, then the postcard encoding of number, time and record, and nothing behind it.
//!
//! Version and number stand in front in every version to come, so that even an entry that cannot be understood is counted.

use super::{Entry, JournalFault, Record, Sequence};

/// Version of the schema that is written, 1 to 15. See the history in `record.rs`.
pub const SCHEMA: u8 = 2;

/// Most bytes an entry takes. Proven for all kinds of record by test.
pub const MAX_ENCODED: usize = 448;

/// Why bytes are not an entry.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub enum DecodeFault {
    /// Not one, or not a whole one, or more than one.
    Malformed,
    /// Of a schema that this program does not know.
    Version,
}

/// Encodes an entry into `buffer` and gives the part used.
///
/// # Errors
/// [`JournalFault::Unwritable`] for the reserved record and number, and for what does not fit.
pub fn encode<'b>(entry: &Entry, buffer: &'b mut [u8; MAX_ENCODED]) -> Result<&'b [u8], JournalFault> {
    if entry.record == Record::Reserved || entry.sequence == Sequence::default() {
        return Err(JournalFault::Unwritable);
    }
    let (version, body) = buffer.split_first_mut().ok_or(JournalFault::Unwritable)?;
    *version = WRITTEN;
    let body = postcard::to_slice(entry, body).map_err(|_| JournalFault::Unwritable)?;
    let length = body.len().saturating_add(1);
    buffer.get(..length).ok_or(JournalFault::Unwritable)
}

/// Decodes an entry.
///
/// # Errors
/// A [`DecodeFault`] for whatever [`encode`] has not made.
pub fn decode(bytes: &[u8]) -> Result<Entry, DecodeFault> {
    let (&version, body) = bytes.split_first().ok_or(DecodeFault::Malformed)?;
    if version & 0xF0 != OURS {
        return Err(DecodeFault::Malformed);
    }
    if !(OURS | 1..=WRITTEN).contains(&version) {
        return Err(DecodeFault::Version);
    }
    let (entry, rest) = postcard::take_from_bytes::<Entry>(body).map_err(|_| DecodeFault::Malformed)?;
    if !rest.is_empty() || entry.record == Record::Reserved || entry.sequence == Sequence::default() {
        return Err(DecodeFault::Malformed);
    }
    Ok(entry)
}

/// The number of an entry, whatever its version.
pub(super) fn sequence(bytes: &[u8]) -> Option<Sequence> {
    let (&version, body) = bytes.split_first()?;
    if version & 0xF0 != OURS {
        return None;
    }
    let (sequence, _) = postcard::take_from_bytes::<Sequence>(body).ok()?;
    (sequence != Sequence::default()).then_some(sequence)
}

/// Upper half of the first byte, so that items of another program are not taken for ours.
const OURS: u8 = 0xA0;

/// The first byte of what is written.
const WRITTEN: u8 = OURS | SCHEMA;

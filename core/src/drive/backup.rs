//! The whole journal as a file: the same bytes as the computer program's backup.

use embedded_storage::nor_flash::NorFlash;

use super::snapshot::{RINGS, Snapshot};
use super::source::Source;
use super::window::Window;
use crate::journal::RingName;
use crate::link::{BackupFrame, MAGIC, encode};

/// Writes a piece: who the scale is, a sector's entries, or the end.
pub(super) fn piece<F: NorFlash>(snapshot: &Snapshot, piece: u16, out: &mut Window<'_>, source: &mut Source<'_, F>) {
    let Some(mut older) = piece.checked_sub(1) else {
        out.put(MAGIC);
        if let Some(device) = &snapshot.device {
            frame(&BackupFrame::Device(device.clone()), out);
        }
        return;
    };
    for (extent, ring) in snapshot.extents.into_iter().zip(RINGS) {
        let sectors = extent.map_or(0, |extent| extent.sectors());
        if older < sectors {
            source.entries(extent, older, |entry| put(ring, entry, out));
            return;
        }
        older = older.saturating_sub(sectors);
    }
    frame(&BackupFrame::End(snapshot.entries), out);
}

/// Writes an entry as the backup holds it; of a window that only counts, hardly more than its length is looked at.
pub(super) fn put(ring: RingName, entry: &[u8], out: &mut Window<'_>) {
    // Kind and ring, a byte each; the entry behind its length; the check sum.
    let length = if entry.len() < 128 { 1 } else { 2 };
    let plain = entry.len().saturating_add(length).saturating_add(6);
    // COBS adds one byte to less than 254 of them, whatever they are, and the frame ends with a zero.
    let framed = u32::try_from(plain.saturating_add(2)).unwrap_or_default();
    if out.is_full() || (plain < 254 && out.passes(framed)) {
        return;
    }
    if let Ok(entry) = heapless::Vec::from_slice(entry) {
        frame(&BackupFrame::Entry(ring, entry), out);
    }
}

/// As long as any frame of the file.
const LONGEST: usize = 480;

fn frame(frame: &BackupFrame, out: &mut Window<'_>) {
    let mut buffer = [0; LONGEST];
    if let Ok(bytes) = encode(frame, &mut buffer) {
        out.put(bytes);
    }
}

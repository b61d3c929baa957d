//! The line to a computer: short questions, short answers, framed, checked, bounded. The scale needs it for nothing.
//!
//! # A frame
//! `COBS( body ‖ CRC ) ‖ 0x00`. The body is the postcard encoding of a [`Request`] (to the scale) or a [`Response`] (from it), the
//! CRC is CRC-32/ISO-HDLC of the body, least significant byte first. A frame of more than [`MAX_FRAME`] bytes, one whose CRC
//! is wrong, or one that does not decode is dropped without an answer: the computer asks again.
//!
//! # Questions and answers
//! | [`Ask`] | [`Answer`] | changes the journal |
//! |---|---|---|
//! | `Hello` | `Device`: versions, usage, number of the next record | no |
//! | `Read` | `Entries`: a sector's encoded entries, each behind its length (one byte times 256, one byte), and where to read on | no |
//! | `Note` | `Noted` | yes: a name, the clock, a yarn's label; that the oldest closed pairs may go |
//! | `RestoreBegin` | `RestoreBegun`: how many sectors there are for visits | no: only a fence is put up, behind which nothing counts |
//! | `Restore` | `Restored` | no: entries that continue a ring of an emptier journal are written behind the fence |
//! | `RestoreEnd` | `Restored` | yes: all of them count from now on, if they came whole |
//! | `Ends` | `Ends`: behind the last entry of which rings something stands that cannot be read | no |
//! | `Conversions` | `Conversions`: those since the question before, and whether there were more | no |
//!
//! A `Note` names the number that it expects the next record of the marks to have; a frame that is late or meant for another scale
//! expects the wrong one and is refused ([`Refusal::Stale`]), and so is a repeated one. Only a pair's name, which stands among the
//! pairs and not among the marks, is noted once more when its frame comes again, and says the same. A `Restore` carries
//! numbers in its entries: if they do not go forwards from the end of their ring, all are refused ([`Refusal::Foreign`]); what is missing
//! in a backup is missing on the scale, which says so. A row that comes twice is taken once. `RestoreEnd` says how many entries there
//! were, and their checksum: a byte for the ring of each (0 closed pairs, 1 marks, 2 visits), its length in two bytes, the more significant
//! first, and itself. If it is that of what came, everything counts by one write of the flash; a cable pulled or a power cut before that
//! leaves the journal as it was. While a mark is being taken or a question is open, all that changes the journal is refused
//! ([`Refusal::Busy`]): the knitter comes first; during a restore nothing else is noted. After a restore the scale starts anew, once the line
//! has been quiet for a second, or for ten if its end did not come; a `Hello` in between gives the restore up, and until then a `Read` is
//! refused ([`Refusal::Busy`]), so that nobody takes for the journal what does not count. It
//! notes that with the first thing it notes then, so that until then its journal is the backup to the last byte.
//!
//! A recording is `Conversions`, asked some ten times a second. With the first of them the scale begins to keep what its converter gives,
//! [`MAX_CONVERSIONS`] at the most until the next question, and it stops when it has heard nothing for a second. Weighing goes on as ever.
//!
//! # Bodies
//! Postcard: a byte as it is, longer numbers in base 128, lowest seven bits first, signed ones zigzag; a text or a list behind its
//! length; an option behind 0 or 1; an enum behind the number of its variant. Every body begins with the question's `id` (one
//! byte), which its answer repeats.
//!
//! | question | bytes | answer | bytes |
//! |---|---|---|---|
//! | `Hello` | 0 | `Device` | 0, protocol, schema (a byte each), program (text), capacity (mg, signed), pair, next, used (percent, a byte) |
//! | `Read` | 1, part (a byte: 0 closed pairs, 1 marks, 2 visits), sector (option), entries passed in it (0) | `Entries` | 1, ring (0 pairs, 1 marks, 2 visits), entries (list of bytes), where to read on (option of part, sector, entries) |
//! | `Note` | 2, expected, then 0 name (0 pair and its number, or 1 yarn and its letter from 0; text), 1 clock (seconds since 1970 UTC), 2 band (letter, metres of 100 g, fibre) or 3 room is to be made | `Noted` | 2, the record's number |
//! | `Restore` | 3, ring, entries (list of bytes, as in `Entries`) | `Restored` | 3 |
//! | `RestoreBegin` | 5 | `RestoreBegun` | 6, sectors for visits |
//! | `RestoreEnd` | 6, entries, checksum | `Restored` | 3 |
//! | `Ends` | 7 | `Ends` | 7, a byte: 1 closed pairs, 2 marks, 4 visits, added |
//! | `Conversions` | 8 | `Conversions` | 8, whether others behind them were missed (a byte), list of bytes: of each the time (ms since power-on) and the counts (signed), four bytes each, the least significant first |
//! | | | `Refused` | 4, then 0 busy, 1 stale, 2 foreign, 3 not noted (and the journal's fault), 4 no such place, 5 no journal, 6 no need |
//!
//! # Versions
//! | protocol | what was added |
//! |---|---|
//! | 1 | everything above, but: frames of 640 bytes at the most, 560 of entries, so that a sector took several answers and a question said how many entries it had passed; a `Restore` held one entry, without its length |
//! | 2 | frames of [`MAX_FRAME`] bytes; a whole sector in an answer, many entries in a `Restore` |
//! | 3 | `RestoreBegin`, `RestoreEnd`, `Ends`; a `Restore` counts only between these two |
//! | 4 | `Conversions` |
//! | 5 | a `Note` that room is to be made; refused where there is room enough |
//!
//! A scale of protocol 3 or later answers `Hello`, `Read` and `Note` of 1 and 2 as ever, and refuses their `Restore` as stale. A computer
//! reads scales of its own protocol and of all before, does not ask those of 1 and 2 for their ends, restores to those from 3 on, records from
//! those from 4 on and lets those from 5 on make room; of older ones it says so, and of a newer scale that itself is too old. Variants are only
//! appended. `Hello` and its answer keep their places for ever, so that both sides can find out.

/// The maker's name on USB, by which, with [`PRODUCT`], a computer tells a scale from any other serial port.
pub const MANUFACTURER: &str = "Yarn scale, open hardware";
/// The product's name on USB.
pub const PRODUCT: &str = "Yarn scale";

mod backup;
mod frame;
mod message;
mod serve;

pub use backup::{BackupFrame, MAGIC};
pub use frame::{Accumulator, FrameFault, MAX_FRAME, decode, encode};
pub use message::{
    Answer, Ask, Checking, Conversion, DeviceInfo, LinkNote, MAX_CONVERSIONS, MAX_ENTRIES, PROTOCOL, Position, Refusal,
    Request, Response,
};
pub(crate) use serve::device_info;
pub use serve::{Server, ServerContext};

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
//! | `Note` | `Noted` | yes: a name, the clock, a yarn's label |
//! | `Restore` | `Restored` | yes: entries that continue a ring of an emptier journal |
//!
//! A `Note` names the number that it expects the next record of the marks to have; a frame that is late or meant for another scale
//! expects the wrong one and is refused ([`Refusal::Stale`]), and so is a repeated one. Only a pair's name, which stands among the
//! pairs and not among the marks, is noted once more when its frame comes again, and says the same. A `Restore` carries
//! numbers in its entries: if they do not continue their ring one by one, all are refused ([`Refusal::Foreign`]); of visits, whose
//! numbers may have gaps, later ones are taken. They are written in their order, each before the next, so that a cable pulled or a
//! power cut leaves a shorter beginning of the backup. While a mark is being taken or a question is open, both are refused
//! ([`Refusal::Busy`]): the knitter comes first. After a restore the scale starts anew, once the line has been quiet for a second; it
//! notes that with the first thing it notes then, so that until then its journal is the backup to the last byte.
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
//! | `Note` | 2, expected, then 0 name (0 pair and its number, or 1 yarn and its letter from 0; text), 1 clock (seconds since 1970 UTC) or 2 band (letter, metres of 100 g, fibre) | `Noted` | 2, the record's number |
//! | `Restore` | 3, ring, entries (list of bytes, as in `Entries`) | `Restored` | 3 |
//! | | | `Refused` | 4, then 0 busy, 1 stale, 2 foreign, 3 not noted (and the journal's fault), 4 no such place, 5 no journal |
//!
//! # Versions
//! | protocol | what was added |
//! |---|---|
//! | 1 | everything above, but: frames of 640 bytes at the most, 560 of entries, so that a sector took several answers and a question said how many entries it had passed; a `Restore` held one entry, without its length |
//! | 2 | frames of [`MAX_FRAME`] bytes; a whole sector in an answer, many entries in a `Restore` |
//!
//! A scale of protocol 2 refuses the `Restore` of protocol 1 as foreign: no entry begins like a length. A computer of protocol 2 reads
//! scales of both, and restores to those of 2. Variants are only appended. `Hello` and its answer keep their places for ever, so that both sides can find out.

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
    Answer, Ask, Checking, DeviceInfo, LinkNote, MAX_ENTRIES, PROTOCOL, Position, Refusal, Request, Response,
};
pub use serve::{Desk, Server, device_info};

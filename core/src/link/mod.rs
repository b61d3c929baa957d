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
//! | `Read` | `Entries`: encoded entries, each behind its length (one byte times 256, one byte), and where to read on | no |
//! | `Note` | `Noted` | yes: a name, the clock, a yarn's label |
//! | `Restore` | `Restored` | yes: an entry that continues a ring of an emptier journal |
//!
//! Whatever changes the journal names the number that it expects the next record of the marks to have. A frame that is
//! repeated, late or meant for another scale then expects the wrong one and is refused ([`Refusal::Stale`]). While a mark is
//! being taken or a question is open, it is refused, too ([`Refusal::Busy`]): the knitter comes first.
//!
//! # Versions
//! | protocol | what was added |
//! |---|---|
//! | 1 | everything above |
//!
//! Variants are only appended. `Hello` and its answer keep their places for ever, so that both sides can find out.

mod frame;
mod message;
mod serve;

pub use frame::{Accumulator, FrameFault, MAX_FRAME, decode, encode};
pub use message::{Answer, Ask, DeviceInfo, LinkNote, MAX_ENTRIES, PROTOCOL, Position, Refusal, Request, Response};
pub use serve::{Desk, Server};

//! Frames on the line: COBS around a postcard body and its CRC.

use heapless::Vec;
use serde::Serialize;
use serde::de::DeserializeOwned;

use crate::checksum::Crc32;

/// Most bytes of a frame on the line, its closing zero included.
pub const MAX_FRAME: usize = 4_160;

/// Why bytes are no frame.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub enum FrameFault {
    /// Longer than [`MAX_FRAME`].
    TooLong,
    /// Bytes were changed, lost or added.
    Damaged,
    /// Whole, but not a message that this program knows.
    Unknown,
}

/// Encodes a message as a frame into `buffer`, [`MAX_FRAME`] bytes or fewer, and gives the part used.
///
/// # Errors
/// [`FrameFault::TooLong`] if it does not fit.
pub fn encode<'b, T: Serialize, const N: usize>(message: &T, buffer: &'b mut [u8; N]) -> Result<&'b [u8], FrameFault> {
    let mut body = [0; N];
    let used = postcard::to_slice(message, &mut body)
        .map_err(|_| FrameFault::TooLong)?
        .len();
    let crc = Crc32::of(body.get(..used).ok_or(FrameFault::TooLong)?).to_le_bytes();
    let end = used.saturating_add(crc.len());
    body.get_mut(used..end)
        .ok_or(FrameFault::TooLong)?
        .copy_from_slice(&crc);
    let plain = body.get(..end).ok_or(FrameFault::TooLong)?;
    if cobs::max_encoding_length(plain.len()) >= N {
        return Err(FrameFault::TooLong);
    }
    let length = cobs::encode(plain, buffer);
    *buffer.get_mut(length).ok_or(FrameFault::TooLong)? = 0;
    buffer.get(..=length).ok_or(FrameFault::TooLong)
}

/// Decodes a frame without its closing zero.
///
/// # Errors
/// A [`FrameFault`] for whatever [`encode`] has not made of a message of this kind.
pub fn decode<T: DeserializeOwned>(frame: &[u8]) -> Result<T, FrameFault> {
    let mut plain = [0; MAX_FRAME];
    if frame.len() > MAX_FRAME {
        return Err(FrameFault::TooLong);
    }
    let length = cobs::decode(frame, &mut plain).map_err(|_| FrameFault::Damaged)?;
    let plain = plain.get(..length).ok_or(FrameFault::Damaged)?;
    let (body, crc) = plain.split_last_chunk::<4>().ok_or(FrameFault::Damaged)?;
    if Crc32::of(body) != u32::from_le_bytes(*crc) {
        return Err(FrameFault::Damaged);
    }
    match postcard::take_from_bytes(body) {
        Ok((message, [])) => Ok(message),
        _ => Err(FrameFault::Unknown),
    }
}

/// Gathers bytes from the line into frames.
#[derive(Clone, Debug, Default)]
pub struct Accumulator {
    bytes: Vec<u8, MAX_FRAME>,
    overrun: bool,
    ended: bool,
}

impl Accumulator {
    /// Takes a byte; gives a frame, without its closing zero, once it is whole. An overlong one is dropped to its end.
    pub fn take(&mut self, byte: u8) -> Option<&[u8]> {
        if core::mem::replace(&mut self.ended, byte == 0) {
            self.bytes.clear();
            self.overrun = false;
        }
        if byte != 0 {
            self.overrun |= self.bytes.push(byte).is_err();
            return None;
        }
        (!self.overrun && !self.bytes.is_empty()).then_some(&self.bytes)
    }
}

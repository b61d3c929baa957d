//! The flash format written down a second time, without the library: sectors with items forged at will, their checksums
//! right. Layout and checksums as documented in sequential-storage 8.0.2 (`item.rs`): CRC-32C with another start value, a
//! 16-bit CRC of the length.

use yarn_scale_core::journal::{Entry, MAX_ENCODED, encode};

/// Bytes of a sector.
const SECTOR: usize = 4_096;

/// An item as it stands on flash: checksum of the data, length, checksum of the length, data.
#[must_use]
pub fn item(data: &[u8]) -> Vec<u8> {
    let length = u16::try_from(data.len()).expect("shorter than a sector").to_le_bytes();
    let mut bytes = checksum(data).to_le_bytes().to_vec();
    bytes.extend(length);
    bytes.extend(length_checksum(length).to_le_bytes());
    bytes.extend(data);
    bytes
}

/// A sector in use that begins with these items.
///
/// # Panics
/// If they do not fit.
#[must_use]
pub fn sector<'i>(items: impl IntoIterator<Item = &'i [u8]>) -> Vec<u8> {
    let mut bytes = vec![0];
    for data in items {
        bytes.extend(item(data));
    }
    assert!(bytes.len() < SECTOR, "more items than a sector holds");
    bytes.resize(SECTOR, 0xFF);
    bytes
}

/// An entry as the data of an item.
///
/// # Panics
/// If it cannot be encoded.
#[must_use]
pub fn data(entry: &Entry) -> Vec<u8> {
    encode(entry, &mut [0; MAX_ENCODED])
        .expect("an entry that can be written")
        .to_vec()
}

fn checksum(data: &[u8]) -> u32 {
    let mut remainder = 0xEEEE_EEEE_u32;
    for &byte in data {
        remainder ^= u32::from(byte);
        for _ in 0..8 {
            let carry = remainder & 1;
            remainder = (remainder >> 1) ^ (0x82F6_3B78 * carry);
        }
    }
    match !remainder {
        0 => 1,
        // Its first byte is neither all zeros nor all ones.
        sum if matches!(sum as u8, 0 | 0xFF) => sum ^ 1,
        sum => sum,
    }
}

fn length_checksum(length: [u8; 2]) -> u16 {
    let mut remainder = 0xFFFF_u16;
    for byte in length {
        remainder ^= u16::from(byte);
        for _ in 0..8 {
            let carry = remainder & 1;
            remainder = (remainder >> 1) ^ (0x1A2E * carry);
        }
    }
    if remainder == 0 { 0xFFFE } else { !remainder }
}

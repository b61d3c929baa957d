//! The checksum of what goes over the line.

/// CRC-32/ISO-HDLC, half a byte at a time: a table for whole bytes would take a kibibyte of flash.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Crc32(u32);

impl Crc32 {
    /// Of nothing yet.
    #[must_use]
    pub const fn new() -> Self {
        Self(!0)
    }

    /// Goes on with these bytes.
    pub fn take(&mut self, bytes: &[u8]) {
        for &byte in bytes {
            self.0 ^= u32::from(byte);
            for _ in 0..2 {
                let low = self.0 & 0xF;
                self.0 = self.0 >> 4 ^ HALF_BYTES.get(low as usize).copied().unwrap_or_default();
            }
        }
    }

    /// What it comes to.
    #[must_use]
    pub const fn value(self) -> u32 {
        !self.0
    }

    /// That of these bytes.
    #[must_use]
    pub fn of(bytes: &[u8]) -> u32 {
        let mut crc = Self::new();
        crc.take(bytes);
        crc.value()
    }
}

impl Default for Crc32 {
    fn default() -> Self {
        Self::new()
    }
}

/// What each half byte does to the CRC: the polynomial `EDB8_8320`, low bit first.
const HALF_BYTES: [u32; 16] = [
    0x0000_0000,
    0x1DB7_1064,
    0x3B6E_20C8,
    0x26D9_30AC,
    0x76DC_4190,
    0x6B6B_51F4,
    0x4DB2_6158,
    0x5005_713C,
    0xEDB8_8320,
    0xF00F_9344,
    0xD6D6_A3E8,
    0xCB61_B38C,
    0x9B64_C2B0,
    0x86D3_D2D4,
    0xA00A_E278,
    0xBDBD_F21C,
];

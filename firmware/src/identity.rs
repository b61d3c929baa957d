//! What the device calls itself on USB.
//!
//! The numbers are given when the image is built, by the variables `YARN_SCALE_USB_VENDOR` and `YARN_SCALE_USB_PRODUCT` (four
//! hexadecimal digits each). Without them stands a pair that anybody may use for trying things out privately, and nobody on
//! anything that is passed on (pid.codes, "Test PIDs"); the build then warns. A number of one's own comes from a public registry of
//! numbers for open hardware. A computer program tells scales by their names, not by these numbers.

use yarn_scale_core::link::{MANUFACTURER as NAME_OF_MAKER, PRODUCT as NAME_OF_PRODUCT};

/// Who made it.
pub const MANUFACTURER: &str = NAME_OF_MAKER;

/// What it is.
pub const PRODUCT: &str = NAME_OF_PRODUCT;

/// The maker's number.
pub const VENDOR_NUMBER: u16 = number(option_env!("YARN_SCALE_USB_VENDOR"), 0x1209);

/// The product's number.
pub const PRODUCT_NUMBER: u16 = number(option_env!("YARN_SCALE_USB_PRODUCT"), 0x0001);

const fn number(given: Option<&str>, otherwise: u16) -> u16 {
    match given {
        None => otherwise,
        Some(digits) => match u16::from_str_radix(digits, 16) {
            Ok(number) => number,
            Err(_) => panic!("a USB number is up to four hexadecimal digits"),
        },
    }
}

/// The device's own number: the one its flash chip came with, as 16 hexadecimal digits.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct SerialNumber([u8; 16]);

impl SerialNumber {
    /// The text of a flash chip's number.
    #[must_use]
    pub fn new(number: [u8; 8]) -> Self {
        let mut digits = [b'0'; 16];
        for (pair, byte) in digits.chunks_exact_mut(2).zip(number) {
            pair.copy_from_slice(&[DIGITS[usize::from(byte >> 4)], DIGITS[usize::from(byte & 15)]]);
        }
        Self(digits)
    }

    /// The digits.
    #[must_use]
    pub fn as_str(&self) -> &str {
        // Digits are ASCII, so this does not fail.
        core::str::from_utf8(&self.0).unwrap_or_default()
    }
}

const DIGITS: &[u8; 16] = b"0123456789ABCDEF";

//! The long texts that the device holds: packed to half their size while compiling (`build.rs`), unpacked byte by byte.

use heapless::Vec;

use crate::journal::Language;

include!(concat!(env!("OUT_DIR"), "/packed.rs"));

/// A text of which pairs of bytes, and pairs of such pairs, are one byte each.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Packed {
    bytes: &'static [u8],
    length: u32,
}

impl Packed {
    /// The knitter's manual, an HTML page.
    #[must_use]
    pub(crate) fn manual(language: Language) -> Self {
        match language {
            Language::English => MANUAL_ENGLISH,
            Language::German => MANUAL_GERMAN,
        }
    }

    /// Bytes of the text itself.
    #[must_use]
    pub(crate) const fn length(self) -> u32 {
        self.length
    }

    /// The text itself, from its beginning.
    #[must_use]
    pub(crate) fn text(self) -> Unpacked {
        Unpacked {
            rest: self.bytes,
            opened: Vec::new(),
        }
    }
}

/// What a packed text holds.
#[derive(Clone, Debug)]
pub(crate) struct Unpacked {
    rest: &'static [u8],
    /// Of pairs that were opened the second bytes, the innermost last.
    opened: Vec<u8, 16>,
}

impl Iterator for Unpacked {
    type Item = u8;

    fn next(&mut self) -> Option<u8> {
        let mut byte = match self.opened.pop() {
            Some(byte) => byte,
            None => {
                let (&first, rest) = self.rest.split_first()?;
                self.rest = rest;
                first
            }
        };
        while let Some(&[first, second]) = PAIRS.get(usize::from(byte)).filter(|&&pair| pair != [0, 0]) {
            // `build.rs` lets pairs lie no deeper than there is room for.
            let _ = self.opened.push(second);
            byte = first;
        }
        Some(byte)
    }
}

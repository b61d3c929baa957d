//! Bytes read as choices; zeros when they are used up.

/// What is left of the bytes.
#[derive(Clone, Copy, Debug)]
pub struct Entropy<'d>(&'d [u8]);

impl<'d> Entropy<'d> {
    /// All of them.
    #[must_use]
    pub const fn new(data: &'d [u8]) -> Self {
        Self(data)
    }

    /// Whether all bytes are used up.
    #[must_use]
    pub const fn is_empty(&self) -> bool {
        self.0.is_empty()
    }

    /// The next byte.
    pub fn byte(&mut self) -> u8 {
        let (&byte, rest) = self.0.split_first().unwrap_or((&0, &[]));
        self.0 = rest;
        byte
    }

    /// The next four bytes as a number.
    pub fn number(&mut self) -> u32 {
        u32::from_le_bytes([self.byte(), self.byte(), self.byte(), self.byte()])
    }

    /// A number below `bound`, which is at most 256.
    pub fn below(&mut self, bound: usize) -> usize {
        usize::from(self.byte()) % bound.max(1)
    }

    /// So many bytes, or those that are left.
    pub fn take(&mut self, length: usize) -> &'d [u8] {
        let (taken, rest) = self.0.split_at(length.min(self.0.len()));
        self.0 = rest;
        taken
    }

    /// All that is left.
    #[must_use]
    pub const fn rest(self) -> &'d [u8] {
        self.0
    }
}

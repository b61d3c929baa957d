//! A part of a text that is made up from its beginning: what comes before and behind is only counted.

use core::fmt;

/// Where a text goes of which one part is wanted.
#[derive(Debug)]
pub(super) struct Window<'a> {
    /// Bytes of the text so far.
    at: u32,
    /// The first byte that is wanted.
    from: u32,
    out: &'a mut [u8],
}

impl<'a> Window<'a> {
    /// The part that begins with byte `from` and fills `out`, of a text of which the first `at` bytes are passed over.
    pub(super) const fn new(at: u32, from: u32, out: &'a mut [u8]) -> Self {
        Self { at, from, out }
    }

    /// No part: only the length is wanted.
    pub(super) fn counting() -> Self {
        Self::new(0, u32::MAX, &mut [])
    }

    /// Bytes of the text so far.
    pub(super) const fn at(&self) -> u32 {
        self.at
    }

    /// Whether all that is wanted is there.
    pub(super) fn is_full(&self) -> bool {
        let end = u64::from(self.from).saturating_add(self.out.len() as u64);
        self.from < u32::MAX && u64::from(self.at) >= end
    }

    /// Whether the next `bytes` are all before what is wanted; they are counted then.
    pub(super) const fn passes(&mut self, bytes: u32) -> bool {
        let end = self.at.saturating_add(bytes);
        let passes = end <= self.from;
        if passes {
            self.at = end;
        }
        passes
    }

    /// The text's next bytes.
    pub(super) fn put(&mut self, bytes: &[u8]) {
        let begin = self.at;
        self.at = begin.saturating_add(u32::try_from(bytes.len()).unwrap_or(u32::MAX));
        let before = usize::try_from(self.from.saturating_sub(begin)).unwrap_or(usize::MAX);
        let place = usize::try_from(begin.saturating_sub(self.from)).unwrap_or(usize::MAX);
        let wanted = bytes.get(before..).unwrap_or_default();
        for (into, byte) in self.out.get_mut(place..).unwrap_or_default().iter_mut().zip(wanted) {
            *into = *byte;
        }
    }
}

impl fmt::Write for Window<'_> {
    /// Fails once all is there: what would follow need not be made up.
    fn write_str(&mut self, text: &str) -> fmt::Result {
        if self.is_full() {
            return Err(fmt::Error);
        }
        self.put(text.as_bytes());
        Ok(())
    }
}

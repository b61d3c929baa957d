//! The sequence numbers of the entries tell what is missing between them.

use super::{Replayed, RingName, Sequence, codec};

/// Follows the sequence numbers of the entries of one ring as they are read, on flash or from a backup.
#[derive(Clone, Copy, Debug)]
pub struct SequenceChecker {
    name: RingName,
    expected: Option<Sequence>,
    begun: bool,
}

impl SequenceChecker {
    /// Nothing was read yet; the first entry ought to have this number, if that is known.
    #[must_use]
    pub const fn new(name: RingName, expected: Option<Sequence>) -> Self {
        Self {
            name,
            expected,
            begun: false,
        }
    }

    /// Takes the next entry, encoded, and gives what it means: what is missing before it, and the entry itself if it can be read.
    pub fn take(&mut self, bytes: &[u8], each: &mut dyn FnMut(Replayed<'_>)) {
        let among = self.name;
        let Some(number) = codec::sequence(bytes) else {
            return;
        };
        let expected = self.expected.unwrap_or(number);
        if number < expected {
            // Before the place where replay begins; or, behind an entry that was read, something that ought not to be there.
            if self.begun {
                each(Replayed::Gap { among, missing: 0 });
            }
            return;
        }
        let missing = number.0.saturating_sub(expected.0);
        if missing > 0 {
            each(Replayed::Gap { among, missing });
        }
        match codec::decode(bytes) {
            Ok(entry) => each(Replayed::Entry(&entry)),
            Err(_) => each(Replayed::Gap { among, missing: 1 }),
        }
        self.begun = true;
        self.expected = Some(Sequence(number.0.saturating_add(1)));
    }

    /// The number that follows what was read.
    pub(super) fn next(&self) -> Sequence {
        self.expected.unwrap_or(Sequence(1))
    }
}

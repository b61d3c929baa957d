//! Where the pieces of a made-up text begin, as far as there is room to remember it.

use heapless::Vec;

/// Places that are remembered; of a text of more pieces every second, fourth and so on.
const KEPT: usize = 136;

/// The pieces of a text and where they begin.
#[derive(Clone, Debug, Default)]
pub(super) struct Index {
    /// Where the pieces with the numbers 0, `stride`, 2 `stride` and so on begin.
    begins: Vec<u32, KEPT>,
    stride: u16,
    pieces: u16,
    measured: u16,
    size: u32,
    /// A piece and where it begins: the one that was read last.
    latest: (u16, u32),
}

impl Index {
    /// A text of so many pieces, none of which has been measured.
    pub(super) fn begin(&mut self, pieces: u16) {
        let kept = KEPT as u16;
        *self = Self {
            stride: pieces.div_ceil(kept).max(1),
            pieces,
            ..Self::default()
        };
    }

    /// The next piece to be measured; `None` once all are.
    pub(super) fn next(&self) -> Option<u16> {
        (self.measured < self.pieces).then_some(self.measured)
    }

    /// That piece has so many bytes.
    pub(super) fn measured(&mut self, bytes: u32) {
        if self.measured.checked_rem(self.stride) == Some(0) {
            // There is room: the stride was chosen for it.
            let _ = self.begins.push(self.size);
        }
        self.size = self.size.saturating_add(bytes);
        self.measured = self.measured.saturating_add(1);
    }

    /// Bytes of all pieces.
    pub(super) const fn size(&self) -> u32 {
        self.size
    }

    /// How many pieces there are.
    pub(super) const fn pieces(&self) -> u16 {
        self.pieces
    }

    /// The last piece that is known to begin at or before this byte, and where.
    pub(super) fn before(&self, byte: u32) -> (u16, u32) {
        let place = self.begins.partition_point(|&begin| begin <= byte).saturating_sub(1);
        let begin = self.begins.get(place).copied().unwrap_or_default();
        let piece = u16::try_from(place).unwrap_or_default().saturating_mul(self.stride);
        let (latest, at) = self.latest;
        if at <= byte && at >= begin {
            (latest, at)
        } else {
            (piece, begin)
        }
    }

    /// A piece was read from here.
    pub(super) const fn read(&mut self, piece: u16, begin: u32) {
        self.latest = (piece, begin);
    }
}

//! Which closed pairs are in the journal in short, and which one has yet to be.

use heapless::Deque;

use super::OPEN_PAIRS;

/// The pair closed last is noted in short before another is begun or closed: at most one is not.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(crate) struct InShort {
    /// Pairs noted in short last, the newest behind; twice what was closed, opened again and closed once more.
    noted: Deque<u16, OPEN_PAIRS>,
    due: Option<u16>,
}

impl InShort {
    /// A pair was noted in short. Replay says so of all before it says when they were closed.
    pub(crate) fn noted(&mut self, pair: u16) {
        if self.noted.is_full() {
            self.noted.pop_front();
        }
        // There is room now.
        let _ = self.noted.push_back(pair);
        self.due.take_if(|due| *due == pair);
    }

    /// A pair was closed.
    pub(crate) fn closed(&mut self, pair: u16) {
        self.due = Some(pair).filter(|pair| !self.noted.iter().any(|noted| noted == pair));
    }

    /// It was opened again: what was noted of it in short is to be noted anew.
    pub(crate) fn reopened(&mut self, pair: u16) {
        self.due.take_if(|due| *due == pair);
        // One of them only, the oldest; the others are of later times that it was closed.
        let mut before = Some(pair);
        for noted in core::mem::take(&mut self.noted).iter() {
            if before.take_if(|before| before == noted).is_none() {
                // There are fewer than before.
                let _ = self.noted.push_back(*noted);
            }
        }
    }

    /// The pair that is closed and has yet to be noted in short.
    pub(crate) const fn due(&self) -> Option<u16> {
        self.due
    }
}

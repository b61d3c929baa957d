//! Fingers on the keys of the bench.

use yarn_scale_core::app::Input;
use yarn_scale_core::board::Levels;
use yarn_scale_core::screen::{Body, ItemLabel, MAX_ROWS, Word};

use super::Bench;

/// One of the three keys.
#[derive(Clone, Copy, Debug)]
pub enum Key {
    /// ZERO.
    Zero,
    /// MARK.
    Mark,
    /// NEXT.
    Next,
}

impl Bench {
    /// A short press.
    pub fn press(&mut self, key: Key) {
        self.hold_for(key, 0.1);
    }

    /// A long press.
    pub fn hold(&mut self, key: Key) {
        self.hold_for(key, 1.0);
    }

    /// Begins a pair by the first preset, as a new device leads: cuffs, heels and toes in B, the rest in A.
    pub fn begin_pair(&mut self) {
        for _ in 0..3 {
            self.press(Key::Mark);
        }
    }

    /// Opens a line of the list of everything.
    pub fn open(&mut self, word: Word) {
        self.hold(Key::Next);
        self.choose(word);
    }

    /// Takes the line of the open list that begins with this word.
    ///
    /// # Panics
    /// If there is none, or no list is open.
    #[track_caller]
    pub fn choose(&mut self, word: Word) {
        self.take_line(ItemLabel::Word(word));
    }

    /// The same of a line that is about something else.
    ///
    /// # Panics
    /// If there is none, or no list is open.
    #[track_caller]
    pub fn take_line(&mut self, label: ItemLabel) {
        for _ in 0..MAX_ROWS {
            let highlighted = match self.body() {
                Body::List(list) => list.items[usize::from(list.selected)].label,
                Body::PairSummary(list) => list.items[usize::from(list.selected)].label,
                other => panic!("no list, but {other:?}"),
            };
            if highlighted == label {
                return self.press(Key::Mark);
            }
            self.press(Key::Next);
        }
        panic!("the list has no {label:?}");
    }

    /// Holds a key down for a time.
    pub fn hold_for(&mut self, key: Key, seconds: f64) {
        let levels = match key {
            Key::Zero => Levels {
                zero: true,
                ..Levels::default()
            },
            Key::Mark => Levels {
                mark: true,
                ..Levels::default()
            },
            Key::Next => Levels {
                next: true,
                ..Levels::default()
            },
        };
        let end = self.now + (seconds * 1_000.0) as u64;
        while self.now < end {
            self.tell(Input::Keys(levels));
            self.wait(0.01);
        }
        for _ in 0..4 {
            self.tell(Input::Keys(Levels::default()));
            self.wait(0.01);
        }
    }
}

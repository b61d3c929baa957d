//! The finished pair on the pan: does it weigh what its sections took, and is it dry again?

use yarn_scale_core::screen::Word;

use super::album::Album;
use super::hands::days_pass;
use crate::device::bench::{Bench, Key};

/// What its sections took, g.
const TOOK: f64 = 86.01;

pub(super) fn weigh(album: &mut Album, finished: &Bench) {
    let scale = &mut finished.clone();
    for gap in [0.1, -2.0, 2.5, 7.4, -7.9] {
        put_on(scale, TOOK + gap, Word::PairCheck);
        album.told(scale);
        scale.press(Key::Zero);
    }
    // Washed: wet, the next morning, still damp in the evening, and the day after.
    let scale = &mut finished.clone();
    for (days, above) in [(0.0, 60.2), (0.6, 11.9), (0.4, 11.9), (0.8, 0.2)] {
        days_pass(scale, days);
        put_on(scale, TOOK + above, Word::DryYet);
        album.told(scale);
        scale.press(Key::Zero);
    }
}

fn put_on(scale: &mut Bench, grams: f64, page: Word) {
    scale.take();
    scale.put(grams);
    scale.open(page);
}

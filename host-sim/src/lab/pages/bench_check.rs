//! The check of a newly built scale, on a good one and on one that is not.

use yarn_scale_core::app::Input;
use yarn_scale_core::screen::Word;
use yarn_scale_core::units::Millivolts;

use super::album::Album;
use super::hands::down;
use crate::device::bench::{Bench, Key};

pub(super) fn check(album: &mut Album) {
    let mut scale = Bench::new();
    scale.tell(Input::Supply(Millivolts(4_812)));
    scale.open(Word::Diagnostics);
    scale.press(Key::Mark);
    scale.choose(Word::PanelEdges);
    scale.press(Key::Mark);
    scale.choose(Word::Supply);
    album.picture(&scale, "edit/bench-meter");
    // The meter reads less by 0.3 V.
    for _ in 0..30 {
        scale.press(Key::Zero);
    }
    scale.press(Key::Mark);
    empty_pan(album, &mut scale);
    span(album, &mut scale);
    answers(album, &mut scale);
    scale.choose(Word::FlashNumber);
    down(&mut scale, 2);
    album.picture(&scale, "list/bench-check-end");
    down(&mut scale, 2);
    album.picture(&scale, "list/bench-check");
    down(&mut scale, 4);
    album.picture(&scale, "list/bench-check-middle");
}

/// A noisy cell that drifts.
fn empty_pan(album: &mut Album, scale: &mut Bench) {
    scale.choose(Word::Noise);
    album.picture(scale, "guide/bench-empty");
    scale.press(Key::Mark);
    for swing in 0..90 {
        scale.set(if swing % 2 == 0 { 0.0 } else { 0.2 });
        scale.wait(0.1);
    }
    scale.set(0.0);
    scale.choose(Word::Drift);
    scale.press(Key::Mark);
    for second in 0..64 {
        scale.set(f64::from(second) * -0.0019);
        scale.wait(1.0);
        if second == 6 {
            album.picture(scale, "guide/bench-measuring");
        }
    }
    scale.set(0.0);
    scale.wait(6.0);
}

/// A cell that gives half of what such cells do.
fn span(album: &mut Album, scale: &mut Bench) {
    scale.choose(Word::Span);
    scale.press(Key::Mark);
    album.picture(scale, "guide/bench-put-on");
    scale.set(50.0);
    scale.wait(1.0);
    scale.press(Key::Mark);
    scale.wait(7.0);
    scale.set(0.0);
}

fn answers(album: &mut Album, scale: &mut Bench) {
    scale.choose(Word::KeyBounce);
    for key in [Key::Zero, Key::Mark, Key::Mark] {
        scale.press(key);
    }
    album.picture(scale, "list/bench-keys");
    scale.wait(70.0);
    scale.choose(Word::HumiditySensor);
    album.picture(scale, "list/bench-sensor");
    scale.choose(Word::No);
    scale.choose(Word::Buzzer);
    album.picture(scale, "list/bench-buzzer");
    scale.press(Key::Zero);
}

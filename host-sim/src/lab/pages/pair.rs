//! An invented pair from the first weight of its yarns to the last mark, after five earlier ones: cuffs, heels and toes in B, the rest in A.

use yarn_scale_core::journal::Record;
use yarn_scale_core::screen::{Body, ItemLabel, Word};
use yarn_scale_core::sock::BowlNumber;

use super::album::Album;
use super::hands::{TODAY, down, mark, until, weigh, years};
use crate::device::bench::{Bench, Key};

/// The empty bowls, g.
const BOWLS: [f64; 2] = [148.22, 61.07];

/// Knits it, and hands back the scale with the pair finished: its sections took 86 g.
pub(super) fn knit(album: &mut Album) -> Bench {
    let mut scale = Bench::with_journal(years(), 0.0);
    scale.adopt(Record::ClockSet { unix: TODAY });
    begin(album, &mut scale);
    first_sock(album, &mut scale);
    second_sock(album, &mut scale);
    scale
}

fn begin(album: &mut Album, scale: &mut Bench) {
    scale.put(48.34);
    album.picture(scale, "pan/no-plan");
    scale.take();
    scale.press(Key::Mark);
    album.picture(scale, "list/presets");
    scale.press(Key::Mark);
    album.picture(scale, "list/order");
    scale.press(Key::Mark);
    album.picture(scale, "pan/empty-new-yarn");
    scale.put(48.34);
    album.picture(scale, "pan/new-yarn");
    scale.press(Key::Mark);
    album.told(scale);
    scale.take();
}

fn first_sock(album: &mut Album, scale: &mut Bench) {
    mark(scale, 44.22);
    for (bowl, number) in BOWLS.into_iter().zip(1..) {
        scale.put(bowl);
        scale.press(Key::Zero);
        scale.take_line(ItemLabel::NewBowl(BowlNumber(number)));
    }
    album.told(scale);
    let [_, bowl] = BOWLS;
    scale.put(bowl + 101.62);
    scale.press(Key::Zero);
    album.picture(scale, "list/bowls");
    scale.take_line(ItemLabel::Bowl(BowlNumber(2)));
    scale.press(Key::Mark);
    scale.put(bowl + 93.07);
    album.picture(scale, "pan/steady-bowl");
    mark(scale, bowl + 87.32);
    // The heel's cake comes without a bowl.
    scale.put(41.3);
    scale.press(Key::Zero);
    scale.choose(Word::NoBowl);
    weigh(scale, 37.283);
    scale.wait(20.0);
    // The empty pan shows that zero has moved, by enough to turn a tenth over.
    scale.put(0.03);
    album.told(scale);
    mark(scale, 74.9);
    mark(scale, 32.06);
}

fn second_sock(album: &mut Album, scale: &mut Bench) {
    mark(scale, 28.02);
    mark(scale, 60.5);
    scale.put(24.13);
    album.picture(scale, "pan/steady");
    scale.shake(24.13, 0.8);
    album.picture(scale, "pan/swinging");
    scale.press(Key::Mark);
    scale.shake(24.13, 0.8);
    album.picture(scale, "pan/mark-waits");
    scale.shake(24.13, 16.0);
    album.told(scale);
    scale.press(Key::Zero);
    scale.take();
    album.picture(scale, "pan/empty");
    scale.set(-10.0);
    scale.wait(1.2);
    album.picture(scale, "pan/lifted");
    scale.put(24.13);
    // A crumb of wool, or zero has moved.
    scale.put(0.1);
    album.picture(scale, "pan/perhaps-empty");
    scale.take();
    scale.put(60.5);
    album.picture(scale, "pan/not-the-yarn");
    scale.take();
    scale.open(Word::Plan);
    album.picture(scale, "plan/cursor");
    until(
        scale,
        Key::Next,
        |body| matches!(body, Body::Plan(plan) if plan.selected == 0),
    );
    album.picture(scale, "plan/top");
    down(scale, 9);
    album.picture(scale, "plan/end");
    scale.press(Key::Zero);
    weigh(scale, 21.16);
    album.told(scale);
    // One press closes what was told, the next turns the page.
    down(scale, 2);
    album.picture(scale, "used/top");
    scale.press(Key::Zero);
    album.picture(scale, "used/middle");
    scale.press(Key::Zero);
    scale.press(Key::Zero);
    album.picture(scale, "used/end");
    scale.press(Key::Next);
    // Of the next section's yarn first; this one is the heel's.
    scale.press(Key::Zero);
    album.picture(scale, "answer/rest-enough");
    scale.press(Key::Next);
    scale.take();
    mark(scale, 48.0);
    weigh(scale, 15.95);
    scale.press(Key::Next);
    album.picture(scale, "pan/all-done");
    scale.take();
    scale.wait(7.0);
    album.picture(scale, "pair-summary/finished-day");
    scale.press(Key::Zero);
}

//! Slips at the keys: what the scale asks.

use yarn_scale_core::recognise::Choice;
use yarn_scale_core::screen::{ItemLabel, Word};
use yarn_scale_core::sock::BowlNumber;

use super::album::Album;
use super::hands::{after_years, begin_both_at_a_time, down, highlight, mark, one_cuff, weigh};
use crate::device::bench::{Bench, Key};

pub(super) fn ask(album: &mut Album) {
    amounts(album);
    cakes(album);
    bowls(album);
    other_pairs(album);
    taken_back(album);
}

/// More is gone than the section will have taken, by whatever is known of it.
fn amounts(album: &mut Album) {
    let mut scale = one_cuff();
    weigh(&mut scale, 12.0);
    album.told(&scale);
    highlight(&mut scale, |choice| matches!(choice, Choice::Section { .. }));
    album.picture(&scale, "question/section");

    let mut scale = after_years();
    mark(&mut scale, 48.34);
    weigh(&mut scale, 30.2);
    highlight(&mut scale, |choice| matches!(choice, Choice::StartFromHere { .. }));
    album.told(&scale);
    scale.press(Key::Mark);
    album.told(&scale);

    let mut scale = Bench::with_pair();
    scale.open(Word::Estimate);
    for _ in 0..3 {
        scale.press(Key::Mark);
        scale.press(Key::Mark);
        scale.press(Key::Next);
    }
    scale.press(Key::Zero);
    mark(&mut scale, 48.34);
    weigh(&mut scale, 30.2);
    album.told(&scale);

    let mut scale = Bench::with_pair();
    mark(&mut scale, 48.34);
    weigh(&mut scale, 30.2);
    album.told(&scale);

    // The second cuff lay there, and MARK was forgotten; then the first heel.
    let mut scale = one_cuff();
    scale.put(30.0);
    scale.take();
    weigh(&mut scale, 23.0);
    highlight(&mut scale, |choice| matches!(choice, Choice::Both(_)));
    album.picture(&scale, "question/forgotten");
}

/// Another cake, two of them, the same again, one that is heavier.
fn cakes(album: &mut Album) {
    let mut scale = one_cuff();
    weigh(&mut scale, 35.0);
    album.told(&scale);
    highlight(&mut scale, |choice| matches!(choice, Choice::NothingUsed(_)));
    album.picture(&scale, "question/nothing-used");
    scale.take();
    weigh(&mut scale, 39.2);
    highlight(&mut scale, |choice| matches!(choice, Choice::StartFromHere { .. }));
    album.picture(&scale, "question/ripped-back");
    scale.take();
    scale.press(Key::Mark);
    scale.wait(2.0);
    album.told(&scale);
    scale.press(Key::Mark);
    // Both cuffs are done, and both legs are knitted from A.
    mark(&mut scale, 30.0);
    weigh(&mut scale, 30.0);
    highlight(&mut scale, |choice| matches!(choice, Choice::WeighIn(_)));
    album.picture(&scale, "question/first-weight");
    scale.take();
    for grams in [101.6, 87.2, 73.0] {
        mark(&mut scale, grams);
    }
    weigh(&mut scale, 73.0);
    album.told(&scale);
    scale.take();
    mark(&mut scale, 23.0);
    weigh(&mut scale, 16.0 + 73.0);
    album.told(&scale);
}

/// A bowl that nobody tared, and none where one is set.
fn bowls(album: &mut Album) {
    let mut scale = one_cuff();
    weigh(&mut scale, 130.0);
    album.told(&scale);
    scale.take();
    for (number, grams) in [(1, 12.3), (2, 61.07)] {
        scale.put(grams);
        scale.press(Key::Zero);
        scale.take_line(ItemLabel::NewBowl(BowlNumber(number)));
        scale.take();
        scale.put(30.0);
        if number == 2 {
            album.picture(&scale, "pan/bowl-missing");
        }
        scale.press(Key::Mark);
        highlight(&mut scale, |choice| matches!(choice, Choice::OtherBowl { .. }));
        if number == 1 {
            album.picture(&scale, "question/other-bowl");
        } else {
            album.told(&scale);
        }
        scale.press(Key::Zero);
        scale.take();
    }
}

/// The cake of another pair on the needles.
fn other_pairs(album: &mut Album) {
    let mut scale = one_cuff();
    begin_both_at_a_time(&mut scale);
    mark(&mut scale, 60.0);
    mark(&mut scale, 54.6);
    scale.put(35.0);
    album.picture(&scale, "pan/proposal");
    scale.press(Key::Mark);
    highlight(&mut scale, |choice| matches!(choice, Choice::OtherPair(_)));
    album.told(&scale);
    scale.press(Key::Zero);
    scale.take();
    begin_both_at_a_time(&mut scale);
    weigh(&mut scale, 35.0);
    highlight(&mut scale, |choice| matches!(choice, Choice::GoesOn { .. }));
    album.picture(&scale, "question/goes-on");
}

/// Two marks go freely, a third one is asked about.
fn taken_back(album: &mut Album) {
    let mut scale = one_cuff();
    for grams in [30.0, 101.6, 87.2] {
        mark(&mut scale, grams);
    }
    scale.hold(Key::Mark);
    album.told(&scale);
    scale.wait(7.0);
    scale.hold(Key::Mark);
    album.told(&scale);
    scale.wait(7.0);
    scale.hold(Key::Mark);
    down(&mut scale, 1);
    album.told(&scale);
}

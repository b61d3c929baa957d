//! A new scale is told its parts and calibrated; and calibrations that prove nothing.

use yarn_scale_core::screen::{ItemLabel, Word};

use super::album::Album;
use super::hands::{down, mark, weigh};
use crate::device::bench::{Bench, Key};

pub(super) fn calibrate(album: &mut Album) {
    let mut scale = first_start(album);
    masses(album, &mut scale);
    proven(album, &mut scale);
    refused(album);
}

fn first_start(album: &mut Album) -> Bench {
    let mut scale = Bench::blank();
    album.picture(&scale, "list/language");
    scale.press(Key::Mark);
    scale.press(Key::Mark);
    album.picture(&scale, "edges/panel");
    scale.press(Key::Mark);
    album.picture(&scale, "list/supplied-from");
    scale.press(Key::Mark);
    album.picture(&scale, "list/load-cell");
    scale.press(Key::Mark);
    album.picture(&scale, "guide/empty-pan");
    scale.press(Key::Mark);
    scale
}

fn masses(album: &mut Album, scale: &mut Bench) {
    scale.choose(Word::Coins);
    down(scale, 1);
    album.picture(scale, "list/coins");
    scale.press(Key::Mark);
    album.picture(scale, "edit/how-many");
    scale.hold(Key::Mark);
    scale.choose(Word::KnownMass);
    album.picture(scale, "edit/known-mass");
    scale.press(Key::Mark);
    album.picture(scale, "guide/put-on");
    mark(scale, 100.0);
    scale.press(Key::Mark);
    scale.choose(Word::WithCup);
    album.picture(scale, "guide/cup-on");
    weigh(scale, 160.0);
    album.picture(scale, "guide/mass-with-cup");
    mark(scale, 260.0);
    scale.press(Key::Mark);
    // It would go on with the mass alone.
    scale.press(Key::Zero);
}

fn proven(album: &mut Album, scale: &mut Bench) {
    scale.choose(Word::Repeatability);
    mark(scale, 100.0);
    album.picture(scale, "guide/lift");
    mark(scale, 100.16);
    mark(scale, 100.05);
    album.picture(scale, "list/calibration");
    scale.choose(Word::FinishCalibration);
    album.picture(scale, "list/proven");
}

/// Begins anew, and goes to where loads are put on.
fn anew() -> Bench {
    let mut scale = Bench::new();
    scale.open(Word::Calibration);
    scale.press(Key::Mark);
    scale
}

/// Takes a load for the 100 g that are offered first.
fn take_100(scale: &mut Bench, grams: f64) {
    scale.choose(Word::KnownMass);
    scale.press(Key::Mark);
    mark(scale, grams);
    scale.press(Key::Mark);
}

fn refused(album: &mut Album) {
    // Four coins of 5.74 g on a cell of 500 g.
    let mut scale = anew();
    scale.choose(Word::Coins);
    scale.take_line(ItemLabel::Name("EUR 20 c"));
    for _ in 0..6 {
        scale.press(Key::Zero);
    }
    scale.press(Key::Mark);
    mark(&mut scale, 22.96);
    scale.press(Key::Mark);
    scale.choose(Word::FinishCalibration);
    album.told(&scale);
    // A cell that hardly answers.
    let mut scale = anew();
    take_100(&mut scale, 0.2);
    scale.choose(Word::FinishCalibration);
    album.told(&scale);
    // Something was forgotten on the pan.
    let mut scale = anew();
    scale.choose(Word::KnownMass);
    scale.press(Key::Mark);
    weigh(&mut scale, 100.0);
    weigh(&mut scale, 50.0);
    album.told(&scale);
    // A hand pressed it down.
    let mut scale = anew();
    scale.choose(Word::KnownMass);
    scale.press(Key::Mark);
    scale.put(160.0);
    weigh(&mut scale, 100.0);
    album.told(&scale);
}

//! One beat for both rates: the filter by its definition, an early look by hand, and which words are held back.

use std::prelude::rust_2024::*;
use std::vec;

use crate::converter::SampleRate;
use crate::signal::tick::Decimator;
use crate::units::{Counts, FineCounts};
use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64;

/// So wide a gate that no word is held back.
const OPEN: i32 = i32::MAX;

/// Three running means of eight, one after the other, as convolutions.
fn filter() -> Vec<i64> {
    let mut weights = vec![1_i64];
    for _ in 0..3 {
        let mut wider = vec![0; weights.len() + 7];
        for (index, weight) in weights.iter().enumerate() {
            for tap in &mut wider[index..index + 8] {
                *tap += weight;
            }
        }
        weights = wider;
    }
    weights
}

/// At eighty a second every eighth word completes a tick, of the last 22, rounded to the nearest sixteenth of a count; before the first
/// word all is taken to have been like it. And an early look says by how much the mean of the newest four is farther from a level than
/// one and a half times any of the twelve before them.
#[test]
fn eight_words_make_a_tick_of_twenty_two() {
    let weights = filter();
    assert_eq!((weights.len(), weights.iter().sum::<i64>()), (22, 512));
    let mut random = Pcg64::seed_from_u64(3);
    for (level, spread) in [(500, 90), (-3_000_000, 4_000_000), (7_000_000, 1_000_000), (0, 3)] {
        let mut decimator = Decimator::new(SampleRate::Eighty);
        let mut words = Vec::new();
        for count in 1..400_usize {
            let word = level + random.random_range(-spread..=spread);
            if words.is_empty() {
                words = vec![word; 21];
            }
            words.push(word);
            let ticks = decimator.take(Counts(word), OPEN);
            let newest = &words[words.len() - 22..];
            if count.is_multiple_of(8) {
                let sum: i64 = newest
                    .iter()
                    .zip(&weights)
                    .map(|(&word, weight)| i64::from(word) * weight)
                    .sum();
                let exact = 16.0 * sum as f64 / 512.0;
                assert_eq!(ticks.len(), 1, "word {count}");
                assert_eq!(f64::from(ticks[0].0), (exact + 0.5).floor(), "word {count}");
            } else {
                assert!(ticks.is_empty(), "word {count}");
            }
            let apart: Vec<i32> = newest.iter().map(|word| word - level).collect();
            let new = f64::from(apart[18..].iter().sum::<i32>()) / 4.0;
            let before = apart[6..18].iter().map(|apart| apart.abs()).max().expect("twelve");
            let early = new.floor().abs() - (1.5 * f64::from(before)).floor();
            assert_eq!(f64::from(decimator.early(Counts(level))), early, "word {count}");
        }
        decimator.interrupt();
        assert_eq!(decimator.take(Counts(12_345), OPEN).len(), 0, "it begins anew");
        assert_eq!(decimator.early(Counts(12_345)), 0);
    }
}

/// At ten a second each word is a tick; there is nothing to look at early.
#[test]
fn one_word_makes_a_tick_at_ten_a_second() {
    let mut decimator = Decimator::new(SampleRate::Ten);
    for word in [3, -8_000_000, 8_000_000] {
        assert_eq!(decimator.take(Counts(word), OPEN).as_slice(), [FineCounts(16 * word)]);
        assert_eq!(decimator.early(Counts(0)), 0);
    }
}

/// A word that does not fit a calm neighbourhood waits for the next, which says what it was; while things move none waits.
#[test]
fn a_word_alone_is_dropped_and_a_change_is_not() {
    const GATE: i32 = 300;
    let mut decimator = Decimator::new(SampleRate::Ten);
    let mut take = |word: i32, made: &[i32], holds: bool| {
        let ticks = decimator.take(Counts(word), GATE);
        let ticks: Vec<i32> = ticks.iter().map(|tick| tick.0 / 16).collect();
        assert_eq!(ticks, made, "after {word}");
        assert_eq!(decimator.holds(), holds, "after {word}");
    };
    take(1_000, &[1_000], false);
    // As far as the gate is near, upwards and downwards.
    take(1_300, &[1_300], false);
    take(1_000, &[1_000], false);
    take(1_301, &[], true);
    take(1_010, &[1_010], false);
    take(1_010, &[1_010], false);
    take(709, &[], true);
    take(1_000, &[1_000], false);
    take(1_000, &[1_000], false);
    // A load: there one word later, too; and from then on it moves.
    take(5_000, &[], true);
    take(5_600, &[5_000, 5_600], false);
    take(9_000, &[9_000], false);
    take(20_000, &[20_000], false);
    // Calm again after one that fits.
    take(20_100, &[20_100], false);
    take(40_000, &[], true);
    take(20_050, &[20_050], false);
    take(20_050, &[20_050], false);
    // The next that is held was not forgotten by that.
    take(40_000, &[], true);
    take(40_000, &[40_000, 40_000], false);
}

/// A pan that rings at half the rate of the words puts every second one on the same side: only one of them is dropped, or the mean would be that
/// of the other side.
#[test]
fn what_goes_to_and_fro_is_kept() {
    let mut decimator = Decimator::new(SampleRate::Ten);
    let words = [1_000, 1_400].into_iter().cycle().take(40);
    let ticks: Vec<i32> = words
        .flat_map(|word| decimator.take(Counts(word), 300))
        .map(|tick| tick.0 / 16)
        .collect();
    let upper = ticks.iter().filter(|tick| **tick == 1_400).count();
    assert_eq!((ticks.len(), upper), (39, 19), "{ticks:?}");
}

/// After an interruption the first word has no neighbourhood.
#[test]
fn nothing_is_held_from_before_an_interruption() {
    let mut decimator = Decimator::new(SampleRate::Ten);
    decimator.take(Counts(1_000), 300);
    decimator.take(Counts(9_000), 300);
    assert!(decimator.holds());
    decimator.interrupt();
    assert!(!decimator.holds());
    assert_eq!(decimator.take(Counts(9_000), 300).as_slice(), [FineCounts(144_000)]);
    assert!(decimator.take(Counts(1_000), 300).is_empty(), "the rate has stayed");
}

/// At eighty a second the next word is there before anybody could ask.
#[test]
fn a_held_word_is_not_told_of_at_eighty_a_second() {
    let mut decimator = Decimator::new(SampleRate::Eighty);
    for word in [1_000, 1_000, 9_000] {
        decimator.take(Counts(word), 300);
        assert!(!decimator.holds());
    }
    // It was held all the same: dropped, it leaves no trace in the tick of eight words.
    let ticks: Vec<_> = (0..6).flat_map(|_| decimator.take(Counts(1_000), 300)).collect();
    assert_eq!(ticks, [FineCounts(16_000)]);
}

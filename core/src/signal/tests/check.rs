//! What the cell can have said: each rule at its edge.

use std::prelude::rust_2024::*;

use crate::converter::{ConverterFault, RawSample, SampleRate};
use crate::signal::{Check, SensorFault};
use crate::units::{Counts, Instant};

/// A check and its clock.
struct Line {
    check: Check,
    now: u64,
}

impl Line {
    fn new(rate: SampleRate) -> Self {
        Self {
            check: Check::new(rate),
            now: 1_000,
        }
    }

    fn word(&mut self, word: i32) -> Result<i32, SensorFault> {
        self.now += 100;
        let now = Instant(self.now);
        let sample = self.check.judge(now, Ok(RawSample(Counts(word))))?;
        assert_eq!(sample.at(), now);
        Ok(sample.counts().0)
    }
}

#[test]
fn what_the_converter_says_is_wrong_is_said_on() {
    let mut check = Check::new(SampleRate::Ten);
    for (fault, told) in [
        (ConverterFault::Missing, SensorFault::Missing),
        (ConverterFault::StuckLow, SensorFault::Shorted),
    ] {
        assert_eq!(check.judge(Instant(5), Err(fault)), Err(told));
    }
}

/// A clock that stands or was set back spoils one sample, and goes on from there.
#[test]
fn time_goes_forwards() {
    let mut check = Check::new(SampleRate::Ten);
    let mut at = |now: u64, word: i32| {
        let judged = check.judge(Instant(now), Ok(RawSample(Counts(word))));
        judged.map(|sample| sample.counts().0)
    };
    assert_eq!(at(500, 7_001), Ok(7_001));
    assert_eq!(at(500, 7_002), Err(SensorFault::TimeBackwards));
    assert_eq!(at(501, 7_003), Ok(7_003));
    assert_eq!(at(90, 7_004), Err(SensorFault::TimeBackwards));
    assert_eq!(at(91, 7_005), Ok(7_005));
}

/// 24 bits, two's complement: its ends mean "more than I can say", and only they do (data sheet, from memory).
#[test]
fn the_ends_of_the_converter_are_no_weights() {
    let mut line = Line::new(SampleRate::Ten);
    assert_eq!(line.word(8_388_607), Err(SensorFault::SaturatedHigh));
    assert_eq!(line.word(8_388_606), Ok(8_388_606));
    assert_eq!(line.word(-8_388_608), Err(SensorFault::SaturatedLow));
    assert_eq!(line.word(-8_388_607), Ok(-8_388_607));
}

/// Two seconds of one word at ten a second, half a second at eighty; another word begins anew.
#[test]
fn the_same_word_again_and_again_is_no_cell() {
    for (rate, stuck) in [(SampleRate::Ten, 20), (SampleRate::Eighty, 40)] {
        let mut line = Line::new(rate);
        for _ in 0..2 {
            for _ in 1..stuck {
                assert_eq!(line.word(65_432), Ok(65_432));
            }
            assert_eq!(line.word(65_433), Ok(65_433));
        }
        for _ in 2..stuck {
            assert_eq!(line.word(65_433), Ok(65_433));
        }
        assert_eq!(line.word(65_433), Err(SensorFault::Stuck), "the one of number {stuck}");
        assert_eq!(line.word(65_433), Err(SensorFault::Stuck));
        assert_eq!(line.word(65_434), Ok(65_434));
    }
}

/// Words that a disturbed line makes: zero, ones all through, ones from the fifteenth bit on, and two that are reported. Their neighbours
/// are words like any other, and so are shorter runs of ones.
#[test]
fn words_of_a_disturbed_line_are_refused_and_no_others() {
    let runs = (15..23).map(|bits| (1 << bits) - 1);
    let patterns: Vec<i32> = [0, -1, 20_479, 24_575].into_iter().chain(runs).collect();
    for pattern in patterns.iter().copied() {
        assert_eq!(
            Line::new(SampleRate::Ten).word(pattern),
            Err(SensorFault::Garbled),
            "{pattern} first"
        );
        for from in [-1_500, 1_500] {
            let mut line = Line::new(SampleRate::Ten);
            assert_eq!(line.word(pattern + from), Ok(pattern + from));
            assert_eq!(line.word(pattern), Err(SensorFault::Garbled), "{pattern}, {from} away");
            // The cell can truly rest there.
            let near = pattern + from - from.signum();
            if !patterns.contains(&near) {
                assert_eq!(line.word(near), Ok(near));
                assert_eq!(line.word(pattern), Ok(pattern), "next to {near}");
            }
        }
    }
    let neighbours = patterns.iter().flat_map(|word| [word - 1, word + 1]);
    let short = (2..15).map(|bits| (1 << bits) - 1);
    let others = [0x5555, -32_767, -32_768, 0x7F_FF00, 0x1_7FFF, -16_777];
    for word in neighbours
        .chain(short)
        .chain(others)
        .filter(|word| !patterns.contains(word))
    {
        assert_eq!(Line::new(SampleRate::Ten).word(word), Ok(word), "{word} first");
    }
}

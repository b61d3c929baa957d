//! The judge of steadiness is not asked at every tick, since asking costs half of what a tick at rest would: what that must not lose.

use yarn_scale_core::converter::{RawSample, SampleRate};
use yarn_scale_core::signal::{Check, Estimator, Reading};
use yarn_scale_core::units::{Counts, Instant};

/// An estimator and one that asks at every tick, on the same words: an even spread of ±40 counts about `LEVEL`.
struct Pair {
    check: Check,
    usual: Estimator,
    attentive: Estimator,
    ticks: u64,
    state: u32,
}

const LEVEL: i32 = 90_000;

impl Pair {
    fn new() -> Self {
        let estimator = || Estimator::new(SampleRate::Ten, 429.5);
        let mut attentive = estimator();
        attentive.attend();
        Self {
            check: Check::new(SampleRate::Ten),
            usual: estimator(),
            attentive,
            ticks: 0,
            state: 7,
        }
    }

    fn noise(&mut self) -> i32 {
        self.state = self.state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
        (self.state >> 16) as i32 % 81 - 40
    }

    fn take(&mut self, word: i32) -> (Reading, Reading) {
        self.ticks += 1;
        let now = Instant(self.ticks * 100);
        let sample = self
            .check
            .judge(now, Ok(RawSample(Counts(word))))
            .expect("a plain word");
        let read = |estimator: &mut Estimator| estimator.take(sample).expect("a reading");
        (read(&mut self.usual), read(&mut self.attentive))
    }

    /// Whether the judge saw this tick.
    fn asked(&self) -> bool {
        self.usual.features() == self.attentive.features()
    }
}

/// At rest the judge is asked at every sixteenth tick, 50 times of these 800, and says what he would say if asked at each. Three in ten
/// more would be dear.
#[test]
fn rest_needs_few_judgements() {
    let mut pair = Pair::new();
    let mut asked = 0;
    for tick in 0..1_000 {
        let word = LEVEL + pair.noise();
        let (usual, attentive) = pair.take(word);
        assert_eq!(usual.steady.is_some(), attentive.steady.is_some(), "tick {tick}");
        assert_eq!(usual.level, attentive.level);
        // Of a long segment it is only worked out when he is asked; it changes most while the noise is still learnt.
        let too_much = usual.se / attentive.se;
        let most = match tick {
            0..31 => 1.0,
            31..200 => 1.5,
            _ => 1.22,
        };
        assert!((0.97..=most).contains(&too_much), "tick {tick}: {too_much}");
        asked += usize::from(tick >= 200 && pair.asked());
    }
    assert!((1..65).contains(&asked), "{asked} of 800");
}

/// A tick that stands apart is judged at once, however sure the judge was a moment before.
#[test]
fn what_stands_apart_is_judged_at_once() {
    for after in 300..310 {
        let mut pair = Pair::new();
        for _ in 0..after {
            let word = LEVEL + pair.noise();
            pair.take(word);
        }
        let (usual, _) = pair.take(LEVEL + 80);
        assert!(!usual.jumped, "not far enough for a jump");
        assert!(pair.asked(), "after {after} ticks");
    }
}

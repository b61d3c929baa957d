//! Age and strangers: single bits that turn over, sectors of garbage, items of other programs and versions. Never believed,
//! told at their place; all else survives, and the scale goes on.

use yarn_scale_core::journal::{Entry, Journal, Record, Replayed, RingName, Sequence, Setting};
use yarn_scale_core::units::Stamp;
use yarn_scale_sim::flash::SimFlash;
use yarn_scale_tests::durability::{
    FlipCounts, Found, Step, Unharmed, a_pair_with_everything, frame, round_the_ring, tell,
};
use yarn_scale_tests::knitting;

const CAPACITY: usize = 48 << 10;

/// A pair with everything, closed, and visits.
fn unharmed() -> Unharmed {
    let mut steps = a_pair_with_everything();
    let next = steps
        .iter()
        .rposition(|step| matches!(step, Step::Note(Record::PairBegun { .. })));
    steps.truncate(next.expect("a second pair"));
    steps.extend((0..40).map(|mg| Step::Note(knitting::visit(mg))));
    Unharmed::new(tell(&steps, CAPACITY).expect("a story"))
}

/// Turns over a bit of each of these bytes, or each of its bits.
fn flip(unharmed: &Unharmed, bytes: &[usize], bits: &[u8]) -> FlipCounts {
    let mut counts = FlipCounts::default();
    for &byte in bytes {
        for &bit in bits {
            unharmed
                .flip(byte, bit, &mut counts)
                .unwrap_or_else(|what| panic!("byte {byte:#x}, bit {bit}: {what}"));
        }
    }
    println!("{counts:?}");
    counts
}

#[test]
fn a_bit_that_turns_over_in_a_record_is_told_and_takes_nothing_else() {
    let unharmed = unharmed();
    let (written, _) = unharmed.written_and_blank();
    let counts = flip(&unharmed, &written, &[0, 1, 2, 3, 4, 5, 6, 7]);
    assert!(counts.tried > 10_000, "{counts:?}");
    // All but those of the marks at the beginning of a sector, which stand for more than one bit.
    assert_eq!(counts.tried - counts.records_lost, 3 * 8);
    assert!(counts.in_doubt > 5_000, "{counts:?}");
}

#[test]
fn a_bit_that_turns_over_elsewhere_changes_nothing() {
    let unharmed = Unharmed::new(tell(&round_the_ring(30), CAPACITY).expect("a story"));
    let (_, blank) = unharmed.written_and_blank();
    let sample: Vec<usize> = blank.iter().copied().step_by(29).collect();
    let counts = flip(&unharmed, &sample, &[0, 7]);
    assert!(counts.tried > 500, "{counts:?}");
    assert_eq!(counts.records_lost, 0);
}

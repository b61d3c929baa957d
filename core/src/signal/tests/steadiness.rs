//! The vote of the trees, and what its tables hold.

use crate::converter::SampleRate;
use crate::signal::features::{COUNT, Feature};
use crate::signal::steadiness::{Tree, odds, trees};

const RATES: [SampleRate; 2] = [SampleRate::Ten, SampleRate::Eighty];

/// Four questions lead to one of sixteen leaves, counted from the answers that are all "not above" to those that are all "above".
#[test]
fn four_answers_name_a_leaf() {
    let mut tree = Tree {
        feature: [0; 15],
        threshold: [0; 15],
        leaf: core::array::from_fn(|leaf| leaf as i8),
    };
    // Each level asks a feature of its own.
    for level in 0..4_u8 {
        let first = (1_usize << level) - 1;
        tree.feature[first..=2 * first].fill(level);
    }
    for answers in 0..16_u8 {
        let mut features = [0; COUNT];
        for (level, feature) in features.iter_mut().take(4).enumerate() {
            *feature = i8::from(answers >> (3 - level) & 1 == 1);
        }
        assert_eq!(tree.vote(&features), answers as i8);
    }
}

#[test]
fn the_odds_are_the_sum_of_all_votes() {
    for rate in RATES {
        let mut features = [0; COUNT];
        let (mut least, mut most) = (0, 0);
        for step in 0..255_u8 {
            for (index, feature) in features.iter_mut().enumerate() {
                *feature = step.wrapping_mul(index as u8).wrapping_add(step) as i8;
            }
            let sum: i32 = trees(rate).iter().map(|tree| i32::from(tree.vote(&features))).sum();
            assert_eq!(odds(&features, trees(rate)), sum);
            (least, most) = (least.min(sum), most.max(sum));
        }
        assert!(
            least < -64 && most > 300,
            "both sides of what is asked for: {least} to {most}"
        );
    }
}

#[test]
fn tables_ask_for_features_that_there_are() {
    for tree in RATES.into_iter().flat_map(trees) {
        assert!(tree.feature.iter().all(|&feature| usize::from(feature) < COUNT));
    }
    for (number, feature) in Feature::ALL.into_iter().enumerate() {
        assert_eq!(feature as usize, number, "{feature:?}");
    }
}

//! Estimates of whatever size is known: masses, and smooth ones.

use std::prelude::rust_2024::*;

use crate::forecast::estimate::estimate;
use crate::sock::{Construction, Decitex, SectionKind, Size, usual_construction};

#[test]
fn estimates_are_masses_whatever_the_size() {
    for kind in SectionKind::ALL {
        for stitches in 0..=u8::MAX {
            for rounds in [0, 1, 20, 99, u16::MAX] {
                for yarn in [0, 1, 2_381, u16::MAX].map(Decitex) {
                    let size = Size { stitches, rounds, yarn };
                    let mass = estimate(size, kind, Construction::Plain);
                    assert_eq!(mass.is_none(), kind.is_part(), "{size:?}");
                    assert!(mass.is_none_or(|mass| mass.0 >= 0), "{size:?}: {mass:?}");
                }
            }
        }
    }
}

/// One stitch more never adds a size: the mass grows, and by far less than the sixth that one column of the table adds to the next.
#[test]
fn an_estimate_is_smooth_in_stitches() {
    for kind in SectionKind::OF_A_SOCK {
        // Below 56 stitches the table's socks are children's, whose legs double in length within four stitches.
        let masses: Vec<i32> = (56..=100)
            .map(|stitches| {
                let size = Size {
                    stitches,
                    ..Size::default()
                };
                estimate(size, kind, usual_construction(kind)).expect("a sock").0
            })
            .collect();
        for (stitches, two) in (56..).zip(masses.windows(2)) {
            let growth = f64::from(two[1]) / f64::from(two[0]);
            assert!(
                (1.0..1.12).contains(&growth),
                "{kind:?}, {stitches} to {}: {growth:.3}",
                stitches + 1
            );
        }
    }
}

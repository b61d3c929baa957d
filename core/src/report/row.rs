//! A pair's sections by kind, sock 1 beside sock 2.

use heapless::Vec;

use super::pair::Pair;
use crate::forecast::{BAND_TOLERANCE, Length, Socks, Wanted, estimate, length_of};
use crate::measured::Measured;
use crate::sock::{Construction, Decitex, MAX_LINES, SectionKind, Size, Sock, YarnLetter};

/// All sections of a kind in one yarn.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Row {
    pub(super) kind: SectionKind,
    pub(super) yarn: YarnLetter,
    pub(super) construction: Construction,
    /// Metres of 100 g of the yarn; 0 where it is not known.
    metres_per_100_g: u16,
    /// What it took on sock 1 and sock 2, where that was marked.
    pub(super) socks: [Option<Measured>; 2],
    pub(super) late: bool,
    pub(super) doubtful: bool,
    stitches: u8,
}

impl Row {
    /// The rows of a pair, in the order of the plan.
    pub(super) fn all(pair: &Pair) -> Vec<Self, MAX_LINES> {
        let mut rows: Vec<Self, MAX_LINES> = Vec::new();
        for section in &pair.sections {
            let line = section.line;
            let known = rows
                .iter()
                .position(|row| (row.kind, row.yarn) == (line.kind, line.yarn));
            let place = known.unwrap_or_else(|| {
                let label = pair.yarns.iter().find(|yarn| yarn.letter == line.yarn);
                // There is a row at most for each line of the plan.
                let _ = rows.push(Self {
                    kind: line.kind,
                    yarn: line.yarn,
                    construction: line.construction,
                    metres_per_100_g: label.map_or(0, |yarn| yarn.metres_per_100_g),
                    socks: [None; 2],
                    late: false,
                    doubtful: false,
                    stitches: line.stitches,
                });
                rows.len().saturating_sub(1)
            });
            let Some(row) = rows.get_mut(place) else { continue };
            // Stripes of one yarn add up.
            let [first, second] = &mut row.socks;
            let used = match line.sock {
                Sock::First => first,
                Sock::Second => second,
            };
            *used = Some(used.map_or(section.used, |before| before.plus(section.used)));
            row.late |= section.late;
            row.doubtful |= section.doubtful;
        }
        rows
    }

    /// What both socks took; `None` if one of them is not marked.
    pub(super) fn both(&self) -> Option<Measured> {
        let [first, second] = self.socks;
        Some(first?.plus(second?))
    }

    /// Sock 2 less sock 1, as on the scale's own display; `None` if one of them is not marked.
    pub(super) fn difference(&self) -> Option<Measured> {
        let [first, second] = self.socks;
        Some(second?.minus(first?))
    }

    /// The same for both socks of a next pair.
    pub(super) fn wanted(&self) -> Wanted {
        let size = Size {
            stitches: self.stitches,
            rounds: 0,
            yarn: Decitex::from_metres_per_100_g(self.metres_per_100_g),
        };
        Wanted::contrast(self.kind, self.construction, size, Socks::Both).with_estimate(estimate(
            size,
            self.kind,
            self.construction,
        ))
    }

    /// The length of so much of its yarn, where the band says.
    pub(super) fn length(&self, mass: Measured) -> Option<Length> {
        length_of(mass, self.metres_per_100_g, BAND_TOLERANCE)
    }
}

//! A pair's sections by kind, sock 1 beside sock 2.

use yarn_scale_core::forecast::{
    Socks, Wanted,
    estimate::estimate,
    length::{BAND_TOLERANCE, Length, length_of},
};
use yarn_scale_core::measured::Measured;
use yarn_scale_core::sock::{Construction, Decitex, SectionKind, Size, Sock, YarnLetter};

use crate::computer::story::Pair;
use crate::computer::table::kind_name;

/// All sections of a kind in one yarn.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Row {
    pub(super) kind: SectionKind,
    pub(super) yarn: YarnLetter,
    pub(super) construction: Construction,
    /// Metres of 100 g of the yarn; 0 where it is not known.
    pub(super) metres_per_100_g: u16,
    /// What it took on sock 1 and sock 2, where that was marked.
    pub(super) socks: [Option<Measured>; 2],
    pub(super) late: bool,
    pub(super) doubtful: bool,
    stitches: u8,
}

impl Row {
    /// The rows of a pair, in the order of the plan.
    pub(super) fn all(pair: &Pair) -> Vec<Self> {
        let mut rows: Vec<Self> = Vec::new();
        for section in &pair.sections {
            let line = section.line;
            let known = rows
                .iter()
                .position(|row| (row.kind, row.yarn) == (line.kind, line.yarn));
            let place = known.unwrap_or_else(|| {
                let label = pair.yarns.iter().find(|yarn| yarn.letter == line.yarn);
                rows.push(Self {
                    kind: line.kind,
                    yarn: line.yarn,
                    construction: line.construction,
                    metres_per_100_g: label.map_or(0, |yarn| yarn.metres_per_100_g),
                    socks: [None; 2],
                    late: false,
                    doubtful: false,
                    stitches: line.stitches,
                });
                rows.len() - 1
            });
            let row = &mut rows[place];
            // Stripes of one yarn add up.
            let used = &mut row.socks[usize::from(line.sock == Sock::Second)];
            *used = Some(used.map_or(section.used, |before| before.plus(section.used)));
            row.late |= section.late;
            row.doubtful |= section.doubtful;
        }
        rows
    }

    /// What both socks took; `None` if one of them is not marked.
    pub(super) fn both(&self) -> Option<Measured> {
        Some(self.socks[0]?.plus(self.socks[1]?))
    }

    /// Sock 1 less sock 2; `None` if one of them is not marked.
    pub(super) fn difference(&self) -> Option<Measured> {
        Some(self.socks[0]?.minus(self.socks[1]?))
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

    pub(super) fn name(&self) -> &'static str {
        kind_name(self.kind)
    }

    /// The length of so much of its yarn, where the band says.
    pub(super) fn length(&self, mass: Measured) -> Option<Length> {
        length_of(mass, self.metres_per_100_g, BAND_TOLERANCE)
    }
}

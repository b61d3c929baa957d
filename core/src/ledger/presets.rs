//! Plans to begin with; each line's yarn can be changed afterwards.

use heapless::Vec;

use super::{Line, MAX_LINES, YarnLetter};
use crate::section::{Construction, HeelConstruction, Ribbing, SectionKind, Sock, ToeConstruction};

/// A plan to begin with.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Preset {
    /// Cuff-down, everything in A.
    OneYarn,
    /// Cuff-down, heels and toes in B.
    ContrastHeelsToes,
    /// Cuff-down, cuffs, heels and toes in B.
    ContrastCuffsHeelsToes,
    /// Toe-up, everything in A.
    OneYarnToeUp,
    /// Toe-up, toes, heels and cuffs in B.
    ContrastToeUp,
}

impl Preset {
    /// All presets, as listed.
    pub const ALL: [Self; 5] = [
        Self::ContrastCuffsHeelsToes,
        Self::ContrastHeelsToes,
        Self::OneYarn,
        Self::ContrastToeUp,
        Self::OneYarnToeUp,
    ];

    /// The lines of both socks, one after the other.
    #[must_use]
    pub fn lines(self) -> Vec<Line, MAX_LINES> {
        let order = if self.is_toe_up() { TOE_UP } else { CUFF_DOWN };
        let socks = [Sock::First, Sock::Second].into_iter();
        let lines = socks.flat_map(|sock| order.into_iter().map(move |kind| (sock, kind)));
        lines
            .map(|(sock, kind)| Line {
                kind,
                sock,
                yarn: self.yarn(kind),
                construction: usual(kind),
                stitches: 0,
            })
            .collect()
    }

    const fn is_toe_up(self) -> bool {
        matches!(self, Self::OneYarnToeUp | Self::ContrastToeUp)
    }

    fn yarn(self, kind: SectionKind) -> YarnLetter {
        let contrast = match self {
            Self::OneYarn | Self::OneYarnToeUp => false,
            Self::ContrastHeelsToes => matches!(kind, SectionKind::Heel | SectionKind::Toe),
            Self::ContrastCuffsHeelsToes | Self::ContrastToeUp => kind.is_contrast(),
        };
        if contrast { YarnLetter::B } else { YarnLetter::A }
    }
}

/// How a section is usually worked (common practice, no source).
const fn usual(kind: SectionKind) -> Construction {
    match kind {
        SectionKind::Cuff => Construction::Ribbed(Ribbing::TwoByTwo),
        SectionKind::Heel => Construction::Heel(HeelConstruction::FlapAndGusset),
        SectionKind::Toe => Construction::Toe(ToeConstruction::Wedge),
        SectionKind::Leg | SectionKind::Gusset | SectionKind::Foot => Construction::Plain,
    }
}

/// Knitting order from the cuff. The gusset goes with the foot unless a line is added for it.
const CUFF_DOWN: [SectionKind; 5] = [
    SectionKind::Cuff,
    SectionKind::Leg,
    SectionKind::Heel,
    SectionKind::Foot,
    SectionKind::Toe,
];
/// Knitting order from the toe.
const TOE_UP: [SectionKind; 5] = [
    SectionKind::Toe,
    SectionKind::Foot,
    SectionKind::Heel,
    SectionKind::Leg,
    SectionKind::Cuff,
];

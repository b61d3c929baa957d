//! Plans to begin with; each line's yarn can be changed afterwards.

use heapless::Vec;

use super::{Line, MAX_LINES, YarnLetter};
use crate::sock::{Construction, HeelConstruction, Ribbing, SectionKind, Sock, ToeConstruction};

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

/// In which order the socks are knitted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Order {
    /// Sock 1, then sock 2.
    OneAfterTheOther,
    /// Both together, section by section.
    TwoAtATime,
    /// Only one.
    OneSock,
}

impl Order {
    /// All orders, as listed.
    pub const ALL: [Self; 3] = [Self::OneAfterTheOther, Self::TwoAtATime, Self::OneSock];
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

    /// The lines of the pair in knitting order.
    #[must_use]
    pub fn lines(self, order: Order) -> Vec<Line, MAX_LINES> {
        let kinds = if self.is_toe_up() { TOE_UP } else { CUFF_DOWN };
        let line = |sock, kind| Line {
            kind,
            sock,
            yarn: self.yarn(kind),
            construction: usual_construction(kind),
            stitches: 0,
        };
        let one = move |sock| kinds.into_iter().map(move |kind| line(sock, kind));
        match order {
            Order::OneAfterTheOther => one(Sock::First).chain(one(Sock::Second)).collect(),
            Order::OneSock => one(Sock::First).collect(),
            Order::TwoAtATime => {
                let both = kinds
                    .into_iter()
                    .flat_map(|kind| [line(Sock::First, kind), line(Sock::Second, kind)]);
                both.collect()
            }
        }
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
#[must_use]
pub const fn usual_construction(kind: SectionKind) -> Construction {
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

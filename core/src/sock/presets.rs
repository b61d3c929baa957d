//! Plans to begin with; each line's yarn can be changed afterwards.

use heapless::Vec;

use super::{Line, MAX_LINES, YarnLetter, a_part};
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
    /// So many parts of what is no sock, 1 to 8, everything in A.
    Parts(u8),
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
    /// All presets of a sock, as listed.
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
        let kinds: &[SectionKind] = match self {
            Self::OneYarn | Self::ContrastHeelsToes | Self::ContrastCuffsHeelsToes => &CUFF_DOWN,
            Self::OneYarnToeUp | Self::ContrastToeUp => &TOE_UP,
            Self::Parts(count) => SectionKind::PARTS.get(..usize::from(count)).unwrap_or_default(),
        };
        let line = |sock, kind| Line {
            kind,
            sock,
            yarn: self.yarn(kind),
            construction: match self {
                Self::Parts(count) => Construction::PartOf(count),
                Self::OneYarn
                | Self::ContrastHeelsToes
                | Self::ContrastCuffsHeelsToes
                | Self::OneYarnToeUp
                | Self::ContrastToeUp => usual_construction(kind),
            },
            stitches: 0,
        };
        let one = move |sock| kinds.iter().map(move |&kind| line(sock, kind));
        match order {
            Order::OneAfterTheOther => one(Sock::First).chain(one(Sock::Second)).collect(),
            Order::OneSock => one(Sock::First).collect(),
            Order::TwoAtATime => {
                let both = kinds
                    .iter()
                    .flat_map(|&kind| [line(Sock::First, kind), line(Sock::Second, kind)]);
                both.collect()
            }
        }
    }

    fn yarn(self, kind: SectionKind) -> YarnLetter {
        let contrast = match self {
            Self::OneYarn | Self::OneYarnToeUp | Self::Parts(_) => false,
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
        SectionKind::Leg | SectionKind::Gusset | SectionKind::Foot | a_part!() => Construction::Plain,
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

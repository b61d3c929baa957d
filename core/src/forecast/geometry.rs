//! How many stitches a section of a sock has, worked out row by row.

use super::sock_size::SockSize;
use crate::math::whole_size;
use crate::sock::{Construction, HeelConstruction, SectionKind, ToeConstruction, a_part};

/// A sock: a size of the table and its own constructions.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub(super) struct SockShape {
    /// The size.
    pub size: SockSize,
    /// How its heel is worked: decides whether there is a gusset.
    pub heel: HeelConstruction,
    /// Height of the cuff, cm; the table's leg holds it.
    pub cuff_cm: f32,
}

impl SockShape {
    /// The usual sock of a size: flap and gusset, a cuff of 4 cm (common practice, no source).
    #[must_use]
    pub(super) const fn usual(size: SockSize) -> Self {
        Self {
            size,
            heel: HeelConstruction::FlapAndGusset,
            cuff_cm: 4.0,
        }
    }

    /// Stitches of a section on one sock. The construction of a heel or toe is that given; other sections take the sock's own
    /// heel into account.
    #[must_use]
    pub(super) fn stitches(self, kind: SectionKind, construction: Construction) -> u32 {
        let round = u32::from(self.size.stitches);
        match kind {
            SectionKind::Cuff => round.saturating_mul(self.rounds(self.cuff_cm)),
            SectionKind::Leg => round.saturating_mul(self.rounds(self.size.leg_cm - self.cuff_cm)),
            SectionKind::Heel => match construction {
                Construction::Heel(heel) => self.heel_stitches(heel),
                Construction::Plain | Construction::Ribbed(_) | Construction::Toe(_) | Construction::PartOf(_) => {
                    self.heel_stitches(self.heel)
                }
            },
            SectionKind::Gusset => self.gusset().1,
            SectionKind::Foot => round.saturating_mul(self.foot_rounds()),
            SectionKind::Toe => match construction {
                Construction::Toe(ToeConstruction::Rounded) => rounded(round),
                Construction::Toe(ToeConstruction::Wedge | ToeConstruction::Asymmetric)
                | Construction::Plain
                | Construction::Ribbed(_)
                | Construction::Heel(_)
                | Construction::PartOf(_) => wedge(round).1,
            },
            // Its shape is not known.
            a_part!() => 0,
        }
    }

    fn rounds(self, cm: f32) -> u32 {
        whole_size(cm.max(0.0) * self.size.rounds_per_cm() + 0.5)
    }

    /// Stitches of the heel: half the round, and the middle third of that which stays when it is turned.
    fn half_and_third(self) -> (u32, u32) {
        let half = u32::from(self.size.stitches.div_euclid(2));
        (half, half.div_euclid(3))
    }

    fn heel_stitches(self, heel: HeelConstruction) -> u32 {
        let (half, third) = self.half_and_third();
        match heel {
            HeelConstruction::FlapAndGusset => {
                let flap = half.saturating_mul(self.size.flap_rows.into());
                // Turned in thirds: every row works the middle and takes in one stitch of a side.
                let turn = half.saturating_sub(third).saturating_mul(third.saturating_add(1));
                flap.saturating_add(turn)
            }
            // From half the round down to the third and up again, one stitch a row.
            HeelConstruction::ShortRow => (third..=half).fold(0, u32::saturating_add).saturating_mul(2),
            HeelConstruction::Afterthought => wedge(self.size.stitches.into()).1,
        }
    }

    /// Rounds and stitches of the gusset: two stitches fewer every other round, until the round is as it was.
    fn gusset(self) -> (u32, u32) {
        if self.heel != HeelConstruction::FlapAndGusset {
            return (0, 0);
        }
        let (half, third) = self.half_and_third();
        let round = u32::from(self.size.stitches);
        let picked_up = u32::from(self.size.picked_up).saturating_mul(2);
        let mut now = half.saturating_add(third).saturating_add(picked_up);
        let (mut rounds, mut stitches) = (0_u32, 0_u32);
        while now > round {
            stitches = stitches.saturating_add(now);
            now = now.saturating_sub(2);
            stitches = stitches.saturating_add(now);
            rounds = rounds.saturating_add(2);
        }
        (rounds, stitches)
    }

    /// Rounds between heel or gusset and toe. The turned heel lies along the sole with as many rows as it took in stitches;
    /// other heels reach about as far.
    fn foot_rounds(self) -> u32 {
        let (half, third) = self.half_and_third();
        let under_heel = half.saturating_sub(third);
        self.rounds(self.size.to_toe_cm)
            .saturating_sub(under_heel)
            .saturating_sub(self.gusset().0)
    }
}

/// Rounds and stitches of a wedge toe: four stitches fewer every other round down to half, then every round down to eight.
#[must_use]
pub(super) fn wedge(round: u32) -> (u32, u32) {
    let half = round.div_euclid(2);
    let (mut now, mut rounds, mut stitches) = (round, 0_u32, 0_u32);
    while now > LAST_STITCHES {
        let between = if now > half { 2_u32 } else { 1 };
        now = now.saturating_sub(4);
        rounds = rounds.saturating_add(between);
        stitches = stitches.saturating_add(now.saturating_mul(between));
    }
    (rounds, stitches)
}

/// Stitches of a rounded toe: eight stitches fewer at a time, with a plain round between for each sixteen stitches left.
#[must_use]
pub(super) fn rounded(round: u32) -> u32 {
    let (mut now, mut stitches) = (round, 0_u32);
    while now > LAST_STITCHES {
        now = now.saturating_sub(8);
        let rounds = now.div_euclid(16).saturating_add(1);
        stitches = stitches.saturating_add(now.saturating_mul(rounds));
    }
    stitches
}

/// Stitches that are drawn together at the tip.
const LAST_STITCHES: u32 = 8;

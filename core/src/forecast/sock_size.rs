//! Sock geometry by foot size: the table that is printed with four-ply sock yarn in Europe.

/// One column of the table: four-ply yarn (200 to 210 m in 50 g) on 2.5 mm needles.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub(super) struct SockSize {
    /// The smaller of the two European sizes; the other is one larger.
    pub eu_size: u8,
    /// Stitches of a round.
    pub stitches: u8,
    /// Cuff and leg, cm.
    pub leg_cm: f32,
    /// Rows of the heel flap.
    pub flap_rows: u8,
    /// Height of the heel flap, cm.
    pub flap_cm: f32,
    /// Stitches picked up on each side of the flap.
    pub picked_up: u8,
    /// Foot from the heel to the beginning of the toe, cm.
    pub to_toe_cm: f32,
    /// Foot from the heel to the tip, cm.
    pub foot_cm: f32,
}

impl SockSize {
    /// The largest size with so many stitches; where none has, the next larger, else the largest: an estimate should not be
    /// short.
    #[must_use]
    pub(super) fn of_stitches(stitches: u8) -> Self {
        let alike = SIZES.into_iter().rev().find(|known| known.stitches == stitches);
        let larger = || SIZES.into_iter().find(|known| known.stitches > stitches);
        alike.or_else(larger).unwrap_or(LARGEST)
    }

    /// The columns for the next narrower and the next wider sock than `stitches` wide, of each the largest size; the same one twice where
    /// the table has just this width, or ends.
    #[must_use]
    pub(super) fn around(stitches: f32) -> [Self; 2] {
        let width = |size: &Self| f32::from(size.stitches);
        let narrower = SIZES.into_iter().rev().find(|size| width(size) <= stitches);
        let wider = SIZES.into_iter().find(|size| width(size) >= stitches);
        let wider = wider.map(|wider| Self::of_stitches(wider.stitches));
        [narrower.or(wider), wider.or(narrower)].map(|size| size.unwrap_or(LARGEST))
    }

    /// Rounds in a centimetre, from the heel flap.
    #[must_use]
    pub(super) fn rounds_per_cm(self) -> f32 {
        f32::from(self.flap_rows) / self.flap_cm
    }
}

const fn column(eu_size: u8, counts: [u8; 3], lengths: [f32; 4]) -> SockSize {
    let [stitches, flap_rows, picked_up] = counts;
    let [leg_cm, flap_cm, to_toe_cm, foot_cm] = lengths;
    SockSize {
        eu_size,
        stitches,
        leg_cm,
        flap_rows,
        flap_cm,
        picked_up,
        to_toe_cm,
        foot_cm,
    }
}

const LARGEST: SockSize = column(46, [72, 34, 24], [18.0, 8.0, 25.0, 30.5]);

/// All sizes, smallest first. Source: the European sock-yarn table as reproduced at rukodelkino.com, table 1.
pub(super) const SIZES: [SockSize; 15] = [
    column(18, [48, 14, 11], [6.0, 3.0, 8.5, 12.0]),
    column(20, [48, 14, 11], [8.0, 3.0, 9.5, 13.0]),
    column(22, [48, 16, 12], [8.0, 3.5, 11.5, 15.0]),
    column(24, [52, 16, 12], [10.0, 3.5, 12.5, 16.0]),
    column(26, [52, 18, 13], [10.0, 4.0, 13.5, 17.0]),
    column(28, [52, 18, 13], [12.0, 4.0, 15.5, 19.0]),
    column(30, [56, 20, 15], [12.0, 4.5, 16.0, 20.0]),
    column(32, [56, 20, 15], [14.0, 4.5, 17.0, 21.0]),
    column(34, [60, 22, 17], [14.0, 5.0, 18.0, 22.0]),
    column(36, [60, 24, 18], [16.0, 5.5, 19.5, 24.0]),
    column(38, [64, 26, 20], [16.0, 6.0, 20.0, 25.0]),
    column(40, [64, 28, 21], [16.0, 6.5, 21.5, 26.5]),
    column(42, [68, 30, 22], [18.0, 7.0, 23.0, 28.0]),
    column(44, [68, 32, 23], [18.0, 7.5, 24.0, 29.0]),
    LARGEST,
];

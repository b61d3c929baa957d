//! What yarn is spun from, and its agreed moisture: for the mass that a yarn has by convention, whatever the air did.

/// A textile fibre as Regulation (EU) 1007/2011 names it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub enum Material {
    /// Wool or animal hair, combed: most sock yarn.
    WoolCombed,
    /// Wool or animal hair, carded.
    WoolCarded,
    /// Silk.
    Silk,
    /// Cotton.
    Cotton,
    /// Cotton, mercerised.
    CottonMercerised,
    /// Flax (linen).
    Flax,
    /// Hemp.
    Hemp,
    /// Jute.
    Jute,
    /// Ramie, bleached.
    Ramie,
    /// Acetate.
    Acetate,
    /// Viscose, modal, lyocell or cupro.
    Viscose,
    /// Acrylic or modacrylic.
    Acrylic,
    /// Polyamide (nylon), spun from staple.
    PolyamideStaple,
    /// Polyamide (nylon), filament.
    PolyamideFilament,
    /// Polyester.
    Polyester,
    /// Polypropylene.
    Polypropylene,
    /// Elastane.
    Elastane,
}

impl Material {
    /// All of them.
    pub const ALL: [Self; 17] = [
        Self::WoolCombed,
        Self::WoolCarded,
        Self::Silk,
        Self::Cotton,
        Self::CottonMercerised,
        Self::Flax,
        Self::Hemp,
        Self::Jute,
        Self::Ramie,
        Self::Acetate,
        Self::Viscose,
        Self::Acrylic,
        Self::PolyamideStaple,
        Self::PolyamideFilament,
        Self::Polyester,
        Self::Polypropylene,
        Self::Elastane,
    ];

    /// Agreed allowance in the European Union, % of the dry mass. Source: Regulation (EU) 1007/2011, Annex IX.
    #[must_use]
    pub const fn allowance_eu(self) -> f32 {
        match self {
            Self::WoolCombed => 18.25,
            Self::WoolCarded | Self::Jute => 17.0,
            Self::Silk => 11.0,
            Self::Cotton | Self::Ramie => 8.5,
            Self::CottonMercerised => 10.5,
            Self::Flax | Self::Hemp => 12.0,
            Self::Acetate => 9.0,
            Self::Viscose => 13.0,
            Self::Acrylic | Self::Polypropylene => 2.0,
            Self::PolyamideStaple => 6.25,
            Self::PolyamideFilament => 5.75,
            Self::Polyester | Self::Elastane => 1.5,
        }
    }

    /// Commercial moisture regain in the United States, % of the dry mass; `None` where it was not found. Source: ASTM D1909,
    /// the natural fibres from a table that cites it, the others from memory.
    #[must_use]
    pub const fn regain_astm(self) -> Option<f32> {
        match self {
            Self::WoolCombed | Self::WoolCarded => Some(13.6),
            Self::Silk => Some(11.0),
            Self::Cotton => Some(8.5),
            Self::Flax | Self::Hemp => Some(12.0),
            Self::Jute => Some(13.75),
            Self::Viscose => Some(11.0),
            Self::Acrylic => Some(1.5),
            Self::PolyamideStaple | Self::PolyamideFilament => Some(4.5),
            Self::Polyester => Some(0.4),
            Self::CottonMercerised | Self::Ramie | Self::Acetate | Self::Polypropylene | Self::Elastane => None,
        }
    }
}

/// Mean of a property of the parts of a blend by their shares of the dry mass, which is how regains combine.
///
/// Shares need not add up to 100; `None` if they add up to nothing.
#[must_use]
pub fn blended(parts: &[(Material, u8)], property: impl Fn(Material) -> f32) -> Option<f32> {
    let all: f32 = parts.iter().map(|&(_, share)| f32::from(share)).sum();
    let weighted: f32 = parts
        .iter()
        .map(|&(material, share)| property(material) * f32::from(share))
        .sum();
    (all > 0.0).then(|| weighted / all)
}

/// Mass at a regain of `to` %, of what weighs `mass` at a regain of `from` %. Source: ISO 6741, from memory.
#[must_use]
pub fn at_regain(mass: f32, from: f32, to: f32) -> f32 {
    mass * (100.0 + to) / (100.0 + from)
}

/// Moisture content, % of the moist mass, at a regain in % of the dry mass.
#[must_use]
pub fn content_of(regain: f32) -> f32 {
    100.0 * regain / (100.0 + regain)
}

/// Regain, % of the dry mass, at a moisture content in % of the moist mass.
#[must_use]
pub fn regain_of(content: f32) -> f32 {
    100.0 * content / (100.0 - content)
}

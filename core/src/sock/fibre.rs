//! What yarn is spun from.

/// A textile fibre.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub enum Material {
    /// Wool or animal hair.
    Wool,
    /// Silk.
    Silk,
    /// Cotton.
    Cotton,
    /// Polyamide (nylon).
    Polyamide,
    /// Acrylic.
    Acrylic,
}

impl Material {
    /// All of them.
    pub const ALL: [Self; 5] = [Self::Wool, Self::Silk, Self::Cotton, Self::Polyamide, Self::Acrylic];
}

/// Mean of a property of the parts of a blend by their shares of the dry mass, which is how regains combine.
///
/// Shares need not add up to 100; `None` if they add up to nothing.
#[must_use]
pub(super) fn blended(parts: &[(Material, u8)], property: impl Fn(Material) -> f32) -> Option<f32> {
    let all: f32 = parts.iter().map(|&(_, share)| f32::from(share)).sum();
    let weighted: f32 = parts
        .iter()
        .map(|&(material, share)| property(material) * f32::from(share))
        .sum();
    (all > 0.0).then(|| weighted / all)
}

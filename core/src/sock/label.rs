//! What a yarn's band says. The order of variants is part of the journal's format: append only.

use serde::{Deserialize, Serialize};

/// What a yarn's band says.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Label {
    /// Length of 100 g, metres; 0 where it is not known.
    pub metres_per_100_g: u16,
    /// What it is spun from.
    pub fibre: Fibre,
}

/// What a yarn is spun from, as far as moisture cares.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub enum Fibre {
    /// Three quarters wool, one quarter polyamide: the usual sock yarn.
    #[default]
    WoolPolyamide,
    /// Wool alone.
    Wool,
    /// Cotton.
    Cotton,
    /// Silk.
    Silk,
    /// Acrylic, polyester and other fibres that take up next to no moisture.
    Synthetic,
}

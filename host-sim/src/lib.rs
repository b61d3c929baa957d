//! The simulator around the core: the physical world, the shells and the companion commands.

//! The simulator around the core, in the order in which its parts build on each other: the physical [`world`], the [`device`] in it,
//! scenarios to [`play`], recordings to [`replay`], the interactive [`desk`], and the [`computer`] side. They make the product's
//! program `yarn-scale`. The [`lab`] measures and trains what they are made of: the contributors' program `yarn-scale-lab`.

pub mod cli;
pub mod computer;
pub mod desk;
pub mod device;
pub mod failure;
pub mod files;
pub mod lab;
pub mod lines;
pub mod play;
pub mod product;
pub mod replay;
pub mod world;

//! A NOR flash chip: in memory or in a file, with the constraints of a real one, counts of what was done to it, and power
//! cuts at any instant of any operation.
//!
//! Erasing sets a sector of 4,096 bytes to ones; programming turns ones into zeros, at most a page of 256 bytes in one
//! operation (W25Q16JV data sheet, "Page Program" and "Sector Erase", sizes from memory). A page may be programmed in parts.

mod chip;
mod file;
mod operation;
mod tear;

pub use chip::{FlashFault, PAGE, SECTOR, SimFlash};
pub use operation::{Counts, Operation};
pub use tear::Tear;

//! The read-only drive that a computer sees: commands, transport, volume.

mod commands;
mod contents;
mod transport;
mod volume;

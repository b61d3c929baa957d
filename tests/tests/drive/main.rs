//! The read-only drive that a computer sees: commands, transport, volume.

mod commands;
mod contents;
mod first_requests;
mod idle;
mod transport;
mod volume;

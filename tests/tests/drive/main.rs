//! The read-only drive that a computer sees: commands, transport, volume.

mod contents;
mod first_requests;
mod idle;

//! What runs on a computer: commands, report, desk, replay.

mod calibrations;
mod desk;
mod files;
mod line;
mod replay;
mod replay_input;
mod report;
mod world_port;

//! What runs on a computer: commands, report, desk, replay.

mod bench_check;
mod calibrations;
mod damage;
mod desk;
mod doubt;
mod files;
mod line;
mod replay;
mod replay_input;
mod report;
mod world_port;

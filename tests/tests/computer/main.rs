//! What runs on a computer: commands, report, desk, replay.

mod bench_check;
mod calibrations;
mod carried;
mod damage;
mod desk;
mod doubt;
mod files;
mod independent_reader;
mod line;
mod plugged;
mod replay;
mod replay_input;
mod replay_marks;
mod report;
mod tables;
mod tape;
mod versions;
mod world_port;

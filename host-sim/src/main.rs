//! `yarn-scale`: the device's own core on a computer.

use std::process::ExitCode;

fn main() -> ExitCode {
    yarn_scale_sim::cli::run()
}

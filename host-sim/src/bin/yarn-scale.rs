//! `yarn-scale`: the device's own core on a computer, and what a computer adds to a scale.

use std::process::ExitCode;

fn main() -> ExitCode {
    yarn_scale_sim::cli::run::<yarn_scale_sim::product::Product>()
}

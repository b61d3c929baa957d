//! `yarn-scale-lab`: the contributors' measurements, training and pictures.

use std::process::ExitCode;

fn main() -> ExitCode {
    yarn_scale_sim::cli::run::<yarn_scale_sim::lab::Lab>()
}

//! `yarn-scale`: the device's own core on a computer.
fn main() {}

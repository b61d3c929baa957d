//! See `tests/src/hostile/drive_sectors.rs`.
#![no_main]

libfuzzer_sys::fuzz_target!(|data: &[u8]| yarn_scale_tests::hostile::run("drive_sectors", data));

//! See `tests/src/hostile/flash_operations.rs`.
#![no_main]

libfuzzer_sys::fuzz_target!(|data: &[u8]| yarn_scale_tests::hostile::run("flash_operations", data));

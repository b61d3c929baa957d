//! See `tests/src/hostile/inputs.rs`.
#![no_main]

libfuzzer_sys::fuzz_target!(|data: &[u8]| yarn_scale_tests::hostile::run("inputs", data));

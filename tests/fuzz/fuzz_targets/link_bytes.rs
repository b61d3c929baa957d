//! See `tests/src/hostile/link_bytes.rs`.
#![no_main]

libfuzzer_sys::fuzz_target!(|data: &[u8]| yarn_scale_tests::hostile::run("link_bytes", data));

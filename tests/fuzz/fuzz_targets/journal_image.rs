//! See `tests/src/hostile/journal_image.rs`.
#![no_main]

libfuzzer_sys::fuzz_target!(|data: &[u8]| yarn_scale_tests::hostile::run("journal_image", data));

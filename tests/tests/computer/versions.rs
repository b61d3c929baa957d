//! A scale and a program that are not of one age: whichever is the older, it is said in words, and nothing is written.
#![cfg(unix)]

use std::io::{Read, Write};
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::thread;
use std::time::{Duration, Instant};

use yarn_scale_core::journal::{SCHEMA, Sequence};
use yarn_scale_core::link::{
    Accumulator, Answer, Ask, DeviceInfo, MAX_FRAME, PROTOCOL, Request, Response, decode, encode,
};
use yarn_scale_core::units::Milligrams;
use yarn_scale_sim::computer::open_line;

use crate::plugged::{run_on, text};

/// A scale whose memory is nearly full, of the age of this protocol. It says hello; whatever else it is asked it drops, as a scale drops what
/// it does not know.
fn scale_of(protocol: u8) -> (String, Unplugs) {
    let (mut line, name) = open_line().expect("a pseudo-terminal");
    let unplugged = Unplugs(Arc::default());
    let end = Arc::clone(&unplugged.0);
    let info = DeviceInfo {
        protocol,
        schema: SCHEMA,
        program: "0.1.0".try_into().expect("short"),
        capacity: Milligrams::from_grams(500),
        pair: 3,
        next: Sequence(70),
        used_percent: 95,
    };
    thread::spawn(move || {
        let mut incoming = Accumulator::default();
        while !end.load(Ordering::Relaxed) {
            let mut bytes = [0; 256];
            let count = line.read(&mut bytes).unwrap_or(0);
            for &byte in &bytes[..count] {
                let request = incoming.take(byte).map(decode::<Request>);
                if let Some(Ok(Request { id, ask: Ask::Hello })) = request {
                    let answer = Answer::Device(info.clone());
                    let mut buffer = [0; MAX_FRAME];
                    let frame = encode(&Response { id, answer }, &mut buffer).expect("it fits");
                    line.write_all(frame).expect("somebody listens");
                }
            }
            thread::sleep(Duration::from_millis(2));
        }
    });
    (name, unplugged)
}

/// Ends the scale's thread with the test.
struct Unplugs(Arc<AtomicBool>);

impl Drop for Unplugs {
    fn drop(&mut self) {
        self.0.store(true, Ordering::Relaxed);
    }
}

/// The versions since which a scale can do it stand in the documentation of `link`.
#[test]
fn an_older_scale_is_told_at_once_what_it_cannot_do_and_the_way_out() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("new");
    for (command, since) in [("make-room", 5), ("record", 4)] {
        for protocol in 1..since {
            let (port, _unplugs) = scale_of(protocol);
            let begun = Instant::now();
            let reason = run_on(&port, &[command, text(&path)]).expect_err("it is too old");
            assert!(
                reason.contains("the program on this scale is too old to") && reason.contains("flash the newer one"),
                "{command}, {protocol}: {reason}"
            );
            assert!(begun.elapsed() < Duration::from_secs(10), "{command}, {protocol}");
            assert!(!path.exists());
        }
    }
}

/// So does a program of before the last protocol meet a scale of today.
#[test]
fn an_older_program_says_that_it_is_the_one_to_update() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("new");
    let (port, _unplugs) = scale_of(PROTOCOL + 1);
    for command in [&["make-room", text(&path)][..], &["backup", text(&path)], &["clock"]] {
        let reason = run_on(&port, command).expect_err("it is too old");
        assert!(
            reason.ends_with(&format!(
                "the scale speaks protocol {}, this program {PROTOCOL}: update this program",
                PROTOCOL + 1
            )),
            "{reason}"
        );
        assert!(!path.exists());
    }
}

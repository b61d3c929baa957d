//! Each answer of the disk, one by one. What hosts ask, and in which order, is played from a table in `first_requests.rs`.

use std::prelude::rust_2024::*;
use std::vec;

use crate::drive::scsi::{Medium, Reply, Sense, Target};

fn block(bytes: &[u8]) -> [u8; 16] {
    let mut block = [0; 16];
    block[..bytes.len()].copy_from_slice(bytes);
    block
}

fn ask(target: &mut Target, bytes: &[u8]) -> Result<Vec<u8>, Sense> {
    match target.command(&block(bytes))? {
        Reply::Answer(answer) => Ok(answer.bytes().to_vec()),
        Reply::Sectors { first, count } => Ok([first.to_be_bytes(), count.to_be_bytes()].concat()),
    }
}

fn disk() -> Target {
    let mut target = Target::new(*b"E66138528352AB21");
    target.insert(5_000);
    target
}

const SENSE: [u8; 6] = [0x03, 0, 0, 0, 18, 0];

/// Sense key and additional code.
fn sense(target: &mut Target) -> [u8; 2] {
    let told = ask(target, &SENSE).expect("never refused");
    assert_eq!((told.len(), told[0], told[7]), (18, 0x70, 10));
    [told[2], told[12]]
}

#[test]
fn a_new_medium_is_told_once() {
    let mut target = disk();
    assert_eq!(target.medium(), Medium::New);
    assert_eq!(ask(&mut target, &[0; 6]), Err(Sense::CHANGED));
    assert_eq!(sense(&mut target), [6, 0x28]);
    assert_eq!(sense(&mut target), [0, 0], "told once");
    assert_eq!(ask(&mut target, &[0; 6]), Ok(vec![]));
}

/// As much of an answer as the host has room for.
#[test]
fn an_answer_is_cut_to_what_was_asked_for() {
    let mut target = disk();
    let _ = ask(&mut target, &[0; 6]);
    assert_eq!(ask(&mut target, &[0x1A, 0, 0x3F, 0, 2, 0]).unwrap(), [3, 0]);
    assert_eq!(
        ask(&mut target, &[0x5A, 0, 0x3F, 0, 0, 0, 0, 0, 192, 0]).unwrap(),
        [0, 6, 0, 0x80, 0, 0, 0, 0]
    );
    assert_eq!(
        ask(&mut target, &[0x25, 0, 0, 0, 0, 0, 0, 0, 0, 0]).unwrap(),
        [0, 0, 0x13, 0x87, 0, 0, 2, 0],
        "the last sector, not their number"
    );
    let serial = ask(&mut target, &[0x12, 1, 0x80, 0, 255, 0]).unwrap();
    assert_eq!(&serial[4..], b"E66138528352AB21");
    assert_eq!(ask(&mut target, &[0x12, 1, 0x80, 0, 7, 0]).unwrap(), serial[..7]);
}

#[test]
fn a_host_cannot_lock_the_medium_and_so_sees_it_go() {
    let mut target = disk();
    let _ = ask(&mut target, &[0; 6]);
    assert_eq!(ask(&mut target, &[0x1E, 0, 0, 0, 1, 0]), Err(Sense::NO_SUCH_COMMAND));
    assert_eq!(
        ask(&mut target, &[0x1E, 0, 0, 0, 0, 0]),
        Ok(vec![]),
        "said before it is ejected"
    );
    assert_eq!(ask(&mut target, &[0; 6]), Ok(vec![]));
    target.eject();
    assert_eq!(ask(&mut target, &[0; 6]), Err(Sense::NO_MEDIUM));
    assert_eq!(sense(&mut target), [2, 0x3A]);
    let formats = ask(&mut target, &[0x23, 0, 0, 0, 0, 0, 0, 0, 0xFC, 0]).unwrap();
    assert_eq!(formats[8], 3, "no medium");
    target.insert(6_000);
    assert_eq!(
        ask(&mut target, &[0x25, 0, 0, 0, 0, 0, 0, 0, 0, 0]),
        Err(Sense::CHANGED)
    );
    assert_eq!(
        ask(&mut target, &[0x25, 0, 0, 0, 0, 0, 0, 0, 0, 0]).unwrap()[..4],
        5_999_u32.to_be_bytes()
    );
}

#[test]
fn an_ejected_drive_is_gone_and_starting_and_stopping_is_nothing() {
    let mut target = disk();
    let _ = ask(&mut target, &[0; 6]);
    for harmless in [0, 1, 3] {
        assert_eq!(ask(&mut target, &[0x1B, 0, 0, 0, harmless, 0]), Ok(vec![]));
        assert_eq!(target.medium(), Medium::There);
    }
    assert_eq!(ask(&mut target, &[0x1B, 0, 0, 0, 2, 0]), Ok(vec![]));
    assert_eq!(target.medium(), Medium::Away);
}

#[test]
fn whatever_would_write_is_refused_as_write_protected() {
    let mut target = disk();
    let _ = ask(&mut target, &[0; 6]);
    for code in [0x04, 0x0A, 0x15, 0x2A, 0x2E, 0x41, 0x42, 0x55, 0x8A, 0x93, 0xAA] {
        assert_eq!(
            ask(&mut target, &[code, 0, 0, 0, 0, 0, 0, 0, 1, 0]),
            Err(Sense::WRITE_PROTECTED),
            "{code:#x}"
        );
        assert_eq!(sense(&mut target), [7, 0x27]);
    }
}

#[test]
fn no_sector_behind_the_last_is_read() {
    let mut target = disk();
    let _ = ask(&mut target, &[0; 6]);
    let read = |first: u32, count: u16| {
        let ([a, b, c, d], [e, f]) = (first.to_be_bytes(), count.to_be_bytes());
        [0x28, 0, a, b, c, d, 0, e, f, 0]
    };
    assert!(ask(&mut target, &read(4_999, 1)).is_ok());
    for (first, count) in [(4_999, 2), (5_000, 1), (u32::MAX, 1), (0, 5_001), (u32::MAX, u16::MAX)] {
        assert_eq!(ask(&mut target, &read(first, count)), Err(Sense::OUT_OF_RANGE));
        assert_eq!(sense(&mut target), [5, 0x21]);
    }
}

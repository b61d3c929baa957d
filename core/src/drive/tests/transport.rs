//! The transport against a host: the thirteen cases of the specification's section 6.7, resets in mid-transfer, and a host that sends noise.

use std::collections::VecDeque;
use std::prelude::rust_2024::*;
use std::{println, vec};

use crate::board::{PACKET, Pipe};
use crate::drive::scsi::{SECTOR, Target};
use crate::drive::transfer::{Filling, Sectors, Transfer};
use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64Mcg;

/// The host's end: what it has sent, and what it has taken.
#[derive(Default)]
struct Host {
    sent: VecDeque<Vec<u8>>,
    taken: Vec<Vec<u8>>,
    /// Packets that it takes before it stops for good.
    takes: usize,
}

impl Pipe for Host {
    fn read(&mut self, packet: &mut [u8; PACKET]) -> Option<usize> {
        let sent = self.sent.pop_front()?;
        packet[..sent.len()].copy_from_slice(&sent);
        Some(sent.len())
    }

    fn write(&mut self, packet: &[u8]) -> bool {
        let taken = self.taken.len() < self.takes;
        if taken {
            self.taken.push(packet.to_vec());
        }
        taken
    }

    fn is_powered(&self) -> bool {
        true
    }

    fn is_up(&self) -> bool {
        true
    }

    fn take_reset(&mut self) -> bool {
        false
    }
}

struct Disk;

impl Sectors for Disk {
    fn read(&mut self, sector: u32, out: &mut Filling) {
        assert!(sector < 100, "a sector that is not there");
        assert!(out.bytes.iter().all(|byte| *byte == 0));
        out.bytes.fill(sector as u8 + 1);
    }
}

/// Half a sector a turn.
struct SlowDisk;

impl Sectors for SlowDisk {
    fn read(&mut self, sector: u32, out: &mut Filling) {
        let half = SECTOR / 2;
        let (filled, empty) = if out.rest.is_some() { (half, 0) } else { (0, SECTOR) };
        assert!(
            out.bytes[SECTOR - empty..].iter().all(|byte| *byte == 0),
            "of another sector"
        );
        out.bytes[filled..filled + half].fill(sector as u8 + 1);
        out.rest = out.rest.is_none().then_some((1, half as u32));
    }
}

/// What takes several turns goes out once it is whole; what was begun for a host that has given up is of no other sector, nor of the same one.
#[test]
fn a_sector_may_take_several_turns() {
    let mut transfer = transfer();
    let mut host = Host {
        takes: usize::MAX,
        ..Host::default()
    };
    for first in [7, 8, 7] {
        host.sent.push_back(wrapper(1, 1_024, true, &read(first, 2)));
        transfer.work(&mut host, &mut SlowDisk, 12);
        assert!(transfer.is_filling() && host.taken.is_empty(), "half of it is not sent");
        transfer.reset();
        assert!(!transfer.is_filling());
    }
    host.sent.push_back(wrapper(1, 1_024, true, &read(7, 2)));
    let mut turns = 0;
    while host.taken.len() < 17 {
        transfer.work(&mut host, &mut SlowDisk, 12);
        turns += 1;
        assert!(turns < 20, "hangs");
    }
    assert_eq!(host.taken[..16].concat(), [vec![8; 512], vec![9; 512]].concat());
    assert_eq!(host.taken[16][12], 0);
}

fn transfer() -> Transfer {
    let mut target = Target::new([b'0'; 16]);
    target.insert(100);
    // The change of medium is told at the first question.
    let _ = target.command(&[0; 16]);
    Transfer::new(target)
}

fn wrapper(tag: u32, length: u32, inward: bool, command: &[u8]) -> Vec<u8> {
    let mut block = b"USBC".to_vec();
    block.extend(tag.to_le_bytes());
    block.extend(length.to_le_bytes());
    block.extend([if inward { 0x80 } else { 0 }, 0, 16]);
    block.extend(command);
    block.resize(31, 0);
    block
}

/// The data and the status' residue and code.
fn ask(transfer: &mut Transfer, length: u32, inward: bool, command: &[u8]) -> (Vec<u8>, u32, u8) {
    let mut host = Host {
        takes: usize::MAX,
        ..Host::default()
    };
    host.sent.push_back(wrapper(77, length, inward, command));
    if !inward {
        let data = vec![0xAA; length as usize];
        host.sent.extend(data.chunks(PACKET).map(<[u8]>::to_vec));
    }
    for _ in 0..2_000 {
        transfer.work(&mut host, &mut Disk, 3);
    }
    let status = host.taken.pop().expect("it hangs");
    assert_eq!(
        (status.len(), &status[..4], &status[4..8]),
        (13, &b"USBS"[..], &77_u32.to_le_bytes()[..])
    );
    let residue = u32::from_le_bytes(status[8..12].try_into().unwrap());
    (host.taken.concat(), residue, status[12])
}

const READY: [u8; 6] = [0; 6];
const CAPACITY: [u8; 10] = [0x25, 0, 0, 0, 0, 0, 0, 0, 0, 0];
const WRITE: [u8; 10] = [0x2A, 0, 0, 0, 0, 0, 0, 0, 1, 0];

fn read(first: u8, count: u8) -> [u8; 10] {
    [0x28, 0, 0, 0, 0, first, 0, 0, count, 0]
}

/// The specification's names: H is what the host expects, D what the device intends; n nothing, i in, o out.
#[test]
fn the_thirteen_cases() {
    let transfer = &mut transfer();
    assert_eq!(ask(transfer, 0, false, &READY), (vec![], 0, 0), "1: Hn = Dn");
    assert_eq!(ask(transfer, 0, false, &read(0, 1)).2, 2, "2: Hn < Di");
    assert_eq!(ask(transfer, 0, false, &WRITE).2, 1, "3: Hn < Do, refused");
    let (data, residue, status) = ask(transfer, 64, true, &READY);
    assert_eq!((data, residue, status), (vec![0; 64], 64, 0), "4: Hi > Dn");
    let (data, residue, status) = ask(transfer, 20, true, &CAPACITY);
    assert_eq!(
        (data.len(), &data[8..], residue, status),
        (20, &[0; 12][..], 12, 0),
        "5: Hi > Di"
    );
    let (data, residue, status) = ask(transfer, 1_024, true, &read(5, 2));
    assert_eq!(
        (data, residue, status),
        ([vec![6; 512], vec![7; 512]].concat(), 0, 0),
        "6: Hi = Di"
    );
    let (data, residue, status) = ask(transfer, 512, true, &read(5, 2));
    assert_eq!((data.len(), residue, status), (512, 512, 2), "7: Hi < Di");
    let (data, _, status) = ask(transfer, 512, true, &WRITE);
    assert_eq!((data, status), (vec![0; 512], 1), "8: Hi <> Do, refused");
    assert_eq!(ask(transfer, 512, false, &READY), (vec![], 512, 0), "9: Ho > Dn");
    assert_eq!(ask(transfer, 512, false, &read(0, 1)).2, 2, "10: Ho <> Di");
    assert_eq!(
        ask(transfer, 1_024, false, &WRITE),
        (vec![], 1_024, 1),
        "11: Ho > Do, refused"
    );
    assert_eq!(
        ask(transfer, 512, false, &WRITE),
        (vec![], 512, 1),
        "12: Ho = Do, refused"
    );
    assert_eq!(
        ask(transfer, 64, false, &WRITE),
        (vec![], 64, 1),
        "13: Ho < Do, refused"
    );
}

#[test]
fn a_reset_in_any_packet_of_a_read_leaves_a_disk_that_answers() {
    for packets in 0..18 {
        let transfer = &mut transfer();
        let mut host = Host {
            takes: packets,
            ..Host::default()
        };
        host.sent.push_back(wrapper(1, 1_024, true, &read(8, 2)));
        for _ in 0..50 {
            transfer.work(&mut host, &mut Disk, 3);
        }
        transfer.reset();
        assert_eq!(
            ask(transfer, 8, true, &CAPACITY).0,
            [0, 0, 0, 99, 0, 0, 2, 0],
            "after {packets} packets"
        );
    }
}

#[test]
fn what_is_no_command_is_swallowed_until_a_reset() {
    let good = wrapper(1, 0, false, &READY);
    let mut bad = vec![
        good[..30].to_vec(),
        [&good[..], &[0]].concat(),
        vec![],
        good[..4].to_vec(),
    ];
    for (place, byte) in [(0, b'u'), (13, 1), (14, 0), (14, 17)] {
        let mut block = good.clone();
        block[place] = byte;
        bad.push(block);
    }
    for block in bad {
        let transfer = &mut transfer();
        let mut host = Host {
            takes: usize::MAX,
            ..Host::default()
        };
        host.sent.extend([block, good.clone()]);
        transfer.work(&mut host, &mut Disk, 20);
        assert!(host.taken.is_empty() && host.sent.is_empty());
        transfer.reset();
        assert_eq!(ask(transfer, 0, false, &READY), (vec![], 0, 0));
    }
}

/// `YARN_SCALE_LONG` makes it a million.
#[test]
fn a_host_that_sends_noise_does_no_harm() {
    let rounds = if std::env::var_os("YARN_SCALE_LONG").is_some() {
        1_000_000
    } else {
        50_000
    };
    let mut random = Pcg64Mcg::seed_from_u64(24);
    let transfer = &mut transfer();
    let mut answered = 0;
    for round in 0..rounds {
        let mut host = Host {
            takes: random.random_range(0..40),
            ..Host::default()
        };
        let codes = [0, 3, 0x12, 0x1A, 0x1B, 0x23, 0x25, 0x28, 0x2A, 0x2F, 0x35, 0x5A, 0x9E];
        let mut command: [u8; 16] = random.random();
        if random.random_bool(0.9) {
            command[0] = codes[random.random_range(0..codes.len())];
            command[2..6].fill(0);
            command[7] = 0;
        }
        // Never ejected, or there would be little to try.
        if command[0] == 0x1B {
            command[4] = 0;
        }
        let length = [0, 8, 36, 512, 4_096, random.random()][random.random_range(0..6)];
        let mut block = wrapper(round, length, random.random(), &command);
        if random.random_bool(0.05) {
            let (place, byte) = (random.random_range(0..31), random.random());
            block[place] = byte;
        }
        host.sent.push_back(block);
        for _ in 0..random.random_range(0..4) {
            host.sent
                .push_back(vec![random.random(); random.random_range(0..=PACKET)]);
        }
        transfer.work(&mut host, &mut Disk, 200);
        answered += usize::from(host.taken.iter().any(|packet| packet.starts_with(b"USBS")));
        assert!(host.taken.iter().all(|packet| packet.len() <= PACKET));
        // Whatever was said: after a reset it is a disk.
        transfer.reset();
        if round % 16 == 0 {
            assert_eq!(ask(transfer, 8, true, &CAPACITY).0, [0, 0, 0, 99, 0, 0, 2, 0]);
        }
    }
    println!("{answered} of {rounds} commands came to their status");
    assert!(answered * 3 > rounds as usize);
}

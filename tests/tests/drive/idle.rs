//! What is found out in idle time, before a computer comes: the drive is there at once then, and shows the scale as it is at attach.

use yarn_scale_core::converter::SampleRate;
use yarn_scale_sim::device::simulator::{JOURNAL_BYTES, Simulator};
use yarn_scale_sim::world::{Body, Room, Unit, World};
use yarn_scale_tests::disk::{Computer, file};
use yarn_scale_tests::knitting::knitted;

/// The display is dimmed a minute after the last use.
const IDLE_S: f64 = 75.0;
/// Most questions for a medium that is there at once: it is noticed, and a medium that came is told of once.
const AT_ONCE: u32 = 4;

/// A scale that holds many pairs, most of them in short, switched on so long ago.
fn after(seconds: f64) -> Simulator {
    let world = World::new(Unit::typical(3), SampleRate::Ten, Room::constant());
    let mut scale = Simulator::with_flash(world, knitted(JOURNAL_BYTES, 60));
    scale.switch_on();
    scale.pass(seconds, |_| {});
    scale
}

/// How often a computer asks until there is a medium, and what it reads.
fn read(scale: Simulator) -> (u32, Vec<u8>) {
    let mut computer = Computer::with(scale);
    let asked = computer.ready();
    (asked, computer.dump())
}

const FROM_THE_JOURNAL: [&str; 5] = [
    "START HERE.HTM",
    "SECTIONS.CSV",
    "YARNS.CSV",
    "WEIGHINGS.CSV",
    "BACKUP.BIN",
];

fn own_time(image: &[u8]) -> u32 {
    let text = String::from_utf8(file(image, "CHECK.TXT")).expect("UTF-8");
    let line = text
        .lines()
        .find_map(|line| line.strip_prefix("Device's own time, s: "));
    line.and_then(|time| time.parse().ok()).expect("a number")
}

#[test]
fn after_a_minute_alone_the_drive_is_there_at_once_and_the_same() {
    let ((slowly, fresh), (at_once, kept)) = (read(after(3.0)), read(after(IDLE_S)));
    assert!(
        at_once <= AT_ONCE && slowly > AT_ONCE,
        "asked {at_once} and {slowly} times"
    );
    for name in FROM_THE_JOURNAL {
        assert!(file(&fresh, name) == file(&kept, name), "{name} differs");
    }
    let apart = own_time(&kept) - own_time(&fresh);
    assert!(
        f64::from(apart) > IDLE_S - 10.0,
        "how the scale is now, not when it was counted"
    );
}

#[test]
fn what_was_noted_since_is_on_the_drive() {
    let weighing = || {
        let mut scale = Simulator::new(World::new(Unit::typical(3), SampleRate::Ten, Room::constant()));
        scale.switch_on();
        scale.pass(IDLE_S, |_| {});
        scale
    };
    let mut scale = weighing();
    let cake = scale.board.world_mut().put(Body::dry(60.0));
    scale.pass(10.0, |_| {});
    scale.board.world_mut().take(cake);
    scale.pass(10.0, |_| {});
    let ((_, before), (_, now)) = (read(weighing()), read(scale));
    let visits = |image: &[u8]| {
        file(image, "WEIGHINGS.CSV")
            .iter()
            .filter(|byte| **byte == b'\n')
            .count()
    };
    assert!(visits(&now) > visits(&before));
}

/// A computer comes in the middle of it: it goes on from there.
#[test]
fn what_is_half_known_at_attach_is_not_begun_again() {
    let (whole, fresh) = read(after(3.0));
    let mut scale = after(55.0);
    while !scale.app().expect("it is on").is_idle() {
        scale.pass(0.01, |_| {});
    }
    scale.pass(0.05, |_| {});
    let (half, found) = read(scale);
    assert!(half > AT_ONCE && half < whole, "asked {half} times instead of {whole}");
    for name in FROM_THE_JOURNAL {
        assert!(file(&fresh, name) == file(&found, name), "{name} differs");
    }
}

//! What Linux, Windows and macOS ask first and last of all, from `tests/values/first_requests.csv`, and what holds for all of them.
//!
//! | what hosts want (known from their makers' notes and from those who met it) | where it is tried |
//! |---|---|
//! | MODE SENSE, both of them, says write-protected, or Linux mounts with errors | the table, `core/src/drive/tests/commands.rs` |
//! | READ FORMAT CAPACITIES and the page with the serial number, or Windows waits for minutes | the table |
//! | PREVENT is refused, or macOS never looks again; ALLOW is not, or Linux and Windows cannot eject | the table, `core/src/drive/tests/commands.rs` |
//! | a volume never changes under a host; for news the medium goes (2/3A) and comes back (6/28) | `contents.rs` |
//! | macOS finds its three quiet files, with their long names | `contents.rs`, `core/src/drive/tests/volume.rs` |
//! | sectors of 512 bytes; the kind of FAT follows from the number of clusters; the label in both places | `core/src/drive/tests/volume.rs` |
//! | a removable disk without a partition table | the table: INQUIRY, first sector |
//! | the answer to GET MAX LUN of a composite device, and no stall where more is asked for than there is | the image's tests, the table |

use yarn_scale_core::converter::SampleRate;
use yarn_scale_sim::device::simulator::{JOURNAL_BYTES, Simulator, calibrated_flash};
use yarn_scale_sim::world::{Room, Unit, World};
use yarn_scale_tests::disk::{Computer, FAILED, GOOD};
use yarn_scale_tests::values::rows;

/// Bytes of a text of the table in which `last` and `count` stand for the number of the last sector, and of all.
fn bytes(text: &str, sectors: u32) -> Vec<u8> {
    let words = text.split_whitespace();
    words
        .flat_map(|word| match word {
            "last" => (sectors - 1).to_be_bytes().to_vec(),
            "count" => sectors.to_be_bytes().to_vec(),
            _ => vec![u8::from_str_radix(word, 16).expect(word)],
        })
        .collect()
}

fn play(host: &str) {
    let world = World::new(Unit::typical(3), SampleRate::Ten, Room::constant());
    // How large the volume is, another command asks: the first to ask would be told that the medium is new.
    let attached = || {
        let mut scale = Simulator::with_flash(world.clone(), calibrated_flash(&world, JOURNAL_BYTES));
        scale.switch_on();
        scale.pass(3.0, |_| {});
        let mut computer = Computer::with(scale);
        computer.scale.pass(3.0, |_| {});
        computer
    };
    let mut other = attached();
    other.ready();
    let sectors = other.sectors();
    let mut computer = attached();
    let mut played = 0;
    for row in rows("first_requests.csv").iter().filter(|row| row.text(0) == host) {
        let (request, size) = (row.text(1), row.number(3) as usize);
        let (came, residue, status) = computer.command(&bytes(row.text(2), sectors), size);
        if let Some(sense) = row.text(4).strip_prefix("sense ") {
            assert_eq!(status, FAILED, "{host}: {request}");
            // The table asks itself where the host's own question is of interest.
            if !sense.ends_with("28") {
                let expected = bytes(sense, sectors);
                assert_eq!(computer.sense(), (expected[0], expected[1]), "{host}: {request}");
            }
        } else {
            let expected = bytes(row.text(4), sectors);
            assert_eq!(status, GOOD, "{host}: {request}");
            assert_eq!(came.len(), size, "{host}: {request}");
            assert!(came.starts_with(&expected), "{host}: {request}: {came:02x?}");
            if size.is_multiple_of(512) {
                assert_eq!(residue, 0, "{host}: {request}: sectors come whole");
            }
        }
        played += 1;
    }
    assert!(played > 10, "{host}: {played} requests");
}

#[test]
fn linux_finds_the_drive_and_lets_it_go() {
    play("linux");
}

#[test]
fn windows_finds_the_drive_and_lets_it_go() {
    play("windows");
}

#[test]
fn macos_finds_the_drive_and_lets_it_go() {
    play("macos");
}

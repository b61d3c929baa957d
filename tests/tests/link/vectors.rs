//! Every message of the protocol, byte by byte: what stands on the line today stands there for ever.

use std::fmt::Debug;

use serde::Serialize;
use serde::de::DeserializeOwned;
use yarn_scale_core::journal::{JournalFault, Named, RingName, Sequence};
use yarn_scale_core::link::{
    Answer, Ask, Conversion, DeviceInfo, LinkNote, MAX_FRAME, Position, Refusal, Request, Response, decode, encode,
};
use yarn_scale_core::sock::{Fibre, Label, YarnLetter};
use yarn_scale_core::units::Milligrams;
use yarn_scale_tests::line::restore;
use yarn_scale_tests::values::rows;

fn name(what: Named, name: &str) -> LinkNote {
    let name = name.try_into().expect("a short name");
    LinkNote::Name { what, name }
}

fn note(expected: u32, note: LinkNote) -> Ask {
    Ask::Note {
        expected: Sequence(expected),
        note,
    }
}

fn asks() -> Vec<(&'static str, Ask)> {
    let label = Label {
        metres_per_100_g: 420,
        fibre: Fibre::Wool,
    };
    let on = Position {
        part: 1,
        sector: Some(130),
        entries: 300,
    };
    let entries: [&[u8]; 2] = [&[0xA1, 1, 0x3C, 17, 5], &[0xA1, 2, 0x3D, 17, 9]];
    vec![
        ("hello", Ask::Hello),
        ("read from the beginning", Ask::Read(Position::default())),
        ("read on", Ask::Read(on)),
        ("note a pair's name", note(1_000, name(Named::Pair(2), "Toes"))),
        ("note a yarn's name", note(6, name(Named::Yarn(YarnLetter::C), "rust"))),
        ("note the clock", note(5, LinkNote::Clock { unix: 1_790_000_000 })),
        (
            "note a yarn's band",
            note(
                6,
                LinkNote::Yarn {
                    letter: YarnLetter::B,
                    label,
                },
            ),
        ),
        ("note that room is to be made", note(70, LinkNote::MakeRoom)),
        ("restore", restore(RingName::Marks, &entries)),
        ("begin a restore", Ask::RestoreBegin),
        (
            "end a restore",
            Ask::RestoreEnd {
                entries: 300,
                checksum: 0xCBF4_3926,
            },
        ),
        ("ask for the ends", Ask::Ends),
        ("ask for conversions", Ask::Conversions),
    ]
}

fn answers() -> Vec<(&'static str, Answer)> {
    let device = DeviceInfo {
        protocol: 2,
        schema: 1,
        program: "0.1.0".try_into().expect("short"),
        capacity: Milligrams(500_000),
        pair: 3,
        next: Sequence(70),
        used_percent: 12,
    };
    let next = Position {
        part: 2,
        sector: Some(7),
        entries: 0,
    };
    let entries = |ring, bytes: &[u8], next| Answer::Entries {
        ring,
        bytes: bytes.try_into().expect("few"),
        next,
    };
    vec![
        ("device", Answer::Device(device)),
        ("entries", entries(RingName::Marks, &[0, 2, 0xA1, 5], Some(next))),
        ("entries to the end", entries(RingName::Visits, &[], None)),
        ("noted", Answer::Noted(Sequence(70))),
        ("restored", Answer::Restored),
        ("busy", Answer::Refused(Refusal::Busy)),
        ("stale", Answer::Refused(Refusal::Stale)),
        ("foreign", Answer::Refused(Refusal::Foreign)),
        ("not noted", Answer::Refused(Refusal::NotNoted(JournalFault::Full))),
        ("no such place", Answer::Refused(Refusal::NoSuchPlace)),
        ("no journal", Answer::Refused(Refusal::NoJournal)),
        ("no need", Answer::Refused(Refusal::NoNeed)),
        (
            "not noted during a restore",
            Answer::Refused(Refusal::NotNoted(JournalFault::Restoring)),
        ),
        ("a restore has begun", Answer::RestoreBegun { visits: 14 }),
        ("unreadable behind marks and visits", Answer::Ends(6)),
        (
            "conversions",
            Answer::Conversions {
                missed: true,
                all: [(70_000, -8_388_608), (70_100, 123_456)]
                    .into_iter()
                    .flat_map(|(at, raw)| Conversion { at, raw }.to_bytes())
                    .collect(),
            },
        ),
    ]
}

fn hex(bytes: &[u8]) -> String {
    bytes.iter().map(|byte| format!("{byte:02x}")).collect()
}

/// Both ways: the message makes these bytes, and these bytes make the message.
fn check<T: Serialize + DeserializeOwned + PartialEq + Debug>(direction: &str, messages: Vec<(&str, T)>) {
    let table: Vec<_> = rows("link_frames.csv")
        .into_iter()
        .filter(|row| row.text(0) == direction)
        .collect();
    assert_eq!(table.len(), messages.len(), "each message has its row");
    for (row, (name, message)) in table.iter().zip(messages) {
        assert_eq!(row.text(1), name);
        let mut buffer = [0; MAX_FRAME];
        let frame = encode(&message, &mut buffer).expect("it fits");
        assert_eq!(hex(frame), row.text(3), "{name}");
        let body = postcard::to_slice(&message, &mut [0; MAX_FRAME])
            .map(|body| hex(body))
            .expect("it fits");
        assert_eq!(body, row.text(2), "{name}");
        assert_eq!(decode::<T>(&frame[..frame.len() - 1]), Ok(message), "{name}");
    }
}

#[test]
fn questions_have_the_bytes_of_the_protocol() {
    let asks = asks().into_iter().map(|(name, ask)| (name, Request { id: 7, ask }));
    check("to scale", asks.collect());
}

#[test]
fn answers_have_the_bytes_of_the_protocol() {
    let answers = answers()
        .into_iter()
        .map(|(name, answer)| (name, Response { id: 7, answer }));
    check("from scale", answers.collect());
}

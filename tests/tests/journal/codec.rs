//! Entries as bytes: what was encoded decodes to the same, nothing else decodes, and every kind fits.

use proptest::prelude::*;
use yarn_scale_core::journal::{
    DecodeFault, Entry, JournalFault, MAX_ENCODED, Named, Record, SCHEMA, Sequence, Setting, StartCause, decode,
    encode, packed,
};
use yarn_scale_core::measured::Measured;
use yarn_scale_core::sock::{
    BowlNumber, Construction, Humidity, Line, MAX_LINES, SectionKind, SectionUse, Sock, ToeConstruction, Weight,
    YarnLetter,
};
use yarn_scale_core::units::{FineCounts, Milligrams, Stamp};
use yarn_scale_tests::knitting;
use yarn_scale_tests::records::{KINDS, any_entry, any_measured, kind, record_of_kind};

fn bytes(entry: &Entry) -> Vec<u8> {
    encode(entry, &mut [0; MAX_ENCODED])
        .expect("an entry that can be written")
        .to_vec()
}

fn entry(record: Record) -> Entry {
    Entry {
        sequence: Sequence(u32::MAX),
        at: Stamp(u32::MAX),
        record,
    }
}

proptest! {
    #[test]
    fn decoding_undoes_encoding(entry in any_entry()) {
        prop_assert_eq!(decode(&bytes(&entry)), Ok(entry));
    }

    #[test]
    fn every_kind_can_be_made(kinds in (1..KINDS).prop_flat_map(|wanted| (Just(wanted), record_of_kind(wanted)))) {
        let (wanted, record) = kinds;
        prop_assert_eq!(kind(&record), wanted);
    }

    #[test]
    fn a_part_of_an_entry_is_none(entry in any_entry(), keep in any::<prop::sample::Index>()) {
        let bytes = bytes(&entry);
        let part = &bytes[..keep.index(bytes.len())];
        prop_assert_eq!(decode(part), Err(DecodeFault::Malformed));
    }

    #[test]
    fn nothing_may_stand_behind_an_entry(entry in any_entry(), more in any::<u8>()) {
        let mut bytes = bytes(&entry);
        bytes.push(more);
        prop_assert_eq!(decode(&bytes), Err(DecodeFault::Malformed));
    }

    #[test]
    fn another_version_is_told_from_garbage(entry in any_entry(), version in 0..16_u8) {
        let mut bytes = bytes(&entry);
        let ours = bytes[0];
        bytes[0] = (ours & 0xF0) | version;
        let wanted = if (1..=SCHEMA).contains(&version) { Ok(entry) } else { Err(DecodeFault::Version) };
        prop_assert_eq!(decode(&bytes), wanted);
        bytes[0] = ours ^ 0x40;
        prop_assert_eq!(decode(&bytes), Err(DecodeFault::Malformed));
    }

    #[test]
    fn arbitrary_bytes_decode_to_nothing_or_to_what_encodes_again(bytes in prop::collection::vec(any::<u8>(), 0..64)) {
        if let Ok(entry) = decode(&bytes) {
            prop_assert!(encode(&entry, &mut [0; MAX_ENCODED]).is_ok());
        }
    }

    #[test]
    fn no_entry_has_a_run_that_looks_blank(entry in any_entry()) {
        // When a header is damaged, the library looks for the next one byte by byte, up to eight blank bytes.
        let bytes = bytes(&entry);
        prop_assert!(!bytes.windows(8).any(|run| run.iter().all(|&byte| byte == 0xFF)), "{:02x?}", bytes);
    }

    #[test]
    fn no_uncertainty_changes_on_the_way(measured in any_measured()) {
        let entry = entry(Record::Control { weight: measured });
        let Ok(Entry { record: Record::Control { weight }, .. }) = decode(&bytes(&entry)) else {
            return Err(TestCaseError::fail("another record"));
        };
        prop_assert_eq!(weight.u.to_bits(), measured.u.to_bits());
    }
}

#[test]
fn zeros_and_ones_of_any_length_are_not_believed() {
    for length in 0..=MAX_ENCODED {
        assert_eq!(decode(&vec![0; length]), Err(DecodeFault::Malformed));
        assert_eq!(decode(&vec![0xFF; length]), Err(DecodeFault::Malformed));
    }
}

#[test]
fn what_is_reserved_is_neither_written_nor_believed() {
    let reserved = entry(Record::Reserved);
    assert_eq!(encode(&reserved, &mut [0; MAX_ENCODED]), Err(JournalFault::Unwritable));
    let mut numbered = entry(Record::Lost { count: 1 });
    numbered.sequence = Sequence(0);
    assert_eq!(encode(&numbered, &mut [0; MAX_ENCODED]), Err(JournalFault::Unwritable));
    // Version, number 1, time 0, variant 0.
    assert_eq!(decode(&[0xA1, 1, 0, 0]), Err(DecodeFault::Malformed));
    // Version, number 0, time 0, variant 19 (records lost), one.
    assert_eq!(decode(&[0xA1, 0, 0, 19, 1]), Err(DecodeFault::Malformed));
    assert!(decode(&[0xA1, 1, 0, 19, 1]).is_ok());
}

/// An uncertainty that is no number would count as none at all, and what the answers say of the rest as certain: a backup that holds
/// one is not believed, however right its checksums are. So with one below nothing.
#[test]
fn a_weight_without_an_uncertainty_is_not_believed() {
    for u in [f32::NAN, f32::INFINITY, f32::NEG_INFINITY, -1.0, -f32::NAN] {
        let mass = Measured {
            value: Milligrams(20_000),
            u,
        };
        let weight = Weight {
            net: mass,
            bowl: None,
            air: None,
        };
        for record in [
            Record::Control { weight: mass },
            Record::SharedZeroMark {
                line: 0,
                yarn: YarnLetter::A,
                weight: knitting::weight(20_000),
                used_u: u,
            },
            Record::Amended {
                of: Sequence(3),
                weight,
            },
            Record::Visit {
                gross: mass,
                bowl: None,
                zero: FineCounts(0),
            },
        ] {
            let forged = bytes(&entry(record));
            assert_eq!(decode(&forged), Err(DecodeFault::Malformed), "± {u} mg");
        }
    }
}

#[test]
fn the_longest_record_of_each_kind_fits() {
    let mut longest = 0;
    for record in longest_records() {
        let length = bytes(&entry(record)).len();
        longest = longest.max(length);
    }
    println!("longest entry: {longest} of {MAX_ENCODED} bytes");
    assert!(longest <= MAX_ENCODED);
    assert!(
        longest > MAX_ENCODED - 64,
        "the buffer is {MAX_ENCODED}, the longest entry only {longest}"
    );
}

/// Each kind with every number and list at its longest.
fn longest_records() -> Vec<Record> {
    let measured = Measured {
        value: Milligrams(i32::MIN),
        u: f32::MAX,
    };
    let weight = Weight {
        net: measured,
        bowl: Some(BowlNumber(u8::MAX)),
        air: Some(Humidity(u8::MAX)),
    };
    let yarn = YarnLetter::H;
    let line = Line {
        kind: SectionKind::Toe,
        sock: Sock::Second,
        yarn,
        construction: Construction::Toe(ToeConstruction::Asymmetric),
        stitches: u8::MAX,
    };
    let used = SectionUse {
        line,
        used: measured,
        doubtful: true,
    };
    let of = Sequence(u32::MAX);
    vec![
        Record::Started(StartCause::Panic(u32::MAX)),
        Record::PairBegun {
            pair: u16::MAX,
            lines: [line; MAX_LINES].into_iter().collect(),
        },
        Record::LateMark {
            line: u8::MAX,
            yarn,
            weight,
            visited: Stamp(u32::MAX),
            before: Some((of, u8::MAX)),
        },
        Record::Amended { of, weight },
        Record::Visit {
            gross: measured,
            bowl: weight.bowl,
            zero: FineCounts(i32::MIN),
        },
        Record::Setting(Setting::BowlInUse(weight.bowl)),
        Record::Named {
            what: Named::Pair(u16::MAX),
            name: "abcdefghijklmnopqrstuvwx".try_into().expect("24 bytes"),
        },
        Record::Condensed {
            pair: u16::MAX,
            sections: core::iter::repeat_n(used, MAX_LINES).collect(),
        },
    ]
}

/// A row of entries takes what fits it to the byte, refuses the first byte more whole, and gives back what it took.
#[test]
fn a_row_takes_what_fits_and_nothing_of_what_does_not() {
    let mut row = heapless::Vec::<u8, 12>::new();
    assert_eq!(packed::put(&mut row, &[1, 2, 3]), Ok(()));
    for long in 6..9 {
        assert_eq!(
            packed::put(&mut row, &[7; 9][..long]),
            Err(JournalFault::Full),
            "{long} bytes"
        );
        assert_eq!(row.len(), 5);
    }
    assert_eq!(packed::put(&mut row, &[4, 5, 6, 7, 8]), Ok(()));
    let (first, behind) = packed::split(&row).expect("the first");
    let (second, end) = packed::split(behind).expect("the second");
    assert_eq!((first, second), (&[1, 2, 3][..], &[4, 5, 6, 7, 8][..]));
    assert_eq!(packed::split(end), None);
}

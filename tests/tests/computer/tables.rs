//! The tables, column by column, of a journal whose every amount is known beforehand.

use clap::Parser;
use yarn_scale_core::journal::{Journal, Named, Record};
use yarn_scale_core::sock::{Construction, Line, Ribbing, SectionKind, Sock, YarnLetter};
use yarn_scale_core::units::Stamp;
use yarn_scale_sim::cli::Program;
use yarn_scale_sim::device::flash::SimFlash;
use yarn_scale_sim::product::Product;
use yarn_scale_tests::knitting::weight;

fn line(kind: SectionKind, sock: Sock, yarn: YarnLetter, construction: Construction, stitches: u8) -> Line {
    Line {
        kind,
        sock,
        yarn,
        construction,
        stitches,
    }
}

fn printed(words: &[&str]) -> String {
    let mut out = Vec::new();
    let arguments = ["yarn-scale", "table"].iter().chain(words);
    Product::parse_from(arguments).run(&mut out).expect("a table");
    String::from_utf8(out).expect("text")
}

#[test]
fn every_column_says_what_it_is_called() {
    use YarnLetter::{A, B};
    let rib = Construction::Ribbed(Ribbing::OneByOne);
    let lines = [
        line(SectionKind::Cuff, Sock::First, B, rib, 60),
        line(SectionKind::Foot, Sock::First, A, Construction::Plain, 64),
        line(SectionKind::Cuff, Sock::Second, B, rib, 62),
        line(SectionKind::Toe, Sock::Second, A, Construction::Plain, 0),
        line(SectionKind::Part2, Sock::Second, A, Construction::PartOf(3), 0),
    ];
    let mark = |line, yarn, mg| Record::Mark {
        line,
        yarn,
        weight: weight(mg),
    };
    let weighed = |yarn, mg| Record::WeighIn {
        yarn,
        weight: weight(mg),
    };
    let records = [
        Record::PairBegun {
            pair: 1,
            lines: lines.into_iter().collect(),
        },
        weighed(A, 90_000),
        weighed(B, 30_000),
        mark(0, B, 25_900),
        mark(1, A, 77_000),
        mark(2, B, 21_700),
        mark(4, A, 70_000),
        Record::Named {
            what: Named::Pair(1),
            name: "Toes".try_into().expect("short"),
        },
    ];
    let mut flash = SimFlash::blank(1 << 18);
    let mut journal = Journal::open(&mut flash, |_| {}).expect("a blank chip");
    for (at, record) in (0..).zip(records) {
        journal.append(&mut flash, Stamp(100 * at), record).expect("room");
    }
    let folder = tempfile::tempdir().expect("a folder");
    let file = folder.path().join("image");
    std::fs::write(&file, flash.content()).expect("a file");
    let file = file.to_str().expect("a plain path");
    let table = printed(&["--file", file]);
    let rows: Vec<Vec<&str>> = table.lines().map(|row| row.split(',').collect()).collect();
    // The uncertainty is another test's matter.
    let told: Vec<String> = rows
        .iter()
        .map(|row| [&row[..9], &row[10..]].concat().join(","))
        .collect();
    assert_eq!(
        told,
        [
            "pair,name,place,section,sock,yarn,construction,stitches,used_mg,at_s,utc_s,utc,amended,late,doubtful",
            "1,Toes,1,cuff,1,B,1x1 rib,60,4100,300,,,false,false,false",
            "1,Toes,2,foot,1,A,plain,64,13000,400,,,false,false,false",
            "1,Toes,3,cuff,2,B,1x1 rib,62,4200,500,,,false,false,false",
            "1,Toes,5,part 2,2,A,part,0,7000,600,,,false,false,false",
        ]
    );
    let json: serde_json::Value = serde_json::from_str(&printed(&["--json", "--file", file])).expect("JSON");
    let socks: Vec<_> = json
        .as_array()
        .expect("rows")
        .iter()
        .map(|row| row["sock"].as_u64())
        .collect();
    assert_eq!(socks, [Some(1), Some(1), Some(2), Some(2)]);
}

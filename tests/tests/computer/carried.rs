//! A yarn that went on in another pair, as tables and page tell it: in the first pair it is elsewhere and nothing of it is left, in the
//! other it was weighed in. Also where the first pair is finished before, and where the second one's records correct it.

use clap::Parser;
use yarn_scale_core::journal::{Journal, PairEvent, Record};
use yarn_scale_core::sock::{Order, Preset, YarnLetter};
use yarn_scale_core::units::Stamp;
use yarn_scale_sim::cli::Program;
use yarn_scale_sim::device::flash::SimFlash;
use yarn_scale_sim::product::Product;
use yarn_scale_tests::knitting::weight;

fn run(words: &[&str]) -> String {
    let mut out = Vec::new();
    let arguments = ["yarn-scale"].iter().chain(words);
    Product::parse_from(arguments).run(&mut out).expect("it runs");
    String::from_utf8(out).expect("text")
}

fn image(finished: bool) -> Vec<u8> {
    use YarnLetter::{A, B};
    let mut flash = SimFlash::blank(1 << 18);
    let mut journal = Journal::open(&mut flash, |_| {}).expect("a blank chip");
    let mut at = 0;
    let mut note = |record| {
        at += 100;
        let entry = journal.append(&mut flash, Stamp(at), record);
        entry.expect("room").sequence
    };
    let lines = || Preset::ContrastCuffsHeelsToes.lines(Order::OneAfterTheOther);
    let weigh_in = |yarn, mg| PairEvent::WeighIn {
        yarn,
        weight: weight(mg),
    };
    let mark = |line, yarn, mg| PairEvent::Mark {
        line,
        yarn,
        weight: weight(mg),
        used_u: None,
    };
    for pair in [1, 2] {
        note(Record::PairBegun { pair, lines: lines() });
    }
    let of = |pair, event| Record::OfPair { pair, event };
    note(of(1, weigh_in(B, 30_000)));
    note(of(1, mark(0, B, 25_000)));
    if finished {
        note(Record::PairClosed { pair: 1 });
    }
    let carried = note(of(
        2,
        PairEvent::Carried {
            yarn: A,
            from: 1,
            was: B,
            weight: weight(24_000),
        },
    ));
    note(of(
        2,
        PairEvent::Amended {
            of: carried,
            weight: weight(24_010),
        },
    ));
    note(of(2, mark(1, A, 10_010)));
    flash.content().to_vec()
}

#[test]
fn tables_and_page_count_it_once() {
    for finished in [false, true] {
        let folder = tempfile::tempdir().expect("a folder");
        let file = folder.path().join("image");
        std::fs::write(&file, image(finished)).expect("a file");
        let file = file.to_str().expect("a plain path");
        let table = run(&["table", "yarns", "--file", file]);
        let rows: Vec<Vec<&str>> = table.lines().map(|row| row.split(',').collect()).collect();
        let place = |name: &str| {
            rows[0]
                .iter()
                .position(|column| column.contains(name))
                .expect("a column")
        };
        let columns = ["weighed_in", "used", "elsewhere", "left"].map(place);
        let told: Vec<Vec<&str>> = rows[1..]
            .iter()
            .map(|row| {
                [0, place("yarn")]
                    .iter()
                    .chain(&columns)
                    .map(|&column| row[column])
                    .collect()
            })
            .collect();
        assert_eq!(
            told,
            [
                ["1", "B", "30000", "5000", "25000", "0"],
                ["2", "A", "24010", "14000", "0", "10010"],
            ]
        );
        let page = folder.path().join("page.html");
        let page = page.to_str().expect("a plain path");
        run(&["report", "--file", file, page]);
        let page = std::fs::read_to_string(page).expect("a page");
        assert_eq!(page.matches("goes on in pair 2").count(), 1, "finished: {finished}");
        // In its row nothing is left, and its line in the chart ends without a rest.
        let row = page.split("goes on in pair 2").nth(1).expect("its row");
        let row = row.split("</tr>").next().expect("its end");
        let cells: Vec<&str> = row.split("<td class=\"n\">").skip(1).collect();
        assert!(cells[0].starts_with("30.0") && cells[3].starts_with("0.0"), "{cells:?}");
        let rests = |yarn: &str| {
            page.match_indices("<text ")
                .filter(|(at, _)| {
                    let text = page[*at..].split('>').nth(1).expect("a text");
                    text.starts_with(&format!("{yarn} ")) && text.contains(" g<")
                })
                .count()
        };
        assert_eq!((rests("A"), rests("B")), (1, 0), "finished: {finished}");
    }
}

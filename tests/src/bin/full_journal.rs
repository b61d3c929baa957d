//! Knits on: takes the journal area of a device's flash and gives it back as it is so many pairs later; of 900 the ring of marks
//! is full and has come round. For the image: how long it takes to start then, and whether it can be restored.

use std::process::ExitCode;

use yarn_scale_sim::device::flash::SimFlash;
use yarn_scale_tests::durability::Years;

fn main() -> ExitCode {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    let [from, to, pairs] = arguments.as_slice() else {
        eprintln!("usage: full_journal FROM TO PAIRS");
        return ExitCode::from(2);
    };
    let Ok(pairs) = pairs.parse() else {
        eprintln!("{pairs}: not a number of pairs");
        return ExitCode::from(2);
    };
    let knitted = std::fs::read(from).and_then(|content| std::fs::write(to, knit_on(content, pairs)));
    match knitted {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => {
            eprintln!("{from} or {to}: {error}");
            ExitCode::from(2)
        }
    }
}

fn knit_on(content: Vec<u8>, pairs: u16) -> Vec<u8> {
    let mut years = Years::from(SimFlash::with_content(content));
    let first = years.ledger.pair() + 1;
    for pair in first..first + pairs {
        years.knit_a_pair(pair).expect("room");
        years.visit(5).expect("room");
    }
    years.flash.content().to_vec()
}

//! Knits on: takes the journal area of a device's flash and gives it back as it is 900 pairs later, with the ring of marks
//! full and come round. For measuring how long a device takes to start then.

use std::process::ExitCode;

use yarn_scale_sim::flash::SimFlash;
use yarn_scale_tests::durability::Years;

const PAIRS: u16 = 900;

fn main() -> ExitCode {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    let [from, to] = arguments.as_slice() else {
        eprintln!("usage: full_journal FROM TO");
        return ExitCode::from(2);
    };
    let knitted = std::fs::read(from).and_then(|content| std::fs::write(to, knit_on(content)));
    match knitted {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => {
            eprintln!("{from} or {to}: {error}");
            ExitCode::from(2)
        }
    }
}

fn knit_on(content: Vec<u8>) -> Vec<u8> {
    let mut years = Years::from(SimFlash::with_content(content));
    let first = years.ledger.pair() + 1;
    for pair in first..first + PAIRS {
        years.knit_a_pair(pair).expect("room");
        years.visit(5).expect("room");
    }
    years.flash.content().to_vec()
}

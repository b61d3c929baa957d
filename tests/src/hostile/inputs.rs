//! Any sequence of inputs to the application: it neither panics nor loses an effect, and no mass appears or vanishes.

use yarn_scale_core::app::Input;
use yarn_scale_core::board::{Climate, Levels};
use yarn_scale_core::converter::{ConverterFault, RawSample};
use yarn_scale_core::journal::JournalFault;
use yarn_scale_core::sock::YarnLetter;
use yarn_scale_core::units::{Counts, Millivolts};

use super::Entropy;
use crate::bench::{Bench, Key};

pub(super) fn check(data: &[u8]) {
    let mut entropy = Entropy::new(data);
    let mut bench = if entropy.byte().is_multiple_of(4) {
        Bench::uncalibrated()
    } else {
        Bench::new()
    };
    for _ in 0..LONGEST {
        if entropy.is_empty() {
            break;
        }
        happen(&mut bench, &mut entropy);
        let _ = bench.app.view();
        assert_eq!(bench.app.dropped_effects(), 0);
        let ledger = bench.app.book().ledger();
        for yarn in YarnLetter::ALL {
            let account = ledger.account(yarn);
            let given = i64::from(account.used.0) + i64::from(account.unplanned.0) + i64::from(account.left.0);
            assert_eq!(i64::from(account.weighed_in.0), given, "{yarn:?}: {account:?}");
        }
    }
}

fn happen(bench: &mut Bench, entropy: &mut Entropy<'_>) {
    let key = [Key::Zero, Key::Mark, Key::Next][entropy.below(3)];
    match entropy.below(16) {
        0..=3 => bench.press(key),
        4 => bench.hold(key),
        5 => {
            let byte = entropy.byte();
            let [zero, mark, next] = [1, 2, 4].map(|bit| byte & bit != 0);
            bench.tell(Input::Keys(Levels { zero, mark, next }));
        }
        6..=8 => bench.put(f64::from(entropy.number() % 6_000) / 10.0),
        9 => bench.set(f64::from(entropy.number() % 6_000) / 10.0),
        10 => bench.wait(f64::from(entropy.byte()) / 10.0),
        11 => bench.tell(Input::Sample(Ok(RawSample(Counts(entropy.number() as i32))))),
        12 => bench.silence(
            0.3,
            [ConverterFault::Missing, ConverterFault::StuckLow][entropy.below(2)],
        ),
        13 => bench.tell(Input::Supply(Millivolts(entropy.number() as u16))),
        14 => {
            let air = f32::from_bits(entropy.number());
            bench.tell(Input::Climate(Climate {
                humidity_percent: air,
                celsius: air,
            }));
        }
        _ => {
            let faults = [
                None,
                Some(JournalFault::Full),
                Some(JournalFault::Flash),
                Some(JournalFault::Uncondensed),
            ];
            bench.paper.refuse = faults[entropy.below(faults.len())];
        }
    }
}

const LONGEST: usize = 60;

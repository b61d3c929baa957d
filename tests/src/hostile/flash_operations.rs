//! Any story, and power that fails anywhere in it: bytes choose what is noted, when power goes and what that leaves.

use yarn_scale_core::journal::{Record, Setting, StartCause};
use yarn_scale_core::ledger::MAX_STEPS;
use yarn_scale_core::sock::{BowlNumber, YarnLetter};
use yarn_scale_sim::device::flash::Tear;

use super::Entropy;
use crate::durability::{Scale, Step};
use crate::knitting;

pub(super) fn check(data: &[u8]) {
    let mut entropy = Entropy::new(data);
    let mut scale = Scale::new(48 << 10).expect("a blank flash opens");
    let mut story = Story::default();
    for _ in 0..LONGEST {
        if entropy.is_empty() {
            break;
        }
        let step = story.next(&mut entropy);
        scale
            .tell_until_done(&step, |flash| {
                let cut = entropy.byte();
                if cut.is_multiple_of(4) && !entropy.is_empty() {
                    let tears = Tear::all(u64::from(entropy.number()));
                    flash.cut_after(u64::from(cut / 4) % 8, tears[entropy.below(tears.len())]);
                }
            })
            .unwrap_or_else(|what| panic!("{step:?}: {what}"));
    }
    scale.end().unwrap_or_else(|what| panic!("{what}"));
}

/// What was told so far, as far as the next step must fit it.
#[derive(Default)]
struct Story {
    pair: u16,
    state: Pair,
    weights: usize,
}

#[derive(Default, PartialEq)]
enum Pair {
    #[default]
    Condensed,
    Closed,
    Open,
}

impl Story {
    fn next(&mut self, entropy: &mut Entropy<'_>) -> Step {
        let yarn = YarnLetter::ALL[entropy.below(3)];
        let line = entropy.below(12) as u8;
        let weight = knitting::weight((entropy.number() % 200_000) as i32);
        Step::Note(match (entropy.below(16), &self.state) {
            (0, _) => return Step::Tidy,
            (1, _) => return Step::Restart,
            (2, _) => Record::Started(StartCause::PowerOn),
            (3..=4, _) => knitting::visit(weight.net.value.0),
            (5, _) => Record::Setting(Setting::BowlInUse(Some(BowlNumber(line)))),
            (6, _) => Record::Bowl {
                number: BowlNumber(line % 10),
                mass: weight.net,
            },
            (7, Pair::Open) => {
                self.state = Pair::Closed;
                Record::PairClosed { pair: self.pair }
            }
            (_, Pair::Closed) => {
                self.state = Pair::Condensed;
                return Step::Condense;
            }
            (7..=10, Pair::Condensed) => {
                self.pair += 1;
                (self.state, self.weights) = (Pair::Open, 0);
                Record::PairBegun {
                    pair: self.pair,
                    lines: knitting::plan(),
                }
            }
            (8, Pair::Open) => Record::LineChanged {
                index: line,
                line: knitting::plan()[usize::from(line)],
            },
            (9.., Pair::Open) if self.weights < MAX_STEPS => {
                self.weights += 1;
                Record::WeighIn { yarn, weight }
            }
            _ => Record::Setting(Setting::Brightness(line)),
        })
    }
}

/// Steps at most: no more than fit without giving up the last closed pair.
const LONGEST: usize = 300;

//! What happens to a pair of an invented journal.

use rand::RngExt;
use yarn_scale_core::journal::{Gauge, PairEvent, Record, Setting};
use yarn_scale_core::ledger::Purpose;
use yarn_scale_core::sock::{
    BowlNumber, Construction, Fibre, HeelConstruction, Label, Line, MAX_LINES, Ribbing, SectionKind, Sock,
    ToeConstruction, Weight, YarnLetter,
};
use yarn_scale_core::units::Stamp;

use super::Story;
use crate::knitting::{visit, weight};

impl Story {
    pub(super) fn line(&mut self) -> Line {
        let constructions = [
            Construction::Plain,
            Construction::Ribbed(Ribbing::OneByOne),
            Construction::Ribbed(Ribbing::TwoByTwo),
            Construction::Ribbed(Ribbing::Twisted),
            Construction::Heel(HeelConstruction::FlapAndGusset),
            Construction::Heel(HeelConstruction::ShortRow),
            Construction::Heel(HeelConstruction::Afterthought),
            Construction::Toe(ToeConstruction::Wedge),
            Construction::Toe(ToeConstruction::Rounded),
            Construction::Toe(ToeConstruction::Asymmetric),
        ];
        Line {
            kind: SectionKind::ALL[self.below(6)],
            sock: [Sock::First, Sock::Second][self.below(2)],
            yarn: YarnLetter::ALL[self.below(4)],
            construction: constructions[self.below(10)],
            stitches: self.below(256) as u8,
        }
    }

    /// The air is left out: what moisture is worth is no matter of the journal.
    pub(super) fn weight(&mut self) -> Weight {
        let mut weight = weight(self.random.random_range(0..150_000));
        if self.random.random_ratio(1, 8) {
            weight.bowl = Some(BowlNumber(1 + self.below(9) as u8));
        }
        weight
    }

    /// One thing of all that can happen to a pair.
    #[allow(clippy::too_many_lines, reason = "a list")]
    pub(super) fn happens(&mut self) {
        let places = self.ledger().plan().lines.len() as u8;
        let line = self.below(usize::from(places)) as u8;
        // What ends a chain belongs to the pair in which it goes on.
        let mut steps = self.ledger().steps().to_vec();
        steps.retain(|step| !step.ends());
        let step = (!steps.is_empty()).then(|| steps[self.below(steps.len())]);
        let yarn = step.map_or(YarnLetter::A, |step| step.yarn);
        let weighed = self.ledger().last(yarn).is_some();
        let weight = self.weight();
        match self.below(if self.is_old { 16 } else { 21 }) {
            0..=4 if weighed => {
                self.note(Record::Mark { line, yarn, weight });
            }
            5 if weighed => {
                let used_u = 4.5;
                self.note(Record::SharedZeroMark {
                    line,
                    yarn,
                    weight,
                    used_u,
                });
            }
            6 => {
                let yarn = YarnLetter::ALL[self.below(8)];
                self.note(Record::WeighIn { yarn, weight });
            }
            7 if weighed => {
                self.note(Record::Unplanned { yarn, weight });
            }
            8 | 9 => {
                if let Some(step) = step {
                    let of = step.sequence;
                    self.note(Record::Amended { of, weight });
                }
            }
            10 => {
                if let Some(of) = self.ledger().newest() {
                    self.note(Record::Undone { of });
                }
            }
            11 if self.ledger().is_skipped(line) => {}
            11 => {
                self.note(Record::Skipped { line });
            }
            12 | 13 if weighed => {
                // Before a mark, or before whatever that yarn did last; never before all of it.
                let marks_only = self.random.random_ratio(1, 2);
                let all = self.ledger().steps().iter().enumerate();
                let of_yarn = all.filter(|(_, step)| step.yarn == yarn && !step.ends());
                let mut fit = of_yarn.filter(|(place, step)| match step.purpose {
                    Purpose::Section(_) => true,
                    Purpose::WeighIn | Purpose::Unplanned | Purpose::Carried(_) => {
                        !marks_only && self.ledger().before(*place).is_some()
                    }
                });
                let later = fit.next_back().map(|(_, step)| step.sequence);
                let place = self.below(usize::from(places)) as u8;
                let before = later
                    .filter(|_| self.random.random_ratio(2, 3))
                    .map(|later| (later, place));
                let visited = Stamp(self.now / 2);
                self.note(Record::LateMark {
                    line,
                    yarn,
                    weight,
                    visited,
                    before,
                });
            }
            14 => {
                let index = self.below(usize::from(places)) as u8;
                let line = self.line();
                let index = if usize::from(places) < MAX_LINES && self.random.random_ratio(1, 3) {
                    places
                } else {
                    index
                };
                self.note(Record::LineChanged { index, line });
            }
            15 => {
                self.note(visit(self.now as i32 % 90_000));
                let minutes = 1 + self.below(30) as u8;
                self.note(Record::Setting(Setting::SleepMinutes(minutes)));
            }
            16 => {
                if let Some(step) = step.filter(|step| step.purpose != Purpose::WeighIn) {
                    let of = step.sequence;
                    self.event(PairEvent::TakenBack { of });
                }
            }
            17 => {
                if let Some(step) = step.filter(|step| step.purpose != Purpose::WeighIn) {
                    let of = step.sequence;
                    self.event(PairEvent::Moved { of, line });
                }
            }
            18 => {
                let yarn = YarnLetter::ALL[self.below(8)];
                let others: Vec<u16> = self.needles.pairs().map(|pair| pair.number()).collect();
                let from = others[self.below(others.len())];
                self.event(PairEvent::Carried {
                    yarn,
                    from,
                    was: YarnLetter::B,
                    weight,
                });
            }
            19 if weighed => {
                let rounds = self.below(500) as u16;
                self.event(PairEvent::Rounds {
                    line,
                    yarn,
                    weight,
                    rounds,
                });
            }
            20 => self.told(yarn),
            _ => {}
        }
    }

    /// What a computer or the knitter tells of the pair.
    fn told(&mut self, yarn: YarnLetter) {
        let event = match self.below(3) {
            0 => PairEvent::Label {
                yarn,
                label: Label {
                    metres_per_100_g: 420,
                    fibre: Fibre::Wool,
                },
            },
            1 => PairEvent::YarnNamed {
                yarn,
                name: "moss".try_into().expect("a short name"),
            },
            _ => PairEvent::Gauge(Gauge {
                stitches: 64,
                ..Gauge::default()
            }),
        };
        self.event(event);
    }
}

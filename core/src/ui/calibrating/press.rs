//! What a press does on the pages of the calibration.

use super::checks::Check;
use super::{Calibrating, Deed, On, Stage, WHAT_NEXT};
use crate::journal::Record;
use crate::measured::Measured;
use crate::screen::RefusedWord;
use crate::ui::action::{Action, Actions, To};
use crate::ui::context::Context;
use crate::ui::highlight::{Highlight, OnList};
use crate::ui::keys::{Key, Press};
use crate::ui::stepped::{OnValue, stepped};
use crate::units::{FineCounts, Milligrams};
use crate::weighing::{COINS, Calibration, CalibrationFault, MOST_COINS, Point};

/// A hand may press a load down by so much, mg: of which a cell with 0.05 % hysteresis keeps about 35 mg at 300 g.
const GENTLE: f32 = 30_000.0;

impl Calibrating {
    pub(in crate::ui) fn press(&mut self, context: &Context<'_>, press: Press) -> Actions {
        self.pressed(context, press)
            .unwrap_or_else(|refused| Action::Refuse(refused).into())
    }

    fn pressed(&mut self, context: &Context<'_>, press: Press) -> Result<Actions, RefusedWord> {
        let stage = match (self.stage, press) {
            (Stage::WhatNext { highlight }, _) => return self.choose(context, press, highlight),
            (Stage::WhichCoin { highlight }, _) => which_coin(press, highlight),
            (Stage::Mass { grams_tenths }, _) => match stepped(press, grams_tenths, 10, (10, context.capacity.0 / 100))
            {
                OnValue::Leave => WHAT_NEXT,
                OnValue::Set(grams_tenths) => Stage::Mass { grams_tenths },
                OnValue::Done => {
                    // Entered in steps of 0.1 g: half a step either way, rectangular (GUM 4.3.7).
                    self.load = Measured {
                        value: Milligrams(grams_tenths.saturating_mul(100)),
                        u: 29.0,
                    };
                    Stage::PutOn(On::Mass)
                }
            },
            (Stage::HowMany { coin, count }, _) => match stepped(press, count.into(), 1, (1, MOST_COINS.into())) {
                OnValue::Leave => WHAT_NEXT,
                OnValue::Set(count) => Stage::HowMany {
                    coin,
                    count: u8::try_from(count).unwrap_or(1),
                },
                OnValue::Done => match COINS.get(usize::from(coin)) {
                    Some(coin) => {
                        self.load = coin.times(count);
                        Stage::PutOn(On::Mass)
                    }
                    None => self.stage,
                },
            },
            (Stage::EmptyPan, Press::Short(Key::Zero)) => return Ok(Actions::go(To::Pan)),
            (
                Stage::PutOn(_) | Stage::Lift { .. } | Stage::Checking(_) | Stage::Proven { .. },
                Press::Short(Key::Zero),
            ) => WHAT_NEXT,
            (Stage::Proven { proof }, Press::Short(Key::Mark)) => {
                return Ok(Actions::note(Record::Calibrated(proof.calibration)).and_go(To::Pan));
            }
            (Stage::EmptyPan | Stage::PutOn(_) | Stage::Lift { .. } | Stage::Checking(_), Press::Short(Key::Mark)) => {
                return self.take_level(context);
            }
            (
                Stage::EmptyPan | Stage::PutOn(_) | Stage::Lift { .. } | Stage::Checking(_) | Stage::Proven { .. },
                Press::Down(_) | Press::Held(_) | Press::Again(_) | Press::Short(Key::Next),
            ) => self.stage,
        };
        self.stage = stage;
        Ok(Actions::none())
    }

    /// A press on the list of what can follow.
    fn choose(
        &mut self,
        context: &Context<'_>,
        press: Press,
        mut highlight: Highlight,
    ) -> Result<Actions, RefusedWord> {
        let deeds = self.deeds();
        match highlight.press(press, deeds.len()) {
            Some(OnList::Back) => return Ok(Actions::go(To::Pan)),
            Some(OnList::Take(row)) => {
                if let Some(&deed) = deeds.get(row) {
                    self.stage = self.begin(context, deed)?;
                }
            }
            None => self.stage = Stage::WhatNext { highlight },
        }
        Ok(Actions::none())
    }

    fn begin(&self, context: &Context<'_>, deed: Deed) -> Result<Stage, RefusedWord> {
        Ok(match deed {
            Deed::KnownMass => Stage::Mass { grams_tenths: 1_000 },
            Deed::Coins => Stage::WhichCoin {
                highlight: Highlight::default(),
            },
            Deed::Cup => Stage::PutOn(On::Cup),
            Deed::Repeat => Stage::Checking(Check::Repeat),
            Deed::Corners => Stage::Checking(Check::Corners),
            Deed::Prove => Stage::Proven {
                proof: Calibration::prove(&self.points, context.capacity).map_err(RefusedWord::Calibration)?,
            },
        })
    }

    /// MARK where the level on the pan is wanted.
    fn take_level(&mut self, context: &Context<'_>) -> Result<Actions, RefusedWord> {
        let from = match self.stage {
            Stage::PutOn(On::WithCup(cup)) => cup,
            Stage::EmptyPan
            | Stage::WhatNext { .. }
            | Stage::Mass { .. }
            | Stage::WhichCoin { .. }
            | Stage::HowMany { .. }
            | Stage::PutOn(On::Mass | On::MassAgain | On::Cup)
            | Stage::Lift { .. }
            | Stage::Checking(_)
            | Stage::Proven { .. } => self.zero,
        };
        let (level, gentle) = steady_level(context, from)?;
        let mut refused = None;
        self.stage = match self.stage {
            Stage::EmptyPan => {
                // The first.
                let _ = self.points.push(Point {
                    load: Milligrams::ZERO,
                    cup: false,
                    u: 0.0,
                    level,
                });
                self.zero = level;
                WHAT_NEXT
            }
            Stage::PutOn(On::Cup) if gentle => Stage::PutOn(On::WithCup(level)),
            Stage::PutOn(on) => {
                refused = (!gentle).then_some(RefusedWord::Pressed);
                Stage::Lift { on, level, gentle }
            }
            Stage::Lift {
                on,
                level: loaded,
                gentle: put_gently,
            } => {
                if !self.lifted(on, loaded, put_gently, level) {
                    refused = Some(RefusedWord::Calibration(CalibrationFault::NotStraight));
                    WHAT_NEXT
                } else if put_gently {
                    self.after(context, on)
                } else {
                    Stage::PutOn(on.first())
                }
            }
            Stage::Checking(check) => {
                let mg_per_count = self.mg_per_count(context);
                if self.checks.place(check, level, mg_per_count) {
                    WHAT_NEXT
                } else {
                    self.stage
                }
            }
            Stage::WhatNext { .. }
            | Stage::Mass { .. }
            | Stage::WhichCoin { .. }
            | Stage::HowMany { .. }
            | Stage::Proven { .. } => self.stage,
        };
        let swept = Actions::from(Action::SweepAnew);
        Ok(match refused {
            Some(word) => swept.and(Action::Refuse(word)),
            None => swept,
        })
    }
}

fn which_coin(press: Press, mut highlight: Highlight) -> Stage {
    match highlight.press(press, COINS.len()) {
        Some(OnList::Back) => WHAT_NEXT,
        Some(OnList::Take(_)) => Stage::HowMany {
            coin: highlight.0,
            count: 10,
        },
        None => Stage::WhichCoin { highlight },
    }
}

/// The level under the finger, in counts, whether calibrated or not, and whether nothing pressed beyond it on the way from `from`;
/// refused while it is not steady.
fn steady_level(context: &Context<'_>, from: FineCounts) -> Result<(FineCounts, bool), RefusedWord> {
    let level = context.scale.level().ok_or(RefusedWord::NotSteady)?;
    let (least, most) = context.scale.extremes();
    let beyond = if level > from {
        most.0.saturating_sub(level.0)
    } else {
        level.0.saturating_sub(least.0)
    };
    let mg = beyond as f32 / FineCounts::PER_COUNT as f32 * context.scale.calibration().mg_per_count().abs();
    Ok((level, mg < GENTLE))
}

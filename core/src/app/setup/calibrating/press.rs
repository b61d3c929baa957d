//! What a press does on the pages of the calibration.

use super::{Calibrating, Deed, On, Stage};
use crate::app::dispatch::App;
use crate::app::keys::{Key, Press};
use crate::app::pages::{OnList, Page, on_list};
use crate::app::setup::checks::Check;
use crate::app::setup::stepped;
use crate::journal::Record;
use crate::measured::Measured;
use crate::screen::RefusedWord;
use crate::units::{FineCounts, Milligrams};
use crate::weighing::{COINS, Calibration, CalibrationFault, MOST_COINS, Point};

/// A hand may press a load down by so much, mg: of which a cell with 0.05 % hysteresis keeps about 35 mg at 300 g.
const GENTLE: f32 = 30_000.0;

pub(in crate::app) fn press(app: &mut App, press: Press, mut calibrating: Calibrating) {
    match calibrating.stage {
        Stage::EmptyPan => match press {
            Press::Short(Key::Zero) => app.page = Page::Pan,
            Press::Short(Key::Mark) => {
                let Some((level, _)) = app.steady_level(calibrating.zero) else {
                    return;
                };
                let point = Point {
                    load: Milligrams::ZERO,
                    cup: false,
                    u: 0.0,
                    level,
                };
                // The first.
                let _ = calibrating.points.push(point);
                calibrating.zero = level;
                app.page = calibrating.at(Stage::WhatNext { selected: 0 });
            }
            _ => {}
        },
        Stage::WhatNext { selected } => {
            let deeds = calibrating.deeds();
            match on_list(press, selected, deeds.len()) {
                OnList::Back => app.page = Page::Pan,
                OnList::Highlight(selected) => app.page = calibrating.at(Stage::WhatNext { selected }),
                OnList::Take => {
                    if let Some(&deed) = deeds.get(usize::from(selected)) {
                        begin(app, calibrating, deed);
                    }
                }
                OnList::Nothing => {}
            }
        }
        Stage::Mass { grams_tenths } => match press {
            Press::Held(Key::Mark) => app.page = calibrating.at(Stage::WhatNext { selected: 0 }),
            Press::Short(Key::Mark) => {
                // Entered in steps of 0.1 g: half a step either way, rectangular (GUM 4.3.7).
                calibrating.load = Measured {
                    value: Milligrams(grams_tenths.saturating_mul(100)),
                    u: 29.0,
                };
                app.page = calibrating.at(Stage::PutOn(On::Mass));
            }
            _ => {
                let most = app.capacity().0 / 100;
                let grams_tenths = stepped(press, grams_tenths, 10).clamp(10, most);
                app.page = calibrating.at(Stage::Mass { grams_tenths });
            }
        },
        Stage::WhichCoin { selected } => match on_list(press, selected, COINS.len()) {
            OnList::Back => app.page = calibrating.at(Stage::WhatNext { selected: 0 }),
            OnList::Highlight(selected) => app.page = calibrating.at(Stage::WhichCoin { selected }),
            OnList::Take => {
                app.page = calibrating.at(Stage::HowMany {
                    coin: selected,
                    count: 10,
                })
            }
            OnList::Nothing => {}
        },
        Stage::HowMany { coin, count } => match press {
            Press::Held(Key::Mark) => app.page = calibrating.at(Stage::WhatNext { selected: 0 }),
            Press::Short(Key::Mark) => {
                if let Some(coin) = COINS.get(usize::from(coin)) {
                    calibrating.load = coin.times(count);
                    app.page = calibrating.at(Stage::PutOn(On::Mass));
                }
            }
            _ => {
                let count = stepped(press, count.into(), 1).clamp(1, MOST_COINS.into());
                let count = u8::try_from(count).unwrap_or(1);
                app.page = calibrating.at(Stage::HowMany { coin, count });
            }
        },
        Stage::PutOn(on) => match press {
            Press::Short(Key::Zero) => app.page = calibrating.at(Stage::WhatNext { selected: 0 }),
            Press::Short(Key::Mark) => {
                let from = if let On::WithCup(cup) = on {
                    cup
                } else {
                    calibrating.zero
                };
                let Some((level, gentle)) = app.steady_level(from) else {
                    return;
                };
                app.page = calibrating.at(match on {
                    On::Cup if gentle => Stage::PutOn(On::WithCup(level)),
                    _ => Stage::Lift { on, level, gentle },
                });
                if !gentle {
                    app.refuse(RefusedWord::Pressed);
                }
            }
            _ => {}
        },
        Stage::Lift { on, level, gentle } => match press {
            Press::Short(Key::Zero) => app.page = calibrating.at(Stage::WhatNext { selected: 0 }),
            Press::Short(Key::Mark) => {
                let Some((empty, _)) = app.steady_level(calibrating.zero) else {
                    return;
                };
                let next = if !calibrating.lifted(on, level, gentle, empty) {
                    app.refuse(RefusedWord::Calibration(CalibrationFault::NotStraight));
                    Stage::WhatNext { selected: 0 }
                } else if gentle {
                    calibrating.after(app, on)
                } else {
                    Stage::PutOn(on.first())
                };
                app.page = calibrating.at(next);
            }
            _ => {}
        },
        Stage::Checking(check) => match press {
            Press::Short(Key::Zero) => app.page = calibrating.at(Stage::WhatNext { selected: 0 }),
            Press::Short(Key::Mark) => {
                let Some((level, _)) = app.steady_level(calibrating.zero) else {
                    return;
                };
                let mg_per_count = calibrating.mg_per_count(app);
                let stage = match calibrating.checks.place(check, level, mg_per_count) {
                    true => Stage::WhatNext { selected: 0 },
                    false => calibrating.stage,
                };
                app.page = calibrating.at(stage);
            }
            _ => {}
        },
        Stage::Proven { proof } => match press {
            Press::Short(Key::Zero) => app.page = calibrating.at(Stage::WhatNext { selected: 0 }),
            Press::Short(Key::Mark) => {
                app.note(Record::Calibrated(proof.calibration));
                app.page = Page::Pan;
            }
            _ => {}
        },
    }
}

fn begin(app: &mut App, calibrating: Calibrating, deed: Deed) {
    let stage = match deed {
        Deed::KnownMass => Stage::Mass { grams_tenths: 1_000 },
        Deed::Coins => Stage::WhichCoin { selected: 0 },
        Deed::Cup => Stage::PutOn(On::Cup),
        Deed::Repeat => Stage::Checking(Check::Repeat),
        Deed::Corners => Stage::Checking(Check::Corners),
        Deed::Prove => match Calibration::prove(&calibrating.points, app.capacity()) {
            Ok(proof) => Stage::Proven { proof },
            Err(fault) => return app.refuse(RefusedWord::Calibration(fault)),
        },
    };
    app.page = calibrating.at(stage);
}

impl App {
    /// The level under the finger, in counts, whether calibrated or not, and whether nothing pressed beyond it on the way from `from`;
    /// refused aloud while it is not steady.
    fn steady_level(&mut self, from: FineCounts) -> Option<(FineCounts, bool)> {
        let Some(level) = self.scale.level() else {
            self.refuse(RefusedWord::NotSteady);
            return None;
        };
        let (least, most) = self.scale.swept();
        let beyond = if level > from {
            most.0.saturating_sub(level.0)
        } else {
            level.0.saturating_sub(least.0)
        };
        let mg = beyond as f32 / FineCounts::PER_COUNT as f32 * self.scale.calibration().mg_per_count().abs();
        Some((level, mg < GENTLE))
    }
}

//! Calibration with known masses or coins: empty pan, one load or more, proof, and only then the change.
//!
//! The pan is seen empty before and after each load: that takes the drift of a cell that is still warming up out, and finds
//! what lay on the pan when it was called empty. A load that was pressed down is put down again: a cell remembers the press.
//!
//! One mass cannot see the bow of a cell; put into any cup, it can. Rounds of cup, mass in the cup and mass alone are asked for until the
//! readings are worth their part of half a division at 300 g.
//!
//! The calibration in use stays until the new one is proven, accepted and in the journal. Leaving at any step changes
//! nothing.

use heapless::Vec;

use super::super::dispatch::App;
use super::super::keys::{Key, Press};
use super::super::pages::{LIST_KEYS, OnList, Page, Shows, on_list};
use super::checks::{Check, Checks};
use super::stepped;
use crate::journal::Record;
use crate::measured::Measured;
use crate::screen::{Body, Edit, Guide, Item, ItemLabel, KeyWord, List, RefusedWord, Value, Word};
use crate::units::{FineCounts, Milligrams};
use crate::weighing::{COINS, Calibration, CalibrationFault, MOST_COINS, MOST_POINTS, Point, Proof};

/// The empty pan may move by a fiftieth of a load while that comes and goes: a cell that warms up moves by less.
const MOST_MOVED: u32 = 50;

/// A hand may press a load down by so much, mg: of which a cell with 0.05 % hysteresis keeps about 35 mg at 300 g.
const GENTLE: f32 = 30_000.0;

/// What the readings may leave open at 300 g, standard uncertainty in mg: 99 in 100 below half a division along with a mass of class M1.
const ENOUGH: f32 = 13.0;

/// Points of another round with the cup.
const ROUND: usize = 3;

/// What a check may come to and still be called good: one division, the limit of error from 50 to 200 g in class III (OIML R 76-1:2006,
/// Table 6, 3.6.1 and 3.6.2, as restated in secondary sources).
const TOLERABLE: Milligrams = Milligrams(100);

/// A calibration under way.
#[derive(Clone, Debug, PartialEq)]
pub(in super::super) struct Calibrating {
    points: Vec<Point, MOST_POINTS>,
    checks: Checks,
    /// The empty pan as it was last seen.
    zero: FineCounts,
    /// The last mass that was told.
    load: Measured,
    stage: Stage,
}

/// Where it stands.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Stage {
    EmptyPan,
    WhatNext { selected: u8 },
    Mass { grams_tenths: i32 },
    WhichCoin { selected: u8 },
    HowMany { coin: u8, count: u8 },
    PutOn(On),
    Lift { on: On, level: FineCounts, gentle: bool },
    Checking(Check),
    Proven { proof: Proof },
}

/// What is put on the pan.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum On {
    /// The mass, once.
    Mass,
    /// The mass between two cups.
    MassAgain,
    /// A cup.
    Cup,
    /// The mass on top of a cup that gave this level.
    WithCup(FineCounts),
}

impl On {
    /// With what it begins anew.
    const fn first(self) -> Self {
        match self {
            Self::WithCup(_) => Self::Cup,
            on => on,
        }
    }
}

/// What can follow once the empty pan is taken.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Deed {
    KnownMass,
    Coins,
    Cup,
    Repeat,
    Corners,
    Prove,
}

impl Calibrating {
    pub(in super::super) fn new() -> Self {
        Self {
            points: Vec::new(),
            checks: Checks::default(),
            zero: FineCounts(0),
            load: Measured {
                value: Milligrams::ZERO,
                u: 0.0,
            },
            stage: Stage::EmptyPan,
        }
    }

    fn at(&self, stage: Stage) -> Page {
        Page::Calibrate(Self { stage, ..self.clone() })
    }

    fn deeds(&self) -> Vec<Deed, 6> {
        let loaded = self.points.len() > 1;
        let more = !self.points.is_full();
        let round = self.has_room_for_a_round();
        let offered = [
            (Deed::Prove, loaded),
            (Deed::Cup, loaded && round),
            (Deed::KnownMass, more),
            (Deed::Coins, more),
            (Deed::Repeat, loaded),
            (Deed::Corners, loaded),
        ];
        offered
            .into_iter()
            .filter(|&(_, offered)| offered)
            .map(|(deed, _)| deed)
            .collect()
    }

    fn has_room_for_a_round(&self) -> bool {
        MOST_POINTS.saturating_sub(self.points.len()) >= ROUND
    }

    /// Takes a load once it is lifted and the pan is seen `empty` again. `false` if the pan was not empty before or is not
    /// now. A load that was not put down gently leaves no point.
    fn lifted(&mut self, on: On, level: FineCounts, gentle: bool, empty: FineCounts) -> bool {
        let before = core::mem::replace(&mut self.zero, empty);
        let moved = empty.0.saturating_sub(before.0);
        if moved.unsigned_abs() > level.0.abs_diff(before.0) / MOST_MOVED {
            return false;
        }
        if !gentle {
            return true;
        }
        if let On::WithCup(alone) = on {
            let cup = Measured {
                value: Milligrams::ZERO,
                u: 0.0,
            };
            self.take(cup, true, alone, before.0.saturating_add(moved / 3));
            self.take(self.load, true, level, empty.0.saturating_sub(moved / 3));
        } else {
            self.take(self.load, false, level, before.0.saturating_add(moved / 2));
        }
        true
    }

    fn take(&mut self, load: Measured, cup: bool, level: FineCounts, zero: i32) {
        let first = self.points.first().map_or(FineCounts(zero), |point| point.level);
        // Not offered once it is full.
        let _ = self.points.push(Point {
            load: load.value,
            cup,
            u: load.u,
            level: FineCounts(first.0.saturating_add(level.0.saturating_sub(zero))),
        });
    }

    /// What follows once the pan is empty again after `on`.
    fn after(&self, app: &App, on: On) -> Stage {
        let open = |proof: Proof| proof.u_reading > ENOUGH;
        match on {
            On::MassAgain => Stage::PutOn(On::Cup),
            On::WithCup(_)
                if self.has_room_for_a_round() && Calibration::prove(&self.points, app.capacity()).is_ok_and(open) =>
            {
                Stage::PutOn(On::MassAgain)
            }
            _ => Stage::WhatNext { selected: 0 },
        }
    }

    /// What the pan would say by the points so far; good enough for the spread of a check.
    fn mg_per_count(&self, app: &App) -> f32 {
        Calibration::prove(&self.points, app.capacity()).map_or(app.scale.calibration().mg_per_count(), |proof| {
            proof.calibration.mg_per_count()
        })
    }
}

pub(in super::super) fn view(app: &App, calibrating: &Calibrating) -> Shows {
    match calibrating.stage {
        Stage::EmptyPan | Stage::Lift { .. } => guide(app, Word::EmptyThePan, Value::Nothing),
        Stage::WhatNext { selected } => (what_next(calibrating, selected), LIST_KEYS),
        Stage::Mass { grams_tenths } => {
            let value = Value::Mass(Milligrams(grams_tenths.saturating_mul(100)));
            edit(Word::KnownMass, value)
        }
        Stage::WhichCoin { selected } => {
            let coins = COINS.iter().map(|coin| Item {
                label: ItemLabel::Name(coin.name),
                value: Value::Mass(coin.mass),
            });
            (
                Body::List(List {
                    title: Word::WhichCoin,
                    items: coins.collect(),
                    selected,
                }),
                LIST_KEYS,
            )
        }
        Stage::HowMany { count, .. } => edit(Word::HowMany, Value::Number(count.into())),
        Stage::PutOn(on) => {
            let load = Value::Measured(calibrating.load);
            match on {
                On::Mass | On::MassAgain => guide(app, Word::PutOnPan, load),
                On::Cup => guide(app, Word::CupOnPan, Value::Nothing),
                On::WithCup(_) => guide(app, Word::MassWithCup, load),
            }
        }
        Stage::Checking(check) => {
            let placed = calibrating.checks.placed(check);
            guide(app, check.word(placed), Value::Number(placed.saturating_add(1).into()))
        }
        Stage::Proven { proof } => (
            proven(calibrating, &proof),
            [KeyWord::Back, KeyWord::Accept, KeyWord::Nothing],
        ),
    }
}

fn guide(app: &App, say: Word, value: Value) -> Shows {
    let steady = app.scale.level().is_some();
    let body = Body::Guide(Guide {
        title: Word::Calibration,
        say,
        value,
        steady,
    });
    (body, [KeyWord::Back, KeyWord::Take, KeyWord::Nothing])
}

fn edit(title: Word, value: Value) -> Shows {
    let body = Body::Edit(Edit {
        title,
        value,
        hint: Some(Word::HoldMarkToLeave),
    });
    (body, [KeyWord::Less, KeyWord::Ok, KeyWord::More])
}

fn what_next(calibrating: &Calibrating, selected: u8) -> Body {
    let spread = |spread: Option<Milligrams>| spread.map_or(Value::Nothing, Value::Mass);
    let items = calibrating.deeds().into_iter().map(|deed| {
        let (word, value) = match deed {
            Deed::KnownMass => (Word::KnownMass, Value::Nothing),
            Deed::Coins => (Word::Coins, Value::Nothing),
            Deed::Cup => (Word::WithCup, Value::Nothing),
            Deed::Repeat => (Word::Repeatability, spread(calibrating.checks.spread(Check::Repeat))),
            Deed::Corners => (Word::Corners, spread(calibrating.checks.spread(Check::Corners))),
            Deed::Prove => (
                Word::FinishCalibration,
                Value::Number(i32::try_from(calibrating.points.len()).unwrap_or(0)),
            ),
        };
        Item {
            label: ItemLabel::Word(word),
            value,
        }
    });
    Body::List(List {
        title: Word::Calibration,
        items: items.collect(),
        selected,
    })
}

/// What the new calibration is worth: of 300 g, in grams.
fn proven(calibrating: &Calibrating, proof: &Proof) -> Body {
    let of_300_g = Milligrams((1.96 * proof.u) as i32);
    let mut items = Vec::new();
    let straight = (calibrating.points.len() > 2).then_some(Milligrams(proof.largest_residual as i32));
    let judged = |found: Option<Milligrams>| {
        let judge = |found: Milligrams| Value::Judged(found, if found <= TOLERABLE { Word::Good } else { Word::Poor });
        found.map_or(Value::Word(Word::NotTried), judge)
    };
    let rows = [
        (Word::Of300Grams, Value::PlusMinus(of_300_g)),
        (Word::Linearity, judged(straight)),
        (Word::Repeatability, judged(calibrating.checks.spread(Check::Repeat))),
        (Word::Corners, judged(calibrating.checks.spread(Check::Corners))),
    ];
    for (word, value) in rows {
        // Four fit.
        let _ = items.push(Item {
            label: ItemLabel::Word(word),
            value,
        });
    }
    Body::List(List {
        title: Word::AcceptCalibration,
        items,
        selected: u8::MAX,
    })
}

pub(in super::super) fn press(app: &mut App, press: Press, mut calibrating: Calibrating) {
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

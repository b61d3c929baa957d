//! Home: what is on the pan now, of which yarn, for which section.

use super::super::dispatch::App;
use super::super::keys::{Key, Press};
use super::super::marking::EMPTY_BELOW;
use super::super::setup::calibrating::Calibrating;
use super::{Page, Shows};
use crate::ledger::{Finding, recognise};
use crate::math::rss;
use crate::measured::Measured;
use crate::screen::{Body, FaultWord, KeyWord, Pan, RefusedWord};
use crate::signal::SensorFault;
use crate::sock::moisture::{Correction, is_damp_in_doubt, moisture_u};
use crate::units::Milligrams;
use crate::weighing::{Condition, Indication, SteadyLoad};

pub(super) fn view(app: &App) -> Shows {
    let fault = fault_word(app, app.scale.condition());
    let mark = mark_means(app, fault);
    if let Some(fault) = fault {
        return (Body::Fault(fault), [KeyWord::Nothing, mark.word(), KeyWord::Next]);
    }
    let section = app.cursor().and_then(|line| app.book.ledger().plan().line(line));
    let last = section
        .and_then(|section| app.book.ledger().last(section.yarn))
        .map(|step| step.weight.net);
    let on_pan = section_on_pan(app);
    let used = on_pan.and_then(|(load, net)| would_take(app, section?.yarn, &load, net));
    let body = Pan {
        shown: shown(app),
        steady: app.scale.steady().is_some(),
        bowl: app.book.bowls().in_use(),
        yarn: section.map(|section| (section.yarn, last.map(|last| last.value))),
        section,
        used: used.map(|(used, _)| used),
        damp: used.is_some_and(|(_, damp)| damp),
        metres: section
            .zip(on_pan)
            .and_then(|(section, (_, net))| metres(app, section.yarn, net.value)),
        mark_waits: app.marking.waits(),
        empty: app.scale.is_empty(),
    };
    let zero = if is_loaded(app) { KeyWord::Bowl } else { KeyWord::Zero };
    (Body::Pan(body), [zero, mark.word(), KeyWord::Next])
}

pub(super) fn press(app: &mut App, press: Press) {
    match press {
        Press::Short(Key::Zero) => zero_or_bowl(app),
        Press::Short(Key::Mark) => match mark_means(app, fault_word(app, app.scale.condition())) {
            MarkMeans::Calibrate => app.page = Page::Calibrate(Calibrating::new()),
            MarkMeans::ChoosePlan => app.page = Page::Presets { selected: 0 },
            MarkMeans::Nothing | MarkMeans::WeighIn | MarkMeans::Boundary => app.mark(),
        },
        Press::Held(Key::Mark) => app.undo(),
        Press::Short(Key::Next) => app.page = Page::Used { top: 0 },
        Press::Held(Key::Zero) => super::bowls::open(app),
        Press::Held(Key::Next) => app.page = Page::Everything { selected: 0 },
        Press::Down(_) | Press::Again(_) => {}
    }
}

/// What MARK does on the home page. On a new device it leads, step by step, to the first mark.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum MarkMeans {
    Nothing,
    Calibrate,
    ChoosePlan,
    WeighIn,
    Boundary,
}

impl MarkMeans {
    const fn word(self) -> KeyWord {
        match self {
            Self::Nothing => KeyWord::Nothing,
            Self::Calibrate => KeyWord::Calibrate,
            Self::ChoosePlan => KeyWord::Plan,
            Self::WeighIn => KeyWord::WeighIn,
            Self::Boundary => KeyWord::Mark,
        }
    }
}

fn mark_means(app: &App, fault: Option<FaultWord>) -> MarkMeans {
    match fault {
        Some(FaultWord::Uncalibrated) => return MarkMeans::Calibrate,
        Some(_) => return MarkMeans::Nothing,
        None => {}
    }
    if !app.book.ledger().is_open() {
        return MarkMeans::ChoosePlan;
    }
    match app.cursor().and_then(|line| app.book.ledger().plan().line(line)) {
        None => MarkMeans::ChoosePlan,
        Some(section) if app.book.ledger().last(section.yarn).is_none() => MarkMeans::WeighIn,
        Some(_) => MarkMeans::Boundary,
    }
}

/// The net weight on the pan, if it can be the planned yarn after a part of its section.
fn section_on_pan(app: &App) -> Option<(SteadyLoad, Measured)> {
    let line = app.cursor()?;
    let load = app.scale.steady()?;
    let gross = app.scale.gross(&load);
    let net = app.net(gross, app.book.bowls().in_use());
    let finding = recognise(app.book.ledger(), line, net, app.expected(line))?;
    (gross.value >= EMPTY_BELOW && matches!(finding, Finding::Section(..))).then_some((load, net))
}

/// What a mark would note now, and whether moisture puts it in doubt.
fn would_take(app: &App, yarn: crate::sock::YarnLetter, load: &SteadyLoad, net: Measured) -> Option<(Measured, bool)> {
    let humidity = app.climate.map(|climate| climate.humidity_percent);
    let last = app.book.ledger().last(yarn)?;
    let apart = app.apart(yarn, app.book.bowls().in_use(), load);
    let (used, way) = app.book.ledger().would_take(last, net, app.stamp(), humidity, apart);
    let hours = app.stamp().0.saturating_sub(last.at.0) as f32 / 3_600.0;
    let moisture = moisture_u(net.value, app.book.ledger().label(yarn).fibre, hours);
    let instrument = apart.unwrap_or_else(|| rss(last.weight.net.u, net.u));
    Some((
        used,
        way == Correction::Widened && is_damp_in_doubt(instrument, moisture),
    ))
}

/// The number on the display. Without its bowl the empty pan would read less than nothing: it reads 0.
fn shown(app: &App) -> Option<Indication> {
    if app.scale.is_empty() && app.book.bowls().in_use().is_some() {
        let gross = app.scale.gross_shown()?;
        return Some(Indication::rounded(gross, app.book.settings().unit));
    }
    app.scale.shown()
}

fn is_loaded(app: &App) -> bool {
    !app.scale.is_empty() && app.scale.gross_shown().is_some_and(|gross| gross.abs() >= EMPTY_BELOW)
}

fn zero_or_bowl(app: &mut App) {
    if is_loaded(app) {
        super::bowls::open(app);
    } else if app.scale.zero() {
        app.show(crate::screen::Notice::ZeroSet);
        app.amend();
    } else {
        app.refuse(RefusedWord::NotSteady);
    }
}

fn fault_word(app: &App, condition: Condition) -> Option<FaultWord> {
    if !app.is_calibrated() {
        return Some(FaultWord::Uncalibrated);
    }
    match condition {
        Condition::Starting | Condition::Weighing => None,
        Condition::Fault(SensorFault::Missing) => Some(FaultWord::SensorMissing),
        Condition::Fault(SensorFault::OddRate) => Some(FaultWord::SensorRate),
        Condition::Fault(_) => Some(FaultWord::SensorStuck),
        Condition::Overload => Some(FaultWord::Overload),
        Condition::Underload => Some(FaultWord::Underload),
        Condition::Reversed => Some(FaultWord::Reversed),
    }
}

/// Length of a net mass by the band, where the band is known.
fn metres(app: &App, yarn: crate::sock::YarnLetter, net: Milligrams) -> Option<u16> {
    let per_100_g = app.book.ledger().label(yarn).metres_per_100_g;
    if per_100_g == 0 || net.0 <= 0 {
        return None;
    }
    let metres = i64::from(net.0).saturating_mul(i64::from(per_100_g)) / 100_000;
    u16::try_from(metres).ok()
}

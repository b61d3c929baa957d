//! Home: what is on the pan now, of which yarn, for which section.

use super::super::dispatch::App;
use super::super::keys::{Key, Press};
use super::super::marking::EMPTY_BELOW;
use super::{Page, Shows};
use crate::ledger::{Finding, recognise};
use crate::screen::{Body, FaultWord, KeyWord, Pan, RefusedWord};
use crate::signal::SensorFault;
use crate::units::Milligrams;
use crate::weighing::{Condition, Indication};

pub(super) fn view(app: &App) -> Shows {
    let readout = app.scale.readout();
    if let Some(fault) = fault_word(app, readout.condition) {
        return (Body::Fault(fault), [KeyWord::Nothing, KeyWord::Nothing, KeyWord::Next]);
    }
    let line = app.cursor();
    let section = line.and_then(|line| app.ledger.plan().line(line));
    let yarn = section.map(|section| {
        let last = app.ledger.last(section.yarn).map(|step| step.weight.net.value);
        (section.yarn, last)
    });
    let net = readout
        .steady
        .map(|load| app.net(app.scale.gross(&load), app.bowls.in_use()));
    let empty = readout.gross.is_none_or(|gross| gross.value.abs() < EMPTY_BELOW);
    let is_section = |line, net| {
        matches!(
            recognise(&app.ledger, line, net, app.expected(line)),
            Some(Finding::Section(..))
        )
    };
    let on_pan = line.zip(net).filter(|&(line, net)| !empty && is_section(line, net));
    let used = section
        .zip(on_pan)
        .and_then(|(section, (_, net))| app.ledger.last(section.yarn).map(|last| last.weight.net.minus(net)));
    let weighs_in = section.is_some_and(|section| app.ledger.last(section.yarn).is_none());
    let shown = if readout.empty {
        // Without its bowl the empty pan would read less than nothing.
        readout
            .gross
            .map(|gross| Indication::rounded(gross.value, app.settings.unit))
    } else {
        readout.shown
    };
    let body = Pan {
        shown,
        steady: readout.steady.is_some(),
        bowl: app.bowls.in_use(),
        yarn,
        section,
        used,
        metres: section
            .zip(net)
            .filter(|_| used.is_some())
            .and_then(|(section, net)| metres(app, section.yarn, net.value)),
        mark_waits: app.marking.waits(),
        empty: readout.empty,
    };
    let zero = if readout.empty || empty {
        KeyWord::Zero
    } else {
        KeyWord::Bowl
    };
    let mark = match section {
        None => KeyWord::Nothing,
        Some(_) if weighs_in => KeyWord::WeighIn,
        Some(_) => KeyWord::Mark,
    };
    (Body::Pan(body), [zero, mark, KeyWord::Next])
}

pub(super) fn press(app: &mut App, press: Press) {
    match press {
        Press::Short(Key::Zero) => zero_or_bowl(app),
        Press::Short(Key::Mark) => app.mark(),
        Press::Held(Key::Mark) => app.undo(),
        Press::Short(Key::Next) => app.page = Page::Used { top: 0 },
        Press::Held(Key::Zero) => super::bowls::open(app),
        Press::Held(Key::Next) => app.page = Page::Everything { selected: 0 },
        Press::Down(_) | Press::Again(_) => {}
    }
}

fn zero_or_bowl(app: &mut App) {
    let readout = app.scale.readout();
    let loaded = readout.gross.is_some_and(|gross| gross.value.abs() >= EMPTY_BELOW);
    if loaded && !readout.empty {
        super::bowls::open(app);
    } else if app.scale.zero() {
        app.show(crate::screen::Notice::ZeroSet);
        app.amend();
    } else {
        app.refuse(RefusedWord::NotSteady);
    }
}

fn fault_word(app: &App, condition: Condition) -> Option<FaultWord> {
    if !app.calibrated {
        return Some(FaultWord::Uncalibrated);
    }
    match condition {
        Condition::Starting | Condition::Weighing => None,
        Condition::Fault(SensorFault::Missing) => Some(FaultWord::SensorMissing),
        Condition::Fault(_) => Some(FaultWord::SensorStuck),
        Condition::Overload => Some(FaultWord::Overload),
        Condition::Underload => Some(FaultWord::Underload),
        Condition::Reversed => Some(FaultWord::Reversed),
    }
}

/// Length of a net mass by the band, where the band is known.
fn metres(app: &App, yarn: crate::ledger::YarnLetter, net: Milligrams) -> Option<u16> {
    let per_100_g = app.ledger.label(yarn).metres_per_100_g;
    if per_100_g == 0 || net.0 <= 0 {
        return None;
    }
    let metres = i64::from(net.0).saturating_mul(i64::from(per_100_g)) / 100_000;
    u16::try_from(metres).ok()
}

//! Home: what is on the pan now, of which yarn, for which section.

use super::action::{Action, Actions, To};
use super::context::{Context, EMPTY_BELOW};
use super::keys::{Key, Press};
use super::parts::PartsPage;
use super::shows::Shows;
use crate::journal::{Record, Setting};
use crate::math::rss;
use crate::measured::Measured;
use crate::screen::{Body, FaultWord, Idle, KeyWord, Pan};
use crate::signal::SensorFault;
use crate::sock::moisture::{Correction, is_damp_in_doubt, moisture_u};
use crate::sock::{Sock, YarnLetter};
use crate::units::Milligrams;
use crate::weighing::{Condition, Indication, SteadyLoad, Unit};

/// Home.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct PanPage;

impl PanPage {
    pub(super) fn press(&mut self, context: &Context<'_>, press: Press) -> Actions {
        match press {
            Press::Short(Key::Zero) if context.proposal.is_some() => to_pair(context),
            Press::Short(Key::Zero) if is_loaded(context) => Actions::go(To::Bowls),
            Press::Short(Key::Zero) => Action::Zero.into(),
            Press::Short(Key::Mark) => match mark_means(context, fault_word(context)) {
                MarkMeans::Calibrate if !PartsPage::is_answered(context) => Actions::go(To::Parts),
                MarkMeans::Calibrate => Actions::go(To::Calibrate),
                MarkMeans::ChoosePlan => Actions::go(To::Presets),
                MarkMeans::ChoosePair => Actions::go(To::Pairs),
                MarkMeans::Finish => Actions::go(To::Summary),
                MarkMeans::Nothing | MarkMeans::WeighIn | MarkMeans::Boundary => Action::Mark.into(),
            },
            Press::Held(Key::Mark) => Action::Undo.into(),
            Press::Short(Key::Next) => Actions::go(To::Used),
            Press::Held(Key::Zero) => Actions::go(To::Bowls),
            Press::Held(Key::Next) => Actions::go(To::Everything),
            Press::Down(_) | Press::Again(_) => Actions::none(),
        }
    }

    pub(super) fn view(&self, context: &Context<'_>) -> Shows {
        let fault = fault_word(context);
        let mark = mark_means(context, fault);
        if let Some(fault) = fault {
            return (Body::Fault(fault), [KeyWord::Nothing, mark.word(), KeyWord::Next]);
        }
        let section = context.section();
        let last = section
            .and_then(|section| context.ledger().last(section.yarn))
            .map(|step| step.weight.net);
        let on_pan = context.section_on_pan();
        let used = on_pan.and_then(|(load, net)| would_take(context, section?.yarn, &load, net));
        let body = Pan {
            shown: shown(context),
            lifted: context.scale.condition() == Condition::Underload,
            steady: context.scale.steady().is_some(),
            bowl: context.book.bowls().in_use(),
            yarn: section.map(|section| (section.yarn, last.map(|last| last.value))),
            section,
            used: used.map(|(used, _)| as_drawn(used, context.book.settings().unit)),
            other_sock: other_sock(context),
            damp: used.is_some_and(|(_, damp)| damp),
            metres: section
                .zip(on_pan)
                .and_then(|(section, (_, net))| metres(context, section.yarn, net.value)),
            mark_waits: context.mark_waits,
            proposal: context.proposal,
            pair: several(context).then(|| context.ledger().pair()),
            idle: idle(context),
            empty: context.scale.is_empty(),
            perhaps_empty: context.scale.is_perhaps_empty(),
        };
        let zero = if body.proposal.is_some() {
            KeyWord::ToPair
        } else if is_loaded(context) {
            KeyWord::Bowl
        } else {
            KeyWord::Zero
        };
        (Body::Pan(body), [zero, mark.word(), KeyWord::Next])
    }
}

/// Goes on with the pair that is proposed.
fn to_pair(context: &Context<'_>) -> Actions {
    context.proposal.map_or_else(Actions::none, |(pair, _)| {
        Actions::note(Record::Setting(Setting::PairInHand(pair)))
    })
}

/// Whether it has to be said which pair is in hand.
fn several(context: &Context<'_>) -> bool {
    context.ledger().is_open() && context.book.open_pairs().nth(1).is_some()
}

/// What MARK does on the home page. On a new device it leads, step by step, to the first mark.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum MarkMeans {
    Nothing,
    Calibrate,
    ChoosePlan,
    ChoosePair,
    Finish,
    WeighIn,
    Boundary,
}

impl MarkMeans {
    const fn word(self) -> KeyWord {
        match self {
            Self::Nothing => KeyWord::Nothing,
            Self::Calibrate => KeyWord::Calibrate,
            Self::ChoosePlan => KeyWord::Plan,
            Self::ChoosePair => KeyWord::Pairs,
            Self::Finish => KeyWord::Finish,
            Self::WeighIn => KeyWord::WeighIn,
            Self::Boundary => KeyWord::Mark,
        }
    }
}

fn mark_means(context: &Context<'_>, fault: Option<FaultWord>) -> MarkMeans {
    match fault {
        Some(FaultWord::Uncalibrated) => return MarkMeans::Calibrate,
        Some(_) => return MarkMeans::Nothing,
        None => {}
    }
    match context.section() {
        None => match idle(context) {
            Idle::NoPair => MarkMeans::ChoosePlan,
            Idle::OtherPairs => MarkMeans::ChoosePair,
            Idle::AllDone => MarkMeans::Finish,
        },
        Some(section) if context.ledger().last(section.yarn).is_none() => MarkMeans::WeighIn,
        Some(_) => MarkMeans::Boundary,
    }
}

/// Why no section is next.
fn idle(context: &Context<'_>) -> Idle {
    match context.book.open_pairs().next() {
        None => Idle::NoPair,
        Some(_) if context.ledger().is_open() => Idle::AllDone,
        Some(_) => Idle::OtherPairs,
    }
}

/// What the same section of the other sock took.
fn other_sock(context: &Context<'_>) -> Option<(Sock, Milligrams)> {
    let plan = context.ledger().plan();
    let other = plan.counterpart(context.cursor?)?;
    Some((plan.line(other)?.sock, context.ledger().used(other)?.value))
}

/// To the steps that are drawn: a page whose digits stay is not drawn anew with every sample, which would take more than the sample.
fn as_drawn(used: Measured, unit: Unit) -> Measured {
    let around = Indication::rounded_up(used.expanded(), unit).mass();
    Measured {
        value: Indication::rounded(used.value, unit).mass(),
        // A milligram less than the step, with the one that rounding up adds.
        u: around.0.saturating_sub(2) as f32 / 1.96,
    }
}

/// What a mark would note now, and whether moisture puts it in doubt.
fn would_take(context: &Context<'_>, yarn: YarnLetter, load: &SteadyLoad, net: Measured) -> Option<(Measured, bool)> {
    let humidity = context.air.map(|air| air.humidity_percent);
    let last = context.ledger().last(yarn)?;
    let apart = context.difference_u(yarn, context.book.bowls().in_use(), load);
    let (used, way) = context.ledger().would_take(last, net, context.now, humidity, apart);
    let hours = context.now.0.saturating_sub(last.at.0) as f32 / 3_600.0;
    let moisture = moisture_u(net.value, context.ledger().label(yarn).fibre, hours);
    let instrument = apart.unwrap_or_else(|| rss(last.weight.net.u, net.u));
    Some((
        used,
        way == Correction::Widened && is_damp_in_doubt(instrument, moisture),
    ))
}

/// The number on the display. Without its bowl the empty pan would read less than nothing: it reads 0.
fn shown(context: &Context<'_>) -> Option<Indication> {
    if context.scale.is_empty() && context.book.bowls().in_use().is_some() {
        let gross = context.scale.gross_shown()?;
        return Some(Indication::rounded(gross, context.book.settings().unit));
    }
    context.scale.shown()
}

fn is_loaded(context: &Context<'_>) -> bool {
    !context.scale.is_empty()
        && !context.scale.is_perhaps_empty()
        && context
            .scale
            .gross_shown()
            .is_some_and(|gross| gross.abs() >= EMPTY_BELOW)
}

fn fault_word(context: &Context<'_>) -> Option<FaultWord> {
    if !context.calibrated {
        return Some(FaultWord::Uncalibrated);
    }
    match context.scale.condition() {
        Condition::Starting | Condition::Weighing => None,
        Condition::Fault(SensorFault::Missing) => Some(FaultWord::SensorMissing),
        Condition::Fault(SensorFault::OddRate) => Some(FaultWord::SensorRate),
        Condition::Fault(_) => Some(FaultWord::SensorStuck),
        Condition::Overload => Some(FaultWord::Overload),
        // The number goes at once; the page only when it stands.
        Condition::Underload => context.lift_stands.then_some(FaultWord::Underload),
        Condition::Reversed => Some(FaultWord::Reversed),
    }
}

/// Length of a net mass by the band, where the band is known.
fn metres(context: &Context<'_>, yarn: YarnLetter, net: Milligrams) -> Option<u16> {
    let per_100_g = context.ledger().label(yarn).metres_per_100_g;
    if per_100_g == 0 || net.0 <= 0 {
        return None;
    }
    let metres = i64::from(net.0).saturating_mul(i64::from(per_100_g)) / 100_000;
    u16::try_from(metres).ok()
}

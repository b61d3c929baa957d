//! What pages and what the scale tells are called as files: no wildcard, so that whatever is new needs a name, and a case.

use yarn_scale_core::forecast::{DryWord, Gap};
use yarn_scale_core::recognise::{Source, WhyAsked};
use yarn_scale_core::screen::{Body, FaultWord, Notice, RefusedWord, RestartWord};
use yarn_scale_core::weighing::CalibrationFault;

/// The page that a body belongs to.
#[must_use]
pub fn page_of(body: &Body) -> &'static str {
    match body {
        Body::Dark => "dark",
        Body::Pan(_) => "pan",
        Body::Used(_) => "used",
        Body::Plan(_) => "plan",
        Body::Notice(_) => "notice",
        Body::Question(_) => "question",
        Body::Fault(_) => "fault",
        Body::List(_) => "list",
        Body::Pairs(_) => "pairs",
        Body::PairSummary(_) => "pair-summary",
        Body::Edit(_) => "edit",
        Body::Guide(_) => "guide",
        Body::Answer(_) => "answer",
        Body::Uses(_) => "uses",
        Body::Halve(_) => "halve",
        Body::PairCheck(_) => "pair-check",
        Body::Dry(_) => "dry",
        Body::Signs(_) => "signs",
        Body::Edges => "edges",
    }
}

/// What the scale tells, where that is all there is to say of the screen.
pub(super) fn name_of(body: &Body) -> Option<&'static str> {
    Some(match body {
        Body::Notice(notice) => notice_name(notice),
        Body::Fault(fault) => fault_name(*fault),
        Body::Question(question) => question_name(question.why),
        Body::PairCheck(check) => gap_name(check.meaning),
        Body::Dry(dryness) => dry_name(dryness.word),
        Body::Dark
        | Body::Pan(_)
        | Body::Used(_)
        | Body::Plan(_)
        | Body::List(_)
        | Body::Pairs(_)
        | Body::PairSummary(_)
        | Body::Edit(_)
        | Body::Guide(_)
        | Body::Answer(_)
        | Body::Uses(_)
        | Body::Halve(_)
        | Body::Signs(_)
        | Body::Edges => return None,
    })
}

fn notice_name(notice: &Notice) -> &'static str {
    match notice {
        Notice::WeighedIn { short: None, .. } => "weighed-in",
        Notice::WeighedIn { short: Some(_), .. } => "weighed-in-short",
        Notice::WeightAmended { .. } => "weight-amended",
        Notice::Noted { .. } => "noted",
        Notice::Started { .. } => "started",
        Notice::Amended { .. } => "amended",
        Notice::Undone { line: Some(_) } => "undone",
        Notice::Undone { line: None } => "undone-weigh-in",
        Notice::Skipped { .. } => "skipped",
        Notice::BowlNoted { .. } => "bowl-noted",
        Notice::ZeroSet => "zero-set",
        Notice::Drive => "drive",
        Notice::Restarted(RestartWord::Hang) => "restarted-hang",
        Notice::Restarted(RestartWord::Error(_)) => "restarted-error",
        Notice::Restoring => "restoring",
        Notice::Refused(word) => refused_name(*word),
    }
}

fn refused_name(word: RefusedWord) -> &'static str {
    match word {
        RefusedWord::NotSteady => "refused-not-steady",
        RefusedWord::ZeroNotSteady => "refused-zero-not-steady",
        RefusedWord::OtherCake => "refused-other-cake",
        RefusedWord::NothingKnitted => "refused-nothing-knitted",
        RefusedWord::EmptyPan => "refused-empty-pan",
        RefusedWord::NoPlan => "refused-no-plan",
        RefusedWord::PlanDone => "refused-plan-done",
        RefusedWord::NothingToUndo => "refused-nothing-to-undo",
        RefusedWord::NotNoted => "refused-not-noted",
        RefusedWord::JournalFull => "refused-journal-full",
        RefusedWord::SupplyLow => "refused-supply-low",
        RefusedWord::PairFull => "refused-pair-full",
        RefusedWord::PairFinished => "refused-pair-finished",
        RefusedWord::Faulty => "refused-faulty",
        RefusedWord::Pressed => "refused-pressed",
        RefusedWord::Calibration(CalibrationFault::TooLight) => "refused-too-light",
        RefusedWord::Calibration(CalibrationFault::NoResponse) => "refused-no-response",
        // The last three have no words of their own: the pages of the calibration do not come to them.
        RefusedWord::Calibration(
            CalibrationFault::NotStraight
            | CalibrationFault::TooFewPoints
            | CalibrationFault::NoZero
            | CalibrationFault::Nonsense,
        ) => "refused-not-straight",
    }
}

fn fault_name(fault: FaultWord) -> &'static str {
    match fault {
        FaultWord::SensorMissing => "sensor-missing",
        FaultWord::SensorStuck => "sensor-stuck",
        FaultWord::SensorRate => "sensor-rate",
        FaultWord::Overload => "overload",
        FaultWord::Underload => "underload",
        FaultWord::Reversed => "reversed",
        FaultWord::Uncalibrated => "uncalibrated",
    }
}

fn question_name(why: WhyAsked) -> &'static str {
    match why {
        WhyAsked::Amount { source, .. } => match source {
            Source::OtherSock => "as-the-other-sock",
            Source::History => "as-earlier-pairs",
            Source::Estimate => "as-the-stitches",
            Source::Usual => "as-usual",
        },
        WhyAsked::Heavier { .. } => "heavier",
        WhyAsked::Unchanged { .. } => "unchanged",
        WhyAsked::UsedUp { .. } => "used-up",
        WhyAsked::OtherYarn { .. } => "other-yarn",
        WhyAsked::OtherPair { .. } => "other-pair",
        WhyAsked::TwoCakes => "two-cakes",
        WhyAsked::BowlMissing => "bowl-missing",
        WhyAsked::TakeBackMore { .. } => "take-back-more",
    }
}

fn gap_name(meaning: Gap) -> &'static str {
    match meaning {
        Gap::None => "agrees",
        Gap::EndsCutOff => "ends",
        Gap::Damp => "damp",
        Gap::MissedMark => "missed",
        Gap::TooMuchMarked => "too-much",
    }
}

fn dry_name(word: DryWord) -> &'static str {
    match word {
        DryWord::WeighAgain => "again",
        DryWord::Drying => "drying",
        DryWord::Stalled => "stalled",
        DryWord::Dry => "dry",
    }
}

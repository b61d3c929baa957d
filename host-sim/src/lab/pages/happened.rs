//! Notices, refusals and faults.

use yarn_scale_core::screen::{Body, FaultWord, KeyWord, Notice, RefusedWord, RestartWord};
use yarn_scale_core::sock::{BowlNumber, SectionKind, Sock, YarnLetter};
use yarn_scale_core::units::Milligrams;
use yarn_scale_core::weighing::CalibrationFault;

use super::Case;
use super::made::{case, line, measured};

const OK: [KeyWord; 3] = [KeyWord::Ok; 3];

pub(super) fn cases() -> Vec<Case> {
    let heel = line(SectionKind::Heel, Sock::Second, YarnLetter::B);
    let cuff = line(SectionKind::Cuff, Sock::First, YarnLetter::B);
    let notices = [
        (
            "weighed-in",
            Notice::WeighedIn {
                yarn: YarnLetter::A,
                weight: measured(103_240, 40.0),
                short: None,
            },
        ),
        (
            "weighed-in-short",
            Notice::WeighedIn {
                yarn: YarnLetter::B,
                weight: measured(20_030, 42.0),
                short: Some(Milligrams(12_340)),
            },
        ),
        (
            "weight-amended",
            Notice::WeightAmended {
                yarn: YarnLetter::B,
                weight: measured(20_130, 32.0),
            },
        ),
        (
            "noted",
            Notice::Noted {
                line: heel,
                used: measured(3_910, 42.0),
                left: Milligrams(19_230),
            },
        ),
        (
            "noted-longest",
            Notice::Noted {
                line: cuff,
                used: measured(88_810, 4_800.0),
                left: Milligrams(488_800),
            },
        ),
        (
            "started",
            Notice::Started {
                yarn: YarnLetter::B,
                weight: measured(17_110, 40.0),
                unplanned: Milligrams(2_120),
            },
        ),
        (
            "amended",
            Notice::Amended {
                line: Some(cuff),
                used: measured(4_110, 40.0),
            },
        ),
        ("undone", Notice::Undone { line: Some(cuff) }),
        ("undone-weigh-in", Notice::Undone { line: None }),
        ("skipped", Notice::Skipped { line: heel }),
        (
            "bowl-noted",
            Notice::BowlNoted {
                number: BowlNumber(2),
                mass: measured(148_220, 40.0),
            },
        ),
        ("zero-set", Notice::ZeroSet),
        ("drive", Notice::Drive),
        ("restarted-hang", Notice::Restarted(RestartWord::Hang)),
        ("restarted-error", Notice::Restarted(RestartWord::Error(0x0A1B_2C3D))),
    ];
    let refused = [
        RefusedWord::NotSteady,
        RefusedWord::ZeroNotSteady,
        RefusedWord::OtherCake,
        RefusedWord::NothingKnitted,
        RefusedWord::EmptyPan,
        RefusedWord::NoPlan,
        RefusedWord::PlanDone,
        RefusedWord::NothingToUndo,
        RefusedWord::NotNoted,
        RefusedWord::JournalFull,
        RefusedWord::SupplyLow,
        RefusedWord::PairFull,
        RefusedWord::PairFinished,
        RefusedWord::Faulty,
        RefusedWord::Pressed,
        RefusedWord::Calibration(CalibrationFault::TooFewPoints),
        RefusedWord::Calibration(CalibrationFault::NoZero),
        RefusedWord::Calibration(CalibrationFault::TooLight),
        RefusedWord::Calibration(CalibrationFault::NoResponse),
        RefusedWord::Calibration(CalibrationFault::NotStraight),
        RefusedWord::Calibration(CalibrationFault::Nonsense),
    ];
    let faults = [
        FaultWord::SensorMissing,
        FaultWord::SensorStuck,
        FaultWord::SensorRate,
        FaultWord::Overload,
        FaultWord::Underload,
        FaultWord::Reversed,
        FaultWord::Uncalibrated,
    ];
    let refused = refused.map(|word| (refused_name(word), Notice::Refused(word)));
    let notices = notices
        .into_iter()
        .chain(refused)
        .map(|(name, notice)| case(name, Body::Notice(notice), OK))
        .chain([case(
            "restoring",
            Body::Notice(Notice::Restoring),
            [KeyWord::Nothing; 3],
        )]);
    let faults = faults.map(|fault| {
        let mark = match fault {
            FaultWord::Uncalibrated => KeyWord::Calibrate,
            _ => KeyWord::Nothing,
        };
        let keys = [KeyWord::Nothing, mark, KeyWord::Next];
        case(fault_name(fault), Body::Fault(fault), keys)
    });
    notices.chain(faults).collect()
}

/// The case's name: no wildcard, so that a new refusal needs a name here, and a case above.
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
        RefusedWord::Calibration(CalibrationFault::TooFewPoints) => "refused-points",
        RefusedWord::Calibration(CalibrationFault::NoZero) => "refused-no-zero",
        RefusedWord::Calibration(CalibrationFault::TooLight) => "refused-too-light",
        RefusedWord::Calibration(CalibrationFault::NoResponse) => "refused-no-response",
        RefusedWord::Calibration(CalibrationFault::NotStraight) => "refused-not-straight",
        RefusedWord::Calibration(CalibrationFault::Nonsense) => "refused-nonsense",
    }
}

/// The case's name, in the same manner.
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

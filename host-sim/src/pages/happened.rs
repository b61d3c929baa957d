//! Notices, refusals and faults.

use yarn_scale_core::journal::BowlNumber;
use yarn_scale_core::ledger::YarnLetter;
use yarn_scale_core::screen::{Body, FaultWord, KeyWord, Notice, RefusedWord, RestartWord};
use yarn_scale_core::section::{SectionKind, Sock};
use yarn_scale_core::units::Milligrams;
use yarn_scale_core::weighing::CalibrationFault;

use super::Case;
use super::made::{case, line, measured};

const OK: [KeyWord; 3] = [KeyWord::Ok; 3];

pub(super) fn cases() -> Vec<Case> {
    let heel = line(SectionKind::Heel, Sock::Second, YarnLetter::B);
    let cuff = line(SectionKind::Cuff, Sock::First, YarnLetter::B);
    let calibration = |fault| Notice::Refused(RefusedWord::Calibration(fault));
    let notices = [
        (
            "weighed-in",
            Notice::WeighedIn {
                yarn: YarnLetter::A,
                weight: measured(103_240, 40.0),
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
        (
            "amended-weigh-in",
            Notice::Amended {
                line: None,
                used: measured(103_310, 40.0),
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
        ("restarted-hang", Notice::Restarted(RestartWord::Hang)),
        ("restarted-error", Notice::Restarted(RestartWord::Error(0x0A1B_2C3D))),
        ("refused-not-steady", Notice::Refused(RefusedWord::NotSteady)),
        ("refused-empty-pan", Notice::Refused(RefusedWord::EmptyPan)),
        ("refused-zero-loaded", Notice::Refused(RefusedWord::ZeroLoaded)),
        ("refused-no-plan", Notice::Refused(RefusedWord::NoPlan)),
        ("refused-plan-done", Notice::Refused(RefusedWord::PlanDone)),
        ("refused-nothing-to-undo", Notice::Refused(RefusedWord::NothingToUndo)),
        ("refused-not-noted", Notice::Refused(RefusedWord::NotNoted)),
        ("refused-journal-full", Notice::Refused(RefusedWord::JournalFull)),
        ("refused-supply-low", Notice::Refused(RefusedWord::SupplyLow)),
        ("refused-pair-full", Notice::Refused(RefusedWord::PairFull)),
        ("refused-faulty", Notice::Refused(RefusedWord::Faulty)),
        ("refused-points", calibration(CalibrationFault::TooFewPoints)),
        ("refused-no-zero", calibration(CalibrationFault::NoZero)),
        ("refused-too-light", calibration(CalibrationFault::TooLight)),
        ("refused-no-response", calibration(CalibrationFault::NoResponse)),
        ("refused-not-straight", calibration(CalibrationFault::NotStraight)),
        ("refused-nonsense", calibration(CalibrationFault::Nonsense)),
    ];
    let faults = [
        ("sensor-missing", FaultWord::SensorMissing),
        ("sensor-stuck", FaultWord::SensorStuck),
        ("overload", FaultWord::Overload),
        ("underload", FaultWord::Underload),
        ("reversed", FaultWord::Reversed),
        ("uncalibrated", FaultWord::Uncalibrated),
    ];
    let notices = notices
        .into_iter()
        .map(|(name, notice)| case(name, Body::Notice(notice), OK));
    let keys = [KeyWord::Nothing, KeyWord::Nothing, KeyWord::Next];
    let faults = faults
        .into_iter()
        .map(|(name, fault)| case(name, Body::Fault(fault), keys));
    notices.chain(faults).collect()
}

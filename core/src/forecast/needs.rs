//! From the ledger to the answers: what a yarn is still wanted for.

use heapless::Vec;

use super::estimate::estimate_at;
use super::loop_length;
use super::{MOST_KINDS, MOST_WANTED, Socks, Wanted};
use crate::journal;
use crate::ledger::Ledger;
use crate::sock::moisture::moisture_u;
use crate::sock::{Line, Order, Preset, SectionKind, Sock, YarnLetter};
use crate::units::Milligrams;

/// What has been knitted of a section since its yarn's last weight, seen on the pan but not marked.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Begun {
    /// The section.
    pub line: u8,
    /// How much.
    pub used: Milligrams,
}

/// The open sections of a yarn, by kind: a section of both socks as one, or the second one with what the first one took. A
/// section that a yarn takes in several lines, such as a striped cuff, counts as often as it is open.
#[must_use]
pub fn wanted(ledger: &Ledger, yarn: YarnLetter, begun: Option<Begun>) -> Vec<Wanted, MOST_WANTED> {
    let lines = || (0_u8..).zip(ledger.plan().lines.iter().copied());
    let is_open = |place: u8, line: Line| line.yarn == yarn && !ledger.is_done(place) && !ledger.is_skipped(place);
    let mut wanted = Vec::new();
    for kind in SectionKind::ALL {
        for (place, line) in lines().filter(|&(place, line)| line.kind == kind && is_open(place, line)) {
            let twin = ledger.plan().counterpart(place);
            let with_twin = twin
                .and_then(|twin| Some((twin, ledger.plan().line(twin)?)))
                .is_some_and(|(twin, line)| is_open(twin, line));
            let mut one = match (line.sock, with_twin) {
                (Sock::First, true) => section(ledger, line, Socks::Both),
                (Sock::First, false) => section(ledger, line, Socks::One),
                // It stands with its twin.
                (Sock::Second, true) => continue,
                (Sock::Second, false) => {
                    let section = section(ledger, line, Socks::One);
                    let first = twin.and_then(|twin| ledger.used(twin));
                    first.map_or(section, |used| section.like_first(used))
                }
            };
            if let Some(begun) = begun.filter(|begun| begun.line == place) {
                one.begun = begun.used;
            }
            // A pair in one yarn, ten sections, takes five of twelve places.
            let _ = wanted.push(one);
        }
    }
    wanted
}

/// The sections that a leftover could go into: those often worked in contrast, as the plan has them, or as usual.
#[must_use]
pub fn contrast_sections(ledger: &Ledger) -> Vec<Wanted, MOST_KINDS> {
    let usual = Preset::ContrastCuffsHeelsToes.lines(Order::OneAfterTheOther);
    let lines = if ledger.plan().lines.is_empty() {
        &usual
    } else {
        &ledger.plan().lines
    };
    let mut sections = Vec::new();
    for kind in SectionKind::ALL.into_iter().filter(|kind| kind.is_contrast()) {
        let line = lines.iter().find(|line| line.kind == kind);
        if let Some(line) = line {
            // A leftover takes the section alone, from its first stitch to its last.
            let size = ledger.size(*line);
            let twice = lines.iter().any(|line| line.kind == kind && line.sock == Sock::Second);
            let socks = if twice { Socks::Both } else { Socks::One };
            let wanted = Wanted::contrast(kind, line.construction, size, socks);
            let wanted = wanted.with_estimate(estimated(ledger, *line));
            // Of a sock three kinds are contrast sections; of a free plan the first parts are taken.
            let _ = sections.push(wanted);
        }
    }
    sections
}

/// What one such section takes by the pair's stitches and gauge and its yarn's length; `None` for a part of what is no sock.
#[must_use]
pub fn estimated(ledger: &Ledger, line: Line) -> Option<Milligrams> {
    let gauge = gauge_of(ledger.gauge());
    estimate_at(ledger.size(line), gauge, line.kind, line.construction)
}

/// The gauge, if it was set; of rounds alone or stitches alone the other goes as in four-ply yarn.
#[must_use]
pub(crate) fn gauge_of(set: journal::Gauge) -> Option<loop_length::Gauge> {
    let usual = loop_length::Gauge::FOUR_PLY;
    // Counted in halves.
    let [stitches, rounds] = [set.stitches_per_10_cm, set.rounds_per_10_cm].map(|halves| 0.5 * f32::from(halves));
    Some(match (set.stitches_per_10_cm, set.rounds_per_10_cm) {
        (0, 0) => return None,
        (0, _) => loop_length::Gauge {
            stitches: rounds * usual.stitches / usual.rounds,
            rounds,
        },
        (_, 0) => loop_length::Gauge {
            stitches,
            rounds: stitches * usual.rounds / usual.stitches,
        },
        (_, _) => loop_length::Gauge { stitches, rounds },
    })
}

/// Ends of yarn that the knitted sections have left.
#[must_use]
pub fn all_ends(ledger: &Ledger) -> u16 {
    let lines = ledger.plan().lines.iter().zip(0_u8..);
    let knitted = lines.filter(|&(_, place)| ledger.is_done(place));
    knitted.map(|(line, _)| u16::from(ends(ledger, *line))).sum()
}

/// What moisture alone can make of a mass over two days, standard uncertainty in mg.
#[must_use]
pub(crate) fn moisture_over_days(ledger: &Ledger, yarn: YarnLetter, mass: Milligrams) -> f32 {
    moisture_u(mass, ledger.label(yarn).fibre, 48.0)
}

fn section(ledger: &Ledger, line: Line, socks: Socks) -> Wanted {
    let alike = |other: &&Line| other.kind == line.kind && other.sock == line.sock;
    let parts = ledger.plan().lines.iter().filter(alike).count();
    let size = ledger.size(line);
    Wanted {
        parts: u8::try_from(parts).unwrap_or(u8::MAX),
        ends: ends(ledger, line),
        estimate: estimated(ledger, line),
        ..Wanted::contrast(line.kind, line.construction, size, socks)
    }
}

/// Ends of yarn of a section: one where the yarn begins, one where it is broken off.
fn ends(ledger: &Ledger, line: Line) -> u8 {
    let lines = &ledger.plan().lines;
    let Some(place) = lines.iter().position(|&other| other == line) else {
        return 2;
    };
    let goes_on = |neighbour: Option<&Line>| {
        neighbour.is_some_and(|neighbour| neighbour.sock == line.sock && neighbour.yarn == line.yarn)
    };
    let before = place.checked_sub(1).and_then(|before| lines.get(before));
    let after = place.checked_add(1).and_then(|after| lines.get(after));
    u8::from(!goes_on(before)).saturating_add(u8::from(!goes_on(after)))
}

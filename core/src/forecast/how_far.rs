//! From the ledger to "how far": what the counted rounds of the running section took, and what is to be kept back.

use heapless::Vec;

use super::rounds::{PerRound, Stretch};
use super::{Rule, Socks, Wanted, answer, estimated};
use crate::ledger::{Ledger, MOST_COUNTED, Purpose, Step};
use crate::math::sqrt;
use crate::measured::Measured;
use crate::sock::{History, SectionKind, Shape, YarnLetter};
use crate::units::Milligrams;

/// What the counted rounds of a section took.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Pace {
    /// What a round takes.
    pub per_round: PerRound,
    /// How many rounds that rests on.
    pub rounds: u16,
    /// In how many stretches.
    pub stretches: u8,
}

/// Whether the rounds of a section are of one size, so that those to come take what the counted ones did.
#[must_use]
pub(crate) const fn has_even_rounds(kind: SectionKind) -> bool {
    matches!(Shape::of(kind), Shape::Tube)
}

/// What a round of the section takes; `None` before two weighings with rounds between them.
#[must_use]
pub(crate) fn pace(ledger: &Ledger, line: u8, yarn: YarnLetter) -> Option<Pace> {
    let counted = ledger.counted(line, yarn);
    let took = |from: usize, to: usize| {
        let (before, after) = (ledger.before_counted(line, yarn, from)?, counted.get(to)?);
        let humidity = after.weight.air.map(crate::sock::Humidity::percent);
        Some(ledger.would_take(&before, after.weight.net, after.at, humidity, None).0)
    };
    let mut stretches: Vec<Stretch, MOST_COUNTED> = Vec::new();
    // Stretches that follow each other share a weighing: of such a chain only the first and the last weighing count.
    let (mut chain, mut variance) = (None, 0.0);
    for (place, after) in counted.iter().enumerate().filter(|(_, after)| after.rounds > 0) {
        let previous = place.checked_sub(1);
        let joins = previous
            .and_then(|previous| counted.get(previous))
            .map(|one| one.sequence)
            == ledger.before_counted(line, yarn, place).map(|base| base.sequence);
        if !joins && let Some(first) = chain.replace(place) {
            let all = took(first, previous?)?;
            variance += all.u * all.u;
        }
        chain.get_or_insert(place);
        // There is a place for each.
        let _ = stretches.push(Stretch {
            rounds: after.rounds,
            used: took(place, place)?,
        });
    }
    let all = took(chain?, counted.len().checked_sub(1)?)?;
    variance += all.u * all.u;
    let rounds = stretches.iter().fold(0, |sum: u16, one| sum.saturating_add(one.rounds));
    Some(Pace {
        per_round: PerRound::of(&stretches, sqrt(variance))?,
        rounds,
        stretches: u8::try_from(stretches.len()).unwrap_or(u8::MAX),
    })
}

/// What the toe of the other sock needs of this yarn, its reserve with it; `None` if none is still to be knitted from it.
#[must_use]
pub(crate) fn other_toe(ledger: &Ledger, running: u8, yarn: YarnLetter, history: &History) -> Option<Milligrams> {
    let sock = ledger.plan().line(running)?.sock;
    let mut lines = ledger.plan().lines.iter().zip(0_u8..);
    let (toe, _) = lines.find(|&(line, place)| {
        let open = !ledger.is_done(place) && !ledger.is_skipped(place);
        open && line.kind == SectionKind::Toe && line.sock != sock && line.yarn == yarn
    })?;
    let size = ledger.size(*toe);
    let one = Wanted::contrast(toe.kind, toe.construction, size, Socks::One);
    let one = one.with_estimate(estimated(ledger, *toe));
    Some(answer(Measured::default(), &[one], history, Rule::default())?.need)
}

/// What half of the yarn is, as it was weighed in last.
#[must_use]
pub(crate) fn half_of(ledger: &Ledger, yarn: YarnLetter) -> Option<Milligrams> {
    let of_yarn = |step: &&Step| step.yarn == yarn && step.purpose == Purpose::WeighIn;
    let weighed_in = ledger.steps().iter().rev().find(of_yarn)?;
    Some(Milligrams(weighed_in.weight.net.value.0 / 2))
}

/// What a cast-off takes: as much as four rounds do, which an elastic one may (common practice, no source).
#[must_use]
pub(crate) fn cast_off(pace: Pace) -> Milligrams {
    Milligrams(crate::math::ceil(4.0 * pace.per_round.mass))
}

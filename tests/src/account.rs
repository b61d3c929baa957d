//! An account of a journal that shares nothing with the ledger: the chains of weights of all pairs, read from the records alone.

use std::collections::BTreeMap;

use yarn_scale_core::journal::{Entry, PairEvent, Record, Sequence};
use yarn_scale_core::sock::{BowlNumber, Weight, YarnLetter};

/// Where the mass between a weight and the one before it went.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Went {
    /// It is a first weight.
    Nowhere,
    /// Into the section at this place of the plan.
    Section(u8),
    /// Into none.
    NoSection,
    /// Into none, and what is left goes on in another pair.
    Away,
}

/// A weight of a yarn, mg.
#[derive(Clone, Copy, Debug)]
pub struct Link {
    /// The record that noted it.
    pub of: Sequence,
    /// Which yarn.
    pub yarn: YarnLetter,
    /// What it weighed.
    pub mass: i64,
    /// With its bowl.
    pub gross: i64,
    /// Where the mass before it went.
    pub went: Went,
    /// A late mark: the mark that it pushed on, and where that went before.
    pub pushed: Option<(Sequence, Went)>,
}

impl Link {
    /// Whether this record noted it, in the pair that the record belongs to.
    fn is(&self, of: Sequence) -> bool {
        self.of == of && self.went != Went::Away
    }
}

/// The chains of all pairs, read from the records alone.
#[derive(Debug, Default)]
pub struct Account {
    /// The weights of each pair in their order.
    pub pairs: BTreeMap<u16, Vec<Link>>,
    bowls: BTreeMap<BowlNumber, i64>,
    begun: u16,
    /// Late marks.
    pub late: usize,
    /// Weights that were taken back or moved.
    pub changed: usize,
    /// Yarns that went on in another pair.
    pub carried: usize,
}

impl Account {
    /// Of a journal from its first record on.
    ///
    /// # Panics
    /// If a record speaks of what never was.
    #[must_use]
    pub fn of(journal: &[Entry]) -> Self {
        let mut account = Self::default();
        for entry in journal {
            if let Record::PairBegun { pair, .. } = entry.record {
                account.begun = pair;
                account.pairs.insert(pair, Vec::new());
            }
            if let Record::Bowl { number, mass } = entry.record {
                account.bowls.insert(number, mass.value.0.into());
            }
            if let Some((pair, event)) = entry.record.pair_event(account.begun) {
                account.take(pair, entry.sequence, &event);
            }
        }
        account
    }

    fn take(&mut self, pair: u16, of: Sequence, event: &PairEvent) {
        self.take_elsewhere(pair, of, event);
        let chain = self.pairs.get_mut(&pair).expect("a pair that was begun");
        let bowls = &self.bowls;
        let gross = |weight: Weight| i64::from(weight.net.value.0) + weight.bowl.map_or(0, |bowl| bowls[&bowl]);
        let link = |yarn, weight: Weight, went| Link {
            of,
            yarn,
            mass: weight.net.value.0.into(),
            gross: gross(weight),
            went,
            pushed: None,
        };
        match *event {
            PairEvent::WeighIn { yarn, weight } => chain.push(link(yarn, weight, Went::Nowhere)),
            PairEvent::Mark { line, yarn, weight, .. } => chain.push(link(yarn, weight, Went::Section(line))),
            PairEvent::Unplanned { yarn, weight } => chain.push(link(yarn, weight, Went::NoSection)),
            PairEvent::Amended { of, weight } => {
                let link = chain.iter_mut().find(|link| link.is(of)).expect("it was noted");
                (link.mass, link.gross) = (weight.net.value.0.into(), gross(weight));
            }
            PairEvent::Undone { of } | PairEvent::TakenBack { of } => {
                self.changed += 1;
                // A section that was left out has no weight.
                if let Some(place) = chain.iter().position(|link| link.is(of)) {
                    let gone = chain.remove(place);
                    if let Some((later, went)) = gone.pushed
                        && let Some(link) = chain.iter_mut().find(|link| link.of == later)
                    {
                        link.went = went;
                    }
                }
            }
            PairEvent::Moved { of, line } => {
                self.changed += 1;
                let link = chain.iter_mut().find(|link| link.of == of).expect("it was noted");
                link.went = Went::Section(line);
                // It has its place now, whatever becomes of what pushed it.
                for link in chain.iter_mut() {
                    link.pushed.take_if(|(pushed, _)| *pushed == of);
                }
            }
            PairEvent::LateMark {
                line,
                yarn,
                weight,
                before,
                ..
            } => {
                self.late += 1;
                let mut late = link(yarn, weight, Went::Section(line));
                match before {
                    None => chain.push(late),
                    Some((later, pushed_to)) => {
                        let place = chain.iter().position(|link| link.of == later).expect("it was noted");
                        // What went into no section stays there.
                        if let Went::Section(_) = chain[place].went {
                            late.pushed = Some((later, chain[place].went));
                            chain[place].went = Went::Section(pushed_to);
                        }
                        chain.insert(place, late);
                    }
                }
            }
            PairEvent::Carried { yarn, weight, .. } => chain.push(link(yarn, weight, Went::Nowhere)),
            PairEvent::LineChanged { .. }
            | PairEvent::Skipped { .. }
            | PairEvent::Label { .. }
            | PairEvent::YarnNamed { .. }
            | PairEvent::Gauge(_)
            | PairEvent::Rounds { .. }
            | PairEvent::Reopened => {}
        }
    }

    /// What an event of one pair does to the others: a yarn of theirs goes on there, which is corrected or taken back.
    fn take_elsewhere(&mut self, pair: u16, of: Sequence, event: &PairEvent) {
        let bowls = &self.bowls;
        let gross = |weight: Weight| i64::from(weight.net.value.0) + weight.bowl.map_or(0, |bowl| bowls[&bowl]);
        let others = self.pairs.iter_mut().filter(|(number, _)| **number != pair);
        let is_end = |link: &Link, of| link.of == of && link.went == Went::Away;
        match *event {
            PairEvent::Carried { from, was, weight, .. } => {
                for (_, chain) in others.filter(|(number, _)| **number == from) {
                    let last = chain.iter().rev().find(|link| link.yarn == was);
                    if last.is_some_and(|last| last.went != Went::Away) {
                        self.carried += 1;
                        chain.push(Link {
                            of,
                            yarn: was,
                            mass: weight.net.value.0.into(),
                            gross: gross(weight),
                            went: Went::Away,
                            pushed: None,
                        });
                    }
                }
            }
            PairEvent::Amended { of, weight } => {
                for link in others.flat_map(|(_, chain)| chain).filter(|link| is_end(link, of)) {
                    (link.mass, link.gross) = (weight.net.value.0.into(), gross(weight));
                }
            }
            PairEvent::Undone { of } => others.for_each(|(_, chain)| chain.retain(|link| !is_end(link, of))),
            _ => {}
        }
    }

    /// What went from pair to pair, mg.
    #[must_use]
    pub fn between_pairs(&self) -> i64 {
        let ends = self.pairs.values().flatten().filter(|link| link.went == Went::Away);
        ends.map(|link| link.mass).sum()
    }

    /// Of a pair and a yarn: what came in, what its sections took, what went to none, and what is left, mg.
    #[must_use]
    pub fn sums(&self, pair: u16, yarn: YarnLetter) -> [i64; 4] {
        let [mut came, mut used, mut none] = [0; 3];
        let mut before = None;
        for link in self.pairs[&pair].iter().filter(|link| link.yarn == yarn) {
            match (before, link.went) {
                (Some(before), Went::Section(_)) => used += before - link.mass,
                (Some(before), Went::NoSection) => none += before - link.mass,
                (before, Went::Away) => {
                    came += before.map_or(link.mass, |_| 0);
                    none += before.unwrap_or(link.mass);
                }
                (put_away, _) => {
                    none += put_away.unwrap_or(0);
                    came += link.mass;
                }
            }
            before = (link.went != Went::Away).then_some(link.mass);
        }
        [came, used, none, before.unwrap_or(0)]
    }

    /// What a section took of all yarns.
    #[must_use]
    pub fn section(&self, pair: u16, line: u8) -> i64 {
        let of_yarn = |yarn: YarnLetter| {
            let links: Vec<&Link> = self.pairs[&pair].iter().filter(|link| link.yarn == yarn).collect();
            let taken = links
                .windows(2)
                .filter(|two| two[0].went != Went::Away && two[1].went == Went::Section(line));
            taken.map(|two| two[0].mass - two[1].mass).sum::<i64>()
        };
        YarnLetter::ALL.into_iter().map(of_yarn).sum()
    }
}

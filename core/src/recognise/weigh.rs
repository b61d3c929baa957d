//! How likely each meaning is: prior times likelihood of the weight, per mg of net mass.

use heapless::Vec;

use super::priors;
use super::{BowlOn, Cake, Considered, Elsewhere, Meaning, Situation};
use crate::math::{exp, rss};

/// Meanings that are told apart at once at most.
pub const MEANINGS: usize = 32;

/// Considers everything that the press can mean, the likeliest first; their shares add up to one.
#[must_use]
pub fn consider(situation: &Situation) -> Vec<Considered, MEANINGS> {
    let mut found = Found::default();
    let net = situation.net.value.0 as f32;
    match situation.planned() {
        Some(cake) => planned(situation, cake, net, &mut found),
        None => {
            found.add(
                Meaning::FirstWeight(situation.planned),
                priors::FIRST_WEIGHT,
                first_weight(net),
            );
            for &Elsewhere {
                pair, yarn, as_last, ..
            } in &situation.elsewhere
            {
                found.add(Meaning::GoesOn { pair, yarn }, priors::GOES_ON, as_last);
            }
        }
    }
    others(situation, net, &mut found);
    found.add(Meaning::TwoCakes, priors::TWO_CAKES, two_cakes(situation, net));
    found.add_others(&situation.elsewhere, net);
    found.ranked()
}

/// What the planned yarn's cake can have gone through.
fn planned(situation: &Situation, cake: &Cake, net: f32, found: &mut Found) {
    let (used, u) = (cake.used.value.0 as f32, cake.used.u);
    let yarn = cake.yarn;
    found.add(Meaning::Untouched(yarn), priors::SAME_LOAD, normal(used, u));
    found.add(Meaning::RippedBack(yarn), priors::RIPPED_BACK, ripped_back(cake));
    let Some(next) = cake.next.first() else { return };
    let (line, amount) = (next.line, next.amount);
    let section = Meaning::Section {
        line,
        yarn,
        used: cake.used.value,
    };
    found.add(section, priors::RIGHT, amount.density(used, u));
    // Another one was marked out of its order, and this one was left for later.
    for left_out in cake.next.iter().filter(|open| open.line < line) {
        let section = Meaning::Section {
            line: left_out.line,
            yarn,
            used: cake.used.value,
        };
        found.add(section, priors::LEFT_OUT, left_out.amount.density(used, u));
    }
    found.add(Meaning::Early, priors::EARLY, amount.unfinished(used));
    forgotten(situation, cake, found);
    let bowls = situation.bowls.len() as f32;
    for &BowlOn { bowl, used } in &situation.bowls {
        let likely = amount.density(used.value.0 as f32, used.u);
        let meaning = Meaning::OtherBowl {
            bowl,
            line,
            yarn,
            used: used.value,
        };
        found.add(meaning, priors::OTHER_BOWL / bowls, likely);
    }
    // What lies on the pan beside the cake, once the section is knitted.
    let beside = amount.expected - used;
    let somewhere = |from, to| amount.over_deviations(|deviation| within(beside, from, to, rss(u, deviation)));
    found.add(Meaning::UnknownBowl, priors::UNKNOWN_BOWL, any_bowl(beside));
    found.add(Meaning::Disturbed, priors::DISTURBED, somewhere(-PULL, TRIFLE));
    let left = (net - beside).max(1_000.0);
    found.add(
        Meaning::Damp,
        priors::DAMP,
        somewhere(LEAST_DAMP * left, MOST_DAMP * left),
    );
}

/// Up to all of the last section was put back, and the press may come when some of it was knitted again.
fn ripped_back(cake: &Cake) -> f32 {
    let back = -(cake.used.value.0 as f32);
    let last = cake.before.filter(|&before| back > 0.0 && back < before);
    last.map_or(0.0, |before| 1.0 / before)
}

/// Marks of the planned yarn that were forgotten before this one. If the pan has seen the cake since, it may have been at the boundary, and
/// then both amounts must fit; if it has not, that speaks against it.
fn forgotten(situation: &Situation, cake: &Cake, found: &mut Found) {
    let (used, u) = (cake.used.value.0 as f32, cake.used.u);
    let (Some(first), later) = (cake.next.first(), cake.next.iter().skip(1)) else {
        return;
    };
    let (mut sum, mut prior) = (first.amount, priors::FORGOTTEN);
    for (count, next) in later.enumerate() {
        let parted = situation
            .late
            .filter(|_| count == 0)
            .and_then(|late| late.parted(&cake.next, u));
        sum = sum.plus(next.amount);
        let mut add = |seen, likely| {
            let meaning = Meaning::Forgotten {
                line: next.line,
                yarn: cake.yarn,
                used: cake.used.value,
                seen,
            };
            found.add(meaning, prior, likely);
        };
        let unseen = (1.0 - priors::SEEN) * sum.density(used, u);
        if let Some(parted) = parted {
            // A visit from curiosity has any amount.
            let any = priors::CURIOUS * f32::from(situation.visits.max(1));
            add(true, priors::SEEN * parted * used / any);
            add(false, unseen);
        } else {
            add(false, unseen / (1.0 - priors::CURIOUS));
        }
        // Each further section that was not marked is as rare again as the first.
        prior *= AGAIN;
    }
}

/// Cakes that are not the planned one.
fn others(situation: &Situation, net: f32, found: &mut Found) {
    let others = || situation.cakes.iter().filter(|cake| cake.yarn != situation.planned);
    let count = others().count() as f32;
    for cake in others() {
        let (used, u) = (cake.used.value.0 as f32, cake.used.u);
        found.add(
            Meaning::Untouched(cake.yarn),
            priors::OTHER_CAKE / count,
            normal(used, u),
        );
        let back = priors::OTHER_RIPPED_BACK / count;
        found.add(Meaning::RippedBack(cake.yarn), back, ripped_back(cake));
        let Some(next) = cake.next.first() else { continue };
        let section = Meaning::Section {
            line: next.line,
            yarn: cake.yarn,
            used: cake.used.value,
        };
        found.add(section, priors::OTHER_ORDER / count, next.amount.density(used, u));
    }
    let fresh = || situation.fresh.iter().filter(|&&yarn| yarn != situation.planned);
    if let Some(&yarn) = fresh().next() {
        found.add(Meaning::FirstWeight(yarn), priors::OTHER_CAKE * UNSEEN, any_cake(net));
    }
}

/// Any two cakes at once, one of which may have been knitted from.
fn two_cakes(situation: &Situation, net: f32) -> f32 {
    let mut sum = 0.0;
    let mut pairs = 0.0;
    for (place, one) in situation.cakes.iter().enumerate() {
        for two in situation.cakes.iter().skip(place.saturating_add(1)) {
            let u = rss(one.used.u, two.used.u);
            let used = (one.last.value + two.last.value).0 as f32 - net;
            pairs += 1.0;
            sum += 0.5 * normal(used, u);
            let knitted = [one, two].into_iter().find(|cake| cake.yarn == situation.planned);
            if let Some(next) = knitted.and_then(|cake| cake.next.first()) {
                sum += 0.5 * next.amount.density(used, u);
            }
        }
    }
    if pairs > 0.0 { sum / pairs } else { 0.0 }
}

/// Meanings with their weight.
#[derive(Default)]
pub(super) struct Found(Vec<Considered, MEANINGS>);

impl Found {
    /// What is of no yarn of the pair in hand.
    pub(super) fn add_others(&mut self, elsewhere: &[Elsewhere], net: f32) {
        for &Elsewhere { pair, yarn, likely, .. } in elsewhere {
            self.add(Meaning::OtherPair { pair, yarn }, priors::OTHER_PAIR, likely);
        }
        self.add(Meaning::UnknownCake, priors::UNKNOWN_CAKE, any_cake(net));
        self.add(Meaning::Anything, priors::ANYTHING, ANY_WEIGHT);
    }

    /// Adds a meaning in its place, the likeliest first; of too many the least likely gives way.
    pub(super) fn add(&mut self, meaning: Meaning, prior: f32, likelihood: f32) {
        let share = prior * likelihood;
        if share > 0.0 {
            let mut next = Considered { meaning, share };
            for known in &mut self.0 {
                if known.share < next.share {
                    core::mem::swap(known, &mut next);
                }
            }
            // The least likely, where there is no room.
            let _ = self.0.push(next);
        }
    }

    /// All of them, of which [`Found::add_others`] has left one at least.
    pub(super) fn ranked(self) -> Vec<Considered, MEANINGS> {
        let Self(mut all) = self;
        let sum: f32 = all.iter().map(|considered| considered.share).sum();
        for considered in &mut all {
            considered.share /= sum;
        }
        all
    }
}

/// Density of a normal distribution about zero.
pub(super) fn normal(x: f32, deviation: f32) -> f32 {
    let deviation = deviation.max(LEAST_DEVIATION);
    let deviations = x / deviation;
    exp(-0.5 * deviations * deviations) * ONE_OVER_ROOT_TAU / deviation
}

/// Density of what lies anywhere between two ends alike, the ends blurred.
fn within(x: f32, from: f32, to: f32, blur: f32) -> f32 {
    let rises = |x: f32| 1.0 / (1.0 + exp(-1.702 * x / blur.max(LEAST_DEVIATION)));
    (rises(x - from) - rises(x - to)) / (to - from)
}

/// Density of the mass of any cake or leftover: as many of one gram as of ten grams and of a hundred, to within a factor.
fn any_cake(net: f32) -> f32 {
    log_uniform(net, LIGHTEST_CAKE, HEAVIEST_CAKE)
}

/// Density of a yarn's first weight: whatever the pan carries can be one, from the end of a leftover to a cone.
fn first_weight(net: f32) -> f32 {
    log_uniform(net, LIGHTEST_FIRST, HEAVIEST_FIRST)
}

/// Density of the mass of any bowl, bag or basket.
fn any_bowl(mass: f32) -> f32 {
    log_uniform(mass, LIGHTEST_BOWL, HEAVIEST_BOWL)
}

/// Density that is the same for each factor, from one mass to another, `from` times 50 or 20.
fn log_uniform(x: f32, from: f32, to: f32) -> f32 {
    if x < from || x > to {
        return 0.0;
    }
    1.0 / (x * crate::math::ln(to / from))
}

/// Standard deviations below this are not believed, mg: half a division.
const LEAST_DEVIATION: f32 = 50.0;
/// Density of any weight at all, per mg: 500 g.
const ANY_WEIGHT: f32 = 1.0 / 500_000.0;
/// How much rarer a second slip of a kind is.
const AGAIN: f32 = 0.2;
/// A yarn that was not weighed in is on the pan out of turn: it is what will be put there next but one.
const UNSEEN: f32 = 2.0;
/// Most that a strand pulls up, or a thing that was forgotten on the pan weighs, mg.
const PULL: f32 = 5_000.0;
const TRIFLE: f32 = 10_000.0;
/// Water in a damp cake, as a share of its mass.
const LEAST_DAMP: f32 = 0.04;
const MOST_DAMP: f32 = 0.30;
const LIGHTEST_CAKE: f32 = 1_000.0;
const HEAVIEST_CAKE: f32 = 160_000.0;
const LIGHTEST_FIRST: f32 = 200.0;
const HEAVIEST_FIRST: f32 = 1_200_000.0;
const LIGHTEST_BOWL: f32 = 20_000.0;
const HEAVIEST_BOWL: f32 = 400_000.0;

const ONE_OVER_ROOT_TAU: f32 = 0.398_942_3;

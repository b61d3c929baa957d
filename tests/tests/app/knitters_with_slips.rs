//! Generated stories of knitters with slips, in little: what `yarn-scale-lab slips` prints for thousands.

use yarn_scale_sim::lab::slips::slip::Slip;
use yarn_scale_sim::lab::slips::story::Known;
use yarn_scale_sim::lab::slips::tally::Tally;

const STORIES: u64 = 120;
const SEED: u64 = 11;

/// Percent of 120 stories: three standard deviations of what a share of some percent varies by.
const CHANCE: f64 = 6.0;

fn played(known: Known) -> Vec<Tally> {
    let slips = Slip::THOUGHT_OF.iter().chain(&Slip::KEPT_APART);
    slips.map(|&slip| Tally::of(known, slip, SEED, STORIES)).collect()
}

#[test]
fn one_more_press_on_a_question_never_does_harm() {
    for tally in played(Known::FirstSock).iter().chain(&played(Known::Nothing)) {
        assert_eq!(tally.harm(), 0, "{tally}");
        let [offered, near] = tally.offered();
        assert!(offered >= 97.0 && near >= 95.0, "{tally}");
    }
}

/// Beside the rows of one pair: a cake of another pair is told as well as the ideal observer tells it, and its pair is offered.
#[test]
fn a_cake_of_another_pair_is_told() {
    for slip in Slip::SEVERAL_PAIRS {
        let tally = Tally::of(Known::SeveralPairs, slip, SEED, 4 * STORIES);
        assert!(tally.wrong() <= tally.ideal() + 2.0 + CHANCE / 2.0, "{tally}");
        assert_eq!(tally.harm(), 0, "{tally}");
        let [offered, near] = tally.offered();
        // Where three pairs are open, the cake can look like two of them.
        let least = if slip == Slip::OtherPair { 83.0 } else { 95.0 };
        assert!(offered >= 97.0 && near >= least, "{tally}");
        let [own, another] = tally.proposed();
        if slip == Slip::OtherPair {
            assert!(own >= 12.0 && another <= 1.5, "{own} {another}");
        } else {
            // The cakes of the pair in hand propose no other pair.
            let most = if slip == Slip::UnknownCake { 1.5 } else { 0.5 };
            assert!(own == 0.0 && another <= most, "{slip:?}: {another}");
        }
    }
}

#[test]
fn the_scale_errs_hardly_more_than_an_ideal_observer() {
    for tally in played(Known::FirstSock).iter().chain(&played(Known::Nothing)) {
        // Early presses are told apart better by who knows how early they come.
        let allowed = match tally.slip {
            Slip::Early | Slip::NearlyDone | Slip::Coin | Slip::Pull | Slip::Damp => 10.0 + CHANCE,
            _ => 2.0 + CHANCE,
        };
        assert!(tally.wrong() <= tally.ideal() + allowed, "{tally}");
    }
}

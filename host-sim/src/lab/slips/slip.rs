//! What can go wrong, and what the right answer to the scale's question is then.

use yarn_scale_core::recognise::Choice;

use super::story::Story;

/// What happens when MARK is pressed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Slip {
    /// Nothing: the section is finished, and its yarn is on the pan.
    Right,
    /// A leftover without a record.
    UnknownCake,
    /// Another yarn of the pair, not touched since.
    OtherCake,
    /// The mark before was forgotten.
    ForgottenMark,
    /// Pressed after a part of the section.
    Early,
    /// Pressed after 0.3 g.
    Trifle,
    /// MARK once more on the same load.
    SameLoad,
    /// Two cakes on the pan.
    TwoCakes,
    /// A bowl that was never tared.
    UntaredBowl,
    /// The bowl that is set was taken away.
    NoBowl,
    /// The other bowl.
    OtherBowl,
    /// A later section of another yarn was knitted first.
    OtherOrder,
    /// Yarn was ripped back.
    RippedBack,
    /// A coin lies on the pan as well.
    Coin,
    /// The strand or a hand pulls.
    Pull,
    /// Damp from washing.
    Damp,
    /// The planned yarn as it was days ago: MARK pressed to make sure.
    Untouched,
    /// Pressed a few rounds before the end.
    NearlyDone,
    /// A leftover of a gram or two.
    TinyLeftover,
    /// Mini skeins of a set that weigh the same: the other one.
    EqualYarns,
    /// A telephone lies on the pan as well.
    Phone,
    /// Cut-off ends lie on the pan as well.
    Ends,
    /// The other half of a skein that was never weighed.
    OtherHalf,
    /// Both socks at a time: the section of the other sock was finished first.
    OtherSock,
    /// A cake of another pair that is on the needles.
    OtherPair,
}

impl Slip {
    /// Those that the priors and the likelihoods were written for.
    pub const THOUGHT_OF: [Self; 16] = [
        Self::Right,
        Self::UnknownCake,
        Self::OtherCake,
        Self::ForgottenMark,
        Self::Early,
        Self::Trifle,
        Self::SameLoad,
        Self::TwoCakes,
        Self::UntaredBowl,
        Self::NoBowl,
        Self::OtherBowl,
        Self::OtherOrder,
        Self::RippedBack,
        Self::Coin,
        Self::Pull,
        Self::Damp,
    ];
    /// Those that are told where several pairs are open.
    pub const SEVERAL_PAIRS: [Self; 6] = [
        Self::Right,
        Self::UnknownCake,
        Self::OtherCake,
        Self::ForgottenMark,
        Self::Early,
        Self::OtherPair,
    ];
    /// Those that were kept apart: nothing in core speaks of them.
    pub const KEPT_APART: [Self; 8] = [
        Self::NearlyDone,
        Self::Untouched,
        Self::TinyLeftover,
        Self::EqualYarns,
        Self::Phone,
        Self::Ends,
        Self::OtherHalf,
        Self::OtherSock,
    ];

    /// How often it happens; the ideal observer knows this (assumption, no source).
    #[must_use]
    pub const fn prior(self) -> f64 {
        match self {
            Self::Right => 0.96,
            Self::ForgottenMark | Self::OtherOrder | Self::SameLoad | Self::OtherPair => 0.01,
            Self::UnknownCake | Self::OtherCake | Self::Early | Self::OtherBowl => 0.005,
            Self::UntaredBowl | Self::NoBowl | Self::RippedBack => 0.003,
            Self::Trifle | Self::TwoCakes | Self::Coin | Self::Pull | Self::Damp => 0.002,
            Self::Untouched
            | Self::NearlyDone
            | Self::TinyLeftover
            | Self::EqualYarns
            | Self::Phone
            | Self::Ends
            | Self::OtherHalf
            | Self::OtherSock => 0.0,
        }
    }

    pub(super) const fn wants_other_yarn(self) -> bool {
        matches!(
            self,
            Self::OtherCake | Self::TwoCakes | Self::OtherOrder | Self::EqualYarns
        )
    }

    pub(super) const fn wants_bowls(self) -> bool {
        matches!(self, Self::NoBowl | Self::OtherBowl)
    }

    /// In words.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::Right => "right",
            Self::UnknownCake => "a cake that nobody knows",
            Self::OtherCake => "another cake of the pair",
            Self::ForgottenMark => "a mark forgotten before",
            Self::Early => "too early, after a third",
            Self::Trifle => "too early, after 0.3 g",
            Self::SameLoad => "MARK twice",
            Self::TwoCakes => "two cakes",
            Self::UntaredBowl => "a bowl that was never tared",
            Self::NoBowl => "the bowl was taken away",
            Self::OtherBowl => "another bowl",
            Self::OtherOrder => "a later section first",
            Self::RippedBack => "ripped back",
            Self::Coin => "a coin on the pan",
            Self::Pull => "a pull while pressing",
            Self::Damp => "damp from washing",
            Self::Untouched => "untouched for days",
            Self::NearlyDone => "a few rounds too early",
            Self::TinyLeftover => "a leftover of 1 g",
            Self::EqualYarns => "equal mini skeins",
            Self::Phone => "a telephone on the pan",
            Self::Ends => "cut ends on the pan",
            Self::OtherHalf => "the other half, unseen",
            Self::OtherSock => "the other sock's section",
            Self::OtherPair => "a cake of another pair",
        }
    }

    /// Whether this answers what happened.
    #[must_use]
    pub fn is_answered_by(self, choice: &Choice, story: &Story) -> bool {
        let yarn = story.lines[story.cursor].yarn;
        match self {
            Self::Right => matches!(choice, Choice::Section { line, .. } if usize::from(*line) == story.cursor),
            Self::OtherOrder => {
                matches!(choice, Choice::Section { line, .. } if Some(usize::from(*line)) == story.truth)
            }
            Self::OtherCake | Self::EqualYarns => matches!(choice, Choice::NothingUsed(found) if *found != yarn),
            Self::SameLoad | Self::Untouched => matches!(choice, Choice::NothingUsed(found) if *found == yarn),
            Self::ForgottenMark if story.seen.is_some() => matches!(choice, Choice::Both(_)),
            // Where it was is unknown now.
            Self::ForgottenMark => matches!(choice, Choice::StartFromHere { .. }),
            Self::NoBowl => matches!(choice, Choice::OtherBowl { bowl: None, .. }),
            Self::OtherBowl => matches!(choice, Choice::OtherBowl { bowl: Some(bowl), .. } if bowl.0 == 2),
            Self::RippedBack => matches!(choice, Choice::StartFromHere { .. }),
            // Put it right, and press again.
            Self::UnknownCake
            | Self::TinyLeftover
            | Self::Early
            | Self::NearlyDone
            | Self::Trifle
            | Self::TwoCakes
            | Self::UntaredBowl
            | Self::Coin
            | Self::Pull
            | Self::Damp
            | Self::Phone
            | Self::Ends
            | Self::OtherHalf
            | Self::OtherSock => matches!(choice, Choice::NotNow),
            Self::OtherPair => matches!(choice, Choice::OtherPair(pair) if Some(*pair) == story.meant),
        }
    }
}

//! How often a press of MARK has which reason, before anything is weighed.
//!
//! No count of slips is published: all figures are assumptions (no source), of the size that makes a slip a matter of weeks for a knitter who marks
//! three sections an evening. What matters are their sizes beside each other within a factor of two or three; the choice of odds and the
//! bench of slips were made with them.

/// The section that comes next is finished, and its yarn is on the pan: 24 presses of 25.
pub(super) const RIGHT: f32 = 0.96;

/// Another cake of this pair, as it was last weighed: the wrong one was taken from the bag.
pub(super) const OTHER_CAKE: f32 = 0.005;

/// A cake or leftover that the scale has never seen: there is a bag of them.
pub(super) const UNKNOWN_CAKE: f32 = 0.005;

/// A cake of another pair on the needles: she has taken that one up again and not said so, or reached into the wrong bag. A knitter with
/// several pairs goes from one to another every few evenings, and does not always say so first.
pub(super) const OTHER_PAIR: f32 = 0.01;

/// A yarn's first weight in this pair is the last one in another pair, on the needles still or finished just now: its leftover makes heels
/// and toes here. One first weight in fifty.
pub(super) const GOES_ON: f32 = 0.02;

/// Two cakes of the pair at once: both hang on the sock where colours change.
pub(super) const TWO_CAKES: f32 = 0.002;

/// Another bowl than the one that is set, or none: it was wanted in the kitchen.
pub(super) const OTHER_BOWL: f32 = 0.008;

/// A bowl or bag that was never tared.
pub(super) const UNKNOWN_BOWL: f32 = 0.003;

/// The same load once more: pressed to make sure.
pub(super) const SAME_LOAD: f32 = 0.01;

/// The mark before this one was forgotten.
pub(super) const FORGOTTEN: f32 = 0.01;

/// A section of another yarn that comes later in the plan was knitted first, or the mark between was forgotten.
pub(super) const OTHER_ORDER: f32 = 0.01;

/// An earlier section of the yarn is open still, since a later one was marked before it: it was left for later and is finished now. Else its
/// mark was forgotten: one as likely as the other, to within a factor.
pub(super) const LEFT_OUT: f32 = 0.5;

/// Pressed before the section was finished: tried, mistaken, or a child.
pub(super) const EARLY: f32 = 0.005;

/// Yarn was ripped back since the last mark, so that the cake is heavier.
pub(super) const RIPPED_BACK: f32 = 0.004;

/// The same of a yarn that is not planned now: its section was the last, and another yarn is next.
pub(super) const OTHER_RIPPED_BACK: f32 = 0.001;

/// Something light lies on the pan as well, or the strand or a hand pulls while it is pressed.
pub(super) const DISTURBED: f32 = 0.005;

/// The cake is damp: washed, or left beside a window.
pub(super) const DAMP: f32 = 0.002;

/// None of all these: any weight.
pub(super) const ANYTHING: f32 = 0.001;

/// Nothing was noted of the planned yarn yet, and this is its first weight: as likely as a right mark otherwise is.
pub(super) const FIRST_WEIGHT: f32 = RIGHT;

/// The pan has seen the cake at the boundary whose mark was forgotten: she looked, and did not press.
pub(super) const SEEN: f32 = 0.7;

/// The pan has seen the cake in the middle of a section: out of curiosity, or to see whether it will do.
pub(super) const CURIOUS: f32 = 0.3;

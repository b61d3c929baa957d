//! Every text on the screen, in every language.

/// A text on the screen.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Word {
    /// Title of the list of everything that is not needed daily.
    Everything,
    /// The plan of the pair.
    Plan,
    /// Begin a new pair.
    NewPair,
    /// The remembered bowls.
    Bowls,
    /// Units of mass.
    Units,
    /// Grams.
    Grams,
    /// Ounces.
    Ounces,
    /// Title: what to do with one section of the plan.
    ThisSection,
    /// The next mark closes this section.
    KnitThisNext,
    /// Another yarn for this section.
    ChangeYarn,
    /// A mark was forgotten: choose the visit.
    ForgottenMark,
    /// This section is not knitted, or not weighed.
    SkipSection,
    /// Title: which visit was the end of the section.
    WhichVisit,
    /// Title: which bowl is on the pan.
    WhichBowl,
    /// No bowl is on the pan.
    NoBowl,
    /// Plan: everything in one yarn, cuff-down.
    OneYarn,
    /// Plan: heels and toes in a contrast yarn, cuff-down.
    ContrastHeelsToes,
    /// Plan: cuffs, heels and toes in a contrast yarn, cuff-down.
    ContrastCuffsHeelsToes,
    /// Plan: everything in one yarn, toe-up.
    OneYarnToeUp,
    /// Plan: toes, heels and cuffs in a contrast yarn, toe-up.
    ContrastToeUp,
}

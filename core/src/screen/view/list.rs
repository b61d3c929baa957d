//! Lists, values to set, and one thing to do.

use heapless::Vec;

use super::MAX_ROWS;
use crate::forecast::RoundsLeft;
use crate::measured::Measured;
use crate::screen::Word;
use crate::sock::{BowlNumber, SectionKind, Sock, YarnLetter};
use crate::units::Milligrams;

/// A list to choose from.
#[derive(Clone, Debug, PartialEq)]
pub struct List {
    /// Its title.
    pub title: Word,
    /// Its items.
    pub items: Vec<Item, MAX_ROWS>,
    /// The highlighted one; none if it is behind the last.
    pub selected: u8,
}

/// A line of a list: words and, at its right end, a value.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Item {
    /// What it is.
    pub label: ItemLabel,
    /// Its value now, if it has one.
    pub value: Value,
}

/// What a line of a list is about.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum ItemLabel {
    /// A fixed word.
    Word(Word),
    /// A name that is the same in every language.
    Name(&'static str),
    /// A yarn.
    Yarn(YarnLetter),
    /// What is left of a yarn.
    YarnLeft(YarnLetter),
    /// A bowl.
    Bowl(BowlNumber),
    /// A bowl to be tared now.
    NewBowl(BowlNumber),
    /// A time, by how many minutes it lies back.
    MinutesAgo(u32),
    /// A part of a sock.
    Kind(SectionKind),
    /// A part of a sock, in a yarn.
    KindIn(SectionKind, YarnLetter),
    /// A section of a sock.
    Section(SectionKind, Sock),
}

/// A value at the right end of a line, or large on an edit page.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Value {
    /// None.
    Nothing,
    /// A fixed word.
    Word(Word),
    /// A part of a sock.
    Kind(SectionKind),
    /// A whole number.
    Number(i32),
    /// Between which numbers of rounds.
    Rounds(RoundsLeft),
    /// A small mass, with two figures more than others.
    Small(Measured),
    /// A number of halves: 61 is 30.5.
    Halves(i32),
    /// A mass.
    Mass(Milligrams),
    /// A mass with its 95 % uncertainty.
    Measured(Measured),
    /// What two sections would take.
    Both(Milligrams, Milligrams),
    /// What a section takes, before and after a change; nothing where it is not marked.
    Change(Option<Milligrams>, Option<Milligrams>),
    /// A half-width: plus or minus this mass.
    PlusMinus(Milligrams),
    /// By how much readings differ, and what to think of it.
    Judged(Milligrams, Word),
    /// A name that is the same in every language.
    Name(&'static str),
    /// A yarn.
    Yarn(YarnLetter),
    /// A number with its unit's word, such as metres per 100 g.
    Quantity(i32, Word),
    /// The same, and what to think of it.
    Checked(i32, Word, Word),
}

/// A value to set.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Edit {
    /// What is set.
    pub title: Word,
    /// Its value now.
    pub value: Value,
    /// A line of advice.
    pub hint: Option<Word>,
}

/// One thing to do now.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Guide {
    /// What it is part of.
    pub title: Word,
    /// What to do.
    pub say: Word,
    /// With how much, or for the how manyth time.
    pub value: Value,
    /// The reading is steady: it can be taken.
    pub steady: bool,
}

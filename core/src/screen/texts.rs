//! The texts of a language, stored frugally.

/// The texts of one language on end: a place takes two bytes this way, a reference would take eight.
#[derive(Debug)]
pub(super) struct Texts<const COUNT: usize> {
    all: &'static str,
    ends: [u16; COUNT],
}

impl<const COUNT: usize> Texts<COUNT> {
    /// The texts `each`, which are `all` when joined.
    #[allow(
        clippy::indexing_slicing,
        clippy::arithmetic_side_effects,
        clippy::cast_possible_truncation,
        clippy::panic,
        reason = "runs while compiling only: a table that does not fit stops the build"
    )]
    pub(super) const fn new(all: &'static str, each: &[&str]) -> Self {
        let mut ends = [0; COUNT];
        let (mut place, mut end) = (0, 0);
        while place < each.len() {
            end += each[place].len();
            assert!(
                end <= u16::MAX as usize,
                "the texts of a language are longer than a place can say"
            );
            ends[place] = end as u16;
            place += 1;
        }
        assert!(end == all.len(), "the places belong to other texts");
        Self { all, ends }
    }

    /// The text at a place of the table.
    pub(super) fn nth(&self, place: usize) -> &'static str {
        let end = |place: usize| self.ends.get(place).map_or(0, |&end| usize::from(end));
        let start = place.checked_sub(1).map_or(0, end);
        self.all.get(start..end(place)).unwrap_or("")
    }
}

//! Cutting power at every flash operation of a restore, and again in the recovery: the journal is the old one or the new one, whole.

use yarn_scale_core::book::Book;
use yarn_scale_core::checksum::Crc32;
use yarn_scale_core::journal::{Journal, JournalFault, Record, RingName, Setting, packed};
use yarn_scale_core::units::{Milligrams, Stamp};
use yarn_scale_sim::device::flash::{SimFlash, Tear};

/// An entry with its ring.
pub type Saved = (RingName, Vec<u8>);

/// What was tried.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct RestoreCounts {
    /// Flash operations of the restores.
    pub operations: u64,
    /// Cuts in them.
    pub cuts: u64,
    /// Of these, the ones that left the new journal.
    pub new: u64,
    /// Cuts in what came after a first.
    pub second_cuts: u64,
}

/// Every entry of a journal as it stands, part by part.
///
/// # Errors
/// What the journal says.
pub fn standing(flash: &mut SimFlash) -> Result<Vec<Saved>, JournalFault> {
    let journal = Journal::open(flash, |_| {})?;
    let mut entries = Vec::new();
    let mut next = journal.first();
    while let Some(place) = next {
        next = journal.items(flash, place, |item| {
            entries.push((place.ring(), item.to_vec()));
            std::ops::ControlFlow::Continue(())
        })?;
    }
    Ok(entries)
}

/// Restores these entries, in rows of so many bytes at the most, and confirms the end.
///
/// # Errors
/// What the journal says; [`JournalFault::Unwritable`] if it refuses them.
pub fn put_back(flash: &mut SimFlash, entries: &[Saved], row: usize) -> Result<(), JournalFault> {
    let mut journal = Journal::open(flash, |_| {})?;
    journal.begin_restore(flash)?;
    let mut sum = Crc32::new();
    let mut rest = entries;
    while let Some((ring, _)) = rest.first() {
        let mut packed = heapless::Vec::<u8, 4_096>::new();
        let mut count = 0;
        for (_, entry) in rest.iter().take_while(|(of, _)| of == ring) {
            if count > 0 && packed.len() + entry.len() > row {
                break;
            }
            let before = packed.len();
            packed::put(&mut packed, entry)?;
            sum.take(&[*ring as u8]);
            sum.take(&packed[before..]);
            count += 1;
        }
        if !journal.take_over(flash, *ring, &packed)? {
            return Err(JournalFault::Unwritable);
        }
        rest = &rest[count..];
    }
    let count = entries.len() as u32;
    match journal.end_restore(flash, count, sum.value())? {
        true => Ok(()),
        false => Err(JournalFault::Unwritable),
    }
}

/// Restores entries onto a chip, cut in every `step`th flash operation in each kind of tear. What stands after each cut is the old journal or
/// the new one, no operation before the last leaves the new one, something can be noted, and the restore can be done again; after a second
/// cut in any `step`th operation of that, too.
///
/// # Errors
/// The first thing that was otherwise, with the place of the cut.
pub fn cut_restore(old: &SimFlash, entries: &[Saved], step: u64) -> Result<RestoreCounts, String> {
    let before = standing(&mut old.copy()).map_err(|fault| fault.to_string())?;
    let mut whole = old.copy();
    whole.forget_counts();
    put_back(&mut whole, entries, ROW).map_err(|fault| format!("uncut: {fault}"))?;
    let operations = whole.counts().operations();
    let after = standing(&mut whole).map_err(|fault| fault.to_string())?;
    let told = told(&mut whole);
    let mut counts = RestoreCounts {
        operations,
        ..RestoreCounts::default()
    };
    let last = (operations.saturating_sub(4)..operations).collect::<Vec<_>>();
    for operation in (0..operations).step_by(step as usize).chain(last) {
        for tear in Tear::all(counts.cuts) {
            let at = |what: String| format!("cut in operation {operation} of {operations}, {tear:?}: {what}");
            let mut torn = old.copy();
            torn.forget_counts();
            torn.cut_after(operation, tear);
            // The last operation but one is what counts; in the last, the fence is cleared away.
            let _ = put_back(&mut torn, entries, ROW);
            if !torn.is_off() {
                return Err(at("the cut did not come".into()));
            }
            torn.power_on();
            counts.cuts += 1;
            let found = standing(&mut torn).map_err(|fault| at(fault.to_string()))?;
            let is_new = found == after;
            if !is_new && found != before {
                return Err(at(format!("{} entries of {}", found.len(), after.len())));
            }
            if is_new && before != after && operation + 2 < operations {
                return Err(at("it counted before its end".into()));
            }
            if !is_new && operation + 1 == operations {
                return Err(at("its end was confirmed, and it does not count".into()));
            }
            counts.new += u64::from(is_new);
            recover(&torn, entries, (&found, &after), &mut counts).map_err(at)?;
            if is_new && self::told(&mut torn) != told {
                return Err(at("the book is another".into()));
            }
        }
    }
    Ok(counts)
}

/// What comes after a cut: the scale notes something, or the restore is done again; cut once more in either.
fn recover(
    torn: &SimFlash,
    entries: &[Saved],
    (found, after): (&[Saved], &[Saved]),
    counts: &mut RestoreCounts,
) -> Result<(), String> {
    let note = |flash: &mut SimFlash| {
        let mut journal = Journal::open(flash, |_| {})?;
        let record = Record::Setting(Setting::SleepMinutes(17));
        // Much to erase is erased bit by bit.
        for _ in 0..ROUNDS {
            match journal.append(flash, Stamp(9), record.clone()) {
                Err(JournalFault::Restoring) => {}
                noted => return noted.map(|_| ()),
            }
        }
        Err(JournalFault::Restoring)
    };
    let again = |flash: &mut SimFlash| {
        if found == after {
            return Ok(());
        }
        for _ in 0..ROUNDS {
            match put_back(flash, entries, ROW) {
                Err(JournalFault::Restoring) => {}
                done => return done,
            }
        }
        Err(JournalFault::Restoring)
    };
    type Recovery<'r> = &'r dyn Fn(&mut SimFlash) -> Result<(), JournalFault>;
    let recoveries: [Recovery<'_>; 2] = [&note, &again];
    for (recovery, is_note) in recoveries.into_iter().zip([true, false]) {
        let mut whole = torn.copy();
        whole.forget_counts();
        recovery(&mut whole).map_err(|fault| format!("does not go on: {fault}"))?;
        let there = standing(&mut whole).map_err(|fault| fault.to_string())?;
        let expected: &[Saved] = if is_note { found } else { after };
        if !contains(&there, expected, is_note) {
            return Err(format!("gone on with: {} entries", there.len()));
        }
        let operations = whole.counts().operations();
        // Every place would be every place squared: one in this many, another one each time.
        for operation in (counts.second_cuts % SECOND..operations).step_by(SECOND as usize) {
            let all = Tear::all(counts.second_cuts);
            let tear = all[counts.second_cuts as usize % all.len()];
            let mut twice = torn.copy();
            twice.forget_counts();
            twice.cut_after(operation, tear);
            let _ = recovery(&mut twice);
            twice.power_on();
            counts.second_cuts += 1;
            let now = standing(&mut twice).map_err(|fault| fault.to_string())?;
            let is_whole = contains(&now, found, is_note) || (!is_note && now == after);
            if !is_whole {
                return Err(format!(
                    "second cut in operation {operation}, {tear:?}: {} entries",
                    now.len()
                ));
            }
        }
    }
    Ok(())
}

/// Whether these are the entries, with what was noted behind the marks where that is allowed.
fn contains(there: &[Saved], expected: &[Saved], one_more: bool) -> bool {
    if there == expected {
        return true;
    }
    let marks = |entries: &[Saved]| entries.iter().filter(|(ring, _)| *ring == RingName::Marks).count();
    let more = marks(there).saturating_sub(marks(expected));
    // A chip that held something else has one more: that something was lost.
    if !one_more || !(1..=2).contains(&more) {
        return false;
    }
    let end = there
        .iter()
        .rposition(|(ring, _)| *ring == RingName::Marks)
        .unwrap_or_default();
    let mut without = there.to_vec();
    without.drain(end + 1 - more..=end);
    without == expected
}

/// The book that a scale begins with.
fn told(flash: &mut SimFlash) -> Option<Book> {
    let mut book = Book::new(Milligrams::from_grams(500));
    Journal::open(flash, |replayed| book.take(replayed)).ok()?;
    book.settle();
    Some(book)
}

/// Bytes of a row, as a computer sends them.
const ROW: usize = 512;

/// Of the operations after a cut, one in so many is cut again.
const SECOND: u64 = 427;

/// How often something is tried while the scale erases.
const ROUNDS: u32 = 16;

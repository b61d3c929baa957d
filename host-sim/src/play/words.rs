//! Names of what is on the screen and in the journal, as scenarios use them: the core's own names, in lower case with hyphens.

use std::fmt::Debug;

use yarn_scale_core::journal::{PairEvent, Record, Setting};
use yarn_scale_core::recognise::Choice;
use yarn_scale_core::screen::{Body, Item, ItemLabel, Notice, RefusedWord, Value, View, Word};
use yarn_scale_core::sock::{SectionKind, Sock};
use yarn_scale_core::units::Milligrams;

use crate::play::scenario::SectionName;

/// The name of a variant: `NotSteady` is `not-steady`, whatever it carries.
#[must_use]
pub fn name_of(variant: &impl Debug) -> String {
    let text = format!("{variant:?}");
    let word: String = text.chars().take_while(char::is_ascii_alphanumeric).collect();
    let mut name = String::new();
    for letter in word.chars() {
        if letter.is_ascii_uppercase() && !name.is_empty() {
            name.push('-');
        }
        name.push(letter.to_ascii_lowercase());
    }
    name
}

/// The page that is open.
#[must_use]
pub fn page(view: &View) -> String {
    name_of(&view.body)
}

/// What a notice, refusal, question or fault says, what a guide says to do, or the title of a list or of a value.
#[must_use]
pub fn says(view: &View) -> Option<String> {
    match &view.body {
        Body::Notice(Notice::Refused(RefusedWord::Calibration(fault))) => Some(name_of(fault)),
        Body::Notice(Notice::Refused(word)) => Some(name_of(word)),
        Body::Notice(notice) => Some(name_of(notice)),
        Body::Pan(pan) => pan.proposal.map(|_| "other-pair".to_owned()),
        Body::Question(question) => Some(name_of(&question.why)),
        Body::Fault(word) => Some(name_of(word)),
        Body::List(list) => Some(name_of(&list.title)),
        Body::Edit(edit) => Some(name_of(&edit.title)),
        Body::Guide(guide) => Some(name_of(&guide.say)),
        Body::PairSummary(summary) => Some(if summary.finished { "finished" } else { "open" }.to_owned()),
        Body::Pairs(list) => Some(if list.are_full { "finish-one" } else { "go-on-with" }.to_owned()),
        _ => None,
    }
}

/// What can be chosen.
#[must_use]
pub fn choices(view: &View) -> Vec<String> {
    match &view.body {
        Body::Question(question) => question.choices.iter().map(choice).collect(),
        Body::List(list) => list.items.iter().map(line).collect(),
        Body::PairSummary(summary) => summary.items.iter().map(|item| label(&item.label)).collect(),
        Body::Pairs(list) => {
            let pairs = list.rows.iter().map(|pair| format!("pair {}", pair.number));
            let new = (!list.are_full).then(|| "new-pair".to_owned());
            pairs.chain(new).collect()
        }
        Body::Plan(plan) => plan
            .rows
            .iter()
            .map(|row| section(row.line.kind, row.line.sock))
            .collect(),
        _ => Vec::new(),
    }
}

/// A line of a list: the free plans are told apart by their number of parts.
fn line(item: &Item) -> String {
    match (item.label, item.value) {
        (ItemLabel::Word(Word::FreePlan), Value::Number(parts)) => format!("free-plan-{parts}"),
        (of_a_line, _) => label(&of_a_line),
    }
}

/// What is highlighted among what can be chosen.
#[must_use]
pub fn highlighted(view: &View) -> Option<String> {
    let selected = match &view.body {
        Body::Question(question) => question.selected,
        Body::List(list) => list.selected,
        Body::PairSummary(summary) => summary.selected,
        Body::Pairs(list) => list.selected,
        Body::Plan(plan) => plan.selected,
        _ => return None,
    };
    choices(view).get(usize::from(selected)).cloned()
}

/// The value that is being set, or stands in the highlighted line.
#[must_use]
pub fn value(view: &View) -> Option<String> {
    match shown_value(view)? {
        Value::Nothing => None,
        Value::Word(word) => Some(name_of(&word)),
        Value::Kind(kind) => Some(name_of(&kind)),
        Value::Name(name) => Some(name.to_owned()),
        Value::Yarn(yarn) => Some(yarn.symbol().to_string()),
        Value::Number(number) | Value::Quantity(number, _) | Value::Checked(number, ..) => Some(number.to_string()),
        Value::Mass(Milligrams(mg)) | Value::PlusMinus(Milligrams(mg)) | Value::Judged(Milligrams(mg), _) => {
            Some(format!("{:.1}", f64::from(mg) / 1_000.0))
        }
        Value::Both(one, two) => Some(format!(
            "{:.1} + {:.1}",
            f64::from(one.0) / 1_000.0,
            f64::from(two.0) / 1_000.0
        )),
        Value::Change(before, after) => {
            let said = |mass: Option<Milligrams>| {
                mass.map_or("-".to_owned(), |mass| format!("{:.1}", f64::from(mass.0) / 1_000.0))
            };
            Some(format!("{} to {}", said(before), said(after)))
        }
        Value::Halves(halves) => Some(format!("{:.1}", f64::from(halves) / 2.0)),
        Value::Rounds(rounds) => Some(rounds.likely.to_string()),
        Value::Small(mass) => Some(format!("{:.2}", f64::from(mass.value.0) / 1_000.0)),
        Value::Measured(measured) => Some(format!("{:.1}", f64::from(measured.value.0) / 1_000.0)),
    }
}

/// The number that is being set: g, m or pieces; not known is 0.
#[must_use]
pub fn number_being_set(view: &View) -> Option<f64> {
    match shown_value(view).filter(|_| matches!(view.body, Body::Edit(_)))? {
        Value::Word(_) => Some(0.0),
        Value::Number(number) | Value::Quantity(number, _) => Some(f64::from(number)),
        Value::Mass(mass) | Value::Both(mass, _) => Some(f64::from(mass.0) / 1_000.0),
        _ => None,
    }
}

fn shown_value(view: &View) -> Option<Value> {
    match &view.body {
        Body::Edit(edit) => Some(edit.value),
        Body::Guide(guide) => Some(guide.value),
        Body::List(list) => list.items.get(usize::from(list.selected)).map(|item| item.value),
        Body::PairSummary(summary) => summary.items.get(usize::from(summary.selected)).map(|item| item.value),
        _ => None,
    }
}

/// Mass of what is highlighted, g, where it has one.
#[must_use]
pub fn highlighted_grams(view: &View) -> Option<f64> {
    match shown_value(view).filter(|_| matches!(view.body, Body::List(_)))? {
        Value::Mass(mass) => Some(f64::from(mass.0) / 1_000.0),
        _ => None,
    }
}

fn choice(choice: &Choice) -> String {
    match choice {
        Choice::Section { yarn, .. } => format!("section {}", yarn.symbol()),
        Choice::NothingUsed(yarn) => format!("nothing-used {}", yarn.symbol()),
        Choice::OtherBowl { bowl, .. } => bowl.map_or("no bowl".to_owned(), |bowl| format!("bowl {}", bowl.0)),
        Choice::GoesOn { from, was, yarn } => format!("{} of pair {from} as {}", was.symbol(), yarn.symbol()),
        Choice::OtherPair(pair) => format!("pair {pair}"),
        Choice::WeighIn(yarn) => format!("weigh-in {}", yarn.symbol()),
        Choice::StartFromHere { yarn, .. } => format!("start-from-here {}", yarn.symbol()),
        other => name_of(other),
    }
}

fn section(kind: SectionKind, sock: Sock) -> String {
    SectionName(kind, sock).to_string()
}

fn label(label: &ItemLabel) -> String {
    match label {
        ItemLabel::Word(word) => name_of(word),
        ItemLabel::Name(name) => (*name).to_owned(),
        ItemLabel::Yarn(yarn) => format!("yarn {}", yarn.symbol()),
        ItemLabel::YarnLeft(yarn) => format!("left {}", yarn.symbol()),
        ItemLabel::Bowl(bowl) => format!("bowl {}", bowl.0),
        ItemLabel::NewBowl(bowl) => format!("new-bowl {}", bowl.0),
        ItemLabel::MinutesAgo(minutes) => format!("{minutes} min ago"),
        ItemLabel::Kind(kind) | ItemLabel::KindIn(kind, _) => name_of(kind),
        ItemLabel::Section(kind, sock) => section(*kind, *sock),
        #[allow(
            unreachable_patterns,
            reason = "a new kind of label goes by its own name until it has a better one"
        )]
        other => name_of(other),
    }
}

/// Signs in the top line.
#[must_use]
pub fn signs(view: &View) -> Vec<&'static str> {
    let signs = [
        (view.status.supply_low, "supply-low"),
        (view.status.zero_unproven, "zero-unproven"),
        (view.status.journal_filling, "journal-filling"),
        (view.status.doubtful, "doubtful"),
    ];
    signs.into_iter().filter_map(|(on, name)| on.then_some(name)).collect()
}

/// The kind of a record that a knitter asked for; `None` for what the scale notes by itself.
#[must_use]
pub fn record(record: &Record) -> Option<String> {
    match record {
        Record::OfPair {
            event: PairEvent::Amended { .. },
            ..
        }
        | Record::Visit { .. }
        | Record::Started(_)
        | Record::Amended { .. }
        | Record::Checkpoint { .. }
        | Record::Kept { .. } => None,
        // What went is known better than from two weights.
        Record::OfPair {
            event: PairEvent::Mark { used_u: Some(_), .. },
            ..
        } => Some("stay-mark".to_owned()),
        Record::OfPair { event, .. } => Some(name_of(event)),
        Record::Setting(Setting::PairInHand(_)) => Some("pair-in-hand".to_owned()),
        Record::Setting(Setting::KeptFrom(_)) => Some("kept-from".to_owned()),
        other => Some(name_of(other)),
    }
}

//! Whether what is expected is so.

use std::collections::BTreeMap;

use yarn_scale_core::app::App;
use yarn_scale_core::screen::View;
use yarn_scale_core::sock::YarnLetter;
use yarn_scale_core::units::Milligrams;

use super::facts::Facts;
use super::stage::{Stage, Unmet};
use super::words;
use crate::play::scenario::{Expect, SectionName};

/// Checks all that is expected at once.
///
/// # Errors
/// The first thing that is not so, and what is instead.
pub fn check(stage: &Stage, expect: &Expect) -> Result<(), Unmet> {
    if expect.is_about_the_screen() {
        let Some(view) = stage.view() else {
            return Err("the power is off: nothing is shown".to_owned());
        };
        screen(&view, expect)?;
    }
    if let Some(records) = &expect.records {
        let noted: Vec<_> = stage
            .unasked()
            .iter()
            .filter_map(|entry| words::record(&entry.record))
            .collect();
        same("records", records, &noted)?;
    }
    if expect.is_about_the_ledger() {
        let app = stage.simulator.app().ok_or("the power is off: there is no ledger")?;
        ledger(app, expect, &stage.truth)?;
    }
    Ok(())
}

/// Checks that what was weighed in is what was used, what went to no section and what is left, to the milligram.
///
/// # Errors
/// The yarn for which it is not.
pub fn conserves(app: &App) -> Result<(), Unmet> {
    for yarn in YarnLetter::ALL {
        let account = app.book().ledger().account(yarn);
        if account.weighed_in != account.used + account.unplanned + account.left {
            return Err(format!(
                "yarn {}: mass has come or gone: {} mg weighed in, {} used, {} unplanned, {} left",
                yarn.symbol(),
                account.weighed_in.0,
                account.used.0,
                account.unplanned.0,
                account.left.0
            ));
        }
    }
    Ok(())
}

fn screen(view: &View, expect: &Expect) -> Result<(), Unmet> {
    let instead = || {
        let says = words::says(view).map_or(String::new(), |says| format!(", it says {says:?}"));
        format!("the page is {:?}{says}", words::page(view))
    };
    if let Some(page) = &expect.page
        && *page != words::page(view)
    {
        return Err(format!("expected page {page:?}, but {}", instead()));
    }
    if let Some(says) = &expect.says
        && Some(says) != words::says(view).as_ref()
    {
        return Err(format!("expected it to say {says:?}, but {}", instead()));
    }
    if let Some(choices) = &expect.choices {
        same("choices", choices, &words::choices(view))?;
    }
    if let Some(wanted) = &expect.value
        && Some(wanted) != words::value(view).as_ref()
    {
        let found = words::value(view).unwrap_or_default();
        return Err(format!("expected the value {wanted:?}, found {found:?}"));
    }
    if let Some(signs) = &expect.signs {
        same("signs", signs, &words::signs(view))?;
    }
    let facts = Facts::of(view);
    if let Some(wanted) = &expect.shown
        && facts.shown.as_ref() != Some(wanted)
    {
        return Err(format!(
            "expected {wanted:?} on the display, found {:?}",
            facts.shown.unwrap_or_default()
        ));
    }
    if let Some(wanted) = expect.grams {
        let found = facts.shown.as_deref().and_then(|text| text.parse().ok());
        near("the display", wanted, found, expect.tolerance())?;
    }
    if let Some(wanted) = expect.steady
        && facts.steady != Some(wanted)
    {
        return Err(format!("expected steady = {wanted}, but {}", instead()));
    }
    if let Some(wanted) = expect.section
        && facts.section != Some(wanted)
    {
        let found = facts.section.map_or("none".to_owned(), |section| section.to_string());
        return Err(format!("expected section {wanted}, found {found}"));
    }
    if let Some(wanted) = expect.yarn
        && facts.yarn != Some(wanted.0)
    {
        let found = facts.yarn.map_or("none".to_owned(), |yarn| yarn.symbol().to_string());
        return Err(format!("expected yarn {}, found {found}", wanted.0.symbol()));
    }
    if let Some(wanted) = expect.used {
        near("used", wanted, facts.used.map(grams), expect.tolerance())?;
    }
    if let Some(wanted) = expect.left {
        near("left", wanted, facts.left.map(grams), expect.tolerance())?;
    }
    Ok(())
}

fn ledger(app: &App, expect: &Expect, truth: &BTreeMap<SectionName, f64>) -> Result<(), Unmet> {
    let ledger = app.book().ledger();
    let lines = ledger.plan().lines.iter().zip(0_u8..);
    let used: BTreeMap<String, f64> = lines
        .filter_map(|(line, place)| {
            let name = SectionName(line.kind, line.sock).to_string();
            Some((name, grams(ledger.used(place)?.value)))
        })
        .collect();
    for (section, wanted) in expect.ledger.iter().flatten() {
        near(section, *wanted, used.get(section).copied(), expect.tolerance())?;
    }
    if expect.ledger_true == Some(true) {
        let truth: BTreeMap<String, f64> = truth
            .iter()
            .map(|(section, grams)| (section.to_string(), *grams))
            .collect();
        for (section, wanted) in &truth {
            near(section, *wanted, used.get(section).copied(), expect.tolerance())?;
        }
        if let Some(section) = used.keys().find(|section| !truth.contains_key(*section)) {
            return Err(format!("{section} is in the ledger, but was never knitted"));
        }
    }
    for (yarn, wanted) in expect.left_of.iter().flatten() {
        let letter = YarnLetter::ALL
            .into_iter()
            .find(|letter| *yarn == letter.symbol().to_string());
        let last = letter
            .and_then(|letter| ledger.last(letter))
            .map(|step| grams(step.weight.net.value));
        near(&format!("left of {yarn}"), *wanted, last, expect.tolerance())?;
    }
    if let Some(wanted) = &expect.next {
        let line = ledger.cursor().and_then(|line| ledger.plan().line(line));
        let found = line.map_or("none".to_owned(), |line| SectionName(line.kind, line.sock).to_string());
        if *wanted != found {
            return Err(format!("expected {wanted} to be next, found {found}"));
        }
    }
    Ok(())
}

impl Expect {
    fn is_about_the_screen(&self) -> bool {
        self.page.is_some()
            || self.says.is_some()
            || self.shown.is_some()
            || self.grams.is_some()
            || self.steady.is_some()
            || self.section.is_some()
            || self.yarn.is_some()
            || self.used.is_some()
            || self.left.is_some()
            || self.choices.is_some()
            || self.value.is_some()
            || self.signs.is_some()
    }

    fn is_about_the_ledger(&self) -> bool {
        self.ledger.is_some() || self.ledger_true.is_some() || self.left_of.is_some() || self.next.is_some()
    }

    /// Whether it asks for anything at all.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        !self.is_about_the_screen() && !self.is_about_the_ledger() && self.records.is_none()
    }
}

fn near(what: &str, wanted: f64, found: Option<f64>, within: f64) -> Result<(), Unmet> {
    match found {
        // A microgram for decimals that binary cannot hold.
        Some(found) if (found - wanted).abs() <= within + 1e-6 => Ok(()),
        Some(found) => Err(format!(
            "expected {what} = {wanted} g within {within} g, found {found} g"
        )),
        None => Err(format!("expected {what} = {wanted} g, found nothing")),
    }
}

fn same(what: &str, wanted: &[String], found: &[impl AsRef<str>]) -> Result<(), Unmet> {
    let found: Vec<&str> = found.iter().map(AsRef::as_ref).collect();
    if wanted == found {
        Ok(())
    } else {
        Err(format!(
            "expected {what} {}, found {}",
            wanted.join(", "),
            found.join(", ")
        ))
    }
}

fn grams(mass: Milligrams) -> f64 {
    f64::from(mass.0) / 1_000.0
}

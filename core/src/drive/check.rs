//! How the scale is, for whoever looks for a fault: a text with the words of the diagnostics page and of the check on the bench.

use core::fmt::{self, Display, Write};

use super::roll::{LISTED, WHOLE};
use super::snapshot::{ScaleState, Snapshot};
use super::window::Window;
use crate::journal::{BenchCheck, Language, SCHEMA};
use crate::link::PROTOCOL;
use crate::screen::Word;
use crate::ui::told;

/// Writes the text.
pub(super) fn text(snapshot: &Snapshot, out: &mut Window<'_>) -> fmt::Result {
    let scale = &snapshot.scale;
    let health = &scale.health;
    let mut line = Lines {
        out,
        language: snapshot.language,
    };
    line.say("Yarn scale: how it is", "Garnwaage: wie es ihr geht")?;
    line.out.write_str(END)?;
    line.put(Word::Version, Some(&scale.version), None)?;
    line.name("Journal's schema", "Schema des Tagebuchs", Some(&SCHEMA))?;
    line.name(
        "Protocol of the serial line",
        "Protokoll der seriellen Leitung",
        Some(&PROTOCOL),
    )?;
    line.name(
        "Device's own time, s",
        "Eigene Zeit des Geräts, s",
        Some(&snapshot.at.0),
    )?;
    line.name("Time, UTC", "Zeit, UTC", known(&snapshot.calendar.date(snapshot.at)))?;
    line.out.write_str(END)?;
    let verdict = line.word(if health.sound() { Word::Good } else { Word::Bad });
    line.put(Word::SelfTest, Some(&verdict), None)?;
    let supply = health.supply.map(|supply| supply.0);
    line.put(Word::Supply, known(&supply), Some(Word::Millivolts))?;
    line.put(Word::ASecond, known(&health.a_second), None)?;
    line.put(Word::Noise, Some(&(scale.noise as i32)), Some(Word::MilligramsShort))?;
    line.put(Word::Drift, Some(&(scale.drift as i32)), Some(Word::MilligramsAMinute))?;
    line.name("Most on the pan, g", "Höchstlast, g", Some(&(scale.capacity.0 / 1_000)))?;
    let of_100_grams = scale.span.map(|span| (1.96e5 * span) as i32);
    line.name(
        "Calibration at 100 g, ± mg",
        "Kalibrierung bei 100 g, ± mg",
        known(&of_100_grams),
    )?;
    let zero = line.word(if scale.is_zero_proven { Word::Yes } else { Word::No });
    line.name(
        "Zero seen on the empty pan",
        "Null auf leerer Schale gesehen",
        Some(&zero),
    )?;
    line.put(Word::Hangs, Some(&health.hangs), None)?;
    line.put(Word::Errors, Some(&health.errors), None)?;
    line.out.write_str(END)?;
    let percent = |part: fn(crate::journal::Usage) -> u8| scale.usage.map(part);
    line.name(
        "Room for closed pairs used, %",
        "Platz für fertige Paare belegt, %",
        known(&percent(|usage| usage.pairs_percent)),
    )?;
    line.name(
        "Room for marks used, %",
        "Platz für Marken belegt, %",
        known(&percent(|usage| usage.marks_percent)),
    )?;
    line.name("Records", "Einträge", Some(&snapshot.entries))?;
    let pairs = snapshot.roll.listed().len();
    line.name("Pairs", "Paare", Some(&pairs))?;
    line.name(
        "Places where marks are missing",
        "Stellen, an denen Marken fehlen",
        Some(&snapshot.gaps),
    )?;
    line.out.write_str(END)?;
    line.checks(snapshot)?;
    if scale.usage.is_none() {
        line.say(
            "The journal cannot be read: nothing is noted, and the tables are empty.",
            "Das Tagebuch ist nicht lesbar: Nichts wird notiert, und die Tabellen sind leer.",
        )?;
    }
    if scale.is_in_doubt {
        line.say(
            "IN DOUBT: something that was noted is missing or damaged. The tables mark what stands beside it.",
            "ZWEIFELHAFT: Etwas Notiertes fehlt oder ist beschädigt. Die Tabellen zeichnen aus, was daneben steht.",
        )?;
    }
    if snapshot.roll.left_out() > 0 {
        line.say(
            "The tables hold the newest pairs; the backup holds all.",
            "Die Tabellen enthalten die neuesten Paare; die Sicherung enthält alle.",
        )?;
    }
    if pairs > WHOLE {
        line.say(
            "Of older pairs the tables hold what each section took, without times and yarns.",
            "Von älteren Paaren enthalten die Tabellen den Verbrauch je Teil, ohne Zeiten und Garne.",
        )?;
    }
    const { assert!(LISTED > WHOLE) };
    Ok(())
}

/// A value as a trait object, so that the line is compiled once and not for each type of value.
fn known<T: Display>(value: &Option<T>) -> Option<&dyn Display> {
    value.as_ref().map(|value| -> &dyn Display { value })
}

struct Lines<'o, 'w> {
    out: &'o mut Window<'w>,
    language: Language,
}

impl Lines<'_, '_> {
    /// The latest result of each check on the bench that was ever made.
    fn checks(&mut self, snapshot: &Snapshot) -> fmt::Result {
        let ScaleState {
            checks, mg_per_count, ..
        } = &snapshot.scale;
        let mut title = Some(Word::BenchCheck);
        for check in BenchCheck::ALL {
            let Some(checked) = checks.of(check) else { continue };
            if let Some(title) = title.take() {
                write!(self.out, "{}{END}", self.word(title))?;
            }
            let (number, verdict) = told(check, checked, *mg_per_count);
            write!(self.out, "{}: ", self.word(check.word()))?;
            if let Some((number, unit)) = number {
                write!(self.out, "{number} {} ", self.word(unit))?;
            }
            write!(self.out, "{}{END}", self.word(verdict))?;
        }
        if title.is_none() {
            self.out.write_str(END)?;
        }
        Ok(())
    }

    /// A line with a name of the screen.
    fn put(&mut self, name: Word, value: Option<&dyn Display>, unit: Option<Word>) -> fmt::Result {
        let unit = unit.filter(|_| value.is_some()).map_or("", |unit| self.word(unit));
        self.line(self.word(name), value, unit)
    }

    /// A line with a name that is not on the screen.
    fn name(&mut self, english: &str, german: &str, value: Option<&dyn Display>) -> fmt::Result {
        self.line(self.choose(english, german), value, "")
    }

    fn line(&mut self, name: &str, value: Option<&dyn Display>, unit: &str) -> fmt::Result {
        let between = if unit.is_empty() { "" } else { " " };
        match value {
            Some(value) => write!(self.out, "{name}: {value}{between}{unit}{END}"),
            None => write!(self.out, "{name}: {}{END}", self.word(Word::NotKnown)),
        }
    }

    fn say(&mut self, english: &str, german: &str) -> fmt::Result {
        let sentence = self.choose(english, german);
        write!(self.out, "{sentence}{END}")
    }

    fn word(&self, word: Word) -> &'static str {
        word.text(self.language)
    }

    const fn choose<'t>(&self, english: &'t str, german: &'t str) -> &'t str {
        match self.language {
            Language::English => english,
            Language::German => german,
        }
    }
}

/// Ends a line as every editor understands it.
const END: &str = "\r\n";

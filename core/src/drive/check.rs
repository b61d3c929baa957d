//! How the scale is, for whoever looks for a fault: a text with the words of the diagnostics page.

use core::fmt::{self, Display, Write};

use super::roll::{LISTED, WHOLE};
use super::snapshot::Snapshot;
use super::window::Window;
use crate::journal::{Language, SCHEMA};
use crate::link::PROTOCOL;

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
    line.put("Program", "Programm", Some(scale.version))?;
    line.put("Journal's schema", "Schema des Tagebuchs", Some(SCHEMA))?;
    line.put(
        "Protocol of the serial line",
        "Protokoll der seriellen Leitung",
        Some(PROTOCOL),
    )?;
    line.put("Device's own time, s", "Eigene Zeit des Geräts, s", Some(snapshot.at.0))?;
    line.put("Time, UTC", "Zeit, UTC", snapshot.calendar.date(snapshot.at))?;
    line.out.write_str(END)?;
    let verdict = line.choose(
        if health.sound() { "good" } else { "BAD" },
        if health.sound() { "gut" } else { "SCHLECHT" },
    );
    line.put("Self-test", "Selbsttest", Some(verdict))?;
    let supply = health.supply.map(|supply| supply.0);
    line.put("Supply, mV", "Versorgung, mV", supply)?;
    line.put("Conversions a second", "Wandlungen je Sekunde", health.a_second)?;
    line.put("Noise, mg", "Rauschen, mg", Some(scale.noise as i32))?;
    line.put("Drift, mg a minute", "Drift, mg je Minute", Some(scale.drift as i32))?;
    line.put("Most on the pan, g", "Höchstlast, g", Some(scale.capacity.0 / 1_000))?;
    let of_100_grams = scale.span.map(|span| (1.96e5 * span) as i32);
    line.put(
        "Calibration at 100 g, +/- mg",
        "Kalibrierung bei 100 g, +/- mg",
        of_100_grams,
    )?;
    let zero = line.choose(
        if scale.is_zero_proven { "yes" } else { "no" },
        if scale.is_zero_proven { "ja" } else { "nein" },
    );
    line.put(
        "Zero seen on the empty pan",
        "Null auf leerer Schale gesehen",
        Some(zero),
    )?;
    line.put("Restarts after a hang", "Neustarts nach Stillstand", Some(health.hangs))?;
    line.put("Restarts after an error", "Neustarts nach Fehler", Some(health.errors))?;
    line.out.write_str(END)?;
    let percent = |part: fn(crate::journal::Usage) -> u8| scale.usage.map(part);
    line.put(
        "Room for closed pairs used, %",
        "Platz für fertige Paare belegt, %",
        percent(|usage| usage.pairs_percent),
    )?;
    line.put(
        "Room for marks used, %",
        "Platz für Marken belegt, %",
        percent(|usage| usage.marks_percent),
    )?;
    line.put("Records", "Einträge", Some(snapshot.entries))?;
    let pairs = snapshot.roll.listed().len();
    line.put("Pairs", "Paare", Some(pairs))?;
    line.put(
        "Places where marks are missing",
        "Stellen, an denen Marken fehlen",
        Some(snapshot.gaps),
    )?;
    line.out.write_str(END)?;
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
            "Von älteren Paaren enthalten die Tabellen den Verbrauch je Abschnitt, ohne Zeiten und Garne.",
        )?;
    }
    const { assert!(LISTED > WHOLE) };
    Ok(())
}

struct Lines<'o, 'w> {
    out: &'o mut Window<'w>,
    language: Language,
}

impl Lines<'_, '_> {
    fn put(&mut self, english: &str, german: &str, value: Option<impl Display>) -> fmt::Result {
        let name = self.choose(english, german);
        match value {
            Some(value) => write!(self.out, "{name}: {value}{END}"),
            None => write!(self.out, "{name}: {}{END}", self.choose("not known", "nicht bekannt")),
        }
    }

    fn say(&mut self, english: &str, german: &str) -> fmt::Result {
        let sentence = self.choose(english, german);
        write!(self.out, "{sentence}{END}")
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

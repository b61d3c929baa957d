//! What the recorded tables have in common: two columns, the first a time that never goes back.

use yarn_scale_core::units::Instant;

use crate::failure::quoted;

/// Splits a line at its only comma; blanks around a value do not count.
pub(super) fn columns(line: &str) -> Result<(&str, &str), String> {
    match line.split_once(',') {
        Some((first, second)) if !second.contains(',') => Ok((first.trim(), second.trim())),
        _ if line.trim().is_empty() => Err("empty line".to_owned()),
        _ => Err(format!("expected two columns, found {}", quoted(line))),
    }
}

/// A decimal integer.
pub(super) fn integer(name: &str, text: &str) -> Result<i64, String> {
    text.parse()
        .map_err(|_| format!("{name} is not an integer: {}", quoted(text)))
}

/// A time, not before `last` and not past [`LATEST`].
pub(super) fn time(text: &str, last: Instant) -> Result<Instant, String> {
    let t_ms = integer("t_ms", text)?;
    let at = u64::try_from(t_ms).map_err(|_| format!("t_ms {t_ms} is negative"))?;
    if at < last.0 {
        return Err(format!("time goes back, from {} to {at} ms", last.0));
    }
    if at > LATEST.0 {
        return Err(format!("t_ms {at} is more than a year"));
    }
    Ok(Instant(at))
}

/// A year of milliseconds: more than any recording, and far from where clocks overflow.
const LATEST: Instant = Instant(366 * 86_400 * 1_000);

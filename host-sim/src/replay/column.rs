//! What the recorded tables have in common: two columns, the first a time that never goes back.

use yarn_scale_core::units::Instant;

use crate::failure::quoted;

/// What the clock of a recording counts in.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, clap::ValueEnum)]
pub enum TimeUnit {
    /// Whole milliseconds, header `t_ms`.
    #[default]
    #[value(name = "ms")]
    Milliseconds,
    /// Seconds with a point, header `t_s`.
    #[value(name = "s")]
    Seconds,
    /// Whole microseconds, header `t_us`.
    #[value(name = "us")]
    Microseconds,
}

/// Splits a line at its only comma; blanks around a value do not count.
pub(crate) fn columns(line: &str) -> Result<(&str, &str), String> {
    match line.split_once(',') {
        Some((first, second)) if !second.contains(',') => Ok((first.trim(), second.trim())),
        _ if line.trim().is_empty() => Err("empty line".to_owned()),
        _ => Err(format!("expected two columns, found {}", quoted(line))),
    }
}

/// A decimal integer.
pub(crate) fn integer(name: &str, text: &str) -> Result<i64, String> {
    text.parse()
        .map_err(|_| format!("{name} is not an integer: {}", quoted(text)))
}

/// A time, not before `last` and not past [`LATEST`].
pub(crate) fn time(text: &str, last: Instant) -> Result<Instant, String> {
    time_in(TimeUnit::Milliseconds, text, last)
}

/// The same of a clock that counts in `unit`; what is finer than a millisecond is left out.
pub(super) fn time_in(unit: TimeUnit, text: &str, last: Instant) -> Result<Instant, String> {
    let t_ms = match unit {
        TimeUnit::Milliseconds => integer("t_ms", text)?,
        TimeUnit::Microseconds => integer("t_us", text)?.div_euclid(1_000),
        TimeUnit::Seconds => {
            let seconds: Option<f64> = text.parse().ok().filter(|seconds: &f64| seconds.abs() < LONGEST_S);
            let seconds = seconds.ok_or_else(|| format!("t_s is no number of seconds: {}", quoted(text)))?;
            (seconds * 1_000.0).floor() as i64
        }
    };
    let at = u64::try_from(t_ms).map_err(|_| format!("t_ms {t_ms} is negative"))?;
    if at < last.0 {
        return Err(format!("time goes back, from {} to {at} ms", last.0));
    }
    if at > LATEST.0 {
        return Err(format!("t_ms {at} is more than a year"));
    }
    Ok(Instant(at))
}

/// Beyond what any clock of seconds says, since 1970 or since power-on.
const LONGEST_S: f64 = 1e12;
/// A year of milliseconds: more than any recording, and far from where clocks overflow.
const LATEST: Instant = Instant(366 * 86_400 * 1_000);

//! The sheet of `hardware-notes/bench-checks.md` with what a scale has noted in its last column.

use yarn_scale_core::book::{Book, Checked};
use yarn_scale_core::journal::BenchCheck;
use yarn_scale_core::link::DeviceInfo;
use yarn_scale_core::weighing::Calibration;

use crate::computer::story::Story;

/// The sheet as it is printed, blank.
const BLANK: &str = include_str!("../../../../hardware-notes/bench-checks.md");

/// The sheet's first line to fill in.
const UNIT: &str = "Unit: ____________  Date: ____________  Load cell: ____________";

/// A sheet, and what came out in a line.
pub(super) struct Filled {
    pub(super) text: String,
    pub(super) summary: String,
}

/// Fills the sheet in.
pub(super) fn filled(story: &Story, device: Option<&DeviceInfo>) -> Filled {
    let book = &story.book;
    let mut text = String::new();
    for line in BLANK.lines() {
        text += &check_of(line).map_or_else(|| line.to_owned(), |check| with_result(line, check, story));
        text.push('\n');
    }
    Filled {
        text: text.replace(UNIT, &unit(story, device)),
        summary: summary(book),
    }
}

/// The check that a row of the sheet is about.
fn check_of(line: &str) -> Option<BenchCheck> {
    let name = line.strip_prefix("| ")?.split(" |").next()?;
    BenchCheck::ALL.into_iter().find(|&check| name == name_of(check))
}

fn with_result(line: &str, check: BenchCheck, story: &Story) -> String {
    let Some(checked) = story.book.checks().of(check) else {
        return line.to_owned();
    };
    let verdict = match checked.passed {
        Some(true) => "passed",
        Some(false) => "**failed**",
        None => "noted",
    };
    let at = story
        .calendar
        .unix(checked.at)
        .map_or_else(String::new, |unix| format!(" on {}", day(unix)));
    let blank = line.strip_suffix("| |").unwrap_or(line);
    format!("{blank}| {}: {verdict}{at} |", said(check, checked, &story.book))
}

/// What came out, in the units of the sheet.
fn said(check: BenchCheck, Checked { value, .. }: Checked, book: &Book) -> String {
    let nominal = Calibration::nominal(book.capacity());
    let mg_per_count = f64::from(book.calibration().unwrap_or(&nominal).mg_per_count());
    let mg = f64::from(value) / 1_000.0 * mg_per_count;
    let counts = f64::from(value) / 1_000.0;
    match check {
        BenchCheck::Supply => format!("{value:+} mV"),
        BenchCheck::Rate if value == 0 => "no conversions".into(),
        BenchCheck::Rate => {
            let hertz = f64::from(value) / 1_000.0;
            let strap = if hertz > 40.0 { 80 } else { 10 };
            format!(
                "{hertz:.2} a second, {:+.1} % of {strap}",
                (hertz / f64::from(strap) - 1.0) * 100.0
            )
        }
        BenchCheck::Noise | BenchCheck::Drift if value == -1 || value == i32::MAX => "too few conversions".into(),
        BenchCheck::Noise => format!("{mg:.0} mg ({counts:.0} counts), {}", class(counts)),
        BenchCheck::Drift => format!("{mg:.0} mg/min ({counts:.0} counts/min)"),
        BenchCheck::Empty if value == i32::MAX => "too few conversions".into(),
        BenchCheck::Empty => format!("{value}"),
        BenchCheck::Span => format!(
            "{value} a gram, {:.0} usual",
            1_000.0 / f64::from(nominal.mg_per_count())
        ),
        BenchCheck::Keys => {
            let [zero, mark, next, _] = value.to_le_bytes();
            let key = |name: &str, ms: u8| match ms {
                u8::MAX => format!("{name} sticks or was not pressed"),
                ms => format!("{name} {ms} ms"),
            };
            [key("ZERO", zero), key("MARK", mark), key("NEXT", next)].join(", ")
        }
        BenchCheck::Panel => (if value == 4 { "all four" } else { "not all" }).into(),
        BenchCheck::Sensor => (if value == 1 { "answers" } else { "none answers" }).into(),
        BenchCheck::Buzzer => (if value == 1 { "heard" } else { "not heard" }).into(),
        BenchCheck::Flash => format!("ends in {value:08X}"),
        BenchCheck::Reset => format!("{} ({value:#x})", cause(value)),
        BenchCheck::Boot if value == i32::MAX => "no number yet".into(),
        BenchCheck::Boot => format!("{value} ms"),
    }
}

/// How quiet a converter is, by the sheet's two classes on 5 V.
fn class(counts: f64) -> &'static str {
    match counts {
        ..64.0 => "quiet",
        ..150.0 => "usable",
        _ => "usable only on 3.3 V",
    }
}

/// Bits of the chip's registers, as the device's program puts them together.
fn cause(bits: i32) -> &'static str {
    match bits {
        bits if bits & 0b01 != 0 => "watchdog: the program hung",
        bits if bits & 0b10 != 0 => "the program itself",
        bits if bits & 1 << 20 != 0 => "a debugger",
        bits if bits & 1 << 16 != 0 => "the RUN pin",
        bits if bits & 1 << 8 != 0 => "power",
        _ => "not known",
    }
}

fn unit(story: &Story, device: Option<&DeviceInfo>) -> String {
    let checks = story.book.checks();
    let number = checks.of(BenchCheck::Flash).map_or_else(
        || "____________".to_owned(),
        |number| format!("flash number ending in {:08X}", number.value),
    );
    let program = device.map_or_else(String::new, |device| format!(", program {}", device.program));
    let times = BenchCheck::ALL.into_iter().filter_map(|check| checks.of(check));
    let last = times.map(|checked| checked.at).max();
    let date = last
        .and_then(|at| story.calendar.unix(at))
        .map_or_else(|| "____________".to_owned(), day);
    let grams = story.book.capacity().0 / 1_000;
    format!("Unit: {number}{program}  Date: {date}  Load cell: {grams} g")
}

fn summary(book: &Book) -> String {
    let results = BenchCheck::ALL.map(|check| (name_of(check), book.checks().of(check)));
    let of = |passed: Option<bool>| {
        let named = results
            .iter()
            .filter(|(_, checked)| checked.is_some_and(|checked| checked.passed == passed));
        named.map(|&(name, _)| name).collect::<Vec<_>>()
    };
    let (good, bad) = (of(Some(true)), of(Some(false)));
    let missing: Vec<_> = results
        .iter()
        .filter(|(_, checked)| checked.is_none())
        .map(|&(name, _)| name)
        .collect();
    let mut line = format!("{} passed", good.len());
    for (what, names) in [("failed", bad), ("not made", missing)] {
        if !names.is_empty() {
            line += &format!("; {what}: {}", names.join(", "));
        }
    }
    line
}

/// The name of a check in the sheet.
fn name_of(check: BenchCheck) -> &'static str {
    match check {
        BenchCheck::Supply => "supply",
        BenchCheck::Rate => "rate and strap",
        BenchCheck::Noise => "noise",
        BenchCheck::Span => "counts a gram",
        BenchCheck::Drift => "drift",
        BenchCheck::Keys => "keys",
        BenchCheck::Panel => "edges of the display",
        BenchCheck::Sensor => "humidity sensor",
        BenchCheck::Buzzer => "buzzer",
        BenchCheck::Flash => "flash number",
        BenchCheck::Reset => "last reset",
        BenchCheck::Boot => "time to the first number",
        BenchCheck::Empty => "counts of the empty pan",
    }
}

/// A day of the calendar in UTC, from seconds since 1970.
fn day(unix: u64) -> String {
    let (mut days, mut year, mut month) = (unix / 86_400, 1970, 0);
    let leap = |year: u64| year.is_multiple_of(4) && (!year.is_multiple_of(100) || year.is_multiple_of(400));
    while days >= 365 + u64::from(leap(year)) {
        days -= 365 + u64::from(leap(year));
        year += 1;
    }
    let months = [31, 28 + u64::from(leap(year)), 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];
    while days >= months[month] {
        days -= months[month];
        month += 1;
    }
    format!("{year}-{:02}-{:02}", month + 1, days + 1)
}

#[cfg(test)]
mod tests {
    use yarn_scale_core::bench::limits;

    use super::*;

    #[test]
    fn every_check_has_its_row_and_the_limits_of_the_program() {
        let row = |check| BLANK.lines().find(|line| check_of(line) == Some(check));
        for check in BenchCheck::ALL {
            let row = row(check).unwrap_or_else(|| panic!("{check:?} has no row"));
            assert!(row.ends_with("| |"), "blank: {row}");
        }
        let (slow, fast) = limits::RATE_PER_MILLE;
        let (light, heavy) = limits::SPAN_PERCENT;
        let usual = limits::counts_a_gram(yarn_scale_core::units::Milligrams::from_grams(500));
        for (check, limit) in [
            (BenchCheck::Supply, format!("± {} mV", limits::SUPPLY_MILLIVOLTS)),
            (
                BenchCheck::Rate,
                format!("{:.2} to {:.1}", f64::from(slow) / 100.0, f64::from(fast) / 100.0),
            ),
            (
                BenchCheck::Rate,
                format!("{} to {:.1}", slow * 80 / 1_000, f64::from(fast) * 0.08),
            ),
            (BenchCheck::Noise, format!("{} counts", limits::NOISE_COUNTS)),
            (BenchCheck::Noise, format!("{} at 80", limits::NOISE_COUNTS_AT_EIGHTY)),
            (BenchCheck::Empty, format!("± {} ", thousands(limits::EMPTY_COUNTS))),
            (
                BenchCheck::Span,
                format!("{light} to {heavy} % of {}", thousands(usual)),
            ),
            (BenchCheck::Drift, format!("± {} counts", limits::DRIFT_COUNTS)),
            (BenchCheck::Keys, format!("{} ms", limits::BOUNCE_MS)),
            (BenchCheck::Boot, format!("{} ms", thousands(limits::BOOT_MS))),
        ] {
            let row = row(check).unwrap_or_default();
            assert!(row.contains(&limit), "{limit:?} is not in: {row}");
        }
    }

    fn thousands(number: i32) -> String {
        format!("{},{:03}", number / 1_000, number % 1_000)
    }

    /// Days that anybody knows: the epoch, a leap day, the day after it, and the last second of a year.
    #[test]
    fn days_are_those_of_the_calendar() {
        for (unix, text) in [
            (0, "1970-01-01"),
            (951_782_400, "2000-02-29"),
            (951_868_800, "2000-03-01"),
            (1_704_067_199, "2023-12-31"),
            (1_704_067_200, "2024-01-01"),
        ] {
            assert_eq!(day(unix), text);
        }
    }
}

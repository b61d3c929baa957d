//! Stated uncertainty beside what came of it: an interval that covers the truth only by being wide is no help.

use std::fmt::Write;

use super::score::{Score, SectionScore};
use super::section::Course;
use super::table::percentile;

/// One line for each course, as stated at the marks and after amendments: how far sections are off (root mean square and 95 % of them),
/// what half-width of the 95 % interval is stated (mean and median), all in mg, and how many truths it covers.
#[must_use]
pub fn text(score: &Score) -> String {
    let mut text = format!("{:32}", "sections, mg");
    for column in ["of", "rms", "95 %", "stated", "median", "covered"] {
        let _ = write!(text, "{column:>9}");
    }
    text.push('\n');
    for course in Course::ALL {
        let section = &score.sections[course as usize];
        for (when, in_the_end) in [("at the marks", false), ("in the end", true)] {
            let _ = write!(text, "{:32}", format!("{}, {when}", name(course)));
            for cell in line(section, in_the_end) {
                let _ = write!(text, "{cell:>9}");
            }
            text.push('\n');
        }
    }
    text
}

fn line(section: &SectionScore, in_the_end: bool) -> [String; 6] {
    let stated = section.stated(in_the_end);
    let off: Vec<f64> = stated.iter().map(|(error, _)| 1_000.0 * error.abs()).collect();
    let half: Vec<f64> = stated.iter().map(|(_, half)| 1_000.0 * half).collect();
    let count = stated.len() as f64;
    let covered = stated.iter().filter(|(error, half)| error.abs() <= *half).count() as f64;
    let rms = (off.iter().map(|off| off * off).sum::<f64>() / count).sqrt();
    [
        format!("{count:.0}"),
        format!("{rms:.0}"),
        format!("{:.0}", percentile(&off, 0.95)),
        format!("{:.0}", half.iter().sum::<f64>() / count),
        format!("{:.0}", percentile(&half, 0.5)),
        format!("{:.1} %", 100.0 * covered / count),
    ]
}

const fn name(course: Course) -> &'static str {
    match course {
        Course::BackCold => "comes back, cold start",
        Course::BackWarm => "comes back, warm",
        Course::Stays => "stays on the pan",
        Course::Adverse => "everything at once",
        Course::Bowl => "comes back into a bowl",
    }
}

//! Why a command ends early, and with which exit code.

use std::fmt;
use std::io::{self, Write};
use std::path::{Path, PathBuf};
use std::process::ExitCode;

/// Why a command ended early.
#[derive(Debug)]
pub enum Failure {
    /// The input is at fault: one line with file, line and reason; exit code 2.
    Input(BadInput),
    /// The command cannot work here, for the reason given; exit code 2.
    Here(String),
    /// Something expected did not happen: one line that says what; exit code 1.
    Unmet(String),
    /// The output could not be written; exit code 2, or 0 if its reader has only gone away.
    Output(io::Error),
}

/// Something wrong with a file from outside.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BadInput {
    /// The file as the user named it.
    pub file: PathBuf,
    /// Line, from 1; `None` where no line is to blame.
    pub line: Option<u64>,
    /// What is wrong, in one line.
    pub reason: String,
}

impl BadInput {
    /// A fault of the whole file.
    pub fn of_file(file: &Path, reason: impl fmt::Display) -> Self {
        Self::new(file, None, reason)
    }

    /// A fault in one line, counted from 1.
    pub fn of_line(file: &Path, line: u64, reason: impl fmt::Display) -> Self {
        Self::new(file, Some(line), reason)
    }

    fn new(file: &Path, line: Option<u64>, reason: impl fmt::Display) -> Self {
        // Reasons of libraries can span lines; a complaint is one line.
        let reason = reason.to_string();
        let mut reason = reason.split_whitespace().collect::<Vec<_>>().join(" ");
        // They can also repeat whatever stands in the file.
        if let Some((end, _)) = reason.char_indices().nth(LONGEST_REASON) {
            reason.replace_range(end.., "...");
        }
        Self {
            file: file.to_owned(),
            line,
            reason,
        }
    }
}

impl fmt::Display for BadInput {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}:", self.file.display())?;
        if let Some(line) = self.line {
            write!(f, "{line}:")?;
        }
        write!(f, " {}", self.reason)
    }
}

impl std::error::Error for BadInput {}

impl From<BadInput> for Failure {
    fn from(bad: BadInput) -> Self {
        Self::Input(bad)
    }
}

impl From<io::Error> for Failure {
    fn from(error: io::Error) -> Self {
        Self::Output(error)
    }
}

impl Failure {
    /// Says on standard error what went wrong, in one line behind the program's name, and gives the exit code.
    #[must_use]
    pub fn report(&self, program: &str) -> ExitCode {
        let reason = match self {
            // `yarn-scale replay ... | head` is no failure.
            Self::Output(error) if error.kind() == io::ErrorKind::BrokenPipe => return ExitCode::SUCCESS,
            Self::Output(error) => format!("cannot write the output: {error}"),
            Self::Input(bad) => bad.to_string(),
            Self::Here(reason) | Self::Unmet(reason) => reason.clone(),
        };
        // Where standard error cannot be written either, the exit code is left to tell.
        let _ = writeln!(io::stderr(), "{program}: {}", one_line(&reason));
        match self {
            Self::Unmet(_) => ExitCode::from(1),
            Self::Input(_) | Self::Here(_) | Self::Output(_) => ExitCode::from(2),
        }
    }
}

/// Text in which control characters are escaped: names of files may hold any.
fn one_line(text: &str) -> String {
    let mut line = String::with_capacity(text.len());
    for sign in text.chars() {
        if sign.is_control() || matches!(sign, '\u{2028}' | '\u{2029}') {
            line.extend(sign.escape_default());
        } else {
            line.push(sign);
        }
    }
    line
}

/// Foreign text as it may stand in a complaint: quoted, escaped, and short whatever it is.
#[must_use]
pub fn quoted(text: &str) -> String {
    let short: String = text.chars().take(LONGEST_QUOTE).collect();
    let more = if short.len() < text.len() { "..." } else { "" };
    format!("{short:?}{more}")
}

/// Characters of a reason.
const LONGEST_REASON: usize = 300;

/// Characters of foreign text that a complaint repeats.
const LONGEST_QUOTE: usize = 40;

//! `name` and `clock`: the few things a computer notes on the scale.

use std::io::Write;
use std::path::PathBuf;
use std::time::{SystemTime, UNIX_EPOCH};

use clap::Args;
use yarn_scale_core::journal::Named;
use yarn_scale_core::link::{Ask, LinkNote};
use yarn_scale_core::sock::YarnLetter;

use super::source::SourceArgs;
use crate::failure::{Failure, quoted};

/// Gives a pair or a yarn of the running pair a name.
#[derive(Debug, Args)]
pub struct NameArgs {
    /// A pair by its number, or a yarn by its letter.
    what: String,
    /// The name, up to 24 letters; ä, ö, ü, ß count as two.
    name: String,
    /// The scale's serial port, or its own number; if left out, the one scale that is plugged in.
    #[arg(long, value_name = "PORT")]
    device: Option<PathBuf>,
}

/// Sets the scale's clock by this computer's.
#[derive(Debug, Args)]
pub struct ClockArgs {
    /// The scale's serial port, or its own number; if left out, the one scale that is plugged in.
    #[arg(long, value_name = "PORT")]
    device: Option<PathBuf>,
}

impl NameArgs {
    /// Does it.
    ///
    /// # Errors
    /// One clear line.
    pub fn run(&self, out: impl Write) -> Result<(), Failure> {
        let yarn = |text: &str| {
            let letter = |yarn: &YarnLetter| text.eq_ignore_ascii_case(&yarn.symbol().to_string());
            YarnLetter::ALL.into_iter().find(letter).map(Named::Yarn)
        };
        let what = self.what.parse().map(Named::Pair).ok().or_else(|| yarn(&self.what));
        let what = what.ok_or_else(|| {
            Failure::Here(format!(
                "{} is neither a pair's number nor a letter A to H",
                quoted(&self.what)
            ))
        })?;
        let name = self.name.as_str().try_into();
        let name = name
            .map_err(|_| Failure::Here("the name is too long: 24 letters at most, ä, ö, ü, ß count as two".into()))?;
        note(self.device.clone(), LinkNote::Name { what, name }, out)
    }
}

impl ClockArgs {
    /// Does it.
    ///
    /// # Errors
    /// One clear line.
    pub fn run(&self, out: impl Write) -> Result<(), Failure> {
        let unix = SystemTime::now()
            .duration_since(UNIX_EPOCH)
            .map_or(0, |since| since.as_secs());
        note(self.device.clone(), LinkNote::Clock { unix }, out)
    }
}

fn note(device: Option<PathBuf>, note: LinkNote, mut out: impl Write) -> Result<(), Failure> {
    let source = SourceArgs { device, file: None };
    let mut client = source.client()?;
    let failed = |fault| Failure::Here(format!("{fault}"));
    let info = client.hello().map_err(failed)?;
    if let LinkNote::Name {
        what: Named::Pair(pair),
        ..
    } = note
        && !(1..=info.pair).contains(&pair)
    {
        let reason = format!("there is no pair {pair} on this scale: its latest is {}", info.pair);
        return Err(Failure::Here(reason));
    }
    let expected = info.next;
    client.ask(&Ask::Note { expected, note }).map_err(failed)?;
    writeln!(out, "noted")?;
    Ok(())
}

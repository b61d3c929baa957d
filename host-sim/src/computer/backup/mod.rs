//! `backup`: the whole journal as a file.

mod file;

use std::io::Write;
use std::path::PathBuf;

use clap::Args;

use super::damage::Damage;
use super::source::SourceArgs;
use crate::failure::Failure;

pub use file::Backup;

/// Saves the scale's whole journal into a file that `restore` takes. The scale is not changed.
#[derive(Debug, Args)]
pub struct BackupArgs {
    /// The file to write; it must not be there yet.
    to: PathBuf,
    #[command(flatten)]
    source: SourceArgs,
}

impl BackupArgs {
    /// Does it.
    ///
    /// # Errors
    /// One clear line.
    pub fn run(&self, mut out: impl Write) -> Result<(), Failure> {
        let backup = self.source.backup()?;
        backup.write(&self.to)?;
        writeln!(out, "{} entries in {}", backup.entries.len(), self.to.display())?;
        Damage::of(&backup).told()
    }
}

//! `backup`: the whole journal as a file.

mod file;

use std::io::Write;
use std::path::PathBuf;

use clap::Args;

use super::damage::Damage;
use super::source::SourceArgs;
use crate::failure::Failure;

pub use file::Backup;

/// Saves everything the scale remembers into a backup file that `restore` can put back. The scale is not changed.
#[derive(Debug, Args)]
pub struct BackupArgs {
    /// The file to write; it must not exist yet.
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

//! `pull`: a backup of the whole journal.

use std::path::PathBuf;

use clap::Args;

use super::source::SourceArgs;
use crate::failure::Failure;

/// Saves the scale's whole journal into a file that `push` can restore. The scale is not changed.
#[derive(Debug, Args)]
pub struct PullArgs {
    /// The file to write; it must not be there yet.
    to: PathBuf,
    #[command(flatten)]
    source: SourceArgs,
}

impl PullArgs {
    /// Does it.
    ///
    /// # Errors
    /// One clear line.
    pub fn run(&self) -> Result<(), Failure> {
        let backup = self.source.backup()?;
        backup.write(&self.to)?;
        println!("{} entries in {}", backup.entries.len(), self.to.display());
        Ok(())
    }
}

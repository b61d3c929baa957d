//! Where a journal comes from: a plugged-in scale or a saved file.

use std::path::PathBuf;

use clap::Args;
use indicatif::{ProgressBar, ProgressStyle};
use serial2::SerialPort;

use super::backup::Backup;
use super::client::Client;
use super::port::{self, Instead};
use crate::failure::Failure;

/// Which scale or file.
#[derive(Clone, Debug, Default, Args)]
pub struct SourceArgs {
    /// The scale's serial port, or its own number; if left out, the one scale that is plugged in.
    #[arg(long, value_name = "PORT", conflicts_with = "file")]
    pub device: Option<PathBuf>,
    /// A backup made by `backup`, or an image of the journal's flash.
    #[arg(long, value_name = "FILE")]
    pub file: Option<PathBuf>,
}

impl SourceArgs {
    /// The whole journal.
    ///
    /// # Errors
    /// One clear line.
    pub fn backup(&self) -> Result<Backup, Failure> {
        match &self.file {
            Some(file) => Backup::read(file),
            None => read_out(&mut port::open(self.device.as_deref(), Instead::File)?),
        }
    }

    /// The scale itself.
    ///
    /// # Errors
    /// One clear line.
    pub(super) fn client(&self) -> Result<Client<SerialPort>, Failure> {
        port::open(self.device.as_deref(), Instead::Nothing)
    }
}

/// Reads a scale out, with a bar that shows it is at work.
pub(super) fn read_out(client: &mut Client<SerialPort>) -> Result<Backup, Failure> {
    let failed = |fault| Failure::Here(format!("{fault}"));
    let device = client.hello().map_err(failed)?;
    let bar = ProgressBar::new_spinner();
    if let Ok(style) = ProgressStyle::with_template("{spinner} {pos} entries read") {
        bar.set_style(style);
    }
    let entries = client
        .read_all(|count| bar.set_position(count as u64))
        .map_err(failed)?;
    bar.finish_and_clear();
    let unreadable = match device.protocol {
        ..TELLS_ITS_ENDS => Vec::new(),
        _ => client.unreadable_ends().map_err(failed)?,
    };
    Ok(Backup {
        device: Some(device),
        entries,
        unreadable,
        dead_sectors: Vec::new(),
    })
}

/// Since this protocol a scale says where something unreadable stands behind its last record.
const TELLS_ITS_ENDS: u8 = 3;

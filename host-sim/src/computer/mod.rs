//! The computer side: reading a scale out, backing it up, restoring it, naming things, and tables of what it holds.
//!
//! Every command takes a plugged-in device, found by itself or named by `--device`, or a saved file by `--file`: a backup made
//! by `backup`, or an image of the journal's flash.

mod backup;
mod bench;
mod check;
mod client;
mod damage;
mod language;
mod make_room;
mod note;
pub mod plan;
mod plugged;
mod port;
mod record;
pub(crate) mod report;
mod restore;
mod script;
mod serve;
mod source;
pub mod story;
mod table;

pub use backup::{Backup, BackupArgs};
pub use bench::BenchArgs;
pub use check::CheckArgs;
pub use client::{Client, ClientFault};
pub use damage::{Damage, Place};
pub use make_room::MakeRoomArgs;
pub use note::{ClockArgs, NameArgs};
pub use record::{Ended, RecordArgs, Recorded, record};
pub use report::{ReportArgs, report};
pub use restore::RestoreArgs;
pub use serve::{ServeArgs, open_line, serve};
pub use source::SourceArgs;
pub use table::TableArgs;

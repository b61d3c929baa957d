//! The serial ports of this computer, and which of them is a yarn scale.

use std::path::{Path, PathBuf};
use std::time::Duration;

use serial2::SerialPort;

use super::client::Client;
use crate::failure::Failure;

/// Opens the scale on this port, or the only one that is plugged in.
///
/// # Errors
/// One clear line: no port, no scale, more than one, or a port that may not be opened, with the way out.
pub(super) fn open(named: Option<&Path>) -> Result<Client<SerialPort>, Failure> {
    if let Some(path) = named {
        let mut client = Client::new(port(path)?);
        client
            .hello()
            .map_err(|fault| Failure::Here(format!("{}: {fault}", path.display())))?;
        return Ok(client);
    }
    let ports = candidates();
    let mut refused = None;
    let mut found = Vec::new();
    for path in &ports {
        match port(path).map(Client::new) {
            Ok(mut client) => {
                if client.hello().is_ok() {
                    found.push((path.clone(), client));
                }
            }
            Err(failure) => refused = Some(failure),
        }
    }
    match (found.len(), refused) {
        (1, _) => Ok(found.swap_remove(0).1),
        (0, Some(failure)) => Err(failure),
        (0, None) => Err(Failure::Here(
            "no yarn scale is plugged in: connect it by USB, or name its port with --device, or a saved file with --file".into(),
        )),
        _ => {
            let paths: Vec<String> = found.iter().map(|(path, _)| path.display().to_string()).collect();
            Err(Failure::Here(format!(
                "more than one yarn scale is plugged in ({}): name one with --device",
                paths.join(", ")
            )))
        }
    }
}

/// Ports that a USB serial device can have.
fn candidates() -> Vec<PathBuf> {
    let ports = SerialPort::available_ports().unwrap_or_default();
    let usb = |path: &PathBuf| {
        let name = path.to_string_lossy();
        ["ttyACM", "usbmodem", "COM"].iter().any(|part| name.contains(part))
    };
    ports.into_iter().filter(usb).collect()
}

fn port(path: &Path) -> Result<SerialPort, Failure> {
    // The rate means nothing over USB, but has to be something.
    let mut port = SerialPort::open(path, 115_200).map_err(|error| {
        let why = match error.kind() {
            std::io::ErrorKind::NotFound => "there is no such port".to_owned(),
            std::io::ErrorKind::PermissionDenied => format!("this user may not open it. {PERMISSION}"),
            std::io::ErrorKind::ResourceBusy => "another program has it open: close that first".to_owned(),
            _ => error.to_string(),
        };
        Failure::Here(format!("{}: {why}", path.display()))
    })?;
    let patience = Duration::from_millis(100);
    port.set_read_timeout(patience)
        .and_then(|()| port.set_write_timeout(Duration::from_secs(2)))
        .map_err(|error| Failure::Here(format!("{}: {error}", path.display())))?;
    Ok(port)
}

/// How to be allowed to open a port.
#[cfg(target_os = "linux")]
const PERMISSION: &str =
    "Add yourself to the group that owns it (often: sudo usermod -aG dialout $USER), then log in again";
#[cfg(target_os = "macos")]
const PERMISSION: &str = "Close other programs that use it, and take the /dev/cu. port rather than /dev/tty.";
#[cfg(not(any(target_os = "linux", target_os = "macos")))]
const PERMISSION: &str = "Close other programs that use it; the device manager shows its COM number";

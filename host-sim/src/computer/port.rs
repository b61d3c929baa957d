//! The serial ports of this computer, and which of them is a yarn scale.

use std::io;
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
    choose(found, refused)
}

/// The only scale among those that answered; `refused` is why a port could not be opened.
fn choose<C>(mut found: Vec<(PathBuf, C)>, refused: Option<Failure>) -> Result<C, Failure> {
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
    let port = SerialPort::open(path, 115_200);
    let mut port = port.map_err(|error| Failure::Here(format!("{}: {}", path.display(), why(&error))))?;
    let patience = Duration::from_millis(100);
    port.set_read_timeout(patience)
        .and_then(|()| port.set_write_timeout(Duration::from_secs(2)))
        .map_err(|error| Failure::Here(format!("{}: {error}", path.display())))?;
    Ok(port)
}

/// Why a port cannot be opened, and the way out.
fn why(error: &io::Error) -> String {
    match error.kind() {
        io::ErrorKind::NotFound => "there is no such port".to_owned(),
        io::ErrorKind::PermissionDenied => format!("this user may not open it. {PERMISSION}"),
        io::ErrorKind::ResourceBusy => "another program has it open: close that first".to_owned(),
        _ => format!("not to be used as a serial port: {error}"),
    }
}

/// How to be allowed to open a port.
#[cfg(target_os = "linux")]
const PERMISSION: &str =
    "Add yourself to the group that owns it (often: sudo usermod -aG dialout $USER), then log in again";
#[cfg(target_os = "macos")]
const PERMISSION: &str = "Close other programs that use it, and take the /dev/cu. port rather than /dev/tty.";
#[cfg(not(any(target_os = "linux", target_os = "macos")))]
const PERMISSION: &str = "Close other programs that use it; the device manager shows its COM number";

#[cfg(test)]
mod tests {
    use super::*;

    fn complaint(found: &[&str], refused: Option<io::ErrorKind>) -> String {
        let found = found.iter().map(|path| (PathBuf::from(path), ())).collect();
        let refused = refused.map(|kind| Failure::Here(why(&kind.into())));
        match choose(found, refused) {
            Ok(()) => String::new(),
            Err(Failure::Here(reason)) => reason,
            Err(other) => format!("{other:?}"),
        }
    }

    #[test]
    fn the_only_scale_is_taken_whatever_else_could_not_be_opened() {
        assert_eq!(complaint(&["/dev/ttyACM0"], None), "");
        assert_eq!(complaint(&["/dev/ttyACM0"], Some(io::ErrorKind::PermissionDenied)), "");
    }

    #[test]
    fn no_scale_and_two_scales_are_told_with_the_way_out() {
        let none = complaint(&[], None);
        assert!(
            none.contains("no yarn scale is plugged in") && none.contains("--file"),
            "{none}"
        );
        let two = complaint(&["/dev/ttyACM0", "/dev/ttyACM1"], None);
        assert!(
            two.contains("/dev/ttyACM0, /dev/ttyACM1") && two.contains("--device"),
            "{two}"
        );
    }

    #[test]
    fn a_port_that_may_not_be_opened_or_is_open_says_what_to_do() {
        let denied = complaint(&[], Some(io::ErrorKind::PermissionDenied));
        assert!(
            denied.contains("may not open it") && denied.ends_with(PERMISSION),
            "{denied}"
        );
        let busy = complaint(&[], Some(io::ErrorKind::ResourceBusy));
        assert!(busy.contains("another program has it open"), "{busy}");
    }
}

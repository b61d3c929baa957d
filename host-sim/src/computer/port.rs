//! Opens the serial port of a yarn scale.

use std::io;
use std::path::{Path, PathBuf};
use std::time::Duration;

use serial2::SerialPort;

use super::client::Client;
use super::plugged::{self, Plugged};
use crate::failure::Failure;

/// Opens the scale on this port or with this number of its own, or the only one that is plugged in.
///
/// # Errors
/// One clear line: no port, no scale, more than one, or a port that may not be opened, with the way out.
pub(super) fn open(named: Option<&Path>, instead: Instead) -> Result<Client<SerialPort>, Failure> {
    let path = choose(named, plugged::scales(), instead)?;
    let mut client = Client::new(port(&path)?);
    client
        .hello()
        .map_err(|fault| Failure::Here(format!("{}: {fault}", path.display())))?;
    Ok(client)
}

/// What the command at hand takes in place of a scale.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Instead {
    /// A saved file, by `--file`.
    File,
    /// Nothing.
    Nothing,
}

/// The port that is meant: a named one, or that of the only scale. What could be a stranger's is not opened unless it is named.
fn choose(named: Option<&Path>, plugged: Vec<Plugged>, instead: Instead) -> Result<PathBuf, Failure> {
    if let Some(named) = named {
        let numbered = plugged.into_iter().find(|one| {
            one.who
                .as_ref()
                .is_some_and(|who| named == Path::new(&who.serial_number))
        });
        return Ok(numbered.map_or_else(|| named.to_owned(), |one| one.path));
    }
    let list = |plugged: &[Plugged]| {
        let each = plugged.iter().map(|one| match &one.who {
            Some(who) => format!(
                "{} (number {}, USB {})",
                one.path.display(),
                who.serial_number,
                who.numbers
            ),
            None => one.path.display().to_string(),
        });
        each.collect::<Vec<_>>().join(", ")
    };
    match plugged.as_slice() {
        [] => Err(Failure::Here(match instead {
            Instead::File => "no yarn scale is plugged in: connect it by USB, or name its port with --device, or a saved file with --file".into(),
            Instead::Nothing => "no yarn scale is plugged in: connect it by USB, or name its port with --device".into(),
        })),
        [only] if only.who.is_some() => Ok(only.path.clone()),
        several if several.iter().all(|one| one.who.is_some()) => Err(Failure::Here(format!(
            "more than one yarn scale is plugged in: {}. Say which with --device, by its port or its number",
            list(several)
        ))),
        unknown => Err(Failure::Here(format!(
            "this system does not say whose port is whose, and a stranger's is not opened: of {} name the scale's with --device",
            list(unknown)
        ))),
    }
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
    use super::super::plugged::Who;
    use super::*;

    fn scale(path: &str, serial_number: &str) -> Plugged {
        Plugged {
            path: path.into(),
            who: Some(Who {
                serial_number: serial_number.into(),
                numbers: "1209:0001".into(),
            }),
        }
    }

    fn unknown(path: &str) -> Plugged {
        Plugged {
            path: path.into(),
            who: None,
        }
    }

    fn chosen(named: Option<&str>, plugged: &[Plugged]) -> Result<String, String> {
        match choose(named.map(Path::new), plugged.to_vec(), Instead::File) {
            Ok(path) => Ok(path.display().to_string()),
            Err(Failure::Here(reason)) => Err(reason),
            Err(other) => Err(format!("{other:?}")),
        }
    }

    #[test]
    fn the_only_scale_is_taken() {
        assert_eq!(
            chosen(None, &[scale("/dev/ttyACM3", "A")]),
            Ok("/dev/ttyACM3".to_owned())
        );
    }

    #[test]
    fn no_scale_and_two_scales_are_told_with_the_way_out() {
        let none = chosen(None, &[]).expect_err("none");
        assert!(
            none.contains("no yarn scale is plugged in") && none.contains("--file"),
            "{none}"
        );
        let Err(Failure::Here(bare)) = choose(None, Vec::new(), Instead::Nothing) else {
            panic!("there is none")
        };
        assert!(
            !bare.contains("--file"),
            "an option that the command does not have: {bare}"
        );
        let both = [scale("/dev/ttyACM0", "A"), scale("/dev/ttyACM1", "B")];
        let two = chosen(None, &both).expect_err("two");
        for part in ["/dev/ttyACM0 (number A", "/dev/ttyACM1 (number B", "--device"] {
            assert!(two.contains(part), "{two}");
        }
        assert_eq!(chosen(Some("B"), &both), Ok("/dev/ttyACM1".to_owned()));
        assert_eq!(chosen(Some("/dev/ttyUSB7"), &both), Ok("/dev/ttyUSB7".to_owned()));
    }

    #[test]
    fn a_port_that_may_be_a_strangers_is_opened_only_by_name() {
        let asked = chosen(None, &[unknown("COM3")]).expect_err("who knows");
        assert!(asked.contains("COM3") && asked.contains("--device"), "{asked}");
        assert_eq!(chosen(Some("COM3"), &[unknown("COM3")]), Ok("COM3".to_owned()));
    }

    #[test]
    fn a_port_that_may_not_be_opened_or_is_open_says_what_to_do() {
        let denied = why(&io::ErrorKind::PermissionDenied.into());
        assert!(
            denied.contains("may not open it") && denied.ends_with(PERMISSION),
            "{denied}"
        );
        let busy = why(&io::ErrorKind::ResourceBusy.into());
        assert!(busy.contains("another program has it open"), "{busy}");
    }
}

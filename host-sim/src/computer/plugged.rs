//! Which serial ports of this computer are yarn scales, told by what their USB device calls itself: no port is opened to find out.
//!
//! A port may be anything: to open a stranger's can reset it, or make a modem dial. Linux says in `/sys/class/tty` which USB device a port
//! belongs to and what names and numbers that has (kernel documentation, `Documentation/ABI`, `sysfs-bus-usb`). On other systems the
//! names of the ports alone are known, and the person is asked.

use std::fs;
use std::path::{Path, PathBuf};

use serial2::SerialPort;
use yarn_scale_core::link::{MANUFACTURER, PRODUCT};

/// A port that may be a scale's.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Plugged {
    /// The port to open.
    pub(super) path: PathBuf,
    /// The device's own number, and its numbers on USB.
    pub(super) who: Option<Who>,
}

/// What a USB device says of itself beside its names.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Who {
    /// The scale's own number, 16 hexadecimal digits.
    pub(super) serial_number: String,
    /// Maker's and product's numbers, hexadecimal.
    pub(super) numbers: String,
}

/// The scales that are plugged in; where this computer does not tell whose port is whose, all ports that could be one, and `who`
/// is none.
pub(super) fn scales() -> Vec<Plugged> {
    if cfg!(target_os = "linux") {
        return known(Path::new("/sys/class/tty"), Path::new("/dev"));
    }
    let ports = SerialPort::available_ports().unwrap_or_default();
    let could_be = |path: &PathBuf| {
        let name = path.to_string_lossy();
        // On macOS a port has two names; of these the one to call out by.
        ["cu.usbmodem", "COM"].iter().any(|part| name.contains(part))
    };
    let unknown = ports
        .into_iter()
        .filter(could_be)
        .map(|path| Plugged { path, who: None });
    unknown.collect()
}

/// The scales among the terminals of a folder like `/sys/class/tty`, their ports in `devices`.
fn known(terminals: &Path, devices: &Path) -> Vec<Plugged> {
    let Ok(entries) = fs::read_dir(terminals) else {
        return Vec::new();
    };
    let mut found: Vec<Plugged> = entries
        .flatten()
        .filter_map(|entry| {
            // The link leads to the interface; the device is the folder around it.
            let interface = fs::canonicalize(entry.path().join("device")).ok()?;
            Some(Plugged {
                who: Some(scale(interface.parent()?)?),
                path: devices.join(entry.file_name()),
            })
        })
        .collect();
    found.sort_by(|one, other| one.path.cmp(&other.path));
    found
}

/// What a USB device says of itself, if it calls itself a yarn scale.
fn scale(device: &Path) -> Option<Who> {
    let said = |name: &str| Some(fs::read_to_string(device.join(name)).ok()?.trim().to_owned());
    if said("manufacturer")? != MANUFACTURER || said("product")? != PRODUCT {
        return None;
    }
    Some(Who {
        serial_number: said("serial").unwrap_or_default(),
        numbers: format!("{}:{}", said("idVendor")?, said("idProduct")?),
    })
}

#[cfg(all(test, unix))]
mod tests {
    use std::os::unix::fs::symlink;

    use super::*;

    /// A folder as the kernel lays it out, with these devices: port, manufacturer, product, serial number.
    fn kernel(devices: &[(&str, &str, &str, &str)]) -> tempfile::TempDir {
        let root = tempfile::tempdir().expect("a folder");
        let terminals = root.path().join("class/tty");
        fs::create_dir_all(&terminals).expect("made");
        for (n, (port, manufacturer, product, serial)) in devices.iter().enumerate() {
            let device = root.path().join(format!("devices/usb1/1-{n}"));
            let interface = device.join(format!("1-{n}:1.0"));
            let terminal = interface.join("tty").join(port);
            fs::create_dir_all(&terminal).expect("made");
            symlink(&interface, terminal.join("device")).expect("linked");
            symlink(&terminal, terminals.join(port)).expect("linked");
            let said = [
                ("manufacturer", *manufacturer),
                ("product", *product),
                ("serial", *serial),
                ("idVendor", "1209"),
                ("idProduct", "0001"),
            ];
            for (name, text) in said {
                fs::write(device.join(name), format!("{text}\n")).expect("written");
            }
        }
        // A terminal without a device, as most are.
        fs::create_dir_all(terminals.join("tty0")).expect("made");
        root
    }

    fn found(root: &tempfile::TempDir) -> Vec<(String, String)> {
        let found = known(&root.path().join("class/tty"), Path::new("/dev"));
        let pair = |one: Plugged| {
            let who = one.who.expect("known");
            assert_eq!(who.numbers, "1209:0001");
            (one.path.display().to_string(), who.serial_number)
        };
        found.into_iter().map(pair).collect()
    }

    #[test]
    fn a_scale_is_told_by_its_names_among_strangers() {
        let root = kernel(&[
            ("ttyACM0", "A maker of modems", "Modem", "7"),
            ("ttyACM2", MANUFACTURER, PRODUCT, "E660583883724A29"),
            // The same pair of numbers, which everybody may use for tests.
            ("ttyACM1", "Somebody", "Something in the making", "1"),
            ("ttyACM3", MANUFACTURER, "Another product", "2"),
        ]);
        assert_eq!(
            found(&root),
            [("/dev/ttyACM2".to_owned(), "E660583883724A29".to_owned())]
        );
    }

    #[test]
    fn two_scales_are_both_found() {
        let root = kernel(&[
            ("ttyACM1", MANUFACTURER, PRODUCT, "B"),
            ("ttyACM0", MANUFACTURER, PRODUCT, "A"),
        ]);
        let expected = [("/dev/ttyACM0", "A"), ("/dev/ttyACM1", "B")];
        assert_eq!(
            found(&root),
            expected.map(|(path, number)| (path.to_owned(), number.to_owned()))
        );
    }
}

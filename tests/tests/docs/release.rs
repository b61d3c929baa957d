//! A release refuses USB numbers that must not be passed on.

use std::path::Path;
use std::process::Command;

fn refusal(numbers: Option<(&str, &str)>) -> String {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).parent().expect("a workspace");
    let mut command = Command::new(root.join("firmware/release"));
    command
        .env_remove("YARN_SCALE_USB_VENDOR")
        .env_remove("YARN_SCALE_USB_PRODUCT");
    if let Some((vendor, product)) = numbers {
        command
            .env("YARN_SCALE_USB_VENDOR", vendor)
            .env("YARN_SCALE_USB_PRODUCT", product);
    }
    let output = command.output().expect("a shell");
    assert!(!output.status.success());
    String::from_utf8(output.stderr).expect("a text")
}

#[test]
fn a_release_refuses_numbers_for_tests() {
    assert!(refusal(None).contains("no release: give YARN_SCALE_USB_VENDOR"));
    // pid.codes, "Test PIDs": 1209:0001 to 1209:0010. 16C0:27DD is shared, on terms.
    for pair in [
        ("1209", "0001"),
        ("1209", "1"),
        ("1209", "000A"),
        ("1209", "0010"),
        ("16c0", "27dd"),
    ] {
        assert!(refusal(Some(pair)).contains("never on what is passed on"), "{pair:?}");
    }
}

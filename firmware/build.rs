//! Puts the memory map where the linker looks, and the version that this is built from into the program.

use std::path::PathBuf;
use std::process::Command;
use std::{env, fs};

fn main() {
    let out = PathBuf::from(env::var_os("OUT_DIR").expect("cargo sets it"));
    fs::write(out.join("memory.x"), include_bytes!("memory.x")).expect("the build folder can be written");
    println!("cargo:rerun-if-changed=memory.x");
    println!("cargo:rustc-link-search={}", out.display());
    // Without page alignment of the segments; start-up and sections by cortex-m-rt; log strings by defmt.
    let mut arguments = vec!["--nmagic", "-Tlink.x"];
    if env::var_os("CARGO_FEATURE_LOG").is_some() {
        arguments.push("-Tdefmt.x");
    }
    for argument in arguments {
        println!("cargo:rustc-link-arg-bins={argument}");
    }

    let numbers = ["YARN_SCALE_USB_VENDOR", "YARN_SCALE_USB_PRODUCT"];
    for name in numbers {
        println!("cargo:rerun-if-env-changed={name}");
    }
    if env::var_os("CARGO_FEATURE_DEVICE").is_some() && numbers.iter().any(|name| env::var_os(name).is_none()) {
        println!(
            "cargo:warning=the image carries USB's pair of numbers for private tests, 1209:0001: keep it to yourself, \
             or give {} and {}",
            numbers[0], numbers[1]
        );
    }

    println!(
        "cargo:rustc-env=YARN_SCALE_COMMIT={}",
        commit().as_deref().unwrap_or("unknown")
    );
    for file in ["HEAD", "logs/HEAD"] {
        if let Some(path) = git(&["rev-parse", "--git-path", file]) {
            println!("cargo:rerun-if-changed={path}");
        }
    }
}

/// The commit, with a plus sign if files differ from it.
fn commit() -> Option<String> {
    let hash = git(&["rev-parse", "--short=8", "HEAD"])?;
    let changed = !git(&["status", "--porcelain", "--untracked-files=no"])?.is_empty();
    Some(hash + if changed { "+" } else { "" })
}

fn git(arguments: &[&str]) -> Option<String> {
    let output = Command::new("git").args(arguments).output().ok()?;
    let text = String::from_utf8(output.stdout).ok()?;
    output.status.success().then(|| text.trim().to_owned())
}

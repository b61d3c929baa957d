//! Recordings and pictures as files.
//!
//! The folder of a recording is what the bench around the firmware image plays (tests/emulator/README.md has the format).

use std::fs;
use std::io::{self, BufWriter, Write};
use std::path::Path;

use yarn_scale_core::board::Levels;

use super::witness::{Boot, Recording};
use crate::device::board::Given;
use crate::device::panel::Frame;
use crate::device::picture::Picture;

/// Writes every frame as a PNG, four times enlarged, numbered in the order of first showing.
pub(super) fn write_frames(folder: &Path, frames: &[Frame]) -> io::Result<()> {
    fs::create_dir_all(folder)?;
    for (number, frame) in frames.iter().enumerate() {
        Picture::from(frame)
            .enlarged(SCALE)
            .save(&folder.join(format!("{number:04}.png")))?;
    }
    Ok(())
}

/// Writes a recording.
pub(super) fn write(folder: &Path, recording: &Recording) -> io::Result<()> {
    fs::create_dir_all(folder.join("frames"))?;
    let table = |name: &str| fs::File::create(folder.join(name)).map(BufWriter::new);
    let (mut inputs, mut frames) = (table("inputs.csv")?, table("frames.csv")?);
    writeln!(inputs, "boot,t_ms,kind,value")?;
    writeln!(frames, "boot,t_ms,file")?;
    let mut number = 0;
    for (place, boot) in recording.boots.iter().enumerate() {
        write_inputs(&mut inputs, place, boot)?;
        for (t_ms, frame) in &boot.shown {
            let file = format!("frames/{number}.bin");
            fs::write(folder.join(&file), frame.bytes())?;
            writeln!(frames, "{place},{t_ms},{file}")?;
            number += 1;
        }
        fs::write(folder.join(format!("journal-{place}.bin")), &boot.after)?;
    }
    if let Some(first) = recording.boots.first() {
        fs::write(folder.join("journal-start.bin"), &first.before)?;
    }
    inputs.flush()?;
    frames.flush()
}

fn write_inputs(out: &mut impl Write, place: usize, boot: &Boot) -> io::Result<()> {
    let mut levels = Levels::default();
    for (t_ms, given) in &boot.given {
        match given {
            Given::Sample(counts) => writeln!(out, "{place},{t_ms},sample,{}", counts.0)?,
            Given::Supply(millivolts) => writeln!(out, "{place},{t_ms},supply,{}", millivolts.0)?,
            Given::Climate(air) => writeln!(out, "{place},{t_ms},climate,{} {}", air.humidity_percent, air.celsius)?,
            Given::Levels(now) => {
                let keys = [
                    ("zero", levels.zero, now.zero),
                    ("mark", levels.mark, now.mark),
                    ("next", levels.next, now.next),
                ];
                for (key, before, now) in keys.into_iter().filter(|(_, before, now)| before != now) {
                    let _ = before;
                    writeln!(out, "{place},{t_ms},{key},{}", u8::from(now))?;
                }
                levels = *now;
            }
        }
    }
    writeln!(out, "{place},{},off,", boot.off_ms)
}

/// How much a picture is enlarged.
const SCALE: usize = 4;

//! Recordings and pictures as files.
//!
//! The folder of a recording is what the bench around the firmware image plays (tests/emulator/README.md has the format).

use std::io::{self, Write};
use std::path::Path;

use yarn_scale_core::board::Levels;

use super::witness::{Boot, Recording};
use crate::device::board::Given;
use crate::device::panel::Frame;
use crate::device::picture::Picture;
use crate::failure::BadInput;
use crate::files;

/// Writes every frame as a PNG, four times enlarged, numbered in the order of first showing.
pub(super) fn write_frames(folder: &Path, frames: &[Frame]) -> Result<(), BadInput> {
    for (number, frame) in frames.iter().enumerate() {
        let picture = Picture::from(frame).enlarged(SCALE);
        files::write_with(&folder.join(format!("{number:04}.png")), |file| picture.write_png(file))?;
    }
    Ok(())
}

/// Writes a recording.
pub(super) fn write(folder: &Path, recording: &Recording) -> Result<(), BadInput> {
    files::new_folder(&folder.join("frames"))?;
    let mut inputs = b"boot,t_ms,kind,value\n".to_vec();
    let mut frames = String::from("boot,t_ms,file\n");
    let mut number = 0;
    for (place, boot) in recording.boots.iter().enumerate() {
        // A vector takes everything.
        let _ = write_inputs(&mut inputs, place, boot);
        for (t_ms, frame) in &boot.shown {
            let file = format!("frames/{number}.bin");
            files::write_new(&folder.join(&file), frame.bytes())?;
            frames += &format!("{place},{t_ms},{file}\n");
            number += 1;
        }
        files::write_new(&folder.join(format!("journal-{place}.bin")), &boot.after)?;
    }
    if let Some(first) = recording.boots.first() {
        files::write_new(&folder.join("journal-start.bin"), &first.before)?;
    }
    files::write_new(&folder.join("inputs.csv"), &inputs)?;
    files::write_new(&folder.join("frames.csv"), frames.as_bytes())
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

//! Any bytes on the line: bounded work, bounded answers, and afterwards the scale still answers and its journal still opens.
//!
//! The first byte chooses between bytes as they come and frames that are put together rightly around any content.

use serde::ser::{Serialize, SerializeTuple, Serializer};
use yarn_scale_core::link::{Answer, Ask, MAX_FRAME, Request, decode, encode};
use yarn_scale_sim::device::flash::SimFlash;

use super::Entropy;
use crate::durability::Found;
use crate::line::Line;

pub(super) fn check(data: &[u8]) {
    let mut entropy = Entropy::new(data);
    let mut line = Line::new(SimFlash::blank(48 << 10));
    let bytes = if entropy.byte().is_multiple_of(2) {
        entropy.rest().to_vec()
    } else {
        frames(entropy)
    };
    for chunk in bytes.split(|&byte| byte == 0) {
        // Never a panic, whatever stands in a frame.
        let _ = decode::<Request>(chunk);
    }
    let answers = line.send(&bytes);
    let questions = bytes.iter().filter(|&&byte| byte == 0).count();
    assert!(
        answers.len() <= questions,
        "{} answers to {questions} frames",
        answers.len()
    );
    assert!(line.board.link.to_computer.len() <= MAX_FRAME);
    // The end of whatever frame was begun, then a question.
    line.send(&[0]);
    assert!(matches!(line.ask(Ask::Hello), Answer::Device(_)));
    let mut flash = SimFlash::with_content(line.board.flash.content().to_vec());
    Found::open(&mut flash).expect("the journal opens");
}

/// Frames: a length, and as many bytes, checksummed and stuffed.
fn frames(mut entropy: Entropy<'_>) -> Vec<u8> {
    let mut bytes = Vec::new();
    while !entropy.is_empty() {
        let length = entropy.below(200);
        let mut buffer = [0; MAX_FRAME];
        bytes.extend(encode(&Content(entropy.take(length)), &mut buffer).expect("a short frame"));
    }
    bytes
}

/// Bytes that encode as themselves.
struct Content<'b>(&'b [u8]);

impl Serialize for Content<'_> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let mut tuple = serializer.serialize_tuple(self.0.len())?;
        for byte in self.0 {
            tuple.serialize_element(byte)?;
        }
        tuple.end()
    }
}

//! The bulk-only transport: commands, data and their status over two endpoints (USB Mass Storage Class, Bulk-Only Transport 1.0).
//!
//! It never stalls: answers are padded with zeros to the length that the host asked for, and the residue tells (section 5.3.3 allows it).
//! A command block that makes no sense is swallowed with all that follows until the host resets, where section 6.6.1 asks for a stall;
//! the host finds out by its own patience and resets, which the stall would have told it sooner. The reason: the USB driver underneath
//! does not set the data toggle back when a stall is cleared, so that the packet after it would be thrown away.

use super::scsi::{Answer, Reply, SECTOR, Sense, Target};
use crate::board::{PACKET, Pipe};

/// Where sectors come from.
pub(super) trait Sectors {
    /// Fills `out` with a sector of the volume, or with some of it: then it is called again with the same in the next turn.
    fn read(&mut self, sector: u32, out: &mut Filling);
}

/// A sector on its way.
#[derive(Clone, Debug)]
pub(super) struct Filling {
    /// What there is of it, zeros before.
    pub bytes: [u8; SECTOR],
    /// Where its text goes on in the next turn: the piece, and the byte at which that begins. `None` at first, and once all is there.
    pub rest: Option<(u16, u32)>,
}

impl Filling {
    /// Nothing of a sector yet.
    pub(super) const EMPTY: Self = Self {
        bytes: [0; SECTOR],
        rest: None,
    };
}

/// One command at a time, from its block to its status.
#[derive(Clone, Debug)]
pub(super) struct Transfer {
    /// The disk that is spoken to.
    pub target: Target,
    state: State,
    tag: [u8; 4],
    /// Bytes that the host wants to move.
    length: u32,
    residue: u32,
    status: Status,
    sector: Filling,
    /// Which one that is.
    held: Option<u32>,
}

#[derive(Clone, Copy, Debug)]
enum State {
    /// Waits for a command.
    Idle,
    /// Sends data, so many bytes so far.
    In { reply: Reply, sent: u32 },
    /// Discards so many bytes more of data that no command takes.
    Out { left: u32 },
    /// Sends how the command ended.
    Status,
    /// Something came that is no command: nothing is said until the host resets.
    Lost,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Status {
    Good = 0,
    Failed = 1,
    /// The host's and the command's ideas of the data's length or direction differ.
    Phase = 2,
}

impl Transfer {
    /// A transport that has not been spoken to.
    #[must_use]
    pub(super) const fn new(target: Target) -> Self {
        Self {
            target,
            state: State::Idle,
            tag: [0; 4],
            length: 0,
            residue: 0,
            status: Status::Good,
            sector: Filling::EMPTY,
            held: None,
        }
    }

    /// The host has reset the bus, or this interface ("Bulk-Only Mass Storage Reset").
    pub(super) const fn reset(&mut self) {
        self.state = State::Idle;
        self.target.reset();
    }

    /// A volume of so many sectors is there from now on.
    pub(super) const fn insert(&mut self, sectors: u32) {
        self.held = None;
        self.target.insert(sectors);
    }

    /// From now on there is no volume. What is being read of it fails.
    pub(super) fn eject(&mut self) {
        self.target.eject();
        if let State::In { reply, sent } = &mut self.state
            && let Reply::Sectors { .. } = reply
        {
            *reply = NOTHING;
            self.status = Status::Failed;
            self.residue = self.length.saturating_sub(*sent);
            self.target.fail(Sense::NO_MEDIUM);
        }
    }

    /// Does what can be done without waiting. At most `turns` packets move, so that a host that reads on and on does not keep the caller.
    pub(super) fn work(&mut self, pipe: &mut impl Pipe, sectors: &mut impl Sectors, turns: u8) {
        for _ in 0..turns {
            if self.turn(pipe, sectors).is_none() {
                return;
            }
        }
    }

    /// Moves one packet, or goes on to what comes next; `None` where the host has to do something first.
    fn turn(&mut self, pipe: &mut impl Pipe, sectors: &mut impl Sectors) -> Option<()> {
        let mut packet = [0; PACKET];
        match self.state {
            State::Idle => {
                let length = pipe.read(&mut packet)?;
                self.state = match packet.split_first_chunk() {
                    Some((block, _)) if length == BLOCK => self.begin(block),
                    _ => State::Lost,
                };
            }
            State::In { reply, sent } => {
                let left = self.length.saturating_sub(sent);
                if left == 0 {
                    self.state = State::Status;
                    return Some(());
                }
                let size = usize::try_from(left).map_or(PACKET, |left| left.min(PACKET));
                self.fill(reply, sent, packet.get_mut(..size)?, sectors)?;
                let written = pipe.write(packet.get(..size)?);
                let sent = sent.saturating_add(written.then_some(size as u32)?);
                self.state = State::In { reply, sent };
            }
            State::Out { left: 0 } => self.state = State::Status,
            State::Out { left } => {
                let length = u32::try_from(pipe.read(&mut packet)?).ok()?;
                let left = left.saturating_sub(length);
                self.state = State::Out { left };
            }
            State::Status => {
                let [a, b, c, d] = self.tag;
                let [e, f, g, h] = self.residue.to_le_bytes();
                let status = [b'U', b'S', b'B', b'S', a, b, c, d, e, f, g, h, self.status as u8];
                pipe.write(&status).then_some(())?;
                self.state = State::Idle;
            }
            State::Lost => {
                pipe.read(&mut packet)?;
            }
        }
        Some(())
    }

    /// Takes a command block; section 6.2 says when one is valid.
    fn begin(&mut self, block: &[u8; BLOCK]) -> State {
        let &[
            u,
            s,
            b,
            c,
            t1,
            t2,
            t3,
            t4,
            l1,
            l2,
            l3,
            l4,
            flags,
            unit,
            count,
            ref command @ ..,
        ] = block;
        if [u, s, b, c] != *b"USBC" || unit != 0 || !(1..=16).contains(&count) {
            return State::Lost;
        }
        self.tag = [t1, t2, t3, t4];
        self.length = u32::from_le_bytes([l1, l2, l3, l4]);
        let inward = flags & 0x80 != 0;
        let reply = self.target.command(command);
        let size = match reply {
            Ok(Reply::Answer(answer)) => answer.bytes().len() as u32,
            Ok(Reply::Sectors { count, .. }) => count.saturating_mul(SECTOR_BYTES),
            Err(_) => 0,
        };
        // The cases of section 6.7 in which host and command do not agree: data where none is wanted, the other way, or more of it.
        let disagree = size > 0 && (!inward || size > self.length);
        self.status = match reply {
            Ok(_) if disagree => Status::Phase,
            Ok(_) => Status::Good,
            Err(_) => Status::Failed,
        };
        self.residue = match self.status {
            Status::Good => self.length.saturating_sub(size),
            Status::Failed | Status::Phase => self.length,
        };
        match (self.length, inward) {
            (0, _) => State::Status,
            (_, true) => State::In {
                reply: reply.ok().filter(|_| !disagree).unwrap_or(NOTHING),
                sent: 0,
            },
            (left, false) => State::Out { left },
        }
    }

    /// The next piece of what is sent, which holds zeros before; behind its end they stay. `None` where its sector takes another turn.
    fn fill(&mut self, reply: Reply, sent: u32, piece: &mut [u8], sectors: &mut impl Sectors) -> Option<()> {
        let rest: &[u8] = match &reply {
            Reply::Answer(answer) => usize::try_from(sent).ok().and_then(|sent| answer.bytes().get(sent..)),
            Reply::Sectors { first, count } => {
                let (place, offset) = (sent / SECTOR_BYTES, (sent % SECTOR_BYTES) as usize);
                if place >= *count {
                    return Some(());
                }
                self.hold(first.saturating_add(place), sectors)?.get(offset..)
            }
        }
        .unwrap_or_default();
        for (into, byte) in piece.iter_mut().zip(rest) {
            *into = *byte;
        }
        Some(())
    }

    /// The sector, once all of it is there.
    fn hold(&mut self, sector: u32, sectors: &mut impl Sectors) -> Option<&[u8; SECTOR]> {
        let is_new = self.held != Some(sector);
        if is_new {
            self.sector = Filling::EMPTY;
            self.held = Some(sector);
        }
        if is_new || self.sector.rest.is_some() {
            sectors.read(sector, &mut self.sector);
        }
        self.sector.rest.is_none().then_some(&self.sector.bytes)
    }

    /// Whether a sector that the host waits for takes another turn.
    #[must_use]
    pub(super) const fn is_filling(&self) -> bool {
        matches!(
            self.state,
            State::In {
                reply: Reply::Sectors { .. },
                ..
            }
        ) && self.sector.rest.is_some()
    }
}

/// Bytes of a command block wrapper, section 5.1.
const BLOCK: usize = 31;

const SECTOR_BYTES: u32 = SECTOR as u32;

const NOTHING: Reply = Reply::Answer(Answer::NOTHING);

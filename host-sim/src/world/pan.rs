//! What lies on the pan, what is being put on or lifted off, and the yarn that is drawn from it.

use super::hand::ease;
use super::yarn::Body;

/// Names one thing that was put on the pan.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct BodyId(u32);

/// The pan.
#[derive(Clone, Debug, Default)]
pub struct Pan {
    lying: Vec<Lying>,
    next: u32,
    owed_s: f64,
}

#[derive(Clone, Debug)]
struct Lying {
    id: BodyId,
    body: Body,
    /// Its weight arrives between these instants.
    on: (f64, f64),
    /// And leaves between these.
    off: (f64, f64),
    draws: Vec<Draw>,
}

#[derive(Clone, Copy, Debug)]
struct Draw {
    from: f64,
    to: f64,
    grams: f64,
}

impl Pan {
    /// Puts a body on, its weight arriving over `on` (world seconds).
    pub fn put(&mut self, body: Body, on: (f64, f64)) -> BodyId {
        let id = BodyId(self.next);
        self.next += 1;
        self.lying.push(Lying {
            id,
            body,
            on,
            off: (f64::INFINITY, f64::INFINITY),
            draws: Vec::new(),
        });
        id
    }

    /// Lifts it off over `off`. Nothing happens if it is not there or already leaving.
    pub fn lift(&mut self, id: BodyId, off: (f64, f64)) {
        if let Some(lying) = self.lying.iter_mut().find(|l| l.id == id && l.off.0.is_infinite()) {
            lying.off = off;
        }
    }

    /// Draws `grams` of yarn from it, evenly from `from` to `to`.
    pub fn draw(&mut self, id: BodyId, from: f64, to: f64, grams: f64) {
        if let Some(lying) = self.lying.iter_mut().find(|l| l.id == id) {
            lying.draws.push(Draw { from, to, grams });
        }
    }

    /// What lies on the pan and is not being lifted at `t`, first put first.
    pub fn bodies(&self, t: f64) -> impl Iterator<Item = (BodyId, &Body)> {
        self.lying
            .iter()
            .filter(move |l| l.on.0 <= t && t < l.off.0)
            .map(|l| (l.id, &l.body))
    }

    /// True mass on the pan at `t`, g: everything that has touched down and has not begun to leave.
    #[must_use]
    pub fn mass_g(&self, t: f64) -> f64 {
        self.bodies(t).fold(0.0, |sum, (_, body)| sum + body.mass_g())
    }

    /// Force of the bodies on the pan at `t`, g, while they arrive and leave.
    #[must_use]
    pub fn force(&self, t: f64) -> f64 {
        self.lying
            .iter()
            .filter(|l| l.on.0 <= t)
            .map(|l| l.body.mass_g() * ease(t, l.on.0, l.on.1) * (1.0 - ease(t, l.off.0, l.off.1)))
            .sum()
    }

    /// True if something arrives or leaves between `from` and `to`.
    #[must_use]
    pub fn is_changing(&self, from: f64, to: f64) -> bool {
        let overlaps = |span: (f64, f64)| span.0 < to && span.1 > from;
        self.lying.iter().any(|l| {
            overlaps(l.on) || overlaps(l.off) || (l.on.0 >= from && l.on.0 < to) || (l.off.0 >= from && l.off.0 < to)
        })
    }

    /// Lets time pass from `from` to `to` in air of `humidity` %.
    pub fn pass(&mut self, from: f64, to: f64, humidity: f64) {
        self.owed_s += to - from;
        let soak = if self.owed_s >= STRIDE_S {
            core::mem::take(&mut self.owed_s)
        } else {
            0.0
        };
        for lying in &mut self.lying {
            if soak > 0.0 {
                lying.body.pass(humidity, soak);
            }
            for draw in &lying.draws {
                let overlap = to.min(draw.to) - from.max(draw.from);
                if overlap > 0.0 {
                    lying.body.draw(draw.grams * overlap / (draw.to - draw.from));
                }
            }
            lying.draws.retain(|draw| draw.to > to);
        }
        self.lying.retain(|l| l.off.1 > from);
    }

    /// The body of that name, wherever it is in its stay.
    #[must_use]
    pub fn body(&self, id: BodyId) -> Option<&Body> {
        self.lying.iter().find(|l| l.id == id).map(|l| &l.body)
    }
}

/// Wool is moved on in steps of this, s.
const STRIDE_S: f64 = 1.0;

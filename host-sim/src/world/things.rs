//! What lies in the basket and on the pan: cakes, bowls, coins, each with a name.

use crate::world::{Body, BodyId, World};

/// Everything that can be weighed here.
#[derive(Clone, Debug, Default)]
pub struct Things {
    things: Vec<Thing>,
}

/// One thing.
#[derive(Clone, Debug)]
pub struct Thing {
    /// Its name.
    pub name: String,
    /// Whether it can be knitted from.
    pub yarn: bool,
    place: Place,
}

#[derive(Clone, Debug)]
enum Place {
    /// Since when, world seconds.
    Basket(Body, f64),
    Pan(BodyId),
}

/// Why something cannot be done.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NotSo {
    /// There is no such thing.
    Unknown,
    /// It lies on the pan already.
    OnPan,
    /// It is not on the pan.
    NotOnPan,
    /// It is no yarn.
    NoYarn,
    /// There is not that much of it.
    TooLittle,
}

impl std::fmt::Display for NotSo {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(match self {
            Self::Unknown => "there is no such thing",
            Self::OnPan => "it is on the pan already",
            Self::NotOnPan => "it is not on the pan",
            Self::NoYarn => "it is no yarn",
            Self::TooLittle => "there is not that much of it",
        })
    }
}

impl Things {
    /// Adds a thing to the basket; one of the same name is replaced if it is not on the pan.
    pub fn add(&mut self, name: &str, body: Body, yarn: bool, now: f64) {
        self.things.retain(|thing| thing.name != name);
        self.things.push(Thing {
            name: name.to_owned(),
            yarn,
            place: Place::Basket(body, now),
        });
    }

    /// All of them, in the order they were added.
    #[must_use]
    pub fn all(&self) -> &[Thing] {
        &self.things
    }

    /// A hand puts a thing on the pan; returns when the hand has left, world seconds.
    ///
    /// # Errors
    /// [`NotSo`] if it is not there to be put.
    pub fn put(&mut self, name: &str, world: &mut World) -> Result<f64, NotSo> {
        let now = world.now();
        let humidity = world.room.humidity;
        let thing = self.find(name)?;
        let Place::Basket(body, since) = &mut thing.place else {
            return Err(NotSo::OnPan);
        };
        body.pass(humidity, now - *since);
        let (id, timing) = world.place(body.clone(), now + REACH_S);
        thing.place = Place::Pan(id);
        Ok(timing.hand_off)
    }

    /// A hand takes a thing off the pan; returns when the hand has left, world seconds.
    ///
    /// # Errors
    /// [`NotSo`] if it is not there to be taken.
    pub fn take(&mut self, name: &str, world: &mut World) -> Result<f64, NotSo> {
        let thing = self.find(name)?;
        let Place::Pan(id) = thing.place else {
            return Err(NotSo::NotOnPan);
        };
        let body = world.pan().body(id).cloned().ok_or(NotSo::NotOnPan)?;
        let timing = world.remove(id, world.now() + REACH_S);
        thing.place = Place::Basket(body, timing.hand_off);
        Ok(timing.hand_off)
    }

    /// Knits some grams off a yarn: at once from the basket, over `seconds` from the pan. Returns when that is done.
    ///
    /// # Errors
    /// [`NotSo`] if it is no yarn or not enough.
    pub fn knit(&mut self, name: &str, grams: f64, seconds: f64, world: &mut World) -> Result<f64, NotSo> {
        let now = world.now();
        let thing = self.find(name)?;
        if !thing.yarn {
            return Err(NotSo::NoYarn);
        }
        match &mut thing.place {
            Place::Basket(body, _) if body.mass_g() < grams => Err(NotSo::TooLittle),
            Place::Basket(body, _) => {
                body.draw(grams);
                Ok(now)
            }
            Place::Pan(id) => {
                let there = world.pan().body(*id).map_or(0.0, Body::mass_g);
                if there < grams {
                    return Err(NotSo::TooLittle);
                }
                world.draw_yarn(*id, now, now + seconds, grams);
                Ok(now + seconds)
            }
        }
    }

    /// What has been knitted goes into something in the basket.
    ///
    /// # Errors
    /// [`NotSo`] if it is not there.
    pub fn grow(&mut self, name: &str, grams: f64) -> Result<(), NotSo> {
        self.in_basket(name)?.conditioned_g += grams;
        Ok(())
    }

    /// Something in the basket is washed, and as wet as after the spin.
    ///
    /// # Errors
    /// [`NotSo`] if it is not there.
    pub fn wash(&mut self, name: &str, now: f64) -> Result<(), NotSo> {
        self.in_basket(name)?.soaked_percent = SPUN_PERCENT;
        if let Place::Basket(_, since) = &mut self.find(name)?.place {
            *since = now;
        }
        Ok(())
    }

    fn in_basket(&mut self, name: &str) -> Result<&mut Body, NotSo> {
        match &mut self.find(name)?.place {
            Place::Basket(body, _) => Ok(body),
            Place::Pan(_) => Err(NotSo::OnPan),
        }
    }

    fn find(&mut self, name: &str) -> Result<&mut Thing, NotSo> {
        self.things
            .iter_mut()
            .find(|thing| thing.name == name)
            .ok_or(NotSo::Unknown)
    }
}

impl Thing {
    /// Whether it is on the pan.
    #[must_use]
    pub fn on_pan(&self) -> bool {
        matches!(self.place, Place::Pan(_))
    }

    /// Its mass now, g.
    #[must_use]
    pub fn mass_g(&self, world: &World) -> f64 {
        match &self.place {
            Place::Basket(body, _) => body.mass_g(),
            Place::Pan(id) => world.pan().body(*id).map_or(0.0, Body::mass_g),
        }
    }
}

/// Wool that holds three tenths of its mass as water (engineering assumption), in the terms of [`Body`].
const SPUN_PERCENT: f64 = 200.0;
/// From the thought to the first touch, s.
const REACH_S: f64 = 0.1;

//! What only the way a level came about can tell: the empty pan, or something small on it. A thing is not a drift.
//!
//! Scales are simulated ones, each with a noise, a warming up and hands of its own; what lies on them is known to the test alone.

use yarn_scale_core::converter::{RawSample, SampleRate};
use yarn_scale_core::units::{Counts, FineCounts, Instant, Milligrams};
use yarn_scale_core::weighing::{Calibration, Scale, ScaleEvent, SteadyLoad};
use yarn_scale_sim::world::{Body, BodyId, NoiseClass, Room, Unit, World};

/// A simulated scale and the core's on it.
struct Bench {
    world: World,
    scale: Scale,
    emptied: u32,
}

impl Bench {
    /// Switched on this instant, `rest` grams on its pan; `hours` in use before.
    fn new(unit: Unit, hours: f64, rest: f64, rate: SampleRate) -> Self {
        let mut world = World::new(unit, rate, Room::new(1));
        if hours > 0.0 {
            // Without words time passes quickly, and the cell warms all the same.
            world.connected = false;
            world.advance(hours * 3_600.0, |_| {});
            world.connected = true;
        }
        if rest > 0.0 {
            world.put(Body::dry(rest));
        }
        let made = world.calibration();
        let zero = FineCounts((made.zero_counts * 16.0).round() as i32);
        let calibration = Calibration::straight(zero, made.counts_per_g as f32).expect("sound");
        let scale = Scale::new(calibration, Milligrams::from_grams(500), rate, None);
        Self {
            world,
            scale,
            emptied: 0,
        }
    }

    fn usual(seed: u64, hours: f64) -> Self {
        let mut bench = Self::new(Unit::draw(seed), hours, 0.0, SampleRate::Ten);
        bench.wait(20.0);
        assert!(bench.scale.is_empty(), "unit {seed}: an empty pan is not found");
        bench
    }

    fn until(&mut self, until: f64) {
        let (scale, emptied) = (&mut self.scale, &mut self.emptied);
        self.world.advance(until, |conversion| {
            if let Some(raw) = conversion.raw {
                let at = Instant((conversion.at * 1_000.0).round() as u64);
                if scale.sample(at, Ok(RawSample(Counts(raw)))) == Some(ScaleEvent::Emptied) {
                    *emptied += 1;
                }
            }
        });
    }

    fn wait(&mut self, seconds: f64) {
        self.until(self.world.now() + seconds);
    }

    fn place(&mut self, grams: f64) -> BodyId {
        let (id, timing) = self.world.place(Body::dry(grams), self.world.now());
        self.until(timing.hand_off);
        id
    }

    fn remove(&mut self, id: BodyId) {
        let timing = self.world.remove(id, self.world.now());
        self.until(timing.hand_off);
    }

    /// The load that a mark would take within some seconds.
    fn mark(&mut self) -> SteadyLoad {
        // A press comes after the hand has come from the cake to the key.
        self.wait(0.3);
        let from = self.world.now();
        for tick in 0..1_200 {
            self.until(from + 0.1 * f64::from(tick));
            if let Some(load) = self.scale.stood() {
                return load;
            }
        }
        panic!(
            "unit {}: no steady load in two minutes, {:?}",
            self.world.unit().seed,
            self.scale.readout()
        );
    }

    /// What the display says, grams.
    fn shown(&self) -> f64 {
        let shown = self.scale.shown().expect("a number");
        f64::from(shown.steps()) / 10.0
    }
}

/// How many standard uncertainties a weight of `true_g` is off.
fn off(scale: &Scale, load: &SteadyLoad, true_g: f64) -> (f64, f64) {
    let gross = scale.amended(load).unwrap_or_else(|| scale.gross(load));
    let error = f64::from(gross.value.0) / 1_000.0 - true_g;
    (error, 1_000.0 * error / f64::from(gross.u))
}

/// A mini skein is knitted from the pan at 0.1 g a minute, tugs between, down to a rest. The rest stays on the pan, in the mark and on the
/// display, or is within what is stated; once it has been taken off nothing below zero is left standing, and the next cake is what it is.
#[test]
fn the_rest_of_a_yarn_is_never_zero() {
    let rests = [0.15, 0.2, 0.25, 0.35, 0.45, 0.6, 0.8];
    let mut troubles = Vec::new();
    let mut tried = 0;
    for seed in 0..21_u64 {
        let rest = rests[seed as usize % rests.len()];
        let hours = if seed % 2 == 0 { 3.0 } else { 0.0 };
        let mut bench = Bench::usual(100 + seed, hours);
        let skein = bench.place(rest + 1.2);
        bench.wait(8.0);
        let (from, to) = (bench.world.now(), bench.world.now() + 720.0);
        bench.world.knit(skein, from, to, 1.2);
        bench.until(to + 10.0);
        tried += 1;
        let load = bench.mark();
        let (error, ratio) = off(&bench.scale, &load, rest);
        if error.abs() > 0.1 && ratio.abs() > 2.6 {
            troubles.push(format!("unit {seed}: {rest} g off by {error:.3} g, {ratio:.1} u"));
        }
        bench.remove(skein);
        bench.wait(15.0);
        if bench.shown() < -0.05 {
            troubles.push(format!("unit {seed}: {rest} g taken off, {} shown", bench.shown()));
        }
        bench.place(60.0);
        let load = bench.mark();
        let (error, ratio) = off(&bench.scale, &load, 60.0);
        if error.abs() > 0.1 && ratio.abs() > 2.6 {
            troubles.push(format!(
                "unit {seed}: after {rest} g the cake off by {error:.3} g, {ratio:.1} u"
            ));
        }
    }
    assert!(troubles.is_empty(), "{} of {tried}: {troubles:#?}", troubles.len());
}

/// A piece stays behind for six seconds after a cake was lifted, then goes. Neither the mark before nor the next one knows of it.
#[test]
fn a_piece_left_behind_is_not_zeroed_away() {
    let mut troubles = Vec::new();
    for seed in 0..20_u64 {
        let piece = [0.2, 0.3, 0.45, 0.35][seed as usize % 4];
        let mut bench = Bench::usual(200 + seed, if seed % 2 == 0 { 3.0 } else { 0.0 });
        let left = bench.world.put(Body::dry(piece));
        let cake = bench.place(50.0);
        let first = bench.mark();
        bench.wait(5.0);
        bench.remove(cake);
        bench.wait(6.0);
        bench.remove(left);
        bench.wait(12.0);
        let (error, ratio) = off(&bench.scale, &first, 50.0 + piece);
        if error.abs() > 0.1 && ratio.abs() > 2.6 {
            troubles.push(format!(
                "unit {seed}: the mark before {piece} g off by {error:.3} g, {ratio:.1} u"
            ));
        }
        if bench.shown().abs() > 0.05 {
            troubles.push(format!("unit {seed}: {piece} g gone, {} shown", bench.shown()));
        }
        bench.place(46.0);
        let second = bench.mark();
        let (error, ratio) = off(&bench.scale, &second, 46.0);
        if error.abs() > 0.1 && ratio.abs() > 2.6 {
            troubles.push(format!(
                "unit {seed}: the mark after {piece} g off by {error:.3} g, {ratio:.1} u"
            ));
        }
    }
    assert!(troubles.is_empty(), "{}: {troubles:#?}", troubles.len());
}

/// A load is put on while the scale starts: what is stated then is right, at both rates.
#[test]
fn a_load_put_on_while_the_scale_starts_is_stated_rightly() {
    for rate in [SampleRate::Ten, SampleRate::Eighty] {
        let mut missed = Vec::new();
        let mut stated = 0;
        for seed in 0..60_u64 {
            let mut unit = Unit::draw(300 + seed);
            unit.damping = 0.012;
            let mut bench = Bench::new(unit, 0.0, 0.0, rate);
            bench.wait(0.4 + 0.05 * (seed % 30) as f64);
            bench.place(40.0);
            let load = bench.mark();
            let gross = bench.scale.gross(&load);
            let error = f64::from(gross.value.0) - 40_000.0;
            stated += 1;
            if error.abs() > 1.96 * f64::from(gross.u) {
                missed.push(format!("{seed}: {error:.0} of {:.0}", gross.u));
            }
        }
        // 95 of a hundred are covered: of 60, by chance fewer than 52 in one of a thousand cases (binomial).
        assert!(stated - missed.len() >= 52, "{rate:?}: {missed:?}");
    }
}

/// Ends dropped on the empty pan one by one: at least 95 % of their sum is shown, on units up to medium noise.
#[test]
fn small_ends_on_the_empty_pan_add_up() {
    let mut troubles = Vec::new();
    let mut seed = 400;
    for trial in 0..12 {
        let unit = loop {
            seed += 1;
            let unit = Unit::draw(seed);
            if unit.class() != NoiseClass::Noisy {
                break unit;
            }
        };
        let mut bench = Bench::new(unit, 3.0, 0.0, SampleRate::Ten);
        bench.wait(20.0);
        let piece = [0.05, 0.06, 0.08, 0.1][trial % 4];
        for _ in 0..20 {
            bench.world.put(Body::dry(piece));
            bench.wait(4.0);
        }
        bench.wait(6.0);
        let shown = f64::from(bench.scale.gross_shown().expect("a number").0) / 1_000.0;
        let sum = 20.0 * piece;
        if (shown - sum).abs() > 0.05 * sum + 0.02 {
            troubles.push(format!("unit {seed}: 20 of {piece} g show {shown:.3} g"));
        }
    }
    assert!(troubles.is_empty(), "{troubles:#?}");
}

/// Yarn wound onto the empty pan slowly, at any pace from 0.1 g a minute, ten minutes after power-on: at most 0.1 g is eaten.
#[test]
fn yarn_wound_on_slowly_is_not_eaten() {
    let mut troubles = Vec::new();
    for seed in 0..16_u64 {
        let (grams, seconds) = [(0.3, 20.0), (1.0, 600.0), (1.0, 240.0), (0.5, 60.0)][seed as usize % 4];
        let mut bench = Bench::usual(500 + seed, 0.0);
        bench.wait(600.0);
        assert!(bench.scale.is_empty(), "unit {seed}: ten minutes of nothing");
        let cake = bench.world.put(Body::dry(grams));
        // From nothing to all of it: what is drawn backwards.
        bench.world.take(cake);
        let (from, steps) = (bench.world.now(), (seconds * 2.0) as u32);
        for step in 0..steps {
            bench.world.put(Body::dry(grams / f64::from(steps)));
            bench.until(from + f64::from(step + 1) * seconds / f64::from(steps));
        }
        bench.wait(8.0);
        let shown = f64::from(bench.scale.gross_shown().expect("a number").0) / 1_000.0;
        if shown < grams - 0.1 {
            troubles.push(format!("unit {seed}: {grams} g in {seconds} s show {shown:.3} g"));
        }
    }
    assert!(troubles.is_empty(), "{troubles:#?}");
}

/// A leftover on the pan at power-on, taken off later: nothing below zero is left standing, what is weighed then is right, and what was
/// weighed before is stated so that it covers.
#[test]
fn a_leftover_at_power_on_has_a_way_back() {
    let mut troubles = Vec::new();
    for seed in 0..16_u64 {
        let left = [0.15, 0.3, 0.4, 0.5][seed as usize % 4];
        let mut bench = Bench::new(Unit::draw(600 + seed), 0.0, left, SampleRate::Ten);
        bench.wait(15.0);
        let cake = bench.place(30.0);
        let before = bench.mark();
        bench.remove(cake);
        bench.wait(8.0);
        let bodies: Vec<BodyId> = bench.world.pan().bodies(bench.world.now()).map(|(id, _)| id).collect();
        for id in bodies {
            bench.remove(id);
        }
        bench.wait(15.0);
        if bench.shown().abs() > 0.05 {
            troubles.push(format!("unit {seed}: {left} g gone, {} shown", bench.shown()));
        }
        let gross = bench
            .scale
            .amended(&before)
            .unwrap_or_else(|| bench.scale.gross(&before));
        // Cake alone or with what lay under it: both are within what is stated.
        let apart =
            (f64::from(gross.value.0) - 30_000.0).clamp(0.0, 1_000.0 * left) - (f64::from(gross.value.0) - 30_000.0);
        if apart.abs() > 2.6 * f64::from(gross.u) {
            troubles.push(format!("unit {seed}: {left} g under the cake, {gross:?}"));
        }
        bench.place(25.0);
        let after = bench.mark();
        let (error, ratio) = off(&bench.scale, &after, 25.0);
        if error.abs() > 0.1 && ratio.abs() > 2.6 {
            troubles.push(format!("unit {seed}: after {left} g off by {error:.3} g, {ratio:.1} u"));
        }
    }
    assert!(troubles.is_empty(), "{troubles:#?}");
}

/// Switched on under a cake, and a small thing is put on as soon as that is off, before the pan was seen empty: where it is taken for the pan's
/// own, what is weighed next is stated so that it covers.
#[test]
fn a_thing_put_on_before_the_pan_was_seen_empty_is_stated() {
    let mut troubles = Vec::new();
    let mut light = 0;
    for seed in 0..36_u64 {
        let thing = [0.2, 0.3, 0.4, 0.45][seed as usize % 4];
        let mut bench = Bench::new(Unit::draw(900 + seed), 0.0, 60.0, SampleRate::Ten);
        bench.wait(20.0);
        let cakes: Vec<BodyId> = bench.world.pan().bodies(bench.world.now()).map(|(id, _)| id).collect();
        for id in cakes {
            bench.remove(id);
        }
        bench.wait([0.0, 0.5, 1.0][seed as usize % 3]);
        let small = bench.place(thing);
        bench.wait(8.0);
        bench.remove(small);
        bench.place(50.0);
        let load = bench.mark();
        let gross = bench.scale.gross(&load);
        let error = f64::from(gross.value.0) - 50_000.0;
        light += u32::from(error < -100.0);
        if error.abs() > 100.0 && error.abs() > 2.6 * f64::from(gross.u) {
            troubles.push(format!(
                "unit {seed}: {thing} g, off by {error:.0} mg of {:.0}",
                gross.u
            ));
        }
    }
    assert!(troubles.is_empty(), "{troubles:#?}");
    assert!(light > 10, "{light}");
}

/// Warming up on an empty pan shows 0.0 for an hour, from the sixth second on; in the noisiest units but for some seconds.
#[test]
fn an_empty_pan_that_warms_up_shows_nothing() {
    let mut troubles = Vec::new();
    for seed in 0..16_u64 {
        let mut bench = Bench::new(Unit::draw(700 + seed), 0.0, 0.0, SampleRate::Ten);
        bench.wait(5.0);
        let mut wrong = 0;
        for _ in 0..3_600 {
            bench.wait(1.0);
            wrong += u32::from(bench.shown().abs() > 0.05);
        }
        let noisy = bench.world.unit().class() == NoiseClass::Noisy;
        if wrong > if noisy { 5 } else { 0 } {
            troubles.push(format!(
                "unit {seed} ({:?}, {} g): {wrong} s",
                bench.world.unit().class(),
                bench.world.unit().cell_capacity_g
            ));
        }
    }
    assert!(troubles.is_empty(), "{troubles:#?}");
}

/// A bowl stays on the pan for a while as the cell drifts: bare again, it says how far, and the cake that was weighed in it is amended as by an
/// emptied pan. A rest left in it is no drift.
#[test]
fn a_bare_bowl_is_a_zero_too() {
    use yarn_scale_tests::cell::{Cell, PER_GRAM};
    for rest in [0.0, 0.3] {
        let mut cell = Cell::new(PER_GRAM);
        cell.rest(1_800.0, 0.0);
        let bowl = cell.settle(150.0);
        cell.rest(5.0, 0.0);
        cell.scale.tare(cell.scale.gross(&bowl));
        cell.rest(3.0, 0.0);
        cell.settle(210.0);
        cell.rest(300.0, 0.04);
        let load = cell.scale.steady().expect("steady");
        assert_eq!(cell.scale.amended(&load), None);
        cell.load = 150.0 + rest;
        let events = cell.rest(5.0, 0.0);
        let bared = events.iter().any(|event| matches!(event, ScaleEvent::BowlBare(_)));
        assert_eq!(bared, rest == 0.0, "{events:?}");
        let amended = cell.scale.amended(&load);
        assert_eq!(amended.is_some(), rest == 0.0);
        if let Some(amended) = amended {
            assert!((amended.value.0 - 210_000).abs() < 20, "{amended:?}");
            // The next cake stands on where the zero is now.
            let next = cell.settle(205.0);
            let gross = cell.scale.gross(&next);
            assert!((gross.value.0 - 205_000).abs() < 20, "{gross:?}");
        }
    }
}

/// A converter whose offset steps to and fro on the empty pan states a wider ± for it; hands that come and go teach no steps, nor does a load.
#[test]
fn steps_of_the_offset_on_the_empty_pan_are_learnt() {
    use yarn_scale_tests::cell::{Cell, PER_GRAM};
    let known = |step: f64, load: f64| {
        let mut cell = Cell::new(PER_GRAM);
        cell.rest(30.0, 0.0);
        for turn in 0..12 {
            cell.load = if turn % 2 == 0 { step } else { 0.0 };
            cell.rest(40.0, 0.0);
            cell.load = load;
            cell.rest(8.0, 0.0);
        }
        cell.scale.conditions().steps
    };
    let (quiet, steps) = (known(0.0, 0.0), known(0.04, 0.0));
    assert!(quiet < 1.0, "none: {quiet}");
    assert!(steps > 2.0 && steps > 2.0 * quiet, "steps of 0.04 g: {steps}");
    let loads = known(0.0, 30.0);
    assert!(loads < 1.0, "loads: {loads}");
}

/// What lies in the bare bowl, a thing or a step of the offset, is not known: whatever stands on that zero is in doubt by as much.
#[test]
fn a_step_under_the_bare_bowl_puts_its_zero_in_doubt() {
    use yarn_scale_tests::cell::{Cell, PER_GRAM};
    let stated = |step: f64| {
        let mut cell = Cell::new(PER_GRAM);
        cell.rest(60.0, 0.0);
        let bowl = cell.settle(150.0);
        cell.rest(5.0, 0.0);
        cell.scale.tare(cell.scale.gross(&bowl));
        cell.rest(20.0, 0.0);
        cell.load = 150.0 + step;
        cell.rest(20.0, 0.0);
        let load = cell.settle(210.0);
        cell.scale.budget(&load).temperature
    };
    let (still, stepped) = (stated(0.0), stated(0.08));
    // Seven tenths of the step: the end of a 90 % interval.
    let doubt = (stepped * stepped - still * still).sqrt();
    assert!((48.0..64.0).contains(&doubt), "{stepped} beside {still}");
}

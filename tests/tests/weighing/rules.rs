//! The simulated scale against the rules for weighing instruments, OIML R 76-1, at a division of 0.1 g: where it stands, kept and broken. The
//! scale is not verified and not legal for trade; a rule that a cheap cell cannot keep is asserted as what it is.

use yarn_scale_core::converter::{RawSample, SampleRate};
use yarn_scale_core::units::{Counts, FineCounts, Instant, Milligrams};
use yarn_scale_core::weighing::{Calibration, Point, Scale};
use yarn_scale_sim::world::{Body, BodyId, Room, Unit, World};
use yarn_scale_tests::values::rows;

/// A scale in a room of one temperature, read without hands.
struct Bench {
    world: World,
    scale: Scale,
    settled: f64,
}

impl Bench {
    /// Switched on with the unit's own two-point calibration.
    fn new(unit: Unit) -> Self {
        let world = World::new(unit, SampleRate::Ten, Room::constant());
        let found = world.calibration();
        let zero = FineCounts((16.0 * found.zero_counts).round() as i32);
        let calibration = Calibration::straight(zero, found.counts_per_g as f32).expect("sound");
        Self::with(world, calibration)
    }

    fn with(world: World, calibration: Calibration) -> Self {
        let scale = Scale::new(calibration, Milligrams::from_grams(500), SampleRate::Ten, None);
        Self {
            world,
            scale,
            settled: 0.0,
        }
    }

    /// Waits, and looks after each sample.
    fn watch(&mut self, seconds: f64, mut look: impl FnMut(f64, &Scale)) {
        let until = self.world.now() + seconds;
        let (scale, settled) = (&mut self.scale, &mut self.settled);
        self.world.advance(until, |conversion| {
            let raw = RawSample(Counts(conversion.raw.expect("no word was spoilt")));
            scale.sample(Instant((conversion.at * 1_000.0) as u64), Ok(raw));
            *settled = conversion.truth.settled_counts;
            look(conversion.at, scale);
        });
    }

    fn wait(&mut self, seconds: f64) {
        self.watch(seconds, |_, _| {});
    }

    fn put(&mut self, grams: f64) -> BodyId {
        self.world.put(Body::dry(grams))
    }

    /// The newest steady level within so many seconds.
    fn level(&mut self, seconds: f64) -> FineCounts {
        let mut newest = None;
        self.watch(seconds, |_, scale| newest = scale.level().or(newest));
        newest.expect("steady")
    }

    /// The mean of the converter's words over so many seconds.
    fn mean_word(&mut self, seconds: f64) -> f64 {
        let until = self.world.now() + seconds;
        let (mut sum, mut count) = (0.0, 0.0);
        self.world.advance(until, |conversion| {
            sum += f64::from(conversion.truth.word);
            count += 1.0;
        });
        sum / count
    }

    /// The reading before rounding, mg, over the last ten of so many seconds.
    fn reading(&mut self, seconds: f64) -> f64 {
        self.wait(seconds - 10.0);
        let (mut sum, mut count) = (0.0, 0.0);
        self.watch(10.0, |_, scale| {
            if let Some(gross) = scale.readout().gross {
                sum += f64::from(gross.value.0);
                count += 1.0;
            }
        });
        sum / count
    }
}

fn limit(rule: &str) -> f64 {
    let all = rows("r76_rules.csv");
    let row = all.iter().find(|row| row.text(0) == rule).expect("a rule of the table");
    row.number(2)
}

fn units(count: u64) -> impl Iterator<Item = Unit> {
    (0..count).map(|seed| Unit::draw(31_000 + seed))
}

/// 4.5.2: after zero has been set the zero is right within a quarter of a division; by itself and by the press, on drawn units.
#[test]
fn zero_is_set_within_a_quarter_of_a_division() {
    let (mut worst, mut beyond, mut of) = (0.0_f64, 0, 0);
    for unit in units(60) {
        let mut bench = Bench::new(unit);
        bench.wait(20.0);
        for press in [false, true] {
            let load = bench.put(60.0);
            bench.wait(10.0);
            bench.world.take(load);
            bench.wait(6.0);
            if press {
                assert!(bench.scale.zero(), "refused on an empty pan");
            }
            // As the rule's own test would find it in the seconds that follow.
            let zero = f64::from(bench.scale.zero_point().level.0) / 16.0;
            let found = bench.mean_word(5.0);
            let off = (zero - found) / bench.world.calibration().counts_per_g * 1_000.0;
            worst = worst.max(off.abs());
            beyond += usize::from(off.abs() > limit("zero setting"));
            of += 1;
        }
    }
    println!("zero setting: worst {worst:.0} mg, {beyond} of {of} beyond a quarter of a division");
    assert!(beyond * 50 <= of, "{beyond} of {of} beyond, worst {worst:.0} mg");
}

/// 4.5.7: zero tracking only while the pan is empty, and by at most half a division a second.
#[test]
fn zero_is_tracked_slowly_and_only_on_an_empty_pan() {
    let mut bench = Bench::new(Unit {
        warm_up: 0.000_5,
        warm_up_s: 60.0,
        ..Unit::typical(5)
    });
    bench.wait(10.0);
    let per_mg = bench.world.calibration().counts_per_g / 1_000.0;
    let level = |scale: &Scale| f64::from(scale.zero_point().level.0) / 16.0 / per_mg;
    let mut seen = Vec::new();
    bench.watch(60.0, |at, scale| seen.push((at, level(scale))));
    let moved = seen[seen.len() - 1].1 - seen[0].1;
    assert!(
        moved > 40.0,
        "the cell warms up by a quarter of a gram; tracked {moved:.0} mg"
    );
    for (index, (at, zero)) in seen.iter().enumerate() {
        let later = seen[index..].iter().take_while(|next| next.0 <= at + 1.0);
        let most = later.map(|next| (next.1 - zero).abs()).fold(0.0, f64::max);
        assert!(most <= limit("zero tracking in a second"), "{most} mg in a second");
    }
    bench.put(20.0);
    bench.wait(3.0);
    let before = level(&bench.scale);
    bench.wait(120.0);
    assert!((level(&bench.scale) - before).abs() < 1e-9, "tracked under a load");
}

/// What comes onto an empty pan slowly is not taken away as drift, though the rule would allow it: 0.2 g that settle over 40 s, half
/// a division in ten seconds, are seen.
#[test]
fn a_slow_arrival_is_not_tracked_away() {
    let mut bench = Bench::new(Unit {
        warm_up: 0.0,
        ..Unit::typical(5)
    });
    bench.wait(30.0);
    let per_mg = bench.world.calibration().counts_per_g / 1_000.0;
    let before = f64::from(bench.scale.zero_point().level.0);
    let begun = bench.world.now();
    bench.world.advance(begun + 40.0, |conversion| {
        let arrived = 5.0 * (conversion.at - begun);
        let word = f64::from(conversion.truth.word) + arrived * per_mg;
        let raw = RawSample(Counts(word.round() as i32));
        bench.scale.sample(Instant((conversion.at * 1_000.0) as u64), Ok(raw));
    });
    let tracked = (f64::from(bench.scale.zero_point().level.0) - before) / 16.0 / per_mg;
    assert!(tracked < 60.0, "{tracked:.0} mg of 200 mg tracked away");
}

/// 4.4.2 and A.4.12: for five seconds after a reading that may be printed or stored, the indication shows at most two neighbouring
/// values, and the stored one is within a division of them. Loads, hands and units as they come.
#[test]
fn what_is_stored_is_in_stable_equilibrium() {
    let (mut of, mut unstable) = (0, 0);
    for unit in units(40) {
        let mut bench = Bench::new(unit);
        bench.wait(20.0);
        for grams in [5.0, 40.0, 150.0] {
            let (body, timing) = bench.world.place(Body::dry(grams), bench.world.now());
            bench.wait(timing.hand_off - bench.world.now());
            let mut first: Option<(f64, f64)> = None;
            let mut shown = Vec::new();
            bench.watch(14.0, |at, scale| {
                let readout = scale.readout();
                if let (None, Some(_), Some(gross)) = (first, readout.steady, readout.gross) {
                    first = Some((at, f64::from(gross.value.0)));
                }
                if let (Some((since, _)), Some(indication)) = (first, readout.shown)
                    && at <= since + 5.0
                {
                    shown.push(indication.steps());
                }
            });
            let (_, stored) = first.expect("steady within 14 s of a placement");
            let (low, high) = (shown.iter().min().expect("shown"), shown.iter().max().expect("shown"));
            let far = shown
                .iter()
                .any(|steps| (f64::from(*steps) * 100.0 - stored).abs() > limit("stable equilibrium"));
            of += 1;
            unstable += usize::from(high - low > 1 || far);
            let timing = bench.world.remove(body, bench.world.now());
            bench.wait(timing.hand_off - bench.world.now() + 8.0);
        }
    }
    println!("stable equilibrium: {unstable} of {of} not");
    // A hand that lies still is taken for rest in about one handling of a hundred.
    assert!(
        unstable * 33 <= of,
        "{unstable} of {of} stored readings were not in equilibrium"
    );
}

/// 3.9.4.1: creep over 30 min near capacity. The cell's own (0.03 % here) breaks the rule; once the scale has seen a few
/// times how its zero comes back, a load keeps it.
#[test]
fn creep_keeps_the_rule_once_it_is_known() {
    let mut bench = Bench::new(Unit {
        creep: 0.000_3,
        warm_up: 0.0,
        ..Unit::typical(8)
    });
    bench.wait(30.0);
    let mut run = || {
        let load = bench.put(400.0);
        let start = bench.reading(20.0);
        let middle = bench.reading(880.0);
        let end = bench.reading(900.0);
        bench.world.take(load);
        bench.wait(3_600.0);
        ((end - start).abs(), (end - middle).abs())
    };
    let runs = [run(), run(), run(), run()];
    println!("creep at 400 g in 30 min / in its second half, mg, load after load: {runs:.0?}");
    let (first, last) = (runs[0], runs[3]);
    assert!(first.0 > limit("creep in 30 min"), "nothing to learn: {first:?}");
    assert!(last.0 <= limit("creep in 30 min"), "{last:?}");
    assert!(last.1 <= limit("creep from 15 to 30 min"), "{last:?}");
}

/// 3.9.4.2: the zero after half an hour under a load near capacity. What the cell brings back is beyond half a division; the indication
/// of the emptied pan is back at zero all the same, because an emptied pan sets it.
#[test]
fn zero_returns_after_half_an_hour_under_load() {
    let mut bench = Bench::new(Unit {
        warm_up: 0.0,
        ..Unit::typical(9)
    });
    bench.wait(30.0);
    let before = bench.settled;
    let load = bench.put(450.0);
    bench.wait(1_800.0);
    bench.world.take(load);
    bench.wait(2.0);
    let cell = (bench.settled - before) / bench.world.calibration().counts_per_g * 1_000.0;
    assert!(
        cell.abs() > limit("zero return after 30 min"),
        "the cell itself keeps the rule: {cell:.0} mg"
    );
    bench.wait(58.0);
    let readout = bench.scale.readout();
    assert!(readout.empty, "not taken for empty");
    let shown = f64::from(readout.gross.expect("a number").value.0);
    println!("zero return after 30 min at 450 g: the cell {cell:+.0} mg, indicated {shown:+.0} mg");
    assert!(shown.abs() <= limit("zero return after 30 min"), "{shown} mg");
}

/// Table 6: errors by load, e = 0.1 g, against the limits of initial verification and in service (twice as much), on drawn units with
/// their owner's two-point calibration and with five points. Printed, and held to where it stands.
#[test]
fn errors_by_load_against_the_limits() {
    let count = 40;
    let limits: Vec<(f64, f64)> = rows("r76_limits.csv")
        .iter()
        .map(|row| (row.number(0), row.number(1)))
        .collect();
    println!(
        "within the limits, % of {count} units: load in g, two points initially / in service, five points initially / in service"
    );
    let mut shares = Vec::new();
    for &(load, limit) in limits.iter().filter(|row| row.0 > 0.0) {
        let mut within = [0; 4];
        for unit in units(count) {
            let unit = Unit { warm_up: 0.0, ..unit };
            for (at, five) in [(0, false), (2, true)] {
                let mut bench = if five {
                    let world = World::new(unit.clone(), SampleRate::Ten, Room::constant());
                    let calibration = five_points(&unit);
                    Bench::with(world, calibration)
                } else {
                    Bench::new(unit.clone())
                };
                bench.wait(20.0);
                bench.put(load / 1_000.0);
                let error = (bench.reading(20.0) - load).abs();
                within[at] += usize::from(error <= limit);
                within[at + 1] += usize::from(error <= 2.0 * limit);
            }
        }
        let share = within.map(|within| 100.0 * within as f64 / count as f64);
        println!("{:5.1} {share:3.0?}", load / 1_000.0);
        shares.push((load, share));
    }
    for (load, [two, two_in_service, five, five_in_service]) in shares {
        assert!(two_in_service >= two && five_in_service >= five);
        assert!(five >= FIVE_POINTS_WITHIN, "{load} mg: {five} % with five points");
        assert!(
            two_in_service >= TWO_POINTS_IN_SERVICE,
            "{load} mg: {two_in_service} % with two"
        );
    }
}

/// The owner weighs the empty pan and four masses of class M1 one after the other.
fn five_points(unit: &Unit) -> Calibration {
    let mut points = Vec::new();
    for grams in [0, 100, 200, 350, 500] {
        let mut bench = Bench::new(unit.clone());
        bench.wait(20.0);
        if grams > 0 {
            bench.put(f64::from(grams));
        }
        points.push(Point {
            load: Milligrams::from_grams(grams),
            cup: false,
            u: 0.03 * grams as f32,
            level: bench.level(20.0),
        });
    }
    Calibration::prove(&points, Milligrams::from_grams(500))
        .expect("proven")
        .calibration
}

const FIVE_POINTS_WITHIN: f64 = 80.0;
const TWO_POINTS_IN_SERVICE: f64 = 80.0;

//! The benchmark measures what it says: its definitions on hand-made runs, its figures against those published for the signal model.

use indicatif::ProgressBar;
use yarn_scale_core::converter::SampleRate;
use yarn_scale_sim::lab::measure::benchmark::{self, Extent, Outcome};
use yarn_scale_sim::lab::measure::contender::Contender;
use yarn_scale_sim::lab::measure::indicator::Shown;
use yarn_scale_sim::lab::measure::recording::{Event, Recorder, Recording};
use yarn_scale_sim::lab::measure::run::Run;
use yarn_scale_sim::lab::measure::score::{Question, Score};
use yarn_scale_sim::lab::measure::table::{figures, percentile};
use yarn_scale_sim::lab::measure::{bound, ideal, scenario};
use yarn_scale_sim::world::{Body, DigitalFault, Family, Gesture, NoiseClass, Room, Timing, Unit, World};

/// A perfect scale, one placement, 5 s of rest before and 10 s after; with the instants of contact and hand off.
fn placement() -> (Recording, f64, f64) {
    let mut recorder = Recorder::new(
        World::new(Unit::perfect(), SampleRate::Ten, Room::constant()),
        SampleRate::Ten,
    );
    recorder.wait(5.0);
    recorder.place(Body::dry(50.0));
    recorder.wait(10.0);
    let recording = recorder.finish();
    let Some(Event::Handling(_, timing)) = recording.events.first() else {
        panic!("a placement was recorded")
    };
    (recording.clone(), timing.contact, timing.hand_off)
}

/// A run that shows the truth plus `off`, steady where `steady` says so at world time.
fn run(recording: &Recording, steady: impl Fn(f64) -> bool, off: impl Fn(f64) -> f64) -> Run {
    let shown = (0..recording.conversions.len())
        .map(|i| {
            let at = recording.conversions[i].at;
            let grams = recording.settled_g(i) + off(at);
            Shown {
                grams: Some(grams),
                tenths: Some((grams * 10.0).round() as i64),
                steady: steady(at),
            }
        })
        .collect();
    Run {
        shown,
        used: Vec::new(),
        used_in_the_end: Vec::new(),
        asked: 0,
    }
}

#[test]
fn latency_runs_from_hand_off_to_the_first_steady_sample() {
    let (recording, contact, hand_off) = placement();
    let score = Question::Handling.score(
        &recording,
        &run(&recording, |t| t < contact + 0.2 || t >= hand_off + 0.8, |_| 0.0),
    );
    assert_eq!((score.handlings, score.handled, score.wrong, score.never), (1, 0, 0, 0));
    assert!((0.8..0.9).contains(&score.latency[0].1), "{}", score.latency[0].1);
    assert!(score.error[0].abs() < 1e-9);
}

#[test]
fn a_carried_flag_must_drop_before_it_counts() {
    let (recording, _, hand_off) = placement();
    let carried = run(&recording, |t| t < hand_off + 0.3 || t >= hand_off + 1.5, |_| 0.0);
    let score = Question::Handling.score(&recording, &carried);
    assert!((1.5..1.6).contains(&score.latency[0].1), "{}", score.latency[0].1);
    let never = Question::Handling.score(&recording, &run(&recording, |t| t < hand_off - 0.1, |_| 0.0));
    assert_eq!(never.never, 1);
}

#[test]
fn steady_while_handled_counts_episodes_past_the_first_half_second() {
    let mut recorder = Recorder::new(
        World::new(Unit::perfect(), SampleRate::Ten, Room::constant()),
        SampleRate::Ten,
    );
    recorder.wait(5.0);
    let timing = Timing {
        contact: 5.0,
        load: (5.0, 5.2),
        hand_off: 8.0,
    };
    recorder.note(Event::Handling(Gesture::Place, timing));
    recorder.wait(10.0);
    let recording = recorder.finish();
    let early = run(&recording, |t| t < 5.4, |_| 0.0);
    assert_eq!(Question::Handling.score(&recording, &early).handled, 0);
    let twice = run(
        &recording,
        |t| (5.8..6.2).contains(&t) || (7.0..7.5).contains(&t),
        |_| 0.0,
    );
    assert_eq!(Question::Handling.score(&recording, &twice).handled, 2);
}

#[test]
fn more_than_a_tenth_off_is_wrong() {
    let (recording, contact, hand_off) = placement();
    let steady = |t: f64| t < contact || t > hand_off + 0.8;
    let good = run(&recording, steady, |t| if t > hand_off { 0.09 } else { 0.0 });
    let bad = run(&recording, steady, |t| if t > hand_off { -0.11 } else { 0.0 });
    assert_eq!(Question::Handling.score(&recording, &good).wrong, 0);
    let score = Question::Handling.score(&recording, &bad);
    assert_eq!((score.wrong, score.wrong_at_tick), (1, 1));
    assert!((score.error[0] + 0.11).abs() < 1e-9);
    let later = run(&recording, steady, |t| if t > hand_off + 4.0 { 0.11 } else { 0.0 });
    let score = Question::Handling.score(&recording, &later);
    assert_eq!((score.wrong, score.wrong_at_tick), (1, 0), "it wanders off");
}

/// With white noise alone the best estimate is the difference of the two means, wrong as often as a normal distribution says.
#[test]
fn an_ideal_observer_is_wrong_as_often_as_noise_makes_it() {
    let unit = Unit {
        noise_factor: 30.0,
        noise_through_filter: false,
        ..Unit::perfect()
    };
    let rate = SampleRate::Ten;
    let sigma = unit.white_g(rate);
    let mut recorder = Recorder::new(World::new(unit, rate, Room::constant()), rate);
    recorder.wait(5.0);
    recorder.place(Body::dry(50.0));
    recorder.wait(10.0);
    let recording = recorder.finish();
    let chance = |before, after| ideal::chance_of_wrong(&recording, before, after, 0.1);
    // Two-sided tails of a standard normal distribution (handbook table): 1.96 for 5 %, 1.645 for 10 %.
    let n = ((1.96 * sigma / 0.1).powi(2) * 2.0).round() as usize;
    assert!((3..=50).contains(&n), "{n} readings on each side");
    assert!(
        (chance(0..n, 60..=60 + n - 1) - 0.05).abs() < 0.01,
        "{}",
        chance(0..n, 60..=60 + n - 1)
    );
    assert!(chance(0..n, 60..=60) > chance(0..n, 60..=60 + n - 1));
    // Who reads nothing but one word on each side: the difference of two.
    let of_two = 0.1 / (sigma * 2_f64.sqrt());
    assert!((chance(0..1, 60..=60) - statrs::function::erf::erfc(of_two / 2_f64.sqrt())).abs() < 1e-6);
}

/// It is asked of loads alone: who touches the cake leaves it as it was, and an empty pan may be guessed.
#[test]
fn an_ideal_observer_is_asked_of_changed_loads_alone() {
    let mut recorder = Recorder::new(
        World::new(
            Unit {
                noise_factor: 30.0,
                ..Unit::perfect()
            },
            SampleRate::Ten,
            Room::constant(),
        ),
        SampleRate::Ten,
    );
    recorder.wait(5.0);
    let cake = recorder.place(Body::dry(50.0));
    recorder.wait(6.0);
    recorder.handle(Gesture::Touch);
    recorder.wait(6.0);
    recorder.remove(cake);
    recorder.wait(6.0);
    let recording = recorder.finish();
    let handlings: Vec<Timing> = recording
        .events
        .iter()
        .filter_map(|event| {
            if let Event::Handling(_, timing) = event {
                Some(*timing)
            } else {
                None
            }
        })
        .collect();
    let chance = |nth: usize| {
        let flag = recording.first_from(handlings[nth].hand_off + 1.0);
        let before = nth.checked_sub(1).map(|before| &handlings[before]);
        bound::chance_of_wrong(&recording, before, &handlings[nth], flag, 0.1)
    };
    assert!(chance(0) > 0.01, "{}", chance(0));
    assert_eq!((chance(1), chance(2)), (0.0, 0.0));
}

/// Two placements; the number between them has a tick, or still swings when the hand comes. What nobody notes is no number to differ from.
#[test]
fn a_change_is_told_from_a_number_that_had_a_tick() {
    let mut recorder = Recorder::new(
        World::new(Unit::perfect(), SampleRate::Ten, Room::constant()),
        SampleRate::Ten,
    );
    recorder.wait(5.0);
    let mut times = Vec::new();
    for _ in 0..2 {
        let contact = recorder.world.now();
        recorder.place(Body::dry(50.0));
        times.push((contact, recorder.world.now()));
        recorder.wait(8.0);
    }
    let recording = recorder.finish();
    let [(first, off), (second, gone)] = times[..] else {
        panic!("two")
    };
    let swings = |t: f64| if (off..second).contains(&t) { 0.3 } else { 0.0 };
    let score = |settles: f64| {
        let steady = |t: f64| t < first || (off + 1.0..second - settles).contains(&t) || t > gone + 1.0;
        Question::Handling.score(&recording, &run(&recording, steady, swings))
    };
    // Seen with a tick, 0.3 g off; and then the right number differs from it.
    assert_eq!((score(1.0).handlings, score(1.0).wrong), (2, 2));
    // Never with a tick.
    assert_eq!((score(100.0).handlings, score(100.0).wrong), (2, 0));
}

/// The word that was under way when the hand left says what lay on the pan while it was there: a tick with it is one of a still hand.
#[test]
fn a_tick_in_the_word_of_the_hand_is_handled_and_not_wrong() {
    let (recording, contact, hand_off) = placement();
    let word = recording.conversions[recording.first_from(hand_off)].at;
    let steady = |t: f64| t < contact || (t - word).abs() < 0.01 || t > hand_off + 1.0;
    let held = |t: f64| if t >= contact && t < word + 0.01 { 5.0 } else { 0.0 };
    let score = Question::Handling.score(&recording, &run(&recording, steady, held));
    assert_eq!((score.handled, score.wrong), (1, 0));
    assert!((1.0..1.1).contains(&score.latency[0].1), "{}", score.latency[0].1);
    let later = |t: f64| steady(t - recording.unit.period_s(SampleRate::Ten));
    let score = Question::Handling.score(&recording, &run(&recording, later, |t| held(t - 0.1)));
    assert_eq!((score.handled, score.wrong), (0, 1), "the word after it is wrong");
}

/// Whose zero has risen under a load by half a gram may hold a rest, for all that anybody can know; whose zero has fallen cannot.
#[test]
fn a_risen_zero_cannot_be_told_from_a_rest() {
    for (warm_up, unknown) in [(0.0, 0), (0.001, 1), (-0.001, 0)] {
        let unit = Unit {
            warm_up,
            ..Unit::perfect()
        };
        let mut recorder = Recorder::new(World::new(unit, SampleRate::Ten, Room::constant()), SampleRate::Ten);
        recorder.wait(5.0);
        for seconds in [300.0, 2.0] {
            let cake = recorder.place(Body::dry(50.0));
            recorder.wait(seconds);
            recorder.remove(cake);
            recorder.wait(1_800.0);
        }
        let other = recorder.place(Body::dry(50.0));
        recorder.place(Body::dry(5.0));
        recorder.remove(other);
        let recording = recorder.finish();
        assert_eq!(bound::emptied(&recording), [2, unknown], "warms up by {warm_up}");
    }
}

#[test]
fn flicker_counts_changes_and_returns() {
    let mut recorder = Recorder::new(
        World::new(Unit::perfect(), SampleRate::Ten, Room::constant()),
        SampleRate::Ten,
    );
    recorder.wait(135.0);
    let recording = recorder.finish();
    // Up at 40 s, back at 50 s: two changes, one return; up for good at 70 s.
    let score = Question::Rest.score(
        &recording,
        &run(
            &recording,
            |t| t < 100.0,
            |t| {
                if (40.0..50.0).contains(&t) || t > 70.0 {
                    0.1
                } else {
                    0.0
                }
            },
        ),
    );
    assert_eq!(score.flicker, [3, 2]);
    assert!((score.rest_minutes - 2.0).abs() < 0.01);
    let share = score.rest[1] as f64 / score.rest[0] as f64;
    assert!((share - 85.0 / 120.0).abs() < 0.01, "{share}");
}

#[test]
fn tugs_slack_and_eaten_yarn() {
    let recording = scenario::knitting(Unit::draw(3), SampleRate::Ten);
    let pulls = recording.events.iter().filter(|e| matches!(e, Event::Tug(_))).count();
    let always = Question::Knitting.score(&recording, &run(&recording, |_| true, |_| 0.0));
    assert_eq!(always.pulls[0], pulls);
    assert!(
        always.pulls[1] > pulls * 9 / 10,
        "nearly every pull lasts longer than half a second"
    );
    assert_eq!(always.slack[0], always.slack[1]);
    let never = Question::Knitting.score(&recording, &run(&recording, |_| false, |_| 0.0));
    assert_eq!((never.pulls[1], never.slack[1]), (0, 0));
    let end = recording.end();
    let eaten = Question::Drain.score(&recording, &run(&recording, |_| true, |t| 0.2 * (t / end).min(1.0)));
    assert!((0.10..0.21).contains(&eaten.drawn.1[0]), "{}", eaten.drawn.1[0]);
}

#[test]
fn small_changes_must_show() {
    let recording = scenario::changes(Unit::draw(2), SampleRate::Ten);
    let seen = Question::Changes.score(&recording, &run(&recording, |_| true, |_| 0.0));
    assert_eq!(seen.changes, [6, 0, 0]);
    assert!(seen.change_error.iter().all(|e| e.abs() < 1e-9));
    let blind = run(&recording, |_| true, |_| 0.0);
    let frozen = Run {
        shown: vec![blind.shown[0]; blind.shown.len()],
        ..blind
    };
    assert_eq!(Question::Changes.score(&recording, &frozen).changes, [6, 6, 6]);
}

#[test]
fn bound_is_settling_plus_samples_for_the_noise() {
    let (mut recording, ..) = placement();
    let settled = bound::latencies(&recording)[0].1;
    assert!((0.2..0.5).contains(&settled), "about four conversions: {settled}");
    // sigma 0.1 g, white: 3.29 standard errors within 0.05 g take (3.29 x 2)^2 = 43.3, hence 44 samples, 43 more than one.
    recording.unit.noise_factor = 0.1
        / (Unit {
            noise_factor: 1.0,
            ..recording.unit.clone()
        })
        .white_g(SampleRate::Ten);
    recording.unit.noise_through_filter = false;
    let noisy = bound::latencies(&recording)[0].1;
    assert!((noisy - settled - 4.3).abs() < 1e-6, "{noisy}");
}

/// Nearest-rank percentile, worked by hand.
#[test]
fn percentiles_by_nearest_rank() {
    let values: Vec<f64> = (1..=20).rev().map(f64::from).collect();
    assert_eq!(
        [0.05, 0.5, 0.951, 1.0].map(|p| percentile(&values, p)),
        [1.0, 10.0, 20.0, 20.0]
    );
    assert!(percentile(&[], 0.5).is_nan());
}

fn small(threads: usize, others: u64) -> Outcome {
    let extent = Extent {
        handlings: others * 3 / 2,
        others,
        drains: 1,
        sections: 1,
    };
    benchmark::run(
        Family::Raised,
        77,
        SampleRate::Ten,
        &Contender::ALL[1..],
        extent,
        threads,
        &ProgressBar::hidden(),
    )
}

fn figure(score: &Score, name: &str) -> f64 {
    figures(score)
        .into_iter()
        .find(|f| f.0 == name)
        .unwrap_or_else(|| panic!("no figure {name}"))
        .1
}

/// The model is of the kind the figures of the signal model come from: simple estimators, built from their description alone, come out
/// near the figures quoted for them there (7,700 placements at 10 samples a second; here 720, so the bands are wide).
#[test]
fn simple_estimators_come_out_as_quoted() {
    let outcome = small(2, 40);
    // Latency p50, s; steady during tugs per 100; rest shown, %; bit faults shown, %.
    let quoted = [
        (Contender::Average(8), 1.00, 19.8, 97.5, 71.0),
        (Contender::Average(16), 1.77, 4.7, 98.5, 71.0),
        (Contender::MedianAverage, 1.21, 15.1, 96.3, 0.0),
        (Contender::OnePole, 1.39, 7.0, 98.8, 74.0),
        (Contender::Kalman, 1.31, 6.3, 98.0, 2.0),
    ];
    for (contender, p50, tugs, rest, faults) in quoted {
        let score = &outcome
            .scores
            .iter()
            .find(|s| s.0 == contender)
            .expect("it took part")
            .1;
        let near = |name: &str, quoted: f64, slack: f64| {
            let measured = figure(score, name);
            assert!(
                (measured - quoted).abs() <= slack,
                "{}: {name} {measured}, quoted {quoted}",
                contender.name()
            );
        };
        near("latency_p50_s", p50, 0.16);
        near("tugs_per_100", tugs, 13.0);
        near("rest_percent", rest, 1.8);
        near("faults_shown_percent", faults, 8.0);
    }
    let quiet: Vec<f64> = outcome
        .bound
        .latency
        .iter()
        .filter(|l| l.0 == NoiseClass::Quiet)
        .map(|l| l.1)
        .collect();
    assert!(
        (percentile(&quiet, 0.5) - 0.35).abs() < 0.05,
        "bound on quiet units, quoted 0.35 s"
    );
}

/// A seed gives the same figures on any number of threads.
#[test]
fn threads_do_not_change_the_figures() {
    let all = |threads| {
        let outcome = small(threads, 4);
        outcome
            .scores
            .iter()
            .map(|(_, score)| format!("{:?}", figures(score)))
            .collect::<Vec<_>>()
    };
    assert_eq!(all(1), all(3));
}

/// A spoilt word is judged against what would have been shown without it: a plain average shows a flipped high bit, a median does not.
#[test]
fn bit_faults_are_judged_against_the_unspoilt_run() {
    let mut recorder = Recorder::new(
        World::new(Unit::typical(3), SampleRate::Ten, Room::constant()),
        SampleRate::Ten,
    );
    recorder.wait(5.0);
    recorder.spoil(DigitalFault::BitFlip(20));
    recorder.wait(5.0);
    let recording = recorder.finish();
    let shown = |contender| yarn_scale_sim::lab::measure::score::score(contender, &recording, Question::Faults).faults;
    assert_eq!(shown(Contender::Average(8)), [1, 1]);
    assert_eq!(shown(Contender::MedianAverage), [1, 0]);
}

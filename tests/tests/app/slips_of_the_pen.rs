//! What a slip of the pen in the program would change, and nothing else would show: each of these was broken once, and only its test saw it.

use yarn_scale_core::app::{Input, Key, Keys, Press};
use yarn_scale_core::board::Levels;
use yarn_scale_core::book::Book;
use yarn_scale_core::journal::{Entry, Record, Sequence, Setting, StartCause};
use yarn_scale_core::ledger::Ledger;
use yarn_scale_core::sock::moisture::yarn_regain;
use yarn_scale_core::sock::{Fibre, Humidity, Label, YarnLetter};
use yarn_scale_core::units::{Instant, Milligrams, Stamp};
use yarn_scale_tests::bench::{self, Bench};
use yarn_scale_tests::knitting::{plan, weight};

/// The presses of a contact that is looked at every millisecond and has these levels.
fn presses(levels: impl IntoIterator<Item = bool>) -> Vec<Press> {
    let (mut keys, mut presses) = (Keys::default(), Vec::new());
    for (now, mark) in (0..).zip(levels) {
        let levels = Levels {
            mark,
            ..Levels::default()
        };
        keys.take(Instant(now), levels, |press| presses.push(press));
    }
    presses
}

/// A contact bounces for some milliseconds when it closes and when it opens (common practice, no source).
#[test]
fn a_contact_that_bounces_is_pressed_once_and_a_spark_not_at_all() {
    let bounce = || (0..12).map(|ms| ms % 3 != 1);
    let up = |ms| std::iter::repeat_n(false, ms);
    let down = |ms| std::iter::repeat_n(true, ms);
    let press = up(5).chain(bounce()).chain(down(100)).chain(bounce()).chain(up(100));
    assert_eq!(presses(press), [Press::Down(Key::Mark), Press::Short(Key::Mark)]);
    let hold = up(5).chain(bounce()).chain(down(850)).chain(bounce()).chain(up(100));
    assert_eq!(presses(hold), [Press::Down(Key::Mark), Press::Held(Key::Mark)]);
    for spark in 1..20 {
        assert_eq!(presses(up(5).chain(down(spark)).chain(up(100))), [], "{spark} ms");
    }
}

fn told(bench: &mut Bench, mark: bool, zero: bool, seconds: f64) {
    let levels = Levels {
        mark,
        zero,
        ..Levels::default()
    };
    for _ in 0..(seconds * 100.0) as u32 {
        bench.tell(Input::Keys(levels));
        bench.wait(0.01);
    }
}

fn marked(bench: &Bench) -> Vec<i32> {
    let steps = bench.app.book().ledger().steps().iter();
    steps.map(|step| step.weight.net.value.0 / 100).collect()
}

/// MARK does not mean the load that stood when a finger came to ZERO.
#[test]
fn a_press_takes_the_load_that_its_own_finger_found() {
    let mut bench = Bench::weighed_in();
    bench.put(16.0);
    told(&mut bench, true, false, 0.1);
    told(&mut bench, true, true, 0.1);
    // Both hands are on it, and the cake is another one by now.
    bench.set(12.0);
    told(&mut bench, true, true, 0.1);
    told(&mut bench, false, true, 0.05);
    told(&mut bench, false, false, 0.05);
    bench.wait(4.0);
    assert!(!marked(&bench).contains(&160), "{:?}", marked(&bench));
}

/// A load that was steady long before the finger came, with nothing heard from the converter since, is not the one that is meant.
#[test]
fn a_load_that_stood_long_ago_is_not_marked() {
    let mut bench = Bench::weighed_in();
    bench.put(16.0);
    for _ in 0..300 {
        bench.pause(0.01);
    }
    bench.set(12.0);
    told(&mut bench, true, false, 0.3);
    told(&mut bench, false, false, 0.1);
    bench.wait(4.0);
    assert!(!marked(&bench).contains(&160), "{:?}", marked(&bench));
}

/// Nothing is left, exactly, also where a crumb lies on the pan.
#[test]
fn a_yarn_that_is_used_up_leaves_exactly_nothing() {
    let mut bench = Bench::weighed_in();
    bench.put(0.2);
    bench.press(bench::Key::Mark);
    bench.press(bench::Key::Next);
    bench.press(bench::Key::Mark);
    let ledger = bench.app.book().ledger();
    let account = ledger.account(YarnLetter::B);
    assert_eq!(ledger.steps().len(), 2, "{:?}", bench.body());
    assert_eq!(account.left, Milligrams(0));
    assert_eq!(account.used, account.weighed_in);
}

/// Decision 2 of the handbook: hours without power are not counted.
#[test]
fn a_power_off_counts_as_a_day_and_a_restart_does_not() {
    let noted = Entry {
        sequence: Sequence(1),
        at: Stamp(1_000),
        record: Record::Setting(Setting::Brightness(2)),
    };
    let after = |cause| {
        let mut book = Book::new(Milligrams::from_grams(500));
        book.apply(&noted);
        book.start(cause);
        book.stamp(Instant(5_000)).0
    };
    assert_eq!(after(StartCause::PowerOn), 1_001 + 86_400 + 5);
    for cause in [StartCause::Watchdog, StartCause::Panic(1), StartCause::Restored] {
        assert_eq!(after(cause), 1_001 + 5, "{cause:?}");
    }
    let bench = Bench::weighed_in();
    let before = bench.app.stamp();
    let after = bench.power_cycle().app.stamp();
    assert!((86_400..86_500).contains(&(after.0 - before.0)), "{before:?} {after:?}");
}

/// A cake from which nothing was knitted and that has followed the room from one humidity to another: nothing went, whichever way it went.
#[test]
fn water_that_came_or_went_is_not_yarn_that_was_knitted() {
    for (then, now) in [(60.0, 30.0), (30.0, 60.0)] {
        let mut ledger = Ledger::default();
        let mass = |humidity| {
            let dry = 80_000.0;
            (dry * (1.0 + 0.01 * yarn_regain(Fibre::Wool, humidity))).round() as i32
        };
        let weighed = |humidity: f32| {
            let mut weight = weight(mass(humidity));
            weight.air = Some(Humidity::from_percent(humidity));
            weight
        };
        let yarn = YarnLetter::A;
        let label = Label {
            metres_per_100_g: 420,
            fibre: Fibre::Wool,
        };
        let records = [
            Record::Yarn { letter: yarn, label },
            Record::PairBegun { pair: 1, lines: plan() },
            Record::WeighIn {
                yarn,
                weight: weighed(then),
            },
            Record::Mark {
                line: 1,
                yarn,
                weight: weighed(now),
            },
        ];
        for (number, record) in (1..).zip(records) {
            let entry = Entry {
                sequence: Sequence(number),
                at: Stamp(number * 10 * 86_400),
                record,
            };
            ledger.apply(&entry).expect("a sound story");
        }
        let used = ledger.used(1).expect("marked");
        let water = (mass(then) - mass(now)).abs();
        assert!(water > 3_000, "water that matters");
        // Of a change whose hour nobody knows, a ball has still a little to follow after ten days.
        let left_over = used.value.0.abs();
        assert!(
            left_over <= water / 40 && left_over as f32 <= used.u,
            "{then} % then, {now} % now: {used:?}"
        );
    }
}

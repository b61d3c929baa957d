"""Left alone for a day: it dims, goes dark, powers the converter down, keeps its journal still, and wakes at a press."""

from knitter import FIRST_CAKE, Knitter

DIM_MS, DARK_MS, DEEP_MS = 60e3, 600e3, 600e3 + 1800e3
DAY_MS = 24 * 3600e3
# Most that a weight may be late after a press that wakes it.
AWAKE_MS = 1000.0


def test_sleeps_in_three_steps_and_wakes_after_a_day(image, ready):
    knitter = Knitter(image, flash=ready)
    bench, display = knitter.bench, knitter.bench.display
    knitter.put(FIRST_CAKE)
    knitter.see_steady(FIRST_CAKE, within=0.15)
    used = bench.machine.ms
    bright = display.contrast

    bench.run(used + DIM_MS + 5e3 - bench.machine.ms)
    assert display.lit and display.contrast < bright
    quiet_since = len(bench.flash.operations)
    bench.run(used + DARK_MS + 15e3 - bench.machine.ms)
    assert not display.lit
    assert bench.converter.powered
    bench.run(used + DEEP_MS + 15e3 - bench.machine.ms)
    assert not bench.converter.powered
    assert bench.converter.high_over_limit == []

    cycles = bench.machine.cycles
    bench.run(DAY_MS - bench.machine.ms)
    asleep_s = (DAY_MS - used - DEEP_MS) / 1000
    assert (bench.machine.cycles - cycles) / 125e6 / asleep_s < 0.001, "asleep for all but a thousandth"
    assert len(bench.flash.operations) == quiet_since, "nothing is written while nothing happens"
    assert bench.machine.resets == [] and bench.unexpected() == []

    woken = bench.machine.ms
    bench.keys.press("next")
    bench.until(lambda: bench.page().number is not None, AWAKE_MS + 500, "a weight")
    assert bench.machine.ms - woken < AWAKE_MS
    assert display.contrast == bright
    knitter.see_steady(FIRST_CAKE, within=0.3)


def test_a_load_on_the_pan_wakes_a_dark_display(image, ready):
    knitter = Knitter(image, flash=ready)
    bench = knitter.bench
    bench.run(DARK_MS + 20e3)
    assert not bench.display.lit
    put_on = bench.machine.ms
    knitter.grams = FIRST_CAKE
    bench.until(lambda: bench.display.lit and bench.page().number is not None, AWAKE_MS + 500, "a weight")
    assert bench.machine.ms - put_on < AWAKE_MS

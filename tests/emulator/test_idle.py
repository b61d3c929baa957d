"""Left alone for a day: it dims, goes dark, powers the converter down, keeps its journal still, and wakes at a press.

The way into the dark is run once; where the tests part, the process is forked.
"""

from dataclasses import dataclass

import pytest

from knitter import FIRST_CAKE, Knitter
from rig.branch import branch

# Since the last use: as they are set on a new device, and half an hour more.
DIM_MS, DARK_MS, DEEP_MS = 60e3, 300e3, 300e3 + 1800e3
# How far before and behind such a moment is looked.
AROUND_MS = 15e3
DAY_MS = 24 * 3600e3
# Most that a weight may be late after a press or a load that wakes it.
AWAKE_MS = 1000.0

# The way into the dark is run once, so all of them by one worker.
pytestmark = pytest.mark.xdist_group("idle")


@dataclass
class Left:
    """A scale that was left alone with a cake on it, its display just dark, and what was seen on the way."""

    knitter: Knitter
    used_ms: float
    bright: int
    contrasts: list[int]
    lit: list[bool]
    written: list[int]


@pytest.fixture(scope="module")
def left(image, ready) -> Left:
    knitter = Knitter(image, flash=ready)
    bench, display = knitter.bench, knitter.bench.display
    knitter.put(FIRST_CAKE)
    knitter.see_steady(FIRST_CAKE, within=0.15)
    used, bright = bench.machine.ms, display.contrast
    contrasts, lit, written = [], [], []
    for moment in (DIM_MS - AROUND_MS, DIM_MS + AROUND_MS, DARK_MS - AROUND_MS, DARK_MS + AROUND_MS):
        bench.run(used + moment - bench.machine.ms)
        contrasts.append(display.contrast)
        lit.append(display.lit)
        written.append(len(bench.flash.operations))
    return Left(knitter, used, bright, contrasts, lit, written)


def test_dims_after_a_minute_and_goes_dark_after_five(left):
    assert left.lit == [True, True, True, False]
    first, *dimmed = left.contrasts
    assert first == left.bright
    assert max(dimmed) < left.bright
    assert left.knitter.bench.converter.powered, "so that a load can wake it"


def test_a_load_on_the_pan_wakes_a_dark_display(left):
    knitter, bench = left.knitter, left.knitter.bench

    def another_cake() -> None:
        assert not bench.display.lit
        put_on = bench.machine.ms
        knitter.grams = 2 * FIRST_CAKE
        bench.until(lambda: bench.display.lit and bench.page().number is not None, AWAKE_MS + 500, "a weight")
        assert bench.machine.ms - put_on < AWAKE_MS
        assert bench.display.contrast == left.bright
        knitter.see_steady(2 * FIRST_CAKE, within=0.15)

    branch(another_cake)


def test_powers_the_converter_down_and_wakes_after_a_day(left):
    knitter, bench = left.knitter, left.knitter.bench

    def a_day() -> None:
        bench.run(left.used_ms + DEEP_MS - AROUND_MS - bench.machine.ms)
        assert bench.converter.powered
        bench.run(2 * AROUND_MS)
        assert not bench.converter.powered
        assert bench.converter.high_over_limit == []

        cycles = bench.machine.cycles
        bench.run(DAY_MS - bench.machine.ms)
        asleep_s = (DAY_MS - left.used_ms - DEEP_MS) / 1000
        assert (bench.machine.cycles - cycles) / 125e6 / asleep_s < 0.001, "asleep for all but a thousandth"
        assert len(bench.flash.operations) == left.written[1], "nothing is written while nothing happens"
        assert bench.machine.resets == [] and bench.unexpected() == []

        woken = bench.machine.ms
        bench.keys.press("next")
        bench.until(lambda: bench.page().number is not None, AWAKE_MS + 500, "a weight")
        assert bench.machine.ms - woken < AWAKE_MS
        assert bench.display.contrast == left.bright
        knitter.see_steady(FIRST_CAKE, within=0.3)

    branch(a_day)

"""Left alone for a night: it dims, goes dark and looks in bursts, lets every clock stand, keeps its journal still, and wakes rightly.

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
# Most that a weight may be late after a load that wakes it, and after a press.
SEEN_MS, AWAKE_MS = 3000.0, 1500.0
NIGHT_MS = 12 * 3600e3
# Share of the time for which the converter is on in bursts at ten conversions a second: 0.4 of 2 s, and a little for reading.
BURSTS = (0.19, 0.22)

# After the press that wakes it from deep: the crystal starts up, runs, the first page is drawn, a weight is there.
CUTS_IN_A_WAKE_MS = (0.5, 5.0, 8.0, 150.0, 1200.0)
# After the load that wakes it from the dark: two bursts of 2 s.
CUTS_IN_THE_DARK_MS = (10.0, 2100.0, 2700.0)

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


def check_cuts(image, knitter: Knitter, cuts_ms: tuple[float, ...], begins) -> None:
    """The supply fails so long after `begins()`: what was noted is there at the next start, and it weighs."""
    before = knitter.entries()
    for cut_ms in cuts_ms:

        def ending(cut_ms=cut_ms) -> None:
            begins()
            knitter.bench.run(cut_ms)
            later = Knitter(image, flash=knitter.machine.flash())
            later.grams = knitter.grams
            assert set(before) <= set(later.entries())
            later.see_steady(knitter.grams, within=0.3)
            assert later.entries("Lost") == [] and later.bench.unexpected() == []

        branch(ending)


def test_dims_after_a_minute_and_goes_dark_after_five(left):
    assert left.lit == [True, True, True, False]
    first, *dimmed = left.contrasts
    assert first == left.bright
    assert max(dimmed) < left.bright
    assert left.knitter.bench.unexpected() == []


def test_a_load_on_the_pan_wakes_a_dark_display(image, left):
    knitter, bench = left.knitter, left.knitter.bench

    def another_cake() -> None:
        assert not bench.display.lit
        bench.energy.begin()
        bench.run(20_000)
        spent = bench.energy.end()
        assert BURSTS[0] < spent.on["converter"] / spent.hours < BURSTS[1]
        check_cuts(image, knitter, CUTS_IN_THE_DARK_MS, lambda: setattr(knitter, "grams", 2 * FIRST_CAKE))
        put_on = bench.machine.ms
        knitter.grams = 2 * FIRST_CAKE
        bench.until(lambda: bench.display.lit and bench.page().number is not None, SEEN_MS + 500, "a weight")
        assert bench.machine.ms - put_on < SEEN_MS
        assert bench.display.contrast == left.bright
        knitter.see_steady(2 * FIRST_CAKE, within=0.15)

    branch(another_cake)


def test_lets_every_clock_stand_and_wakes_after_a_night(image, left):
    knitter, bench = left.knitter, left.knitter.bench

    def a_night() -> None:
        bench.run(left.used_ms + DEEP_MS - AROUND_MS - bench.machine.ms)
        assert not bench.machine.power.dormant
        bench.run(2 * AROUND_MS)
        assert bench.machine.power.dormant and not bench.converter.powered
        assert bench.converter.high_over_limit == []

        cycles = bench.machine.cycles
        bench.run(NIGHT_MS - bench.machine.ms)
        assert bench.machine.cycles == cycles, "not an instruction"
        assert len(bench.flash.operations) == left.written[1], "nothing is written while nothing happens"
        assert bench.machine.resets == [] and bench.unexpected() == []

        check_cuts(image, knitter, CUTS_IN_A_WAKE_MS, lambda: bench.keys.press("next"))
        woken = bench.machine.ms
        bench.keys.press("next")
        bench.until(lambda: bench.page().number is not None, AWAKE_MS + 500, "a weight")
        assert bench.machine.ms - woken < AWAKE_MS
        assert bench.display.contrast == left.bright
        knitter.see_steady(FIRST_CAKE, within=0.3)
        assert bench.unexpected() == []

    branch(a_night)

"""The supply cut during a mark, on the image itself: what the screen has confirmed is kept, the rest is absent or whole.

The beginning is run once; at each cut the process is forked, so that every ending has the same beginning.
"""

import pytest

from knitter import FIRST_CAKE, Knitter
from rig import journal
from rig.branch import branch
from rig.flash import TEARS
from rig.machine import PowerCut

AFTER = FIRST_CAKE - 4.4
# From the finger's touch to the notice and a little beyond.
PRESS_TO_NOTICE_MS = 700.0
CUTS_BY_TIME = 12

# The beginning is run once, so all of them by one worker.
pytestmark = pytest.mark.xdist_group("power cut")


@pytest.fixture(scope="module")
def about_to_mark(image, ready) -> Knitter:
    """A knitter whose cake, lighter by a cuff, is steady on the pan: the next press of MARK notes it."""
    knitter = Knitter(image, flash=ready)
    knitter.put(AFTER)
    knitter.see_steady(AFTER)
    knitter.bench.run(1500)
    return knitter


def press_and_watch(knitter: Knitter) -> bool:
    """Presses MARK and lets time pass up to the cut; says whether the display had confirmed the mark by then."""
    knitter.bench.keys.press("mark")
    try:
        knitter.bench.run(PRESS_TO_NOTICE_MS)
    except PowerCut:
        pass
    return knitter.has_noted()


def check_after(image, knitter: Knitter, before: list[journal.Entry], confirmed: bool, recovery_cut=None) -> dict:
    """Boots on what the cut has left, and goes on knitting."""
    flash = knitter.machine.flash()
    if recovery_cut:
        torn = Knitter(image, flash=flash)
        torn.grams = AFTER
        torn.bench.flash.cut_at(*recovery_cut)
        try:
            torn.bench.run(2500)
        except PowerCut:
            pass
        flash = torn.machine.flash()
    later = Knitter(image, flash=flash)
    later.grams = AFTER
    kept = later.entries()
    assert set(before) <= set(kept), "something was lost that stood there"
    marks = [e for e in kept if e.kind in journal.MARKS]
    if confirmed:
        assert len(marks) == 1, "the display had confirmed it"
    assert len(marks) <= 1
    if marks:
        assert journal.weight_milligrams(marks[0]) / 1000 == pytest.approx(AFTER, abs=0.05)
    assert has_no_gap(kept)
    later.see_steady(AFTER, within=0.15)
    section = "Leg 1" if marks else "Cuff 1"
    assert later.bench.page().says(section), later.bench.page().words
    if not marks:
        later.mark(AFTER)
        assert len(later.entries(*journal.MARKS)) == 1
        assert has_no_gap(later.entries()), "whatever a torn mark has left behind"
    assert later.machine.resets == [] and later.bench.unexpected() == []
    return {"noted": bool(marks), "confirmed": confirmed, "lost": bool(later.entries("Lost"))}


def has_no_gap(kept: list[journal.Entry]) -> bool:
    """Whether the numbers of the ring of marks run from 1 on."""
    numbers = [e.sequence for e in kept if e.ring == "marks"]
    return numbers == list(range(1, len(numbers) + 1))


def operations_of_the_mark(knitter: Knitter) -> tuple[int, int]:
    """Numbers of the first flash operation of the mark and of the one after its last."""

    def count() -> tuple[int, int]:
        first = len(knitter.bench.flash.operations)
        assert press_and_watch(knitter)
        return first, len(knitter.bench.flash.operations)

    return branch(count)


@pytest.mark.parametrize("tear", TEARS)
def test_cut_at_each_flash_operation_of_a_mark(image, about_to_mark, tear):
    knitter = about_to_mark
    before = knitter.entries()
    first, end = operations_of_the_mark(knitter)
    assert end - first >= 2
    outcomes = []
    for operation in range(first, end):

        def ending(operation=operation) -> dict:
            knitter.bench.flash.cut_at(operation, tear, seed=operation)
            return check_after(image, knitter, before, press_and_watch(knitter))

        outcomes.append(branch(ending))
    assert not any(o["confirmed"] for o in outcomes), "nothing is confirmed before the last operation is done"
    noted = [o["noted"] for o in outcomes]
    assert noted == sorted(noted), "once noted it stays noted"
    lost = [o["lost"] for o in outcomes]
    assert any(lost), "a mark that stands half is found, and noted as lost"
    if tear == "before":
        assert not noted[0] and not noted[-1] and not lost[0]
    if tear == "after":
        assert not noted[0] and noted[-1] and not lost[-1]


def test_cut_at_any_time_of_a_mark(image, about_to_mark):
    knitter = about_to_mark
    before = knitter.entries()
    outcomes = []
    for step in range(CUTS_BY_TIME):

        def ending(step=step) -> dict:
            knitter.bench.keys.press("mark")
            knitter.bench.run(PRESS_TO_NOTICE_MS * (step + 0.5) / CUTS_BY_TIME)
            return check_after(image, knitter, before, knitter.has_noted())

        outcomes.append(branch(ending))
    noted = [o["noted"] for o in outcomes]
    assert noted == sorted(noted), "once noted it stays noted"
    assert not noted[0] and noted[-1] and outcomes[-1]["confirmed"]


def mark_and_close(knitter: Knitter, until: float) -> None:
    """Presses MARK, and a key that closes the notice; stops at the time `until`, in milliseconds of the machine."""
    closes = knitter.machine.ms + PRESS_TO_NOTICE_MS
    knitter.bench.keys.press("mark")
    knitter.bench.run(min(until, closes) - knitter.machine.ms)
    if until > closes:
        knitter.bench.keys.press("mark")
        knitter.bench.run(until - knitter.machine.ms)


def switches_of_the_mark(knitter: Knitter) -> list[float]:
    """When the clock is switched, from the press to the page behind the notice."""

    def those() -> list[float]:
        since = len(knitter.machine.power.switches)
        mark_and_close(knitter, knitter.machine.ms + 2 * PRESS_TO_NOTICE_MS)
        assert not knitter.has_noted(), "the notice is closed"
        return [ms for ms, _ in knitter.machine.power.switches[since:]]

    return branch(those)


@pytest.mark.parametrize("share", ["some", pytest.param("all", marks=pytest.mark.long)])
def test_cut_at_each_switch_of_the_clock_in_a_mark(image, about_to_mark, share):
    knitter = about_to_mark
    before = knitter.entries()
    switches = switches_of_the_mark(knitter)
    assert len(switches) >= 4, "to the fast clock and back, for each of the two presses"
    if share == "some":
        switches = [switches[0], switches[len(switches) // 2], switches[-1]]
    outcomes = []
    for switch in switches:

        def ending(switch=switch) -> dict:
            # Up to the write that switches, and no instruction further.
            mark_and_close(knitter, switch)
            return check_after(image, knitter, before, knitter.has_noted())

        outcomes.append(branch(ending))
    noted = [o["noted"] for o in outcomes]
    assert noted == sorted(noted) and not noted[0] and noted[-1]


def test_cut_in_the_recovery_from_a_cut(image, about_to_mark):
    knitter = about_to_mark
    before = knitter.entries()
    first, end = operations_of_the_mark(knitter)
    for operation in range(first, end):
        for recovery in range(3):

            def ending(operation=operation, recovery=recovery) -> dict:
                knitter.bench.flash.cut_at(operation, "bits", seed=operation)
                confirmed = press_and_watch(knitter)
                return check_after(image, knitter, before, confirmed, (recovery, "bits", recovery))

            branch(ending)

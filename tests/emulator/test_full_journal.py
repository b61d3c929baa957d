"""A journal that was filled for decades: it starts as soon as a new one, knits on, and goes to another device whole."""

import subprocess

import pytest

from knitter import PAGE_MS, STEADY_MS, Knitter, plugged_in
from rig import link
from rig.decades import DECADES, decades_later
from rig.image import simulator
from rig.line import ask_by_program
from rig.wiring import JOURNAL_OFFSET

# Settling takes the converter 400 ms of it.
FIRST_WEIGHT_MS = 1500
# Pairs of a knitter who makes one a month.
A_YEAR = 12

# The decades are made once, so all of them by one worker.
pytestmark = pytest.mark.xdist_group("full journal")


@pytest.fixture(scope="module")
def old(ready) -> bytes:
    """The flash of the `ready` device, 900 pairs later."""
    return decades_later(ready)


def test_first_weight_with_a_full_journal(image, old):
    knitter = Knitter(image, flash=old)
    shown = knitter.bench.until(lambda: knitter.bench.page().number is not None, 2 * FIRST_WEIGHT_MS, "a weight")
    print(f"first_weight_full_journal_ms {shown:.0f}")
    assert shown < FIRST_WEIGHT_MS
    assert knitter.bench.unexpected() == []


def test_goes_on_with_a_full_journal(image, old):
    knitter = Knitter(image, flash=old)
    knitter.bench.run(3000)
    newest = knitter.entries("Visit")[-1].sequence
    at_start = knitter.bench.converter.missed
    knitter.put(50.0)
    knitter.bench.until(lambda: knitter.entries("Visit")[-1].sequence > newest, STEADY_MS, "the visit in the journal")
    knitter.bench.run(500)
    assert knitter.bench.converter.missed == at_start, "on cells, too, a conversion does not wait until something is noted"
    assert knitter.bench.unexpected() == []


# The warning stands from pair 1,317 on.
NEARLY_FULL = 1_330


def test_room_is_made_by_the_keys(image, ready):
    """The sign stands, the oldest pairs may go after two questions, and the sign goes."""
    knitter = Knitter(image, flash=decades_later(ready, NEARLY_FULL))
    knitter.bench.run(3000)
    settings = len(knitter.entries("Setting"))
    pairs = len(knitter.entries("Condensed"))
    knitter.hold("next")
    knitter.choose("Make room")
    assert knitter.bench.page().says("oldest pairs go")
    knitter.choose("not now")
    assert len(knitter.entries("Setting")) == settings
    knitter.choose("Make room")
    knitter.choose("oldest pairs go")
    assert knitter.bench.page().says("Backed up?")
    knitter.choose("gone up to pair")
    knitter.bench.until(lambda: len(knitter.entries("Setting")) > settings, PAGE_MS, "the setting in the journal")
    # Nothing went by that.
    assert len(knitter.entries("Condensed")) == pairs
    knitter.bench.run(1500)
    assert knitter.bench.page().says("Memory used"), knitter.bench.page().words
    knitter.bench.until(lambda: not knitter.bench.page().says("oldest"), PAGE_MS, "no more to ask")
    assert knitter.bench.unexpected() == []
    assert knitter.machine.resets == []


# Until a device that lies still has noted all that it will.
SETTLED_MS = 5000

# Of some three hundred answers that the whole one takes.
SOME_ANSWERS = 12


def test_reads_out_the_beginnings_of_a_full_journal_as_they_stand(image, old):
    knitter, computer = plugged_in(image, old)
    area = old[JOURNAL_OFFSET:]
    there = link.standing(area)
    assert len([number for ring, number in there if ring == link.MARKS]) > 20_000
    for part in (link.PAIRS, link.MARKS):
        saved = computer.read_all(SOME_ANSWERS, part)
        assert len(saved) > 20 * SOME_ANSWERS
        assert link.numbers(saved) == [one for one in there if one[0] == part][: len(saved)]
        assert all(entry in area for _, entry in saved), "byte by byte"
    assert knitter.bench.unexpected() == []


@pytest.mark.parametrize("pairs", [A_YEAR, pytest.param(DECADES, marks=pytest.mark.long)])
def test_a_journal_restored_to_an_erased_device_is_the_same_to_the_byte(image, ready, tmp_path, pairs):
    """By the computer's own program. Nothing differs: not the device, not its visits, not a byte."""
    first, again = tmp_path / "first", tmp_path / "again"
    knitter, _ = plugged_in(image, decades_later(ready, pairs))
    # It finds another load than the last visit says, and notes that: a backup taken before would lack it, and the restored one note it.
    knitter.bench.run(SETTLED_MS)
    ask_by_program(knitter.bench, simulator(), "backup", first)
    saved = link.entries_of_backup(first.read_bytes())
    assert link.numbers(saved) == link.standing(knitter.bench.flash.journal())
    assert len(saved) > 20 * pairs

    blank, _ = plugged_in(image)
    assert "restored" in ask_by_program(blank.bench, simulator(), "restore", first)
    blank.bench.run(2500)
    ask_by_program(blank.bench, simulator(), "backup", again)
    assert again.read_bytes() == first.read_bytes()
    assert link.standing(blank.bench.flash.journal()) == link.standing(knitter.bench.flash.journal())
    tables = [table(backup) for backup in (first, again)]
    assert tables[0] == tables[1] and tables[0].count("\n") > pairs
    assert knitter.bench.unexpected() == [] and blank.bench.unexpected() == []
    assert knitter.machine.resets == [] and blank.machine.resets == []


def table(backup) -> str:
    """The sections in a backup, as the computer's program prints them."""
    return subprocess.run([simulator(), "table", "--file", backup], check=True, capture_output=True, text=True).stdout

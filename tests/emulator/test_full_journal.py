"""A journal that was filled for decades starts as soon as one that is new, and knits on."""

import pytest

from knitter import STEADY_MS, Knitter
from rig import journal, link
from rig.decades import decades_later
from rig.link import Computer
from rig.wiring import JOURNAL_OFFSET

# Settling takes the converter 400 ms of it.
FIRST_WEIGHT_MS = 1500


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
    newest = knitter.entries("Visit")[-1].sequence
    knitter.bench.run(3000)
    knitter.put(50.0)
    knitter.bench.until(lambda: knitter.entries("Visit")[-1].sequence > newest, STEADY_MS, "the visit in the journal")
    assert knitter.bench.unexpected() == []


def entries_of(area: bytes) -> dict[int, list[int]]:
    """The numbers of all entries of each ring, by the rig's own reader."""
    rings = {"pairs": link.PAIRS, "marks": link.MARKS, "visits": link.VISITS}
    found: dict[int, list[int]] = {ring: [] for ring in rings.values()}
    for entry in journal.entries(area):
        found[rings[entry.ring]].append(entry.sequence)
    return {ring: sorted(numbers) for ring, numbers in found.items()}


# Of about five thousand answers that a whole one takes.
SOME_ANSWERS = 12


@pytest.mark.parametrize("most", [SOME_ANSWERS, pytest.param(None, marks=pytest.mark.long)], ids=["beginnings", "whole"])
def test_reads_out_a_full_journal_as_it_stands(image, old, most):
    knitter = Knitter(image, flash=old, usb=True)
    knitter.machine.run_until(lambda: knitter.bench.usb.connected, 3000)
    area, computer = old[JOURNAL_OFFSET:], Computer(knitter.bench)
    there = entries_of(area)
    assert len(there[link.MARKS]) > 20_000 and len(there[link.PAIRS]) >= 900
    for part in [0] if most is None else [link.PAIRS, link.MARKS, link.VISITS]:
        saved = computer.read_all(most, part)
        for ring in {ring for ring, _ in saved}:
            numbers = [link.unvarint(entry, 1)[0] for of, entry in saved if of == ring]
            assert len(numbers) > SOME_ANSWERS
            assert numbers == there[ring][: None if most is None else len(numbers)]
        assert all(entry in area for _, entry in saved), "byte by byte"
    assert knitter.bench.unexpected() == []

"""A journal that was filled for decades starts as soon as one that is new, and knits on."""

import pytest

from knitter import STEADY_MS, Knitter
from rig.decades import decades_later

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

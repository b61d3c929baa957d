"""The converter strapped to eighty a second, on cells: in the dark the slow clock does for its bursts, and a load has its number in a second."""

import pytest

from knitter import FIRST_CAKE, Knitter
from rig import journal
from rig.branch import branch
from rig.wiring import JOURNAL_OFFSET

RATE_HERTZ = 80
# As short as the setting can be: until the display is dark every sample costs the emulator its time.
DARK_MINUTES = 1
# The second is counted from the load; moments between two bursts, 600 ms apart.
SEEN_MS, MOMENTS_MS = 1000.0, (0.0, 130.0, 290.0, 450.0, 590.0)
# What the dark may draw, mA from cells of 3.75 V.
MOST_MA = 4.0


def dark_soon(flash: bytes) -> bytes:
    """The same flash with a record more: the display goes dark after a minute."""
    area = flash[JOURNAL_OFFSET:]
    last = journal.marks(area)[-1]
    number = last.sequence + 1
    assert number < 128 and last.at < 1 << 14, "numbers as they are encoded below"
    time = bytes([last.at & 0x7F | 0x80, last.at >> 7])
    # The fourth of the settings.
    record = bytes([journal.SCHEMA, number]) + time + bytes([journal.KINDS.index("Setting"), 3, DARK_MINUTES])
    at, item = journal.room_for_a_mark(area, record)
    at += JOURNAL_OFFSET
    return flash[:at] + item + flash[at + len(item) :]


@pytest.mark.long
def test_a_load_wakes_the_dark_within_a_second_and_the_dark_is_cheap(image, ready):
    knitter = Knitter(image, flash=dark_soon(ready), rate_hertz=RATE_HERTZ)
    bench = knitter.bench
    assert journal.marks(bench.flash.journal())[-1].kind == "Setting"
    knitter.put(FIRST_CAKE)
    bench.until(lambda: not bench.display.lit, 60e3 * DARK_MINUTES + 15e3, "the dark")
    bench.run(2_000)
    bench.energy.begin()
    bench.run(12_000)
    spent = bench.energy.end()
    print(f"current_dark_at_80_ma {spent.milliamperes:.2f}", {state: f"{hours / spent.hours:.4f}" for state, hours in spent.states.items()})
    assert spent.milliamperes < MOST_MA
    missed = bench.converter.missed
    for moment in MOMENTS_MS:

        def another_cake(moment=moment) -> None:
            bench.run(moment)
            put_on = bench.machine.ms
            knitter.grams = 2 * FIRST_CAKE
            bench.until(lambda: bench.display.lit and bench.page().number is not None, SEEN_MS + 500, "a weight")
            took = bench.machine.ms - put_on
            print(f"woken_at_80_ms {took:.0f}")
            assert took < SEEN_MS
            knitter.see_steady(2 * FIRST_CAKE, within=0.15)
            assert bench.converter.missed == missed and bench.unexpected() == []

        branch(another_cake)

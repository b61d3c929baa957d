"""The image and its converter: every conversion, faults with a way back, and a clock pin that is never high for long."""

import pytest

from knitter import FIRST_CAKE, Knitter
from loads import noise, steps
from rig.bench import Bench

# The chip goes down at 60 us; the driver may use this much of it.
LONGEST_HIGH_US = 50.0


def test_takes_every_conversion_as_it_is(image):
    values = [noise(n) * 250_000 for n in range(100)]
    bench = Bench(image, lambda n, ms: values[n])
    bench.run(5000)
    taken = [counts for _, counts in bench.converter.read]
    assert len(taken) > 40
    assert taken == values[: len(taken)]
    assert bench.converter.missed == 0 and bench.converter.torn == 0
    assert bench.converter.gain == "A128"


@pytest.mark.parametrize("bus_hertz", [None, 400_000])
def test_takes_them_in_time(image, bus_hertz):
    bench = Bench(image, steps((0, 1000), (2000, 250_000)), bus_hertz=bus_hertz)
    ready: list[float] = []
    bench.converter.on_ready.append(lambda: ready.append(bench.machine.ms))
    bench.run(4000)
    late = [read - came for came, (read, _) in zip(ready, bench.converter.read)]
    assert len(late) > 30
    assert max(late) < 50.0, "half the time between two conversions"


def test_clock_is_never_high_for_long(image, ready):
    """Over weighing, presses, flash writes and a talkative computer, with the bus at its true speed."""
    knitter = Knitter(image, flash=ready, usb=True, bus_hertz=400_000)
    bench = knitter.bench
    for at in range(600, 8000, 230):
        bench.machine.at(at, lambda: bench.usb.send(b"\x00\x01\x02" * 5))
    knitter.mark(FIRST_CAKE - 4.4)
    knitter.hold("mark")  # taken back
    assert len(knitter.entries("Mark", "Undone")) == 2
    assert bench.usb.connected and bench.flash.operations
    assert len(bench.converter.read) > 50
    assert 0.2 < bench.converter.longest_high_us < LONGEST_HIGH_US  # 0.2 us: the sheet's shortest
    assert bench.converter.high_over_limit == []
    assert bench.converter.power_downs == 0
    assert bench.converter.missed == 0

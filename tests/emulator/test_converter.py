"""The image and its converter: every conversion, faults with a way back, and a clock pin that is never high for long."""

import pytest

from knitter import FIRST_CAKE, Knitter
from loads import noise, steps
from rig import journal
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


@pytest.mark.parametrize("bus_timed", [False, True])
def test_takes_them_in_time(image, bus_timed):
    bench = Bench(image, steps((0, 1000), (2000, 250_000)), bus_timed=bus_timed)
    ready: list[float] = []
    bench.converter.on_ready.append(lambda: ready.append(bench.machine.ms))
    bench.run(4000)
    late = [read - came for came, (read, _) in zip(ready, bench.converter.read)]
    assert len(late) > 30
    assert max(late) < 50.0, "half the time between two conversions"


def test_clock_is_never_high_for_long(image, ready):
    """Over weighing, presses, flash writes and a talkative computer, with the bus at its true speed."""
    knitter = Knitter(image, flash=ready, usb=True, bus_timed=True)
    bench = knitter.bench
    for at in range(600, 8000, 230):
        bench.machine.at(at, lambda: bench.usb.send(b"\x00\x01\x02" * 5))
    knitter.mark(FIRST_CAKE - 4.4)
    knitter.hold("mark")  # taken back
    assert len(knitter.entries(*journal.MARKS, "Undone")) == 2
    bench.run(3000)
    assert bench.usb.connected and bench.flash.operations
    assert len(bench.converter.read) > 50
    assert 0.2 < bench.converter.longest_high_us < LONGEST_HIGH_US  # 0.2 us: the sheet's shortest
    assert bench.converter.high_over_limit == []
    assert bench.converter.power_downs == 0
    assert bench.converter.missed == 0


# Five conversion times, and what it takes to say so.
FAULT_SHOWN_MS = 1500.0
BACK_MS = 4000.0


@pytest.mark.parametrize(
    "fault, says",
    [
        (lambda c: c.unplug(), "The sensor does not"),
        (lambda c: c.stick("high"), "The sensor does not"),
        (lambda c: c.stick("low"), "The sensor"),
        (lambda c: c.ones(), "The sensor does not"),
    ],
    ids=["unplugged", "stuck high", "stuck low", "all ones"],
)
def test_a_faulty_converter_is_said_and_no_number_shown_until_it_is_back(image, ready, fault, says):
    knitter = Knitter(image, flash=ready)
    bench = knitter.bench
    knitter.put(FIRST_CAKE)
    knitter.see_steady(FIRST_CAKE)
    fault(bench.converter)
    # The panel is sent from the top, and what is wrong stands lowest.
    bench.wait_for(says, FAULT_SHOWN_MS)
    assert bench.page().says("Cannot weigh"), bench.page().words
    assert bench.page().number is None
    knitter.press("mark")
    bench.run(2000)
    assert bench.page().number is None
    assert knitter.entries(*journal.MARKS) == [], "what cannot be weighed cannot be marked"
    bench.converter.mend()
    bench.until(lambda: bench.page().number is not None, BACK_MS, "a number again")
    knitter.see_steady(FIRST_CAKE, within=0.15)
    assert bench.machine.resets == [] and bench.unexpected() == []


def test_starts_without_a_converter_and_finds_it_later(image, ready):
    knitter = Knitter(image, flash=ready)
    bench = knitter.bench
    bench.converter.unplug()
    bench.wait_for("The sensor does not", 3000)
    assert bench.page().number is None
    bench.converter.mend()
    bench.until(lambda: bench.page().number is not None, BACK_MS, "a number")


@pytest.mark.parametrize("hertz", [9.5, 11.5, 76.0, 92.0])
def test_one_image_weighs_at_both_straps_of_the_converter(image, ready, hertz):
    knitter = Knitter(image, flash=ready, rate_hertz=hertz)
    bench = knitter.bench
    bench.run(1500)
    knitter.put(FIRST_CAKE)
    knitter.see_steady(FIRST_CAKE, within=0.15)
    bench.run(1000)
    assert bench.converter.missed <= 3, "setting the display up takes 26 ms"
    assert bench.machine.resets == [] and bench.unexpected() == []


@pytest.mark.parametrize("hertz", [5.0, 40.0])
def test_a_strap_that_fits_neither_is_said(image, ready, hertz):
    knitter = Knitter(image, flash=ready, rate_hertz=hertz)
    bench = knitter.bench
    bench.wait_for("neither 10 nor 80", 10_000)
    assert bench.page().number is None
    assert bench.machine.resets == [] and bench.unexpected() == []

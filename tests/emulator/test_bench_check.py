"""The check on the bench on the image: by the keys on a good unit, by a computer on one with a fault of every kind."""

import pytest

from knitter import COUNTS_PER_GRAM, EMPTY_COUNTS, FIRST_CAKE, PRESS_MS, Knitter
from rig import journal, link
from rig.bench import Bench
from rig.flash import NUMBER
from rig.link import Computer
from rig.png import edges
from rig.wiring import KEYS

# A bounce in the rig ends 4.4 ms after it begins.
BOUNCES_MS = range(2, 8)


def results(bench: Bench) -> dict[str, tuple[int, bool | None]]:
    return journal.checks(bench.flash.journal())


def test_a_good_unit_passes_every_line_by_its_keys(image, ready):
    knitter = Knitter(image, flash=ready, climate=True, module="5 V")
    bench = knitter.bench
    knitter.put(0)
    bench.run(3000)
    knitter.hold("next")
    knitter.choose("Diagnostics")
    bench.wait_for("check", 1000)
    knitter.press("mark")

    knitter.choose("Display edges")
    assert all(edges(bench.display.seen()))
    knitter.press("mark")
    knitter.choose("Voltage")
    bench.wait_for("mV", 500)
    knitter.press("mark")
    knitter.choose("Noise")
    knitter.press("mark")
    bench.until(lambda: "Empty" in results(bench), 9000, "the empty pan")
    knitter.choose("Counts")
    knitter.press("mark")
    knitter.put(100)
    knitter.press("mark")
    bench.until(lambda: "Span" in results(bench), 7000, "counts a gram")
    knitter.put(0)
    knitter.choose("Keys")
    for key in KEYS:
        for _ in range(3):
            bench.keys.press(key, PRESS_MS)
            bench.run(PRESS_MS + 120)
    bench.until(lambda: "Keys" in results(bench), 1000, "the keys")
    knitter.choose("Humidity sensor")
    before = bench.machine.ms
    knitter.choose("Buzzer")
    assert bench.buzzer.hertz(before) == pytest.approx(900, rel=0.02)
    knitter.press("mark")
    knitter.choose("Flash number")

    found = results(bench)
    assert [name for name in journal.CHECKS if found.get(name, (0, False))[1] is not True] == ["Drift"], found
    assert abs(found["Supply"][0]) <= 15
    assert 9_900 <= found["Rate"][0] <= 10_100
    # 25 counts of the module and 36 of what lies on the pan.
    assert 30_000 <= found["Noise"][0] <= 60_000
    assert found["Empty"][0] == pytest.approx(EMPTY_COUNTS, abs=20)
    assert found["Span"][0] == pytest.approx(COUNTS_PER_GRAM, abs=2)
    assert all(ms in BOUNCES_MS for ms in found["Keys"][0].to_bytes(3, "little")), found["Keys"]
    assert found["Flash"][0] == int.from_bytes(NUMBER[4:], "big") & 0x7FFF_FFFF
    assert found["Reset"][0] == 0x100, "power"
    assert bench.unexpected() == []


@pytest.mark.long
def test_a_minute_of_the_empty_pan_tells_its_drift(image, ready):
    """60 counts a minute pass, 120 do not."""
    for counts_a_minute, passes in ((60, True), (120, False)):
        knitter = Knitter(image, flash=ready)
        bench = knitter.bench
        still = bench.converter.source
        bench.converter.source = lambda n, ms: still(n, ms) + round(counts_a_minute * ms / 60_000)
        bench.run(3000)
        knitter.hold("next")
        knitter.choose("Diagnostics")
        knitter.press("mark")
        knitter.choose("Drift")
        knitter.press("mark")
        bench.until(lambda: "Drift" in results(bench), 64_000, "drift")
        value, passed = results(bench)["Drift"]
        assert value == pytest.approx(1000 * counts_a_minute, abs=12_000) and passed is passes


def test_every_kind_of_fault_is_seen_with_a_computer_beside_it(image, ready):
    """A strap that floats, noise, half the counts, a key that sticks, a reference that is off, a panel of the other kind, no sensor, no
    buzzer, a flash chip that says no number, a watchdog's reset, a converter that answers late."""
    knitter = Knitter(image, flash=ready, rate_hertz=40, usb=True, panel="sh1106")
    bench = knitter.bench
    cell = bench.converter.source
    noisy = 1.0
    bench.converter.source = lambda n, ms: round(noisy * 600 * (1 if n % 2 else -1)) + cell(n, ms) // 2
    bench.supply.reference = 3100
    bench.flash.number = b"\xff" * 8
    bench.run(500)
    bench.machine.hang()
    bench.machine.run_until(lambda: bench.machine.resets == ["watchdog"], 7000)
    bench.converter.stick("high")
    bench.run(1500)
    bench.converter.mend()
    bench.machine.run_until(lambda: bench.usb.connected, 3000)
    computer = Computer(bench)
    bench.run(2000)

    def task(name: str, value: int | None = None, limit_ms: float = 0) -> None:
        answer = computer.ask(link.check(name, value))
        end = bench.machine.ms + limit_ms
        while link.under_way(answer) and limit_ms:
            assert bench.machine.ms < end, f"{name} does not end"
            bench.run(250)
            answer = computer.ask(link.check())

    task("frame")
    bench.run(300)
    assert not all(edges(bench.display.seen())), "its picture begins two columns to the right"
    task("edges", 0)
    task("supply", 4800)
    task("empty pan", limit_ms=9000)
    knitter.put(100)
    task("known mass", 100, limit_ms=7000)
    task("keys")
    bench.run(300)
    bench.keys.press("zero")
    bench.keys.set("next", True)
    bench.run(5500)
    bench.keys.set("next", False)
    task("sensor", 1)
    task("tone")
    task("heard", 0)
    task("chip")
    bench.run(300)

    found = results(bench)
    expected = {name: False for name in journal.CHECKS}
    del expected["Drift"]
    # The pan stands where it should, whatever else is wrong.
    expected["Empty"] = True
    assert {name: passed for name, (_, passed) in found.items()} == expected, found
    assert found["Rate"][0] == pytest.approx(40_000, rel=0.01)
    assert found["Reset"][0] & 3 == 1
    assert found["Keys"][0].to_bytes(3, "little") == b"\xff\xff\xff"
    assert found["Boot"][0] > 1500
    assert bench.machine.resets == ["watchdog"] and bench.unexpected() == []


def test_the_sheet_of_an_unplugged_converter(image, ready):
    """No conversion at all: the line says so after its time, and the scale can be used."""
    knitter = Knitter(image, flash=ready, usb=True)
    bench = knitter.bench
    bench.machine.run_until(lambda: bench.usb.connected, 3000)
    computer = Computer(bench)
    bench.converter.unplug()
    computer.ask(link.check("empty pan"))
    bench.until(lambda: "Empty" in results(bench), 9000, "the end of the watch")
    assert results(bench)["Rate"] == (0, False) and results(bench)["Noise"] == (-1, False)
    bench.converter.mend()
    knitter.home()
    knitter.put(FIRST_CAKE)
    knitter.see_steady(FIRST_CAKE)

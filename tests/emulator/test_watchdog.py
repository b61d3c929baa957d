"""A hang or an error ends in a reset; it is said once, it is in the journal, and the scale weighs again."""

from knitter import FIRST_CAKE, PAGE_MS, Knitter
from loads import steady
from rig.bench import Bench

# From the last sign of life to the reset: the watchdog's period in the firmware.
PERIOD_MS = 5000
# Why the device started, as the journal numbers it.
POWER_ON, WATCHDOG, PANIC = 0, 1, 2


def varint(data: bytes) -> int:
    return sum((byte & 0x7F) << 7 * place for place, byte in enumerate(data))


def test_a_hang_is_reset_and_weighing_goes_on(image, ready):
    knitter = Knitter(image, flash=ready)
    bench = knitter.bench
    knitter.put(FIRST_CAKE)
    bench.run(2000)
    starts = len(knitter.entries("Started"))
    hung_at = bench.machine.ms
    bench.machine.hang()
    bench.machine.run_until(lambda: bench.machine.resets, PERIOD_MS + 2500)
    assert bench.machine.resets == ["watchdog"]
    assert bench.machine.ms - hung_at > 1000, "an erase of 400 ms must not look like a hang"
    bench.wait_for("Restarted", 1500)
    bench.run(PAGE_MS)
    assert bench.page().says("The scale had stopped.")
    started = knitter.entries("Started")
    assert len(started) == starts + 1 and started[-1].fields[0] == WATCHDOG
    knitter.press("next")
    knitter.see_steady(FIRST_CAKE, within=0.15)
    assert bench.machine.resets == ["watchdog"] and bench.unexpected() == []
    again = Knitter(image, flash=bench.machine.flash())
    again.bench.until(lambda: again.bench.page().number is not None, 3000, "a weight, and no word of the hang")
    assert again.entries("Started")[-1].fields[0] == POWER_ON


def test_an_error_of_the_program_is_kept_as_a_code_and_shown_once(image, ready):
    knitter = Knitter(image, flash=ready)
    bench = knitter.bench
    knitter.put(FIRST_CAKE)
    bench.run(2000)
    bench.machine.allow_panic = True
    code = bench.machine.panic()
    bench.machine.run_until(lambda: bench.machine.resets, 1000)
    assert len(bench.machine.panics) == 1
    bench.wait_for("Restarted", 4000)
    bench.run(PAGE_MS)  # the panel is sent in slices, the heading first
    assert bench.page().says("An error stopped")
    started = knitter.entries("Started")[-1]
    assert (started.fields[0], varint(started.fields[1:])) == (PANIC, code)
    words = " ".join(bench.page().words)
    assert f"{code >> 16:04x}" in words and f"{code & 0xFFFF:04x}" in words, words
    knitter.press("next")
    knitter.see_steady(FIRST_CAKE, within=0.15)


def test_a_healthy_scale_is_never_reset(image):
    bench = Bench(image, steady(1000))
    bench.run(2.5 * PERIOD_MS)
    assert bench.machine.resets == []

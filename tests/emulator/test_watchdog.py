"""A hang ends in a reset, and the scale weighs again."""

from loads import steady
from rig.bench import Bench

# From the last sign of life to the reset: the watchdog's period in the firmware.
PERIOD_MS = 5000


def test_a_hang_is_reset_and_weighing_goes_on(image):
    bench = Bench(image, steady(1000))
    bench.run(2000)
    hung_at = bench.machine.ms
    bench.machine.hang()
    bench.machine.run_until(lambda: bench.machine.resets, PERIOD_MS + 2500)
    assert bench.machine.resets == ["watchdog"]
    assert bench.machine.ms - hung_at > 1000, "an erase of 400 ms must not look like a hang"
    read = len(bench.converter.read)
    bench.run(1500)
    assert len(bench.converter.read) > read + 5
    assert bench.display.lit
    assert bench.machine.resets == ["watchdog"]


def test_a_healthy_scale_is_never_reset(image):
    bench = Bench(image, steady(1000))
    bench.run(4 * PERIOD_MS)
    assert bench.machine.resets == []

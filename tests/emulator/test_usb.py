"""A computer comes and goes, and the scale weighs on."""

from loads import steady
from rig.bench import Bench


def test_is_found_by_a_computer(image):
    bench = Bench(image, steady(1000), usb=True)
    bench.machine.run_until(lambda: bench.usb.connected, 2000)
    assert bench.usb._in_endpoint > 0 and bench.usb._out_endpoint > 0
    assert bench.unexpected() == []


def test_garbage_from_the_computer_does_not_stop_weighing(image):
    bench = Bench(image, steady(1000), usb=True)
    bench.machine.run_until(lambda: bench.usb.connected, 2000)
    bench.machine.run_until(lambda: bench.converter.read, 1000)
    for n in range(8):
        bench.usb.send(bytes((n * 37 + k * 91) % 256 for k in range(200)))
        bench.run(100)
    assert bench.converter.missed == 0
    assert len(bench.converter.read) > 7
    assert bench.machine.resets == []


def test_a_computer_that_does_not_read_does_not_stop_weighing(image):
    bench = Bench(image, steady(1000), usb=True)
    bench.machine.run_until(lambda: bench.usb.connected, 2000)
    bench.machine.mcu.usb_ctrl.write_delay_microseconds = 1_000_000_000  # nothing is ever taken
    bench.machine.run_until(lambda: bench.converter.read, 1000)
    for _ in range(8):
        bench.usb.send(b"\x00" * 64)
        bench.run(100)
    assert len(bench.converter.read) > 7
    assert bench.converter.missed == 0 and bench.machine.resets == []

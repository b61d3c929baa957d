"""How long it takes from a computer's coming until it finds the drive's medium, and what the scale does meanwhile."""

from knitter import Knitter

from .cycles import CallMeter
from .disk import Disk
from .image import Image, Symbol
from .wiring import CORE_HERTZ

# A minute after the last use the display dims, and what a computer will want to know is found out.
IDLE_MS = 90e3


def print_drive(image: Image, poll: Symbol, flashes: dict[str, bytes | None]) -> None:
    """Prints it for a scale that has just been switched on, and for one that was left alone before, with each of these flashes."""
    for what, flash in flashes.items():
        for when, alone_ms in {"": 0.0, "_after_idle": IDLE_MS}.items():
            knitter = Knitter(image, flash=flash, usb=True)
            bench = knitter.bench
            turns = CallMeter(bench.machine, poll)
            if alone_ms:
                bench.usb.unplug()
                bench.run(alone_ms)
                bench.usb.plug()
            bench.machine.run_until(lambda: bench.usb.connected, 3000, 1)
            took = Disk(bench).ready(every_ms=10)
            print(f"drive_there_ms_{what}{when} {took:.0f}")
            print(f"drive_worst_turn_ms_{what}{when} {1e3 * turns.worst() / CORE_HERTZ:.1f}")
            print(f"drive_samples_missed_{what}{when} {bench.converter.missed}", flush=True)

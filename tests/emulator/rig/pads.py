"""The chip's pads as registers, and which registers the image has written: what it has not set, reset has.

Each pad's control register: slew, hysteresis, pull down, pull up, drive (two bits), input on, output off (RP2040 data sheet,
"PADS_BANK0"); its function stands in the pin's control register ("IO_BANK0").
"""

from dataclasses import dataclass
from pathlib import Path

from .image import REPOSITORY
from .machine import Machine

PADS = 30
FUNCTIONS = {3: "I2C", 4: "PWM", 5: "program", 31: "none"}
DRIVE_MILLIAMPERES = (2, 4, 8, 12)
WIRING = REPOSITORY / "hardware-notes" / "wiring.md"
UNUSED = ("none", "down", "off", "off")


@dataclass(frozen=True)
class Pad:
    """A pad as its registers stand."""

    function: str
    pull: str
    input: str
    output: str
    drive: int
    fast: bool
    hysteresis: bool

    @property
    def row(self) -> tuple[str, str, str, str]:
        """What the table in hardware-notes says of it."""
        return (self.function, self.pull, self.input, self.output)


def pad(machine: Machine, gpio: int) -> Pad:
    """How a pad is set now."""
    pin = machine.mcu.gpio[gpio]
    register, function = pin.pad_value, pin.ctrl & 31
    pull = {0: "none", 1: "down", 2: "up", 3: "keeper"}[register >> 2 & 3]
    return Pad(
        FUNCTIONS.get(function, str(function)),
        pull,
        "on" if register & 0x40 else "off",
        "off" if register & 0x80 else "on",
        DRIVE_MILLIAMPERES[register >> 4 & 3],
        bool(register & 1),
        bool(register & 2),
    )


def table(notes: Path = WIRING) -> dict[int, tuple[str, str, str, str]]:
    """The pads that hardware-notes list: number, then function, pull, input, output."""
    rows = {}
    for line in notes.read_text(encoding="utf-8").splitlines():
        cells = [cell.strip() for cell in line.strip("|").split("|")]
        if line.startswith("| ") and len(cells) == 8 and cells[0].isdigit():
            rows[int(cells[0])] = tuple(cells[4:])
    return rows


class Written:
    """Which registers of which blocks have been written since the last reset, by block and offset."""

    def __init__(self, machine: Machine):
        self.registers: set[tuple[str, int]] = set()
        machine.on_reset.append(self.registers.clear)
        blocks = {id(block): block for block in machine.mcu.peripherals.values()}
        for block in blocks.values():
            self._watch(block)

    def _watch(self, block) -> None:
        if not hasattr(block, "__dict__") or not hasattr(block, "name"):
            return
        write, name = block.write_uint32, block.name

        def watched(offset: int, value: int) -> None:
            self.registers.add((name, offset))
            write(offset, value)

        block.write_uint32 = watched

    def of(self, block: str) -> set[int]:
        """Offsets of the block's registers that were written."""
        return {offset for name, offset in self.registers if name == block}

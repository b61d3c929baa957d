"""How deep the stack has ever been: RAM is painted at the reset handler, and what has lost its paint was used."""

from .machine import Machine
from .wiring import RAM_BASE, RAM_SIZE

PAINT = b"\xa5"


class Stack:
    """Paints the stack's room at the image's next start and measures it afterwards."""

    def __init__(self, machine: Machine):
        self.machine = machine
        image = machine.image
        self.top = image.address("_stack_start")
        self.bottom = image.address("_stack_end")
        assert RAM_BASE <= self.bottom < self.top <= RAM_BASE + RAM_SIZE
        machine.on_call(image.address("Reset"), self._paint)

    def _paint(self) -> None:
        now = self.machine.mcu.core.sp
        size = now - self.bottom
        self.machine.mcu.sram[self.bottom - RAM_BASE : self.bottom - RAM_BASE + size] = PAINT * size

    def depth(self) -> int:
        """Bytes of stack used at worst since the last start."""
        room = self.machine.ram(self.bottom, self.top - self.bottom)
        untouched = len(room) - len(room.lstrip(PAINT))
        assert untouched, "the stack has met the statics"
        return len(room) - untouched

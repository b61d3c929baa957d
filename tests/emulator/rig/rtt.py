"""Reads the log lines of an image that was built with them, as a debug probe would: out of the ring in its RAM."""

import json
import struct

from .machine import Machine
from .wiring import RAM_BASE

# The control block: an identity of 16 bytes, the number of rings up and down, then for each ring the addresses of its name and
# its bytes, its size, and how far it has been written and read.
FIRST_RING, WRITTEN, READ = 24, 12, 16


class Log:
    """The lines of `machine` since the last call, each as the text that stands in the program, its values left out."""

    def __init__(self, machine: Machine):
        self.machine = machine
        self.block = machine.image.address("_SEGGER_RTT")
        assert self.block is not None, "an image without a log"
        self.texts = {s.address: json.loads(s.name)["data"] for s in machine.image.symbols if s.name.startswith('{"')}
        self._frame = bytearray()

    def lines(self) -> list[str]:
        """What was logged since the last call; call before the ring is full."""
        ring = self.block + FIRST_RING
        _, start, size, written, read = struct.unpack("<5I", self.machine.ram(ring, 20))
        if not size:
            return []  # not started yet
        count = (written - read) % size
        held = self.machine.ram(start, size)
        at = ring + READ - RAM_BASE
        self.machine.mcu.sram[at : at + 4] = written.to_bytes(4, "little")
        lines = []
        for byte in (held + held)[read : read + count]:
            if byte:
                self._frame.append(byte)
            elif self._frame:
                frame = unpacked(bytes(self._frame))
                lines.append(self.texts[int.from_bytes(frame[:2], "little")])
                self._frame.clear()
        return lines


def unpacked(frame: bytes) -> bytes:
    """A frame without its coding (rzCOBS, as described in the documentation of the crate of that name): read from its end, a byte
    below 0x80 says which of the next seven are zeros, others how many follow as they are."""
    out, rest = bytearray(), iter(reversed(frame))
    for head in rest:
        if head < 0x80:
            for bit in range(6, -1, -1):
                out.append(0 if head >> bit & 1 else next(rest, 0))
        elif head < 0xFF:
            out.append(0)
            out.extend(next(rest, 0) for _ in range((head & 0x7F) + 7))
        else:
            out.extend(next(rest, 0) for _ in range(134))
    return bytes(reversed(out))

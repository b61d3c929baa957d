"""A computer that reads the scale's drive, beside the one that has the serial line open: bulk-only transport and SCSI, by hand.

The commands and layouts are those of the USB Mass Storage Class, Bulk-Only Transport 1.0, of SPC-3 and of SBC-2, from memory of those
documents; nothing here comes from the program that answers. What the emulator does not know is looked after here: a packet waits until the
computer asks for it, takes its time on the bus, and must carry the data toggle that the computer expects (USB 2.0, 8.6).
"""

import struct

from rp2040py.peripherals.usb import EP0_IN_BUFFER_CONTROL, EP0_OUT_BUFFER_CONTROL

from .bench import Bench

AVAILABLE, TOGGLE, STALL = 1 << 10, 1 << 13, 1 << 11
GOOD, FAILED, PHASE = range(3)
SECTOR = 512
# An answer is looked for this often.
STEP_MS = 1.0
# The control words of the endpoints end here in the controller's memory; behind them stand packets.
WORDS_END = 0x100


class Disk:
    """The drive of the scale on a bench, which must be connected."""

    def __init__(self, bench: Bench):
        self.bench, self.machine = bench, bench.machine
        self.usb = bench.usb.usb
        self.configuration = bytes(bench.usb._descriptors)
        self.interface, self.input, self.output = _endpoints(self.configuration)
        self.wrong_toggles: list[tuple[float, str]] = []
        self.packets = self.tag = 0
        self._toggle = {True: 0, False: 0}
        self._came: list[bytes] | None = None
        self._going: list[bytes] = []
        self._offered = self._armed = self._busy = False
        self._offer, self.usb.dpram_updated = self.usb.dpram_updated, self._written
        self._arm, self.usb.on_endpoint_read = self.usb.on_endpoint_read, self._armed_by_device
        self._take, self.usb.on_endpoint_write = self.usb.on_endpoint_write, self._taken
        # What the device has armed before anybody looked.
        self._armed = bool(self._word(False) & AVAILABLE)

    # commands -----------------------------------------------------------------------------------

    def command(self, block: bytes, size: int = 0, data: bytes | None = None, limit_ms: float = 2000.0) -> tuple[int, int, bytes]:
        """Status, residue and what came. `size` bytes are asked for, or `data` is sent."""
        self.bulk_command(block, len(data) if data is not None else size, data is None, limit_ms)
        came = self.receive(size, limit_ms) if size else b""
        if data:
            self.send(data, limit_ms)
        return *self.status(limit_ms), came

    def bulk_command(self, block: bytes, length: int, inward: bool = True, limit_ms: float = 2000.0) -> None:
        """Sends a command and nothing else."""
        self.tag += 1
        way = 0x80 if inward else 0
        self.send(struct.pack("<4sIIBBB16s", b"USBC", self.tag, length, way, 0, len(block), block), limit_ms)

    def take_packets(self, count: int) -> None:
        """Takes so many packets of what comes, and then no more."""
        for _ in range(count):
            self.receive(64, 2000.0)

    def status(self, limit_ms: float = 2000.0) -> tuple[int, int]:
        """How the command ended, and how much of what was asked for was not moved."""
        answer = self.receive(13, limit_ms)
        assert len(answer) == 13, answer
        signature, tag, residue, status = struct.unpack("<4sIIB", answer)
        assert (signature, tag) == (b"USBS", self.tag), answer
        return status, residue

    def sense(self) -> tuple[int, int, int]:
        """Why the last command failed: key, code, qualifier."""
        _, _, sense = self.command(bytes([3, 0, 0, 0, 18, 0]), 18)
        return sense[2] & 15, sense[12], sense[13]

    def ready(self, limit_ms: float = 30_000.0, every_ms: float = 50.0) -> float:
        """Asks until there is a medium, as computers do, and says how long that took."""
        begun = self.machine.ms
        while self.command(bytes(6))[0] != GOOD:
            assert self.sense()[0] in (2, 6), "not ready, or a new medium"
            assert self.machine.ms < begun + limit_ms, f"no medium within {limit_ms:g} ms"
            self.bench.run(every_ms)
        return self.machine.ms - begun

    def sectors(self) -> int:
        """How many the volume has."""
        status, _, answer = self.command(bytes([0x25]) + bytes(9), 8)
        assert status == GOOD
        last, size = struct.unpack(">II", answer)
        assert size == SECTOR
        return last + 1

    def read(self, first: int, count: int, limit_ms: float = 60_000.0) -> bytes:
        """The contents of sectors."""
        block = struct.pack(">BBIBHB", 0x28, 0, first, 0, count, 0)
        status, residue, came = self.command(block, SECTOR * count, limit_ms=limit_ms)
        assert (status, residue, len(came)) == (GOOD, 0, SECTOR * count), (status, residue, len(came))
        return came

    def dump(self, at_once: int = 64) -> bytes:
        """The whole volume as an image, what no file occupies left out of the reading: zeros, as a sample of it shows."""
        image = bytearray(SECTOR * self.sectors())
        used = used_sectors(self.read(0, 1), lambda first, count: self.read(first, count))
        for first in range(0, used, at_once):
            count = min(at_once, used - first)
            image[SECTOR * first : SECTOR * (first + count)] = self.read(first, count)
        for sector in range(used, self.sectors(), 997):
            assert not any(self.read(sector, 1)), "a sector of no file is not empty"
        return bytes(image)

    def reset(self) -> None:
        """Bulk-Only Mass Storage Reset, and both halts cleared (section 5.3.4)."""
        self.forget()
        self.control(0x21, 0xFF, 0, self.interface)
        for address in (0x80 | self.input, self.output):
            self.control(0x02, 1, 0, address)
            self._toggle[bool(address & 0x80)] = 0

    def forget(self) -> None:
        """The computer gives up what it was about."""
        self._came, self._going = None, []

    # the bus ------------------------------------------------------------------------------------

    def control(self, kind: int, request: int, value: int, index: int) -> None:
        """A request without data. The device must take it."""
        self.usb._ep_stall_arm &= ~3  # the controller clears them at a SETUP, the emulator does not
        taken: list[bool] = []
        outer = self.usb.on_endpoint_write

        def came(endpoint: int, data: bytes | bytearray) -> None:
            if endpoint == 0:
                taken.append(True)
            else:
                outer(endpoint, data)

        self.usb.on_endpoint_write = came
        self.usb.send_setup_packet(struct.pack("<BBHHH", kind, request, value, index, 0))
        try:
            self.machine.run_until(lambda: bool(taken), 100, 0.1)
        finally:
            self.usb.on_endpoint_write = outer

    def send(self, data: bytes, limit_ms: float) -> None:
        self._going = [data[at : at + 64] for at in range(0, len(data), 64)]
        self._pump()
        self._wait(lambda: not self._going, limit_ms)

    def receive(self, size: int, limit_ms: float) -> bytes:
        """What comes until it is `size` bytes or a short packet ends it."""
        came = self._came = []
        self._whole = lambda: sum(map(len, came)) >= size or bool(came and len(came[-1]) < 64)
        self._pump()
        self._wait(self._whole, limit_ms)
        self._came = None
        return b"".join(came)

    def _wait(self, condition, limit_ms: float) -> None:
        end = self.machine.ms + limit_ms
        while not condition():
            assert self.machine.ms < end, f"the drive does not answer within {limit_ms:g} ms"
            assert not (self._word(True) | self._word(False)) & STALL, "an endpoint is stalled"
            self.machine.run(min(STEP_MS, max(0.001, end - self.machine.ms)))

    def _at(self, inward: bool) -> int:
        return EP0_IN_BUFFER_CONTROL + 8 * self.input if inward else EP0_OUT_BUFFER_CONTROL + 8 * self.output

    def _word(self, inward: bool) -> int:
        at = self._at(inward)
        return int.from_bytes(self.machine.mcu.usb_dpram[at : at + 4], "little")

    def _set_available(self, inward: bool, available: bool) -> None:
        word = self._word(inward) & ~AVAILABLE | (AVAILABLE if available else 0)
        at = self._at(inward)
        self.machine.mcu.usb_dpram[at : at + 4] = word.to_bytes(4, "little")

    def _written(self, offset: int, value: int) -> None:
        if offset >= WORDS_END:
            return
        if offset == self._at(True) and value & AVAILABLE:
            self._offered = True
            self._pump()
        else:
            self._offer(offset, value)

    def _armed_by_device(self, endpoint: int, size: int) -> None:
        if endpoint != self.output:
            self._arm(endpoint, size)
            return
        self._set_available(False, True)
        self._armed = True
        self._pump()

    def _taken(self, endpoint: int, data: bytes | bytearray) -> None:
        if endpoint != self.input:
            self._take(endpoint, data)
            return
        if self._came is not None:
            self._came.append(bytes(data))
        if self._came is None or self._whole():
            self.machine.simulator.stopped = True
        self._pump()

    def _pump(self) -> None:
        if self._busy:
            return
        if self._offered and self._came is not None and not self._whole():
            self._later(self._word(True) & 0x3FF, self._in)
        elif self._armed and self._going:
            self._later(len(self._going[0]), self._out)

    def _later(self, size: int, action) -> None:
        # What a full-speed bus takes for so many bytes and what goes with them.
        self._busy = True
        self.machine.after((6 + 0.7 * size) / 1000, action)

    def _in(self) -> None:
        self._busy = False
        word = self._word(True)
        # What was asked for may have come whole meanwhile: the next packet is for whoever asks next.
        if not word & AVAILABLE or self._came is None or self._whole():
            self._offered = bool(word & AVAILABLE)
            return
        self._offered = False
        self._flip(True, word)
        self.packets += 1
        self._offer(self._at(True), word)

    def _out(self) -> None:
        self._busy = False
        if not (self._armed and self._going):
            return
        self._armed = False
        piece = self._going.pop(0)
        self._flip(False, self._word(False))
        self._set_available(False, False)
        self.packets += 1
        self.usb.endpoint_read_done(self.output, piece, 0)
        if not self._going:
            self.machine.simulator.stopped = True
        self.machine.after(0.001, self._pump)

    def _flip(self, inward: bool, word: int) -> None:
        toggle = int(bool(word & TOGGLE))
        if toggle != self._toggle[inward]:
            self.wrong_toggles.append((round(self.machine.ms, 3), "in" if inward else "out"))
        self._toggle[inward] = 1 - toggle


def used_sectors(boot: bytes, read) -> int:
    """Sectors of a FAT16 volume up to the last that a file occupies, by its own boot sector and table (Microsoft FAT specification)."""
    reserved, tables = int.from_bytes(boot[14:16], "little"), boot[16]
    entries, size = int.from_bytes(boot[17:19], "little"), int.from_bytes(boot[22:24], "little")
    assert boot[510:512] == b"\x55\xaa" and boot[13] == 1, "a sector a cluster"
    table = b"".join(read(reserved + at, min(16, size - at)) for at in range(0, size, 16))
    clusters = struct.unpack(f"<{len(table) // 2}H", table)
    last = max((number for number, entry in enumerate(clusters) if number > 1 and entry), default=1)
    return reserved + tables * size + entries // 16 + last - 1


def _endpoints(configuration: bytes) -> tuple[int, int, int]:
    at, interface, found = 0, None, {}
    while at < len(configuration):
        one = configuration[at : at + configuration[at]]
        if one[1] == 4:
            # Mass storage, SCSI, bulk-only.
            interface = one[2] if tuple(one[5:8]) == (8, 6, 0x50) else None
            found["interface"] = interface if interface is not None else found.get("interface")
        if one[1] == 5 and interface is not None and one[3] & 3 == 2:
            found["in" if one[2] & 0x80 else "out"] = one[2] & 15
        at += one[0]
    return found["interface"], found["in"], found["out"]

"""The flash chip: every erase and program on record, its busy time, and a supply that fails inside one.

Times are those of a common 2 MiB chip, typical or longest (W25Q16JV data sheet, "AC Electrical Characteristics": sector erase 45 ms,
400 ms at most; page program 0.4 ms, 3 ms at most; block erase 150 ms, 2 s at most). Every chip has a number of its own (command 4Bh).
While the chip is busy the world's clock runs on and the core does not: it waits in the boot ROM with interrupts off.
"""

import random
from dataclasses import dataclass

from .machine import Machine, PowerCut
from .wiring import FLASH_BASE, FLASH_SIZE, JOURNAL_OFFSET, JOURNAL_SIZE

PAGE_PROGRAM, SECTOR_ERASE, BLOCK_ERASE = 0x02, 0x20, 0xD8
READ_NUMBER, NUMBER_FROM = 0x4B, 5
NUMBER = bytes.fromhex("E660583883724A29")
SIZES = {SECTOR_ERASE: 4096, BLOCK_ERASE: 65536}
TIMES = {
    "none": {SECTOR_ERASE: 0.0, BLOCK_ERASE: 0.0, PAGE_PROGRAM: 0.0},
    "typical": {SECTOR_ERASE: 45.0, BLOCK_ERASE: 150.0, PAGE_PROGRAM: 0.4},
    "worst": {SECTOR_ERASE: 400.0, BLOCK_ERASE: 2000.0, PAGE_PROGRAM: 3.0},
}

TEARS = ("before", "prefix", "bits", "after")


@dataclass(frozen=True)
class Operation:
    """One erase or program: when, what, where, and how many bytes."""

    ms: float
    kind: str
    offset: int
    size: int


class Flash:
    """Watches the machine's flash, whose erases and programs take "typical" times, "worst" or "none"."""

    def __init__(self, machine: Machine, times: str = "typical"):
        self.machine = machine
        self.times = TIMES[times]
        self.number = NUMBER
        self.operations: list[Operation] = []
        self.outside: list[Operation] = []
        self.unsafe: list[str] = []
        self._cut: tuple[int, str, int] | None = None
        ssi = machine.mcu.ssi
        self._ssi, self._apply = ssi, ssi._apply_command
        ssi._apply_command = self._command
        self._shift, ssi._shift_byte = ssi._shift_byte, self._exchanged

    def cut_at(self, operation: int, tear: str, seed: int = 0) -> None:
        """Cuts the supply at the operation of that number, counted from the machine's first.

        `tear`: "before" it does anything, after a "prefix" of its bytes, after any subset of its "bits", or "after" it.
        """
        assert tear in TEARS
        self._cut = (operation, tear, seed)

    def journal(self) -> bytes:
        """The journal's area as it is now."""
        return bytes(self.machine.mcu.flash[JOURNAL_OFFSET : JOURNAL_OFFSET + JOURNAL_SIZE])

    def erases(self) -> int:
        """Sectors erased so far."""
        return sum(o.size // SIZES[SECTOR_ERASE] for o in self.operations if o.kind == "erase")

    def _command(self) -> None:
        frame, ssi, flash = self._ssi._tx_buffer, self._ssi, self.machine.mcu.flash
        if not ssi._write_enabled or len(frame) < 4 or frame[0] not in (PAGE_PROGRAM, SECTOR_ERASE, BLOCK_ERASE):
            self._apply()
            return
        offset = int.from_bytes(frame[1:4], "big")
        if frame[0] == PAGE_PROGRAM:
            kind, size = "program", len(frame) - 4
            wanted = bytes(old & new for old, new in zip(flash[offset : offset + size], frame[4:]))
        else:
            kind, size = "erase", SIZES[frame[0]]
            offset &= ~(size - 1)
            wanted = b"\xff" * size
        self._note(Operation(self.machine.ms, kind, offset, size))
        if self._cut and self._cut[0] == len(self.operations) - 1:
            _, tear, seed = self._cut
            flash[offset : offset + size] = torn(bytes(flash[offset : offset + size]), wanted, tear, seed)
            raise PowerCut(f"{tear} {kind} {self._cut[0]}")
        command = frame[0]
        self._apply()
        # The core stands in the ROM's status loop meanwhile; only the loop is left out, not the time.
        self.machine.clock.tick(self.times[command] * 1e6)

    def _exchanged(self, sent: int) -> int:
        came, frame = self._shift(sent), self._ssi._tx_buffer
        if frame[0] != READ_NUMBER or len(frame) <= NUMBER_FROM:
            return came
        self._check("number read")
        return self.number[(len(frame) - 1 - NUMBER_FROM) % len(self.number)]

    def _note(self, operation: Operation) -> None:
        self.operations.append(operation)
        end = operation.offset + operation.size
        if not (JOURNAL_OFFSET <= operation.offset and end <= JOURNAL_OFFSET + JOURNAL_SIZE):
            self.outside.append(operation)
        self._check(f"{operation.kind} at {operation.offset:#x}")

    def _check(self, what: str) -> None:
        core = self.machine.mcu.core
        if FLASH_BASE <= core.pc < FLASH_BASE + FLASH_SIZE:
            self.unsafe.append(f"{what} commanded by code in flash")
        if not core.pm and core.enabled_interrupts:
            self.unsafe.append(f"{what} with interrupts on")


def torn(before: bytes, wanted: bytes, tear: str, seed: int) -> bytes:
    """What a cell array holds after an operation that was cut: none, a prefix, any subset of its bits, or all of it."""
    if tear == "before":
        return before
    if tear == "after":
        return wanted
    chance = random.Random(seed)
    if tear == "prefix":
        # Up to a byte that would have changed: most of a page that is programmed stays blank anyway.
        changing = [at for at, (old, new) in enumerate(zip(before, wanted)) if old != new]
        done = chance.choice(changing) if changing else 0
        return wanted[:done] + before[done:]
    return bytes(old ^ ((old ^ new) & chance.randrange(256)) for old, new in zip(before, wanted))

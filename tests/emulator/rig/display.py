"""The display at command level, after the data sheets of the two controllers that its modules have (command tables, addressing): 128 x 64
pixels in 8 pages of columns, a byte for eight pixels one above the other, the least significant bit on top. An SH1106 knows page
addressing only and has 132 columns, of which a module shows those from `first_column` on; it ignores what it does not know, byte by byte.

At power-on its memory holds noise and it is off; what is seen is memory while it is on.
"""

import random
from dataclasses import dataclass
from pathlib import Path

from . import png

WIDTH, HEIGHT, PAGES = 128, 64, 8
SIZE = WIDTH * PAGES
HORIZONTAL, VERTICAL, PAGE = 0, 1, 2

# Bytes that follow a command byte; the others stand alone.
ARGUMENTS = {0x20: 1, 0x21: 2, 0x22: 2, 0x81: 1, 0x8D: 1, 0xA3: 2, 0xA8: 1, 0xD3: 1, 0xD5: 1, 0xD9: 1, 0xDA: 1, 0xDB: 1}
ARGUMENTS |= {0x26: 6, 0x27: 6, 0x29: 5, 0x2A: 5, 0xAD: 1}
ARGUMENTS_SH1106 = {0x81: 1, 0xA8: 1, 0xAD: 1, 0xD3: 1, 0xD5: 1, 0xD9: 1, 0xDA: 1, 0xDB: 1}
COLUMNS = {"ssd1306": 128, "sh1106": 132}


@dataclass(frozen=True)
class Frame:
    """The display's memory after a transfer that changed it: 1,024 bytes, pages from the top, columns from the left."""

    ms: float
    memory: bytes


class Display:
    """The panel on the bus. `frames` are the states of its memory at the end of each transfer that changed it."""

    def __init__(self, machine, chip: str = "ssd1306", first_column: int | None = None):
        self.machine, self.chip, self.columns = machine, chip, COLUMNS[chip]
        self.first_column = (COLUMNS[chip] - WIDTH) // 2 if first_column is None else first_column
        self.while_lit: list[int] = []
        self.plugged = True
        self.frames: list[Frame] = []
        self.unknown: list[int] = []
        self.on_data: list = []
        self.before_change: list = []
        self.data_bytes = 0
        self._power_on()

    def _power_on(self) -> None:
        self.chip_memory = bytearray(random.Random(0x1306).randbytes(self.columns * PAGES))
        self.on = False
        # That of an SH1106 is on after reset.
        self.charge_pump = self.chip == "sh1106"
        self.contrast = 0x7F
        self.inverted = False
        self.mirrored_columns = self.mirrored_rows = False
        self._mode = PAGE
        self._columns, self._pages = (0, self.columns - 1), (0, PAGES - 1)
        self._column = self._page = 0
        self._command: list[int] = []
        self._control: int | None = None
        self._changed = False

    # the plug -----------------------------------------------------------------------------------

    def unplug(self) -> None:
        """Pulls the plug: nobody answers, nothing is seen."""
        self.plugged = False

    def plug(self) -> None:
        """Puts it back, as dark as after power-on."""
        self._power_on()
        self.plugged = True

    # what is seen -------------------------------------------------------------------------------

    @property
    def lit(self) -> bool:
        """Whether anything can be seen on it."""
        return self.plugged and self.on and self.charge_pump

    @property
    def memory(self) -> bytes:
        """The part of the memory that the module shows, page by page."""
        lines = (self.chip_memory[page * self.columns : (page + 1) * self.columns] for page in range(PAGES))
        return b"".join((line + line)[self.first_column : self.first_column + WIDTH] for line in map(bytes, lines))

    def seen(self) -> bytes:
        """The memory as it is now, or zeros while the panel is dark."""
        return bytes(self.memory) if self.lit else bytes(SIZE)

    @property
    def lit_pixels(self) -> int:
        """How many of them shine."""
        return int.from_bytes(self.memory).bit_count()

    def save(self, path: Path, scale: int = 4) -> None:
        """Writes what is seen now as a picture."""
        png.write(path, self.seen(), scale)

    # the bus ------------------------------------------------------------------------------------

    def start(self, reading: bool) -> bool:
        """Addressed; acknowledges if it is there."""
        for action in self.before_change:
            action()
        self._control, self._changed = None, False
        return self.plugged and not reading

    def write(self, value: int) -> bool:
        """One byte: a control byte, then commands or data."""
        if not self.plugged:
            return False
        if self._control is None:
            self._control = value
        else:
            if self._control & 0x40:
                self._data(value)
            else:
                self._command_byte(value)
            if self._control & 0x80:  # Co: the next byte is a control byte again
                self._control = None
        return True

    def read(self) -> int:
        """The panel cannot be read over this bus."""
        return 0xFF

    def stop(self) -> None:
        """The end of a transfer."""
        if self._changed:
            self.frames.append(Frame(self.machine.ms, bytes(self.memory)))
        self._changed = False

    # memory -------------------------------------------------------------------------------------

    def _data(self, value: int) -> None:
        self.data_bytes += 1
        at = self._page * self.columns + self._column % self.columns
        if self.chip_memory[at] != value:
            self.chip_memory[at] = value
            self._changed = True
        for action in self.on_data:
            action()
        (first, last), (top, bottom) = self._columns, self._pages
        if self._mode == PAGE:
            self._column = (self._column + 1) % self.columns
        elif self._mode == HORIZONTAL:
            if self._column == last:
                self._column = first
                self._page = top if self._page == bottom else (self._page + 1) % PAGES
            else:
                self._column = (self._column + 1) % WIDTH
        elif self._page == bottom:
            self._page = top
            self._column = first if self._column == last else (self._column + 1) % WIDTH
        else:
            self._page = (self._page + 1) % PAGES

    # commands -----------------------------------------------------------------------------------

    def _command_byte(self, value: int) -> None:
        self._command.append(value)
        known = ARGUMENTS if self.chip == "ssd1306" else ARGUMENTS_SH1106
        if len(self._command) <= known.get(self._command[0], 0):
            return
        (code, *arguments), self._command = self._command, []
        if self.lit:
            self.while_lit.append(code)
        if code <= 0x0F:
            self._column = (self._column & 0xF0) | code
        elif code <= 0x1F:
            self._column = (self._column & 0x0F) | (code & 0x0F) << 4
        elif self.chip == "sh1106" and code == 0xAD:
            self.charge_pump = arguments[0] == 0x8B
        elif self.chip == "sh1106" and (code < 0x30 or code == 0x8D):
            pass  # no command of this chip
        elif code == 0x20:
            self._mode = arguments[0] & 3
        elif code == 0x21:
            self._columns = (arguments[0] & 0x7F, arguments[1] & 0x7F)
            self._column = self._columns[0]
        elif code == 0x22:
            self._pages = (arguments[0] & 7, arguments[1] & 7)
            self._page = self._pages[0]
        elif code == 0x81:
            self.contrast = arguments[0]
        elif code == 0x8D:
            self.charge_pump = bool(arguments[0] & 0x04)
        elif code in (0xA0, 0xA1):
            self.mirrored_columns = code == 0xA1
        elif code in (0xA6, 0xA7):
            self.inverted = code == 0xA7
        elif code in (0xAE, 0xAF):
            self.on = code == 0xAF
        elif 0xB0 <= code <= 0xB7:
            self._page = code & 7
        elif code in (0xC0, 0xC8):
            self.mirrored_rows = code == 0xC8
        elif not (0x40 <= code <= 0x7F or code in ARGUMENTS or code in (0x2E, 0x2F, 0xA4, 0xA5, 0xE3)):
            self.unknown.append(code)

"""Everything on the bench at once, wired as the drawing says."""

import re
from collections.abc import Callable
from pathlib import Path

from . import png
from .bus import Bus
from .buzzer import Buzzer
from .climate import Climate
from .converter import Converter
from .display import Display
from .energy import Energy
from .flash import Flash
from .image import Image
from .keys import Keys
from .machine import Machine
from .module import on as on_module
from .reader import Page
from .supply import Supply
from .usb_host import UsbHost
from .wiring import CLIMATE_ADDRESS, DISPLAY_ADDRESS

# What the emulator warns of that the chip does not mind: registers that its models of these blocks leave out. Whatever else
# it warns of (an address that is not there, an instruction, a misaligned read) the chip would have faulted on.
HARMLESS = re.compile(
    r"(SSI|SYSCFG|USB): Unimplemented peripheral (read|write)"
    r"|I2C0: Unimplemented write to IC_SDA_HOLD"
)


class Bench:
    """A board from power-on, with its converter, display, keys, supply and, where asked for, more."""

    def __init__(
        self,
        image: Image | None,
        source: Callable[[int, float], int] = lambda n, ms: 0,
        *,
        flash: bytes | None = None,
        rate_hertz: float = 10.0,
        bus_timed: bool = False,
        flash_times: str = "typical",
        climate: bool = False,
        usb: bool = False,
        millivolts: int = 4800,
        board: str = "pico",
        panel: str = "ssd1306",
        module: str | None = None,
    ):
        self.image = image
        self.machine = Machine(image, flash)
        self.flash = Flash(self.machine, flash_times)
        self.bus = Bus(self.machine, bus_timed)
        self.display = Display(self.machine, panel)
        self.bus.devices[DISPLAY_ADDRESS] = self.display
        self.climate = Climate(self.machine) if climate else None
        if self.climate:
            self.bus.devices[CLIMATE_ADDRESS] = self.climate
        self.keys = Keys(self.machine)
        self.supply = Supply(self.machine, millivolts, usb=usb, board=board)
        self.buzzer = Buzzer(self.machine)
        # Without a module the source's own noise is all there is.
        felt = on_module(module, source, rate_hertz) if module else source
        self.converter = Converter(self.machine, felt, rate_hertz)
        self.energy = Energy(self)
        self.usb = UsbHost(self.machine, self.supply) if usb else None
        self._page: Page | None = None

    def run(self, ms: float) -> None:
        """Lets time pass."""
        self.machine.run(ms)

    def unexpected(self) -> list[str]:
        """Warnings of the emulator that are not known to be harmless, and what no chip would survive: of flash commands and of clocks."""
        warned = {w for w in self.machine.warnings if not HARMLESS.match(w)}
        return sorted(warned) + self.machine.power.faults + self.flash.unsafe + [f"flash outside the journal: {o}" for o in self.flash.outside]

    def page(self) -> Page:
        """What can be read now."""
        seen = self.display.seen()
        if self._page is None or self._page.memory != seen:
            self._page = Page(seen)
        return self._page

    def until(self, condition: Callable[[], bool], limit_ms: float, what: str) -> float:
        """Runs until `condition()` holds and returns the time. Raises AssertionError with what can be seen instead."""
        try:
            return self.machine.run_until(condition, limit_ms)
        except AssertionError as late:
            page = self.page()
            shown = f"{page.number} {page.words}\n{png.text(page.memory)}"
            raise AssertionError(f"{what}: {late}; at {self.machine.ms:.0f} ms the display shows\n{shown}") from None

    def wait_for(self, text: str, limit_ms: float) -> float:
        """Runs until `text` can be read on the display, and returns the time."""
        return self.until(lambda: self.page().says(text), limit_ms, f"{text!r} on the display")

    def save(self, path: Path) -> None:
        """A picture of what is seen now."""
        self.display.save(path)

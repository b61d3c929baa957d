"""What the processor spends: on each call of a function, and between one sample's last clock pulse and the next sleep."""

import statistics
from dataclasses import dataclass, field

from .converter import Converter
from .display import Display
from .machine import Machine


@dataclass
class Spent:
    """Cycles of the core, one entry for each time something was done."""

    cycles: list[int] = field(default_factory=list)

    def median(self) -> int:
        """The middle one."""
        return int(statistics.median(self.cycles))

    def worst(self) -> int:
        """The greatest."""
        return max(self.cycles)


class CallMeter(Spent):
    """Counts the core's cycles in each call of one function, from its first instruction to its return."""

    def __init__(self, machine: Machine, address: int):
        super().__init__()
        self.machine = machine
        self._entered: int | None = None
        machine.on_call(address, self._enter)

    def _enter(self) -> None:
        if self._entered is not None:
            return  # entered again from an interrupt, or recursion: the outer call counts
        self._entered = self.machine.cycles
        self._back = self.machine.mcu.core.lr & ~1
        self.machine.on_call(self._back, self._leave)

    def _leave(self) -> None:
        self.machine.forget(self._back)
        self.cycles.append(self.machine.cycles - self._entered)
        self._entered = None


class SampleMeter(Spent):
    """Counts the core's awake cycles for each sample: from the end of its 25th clock pulse to the next conversion.

    The core sleeps between samples and sleeping costs none, so this is all that a sample gives rise to. Samples during
    which the display was sent anything are kept apart, in `with_screen`.
    """

    def __init__(self, machine: Machine, converter: Converter, display: Display):
        super().__init__()
        self.machine = machine
        self.with_screen = Spent()
        self._began: int | None = None
        self._sent = False
        converter.on_read.append(self._begin)
        converter.on_ready.append(self._end)
        display.on_data.append(self._screen)

    def _begin(self) -> None:
        self._began, self._sent = self.machine.cycles, False

    def _screen(self) -> None:
        self._sent = True

    def _end(self) -> None:
        if self._began is not None:
            (self.with_screen if self._sent else self).cycles.append(self.machine.cycles - self._began)
        self._began = None

"""What the processor spends on each call of a function, and on each sample."""

import statistics
from dataclasses import dataclass, field

from .converter import Converter
from .display import Display
from .image import Symbol
from .machine import Machine


@dataclass
class Spent:
    """Awake cycles of the core, one entry for each time something was done."""

    cycles: list[int] = field(default_factory=list)

    def median(self) -> int:
        """The middle one."""
        return int(statistics.median(self.cycles))

    def mean(self) -> int:
        """Their mean."""
        return round(statistics.fmean(self.cycles))

    def worst(self) -> int:
        """The greatest."""
        return max(self.cycles)


class CallMeter(Spent):
    """Counts the core's cycles in each call of one function, from its first instruction to its return."""

    def __init__(self, machine: Machine, function: Symbol):
        super().__init__()
        self.machine = machine
        self._entered: int | None = None
        machine.on_call(function.address, self._enter)

    def _enter(self) -> None:
        if self._entered is not None:
            return  # entered again before it returned: the outer call counts
        self._entered = self.machine.cycles
        self._back = self.machine.mcu.core.lr & ~1
        self.machine.on_call(self._back, self._leave)

    def _leave(self) -> None:
        self.machine.forget(self._back)
        self.cycles.append(self.machine.cycles - self._entered)
        self._entered = None


class SampleMeter:
    """Counts what a sample costs: from the end of its 25th clock pulse to the next conversion, sleep being free.

    `quiet` are samples during which the display was sent nothing, `with_screen` the others. With a `core` function given,
    `core` are the cycles spent in its calls during quiet samples: the program's share, without wires.
    """

    def __init__(self, machine: Machine, converter: Converter, display: Display, core: Symbol | None = None):
        self.machine = machine
        self.quiet, self.with_screen, self.core = Spent(), Spent(), Spent()
        self._calls = CallMeter(machine, core) if core else Spent()
        self._began: tuple[int, int] | None = None
        self._sent = False
        converter.on_read.append(self._begin)
        converter.on_ready.append(self._end)
        display.on_data.append(self._screen)

    def _begin(self) -> None:
        self._began, self._sent = (self.machine.cycles, len(self._calls.cycles)), False

    def _screen(self) -> None:
        self._sent = True

    def _end(self) -> None:
        if self._began is not None:
            began, calls = self._began
            spent = self.machine.cycles - began
            if self._sent:
                self.with_screen.cycles.append(spent)
            else:
                self.quiet.cycles.append(spent)
                self.core.cycles.append(sum(self._calls.cycles[calls:]))
        self._began = None

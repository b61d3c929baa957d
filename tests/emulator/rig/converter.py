"""The load-cell converter at bit level, after the HX711 data sheet (serial interface, figures "data input, output and
gain selection" and "power down control", table of pulses; the times are the sheet's, read there or from memory alike):

DOUT is high until a conversion is ready, then low; 24 rising edges of PD_SCK shift it out, most significant bit first,
a 25th returns DOUT to high, and 25 to 27 choose input and gain of the next. PD_SCK high for more than 60 us powers the
chip down; when it falls again the chip starts anew. Output is settled four conversions after power-up.
"""

from collections.abc import Callable

from rp2040py.gpio_pin import GPIOPinState

from .machine import Machine
from .wiring import CONVERTER_CLOCK, CONVERTER_DATA

POWER_DOWN_US = 60.0
SETTLING_CONVERSIONS = 4
BITS = 24
GAINS = {25: "A128", 26: "B32", 27: "A64"}
ALL_ONES = 0xFF_FFFF


class Converter:
    """The chip on its two wires.

    `source(n, ms)` gives the counts of conversion `n` (signed, 24 bits). Faults: `fault` is `None`, "unplugged" (neither
    wire connected), "low" or "high" (DOUT stuck there), "ones" (every conversion reads as all ones).
    """

    def __init__(self, machine: Machine, source: Callable[[int, float], int], rate_hertz: float = 10.0):
        self.machine, self.source, self.rate_hertz = machine, source, rate_hertz
        self.fault: str | None = None
        self.conversions = 0
        self.read: list[tuple[float, int]] = []
        self.missed = 0
        self.torn = 0
        self.power_downs = 0
        self.longest_high_us = 0.0
        # The shortest clock pulse and the shortest pause between two of one conversion; the sheet wants 0.2 us of each.
        self.shortest_us = float("inf")
        self._fell: float | None = None
        self.high_over_limit: list[tuple[float, float]] = []
        self.gain = "A128"
        self.on_ready: list[Callable[[], None]] = []
        self.on_read: list[Callable[[], None]] = []
        self.before_power: list[Callable[[], None]] = []
        self._word = 0
        self._pulses = 0
        self._ready = False
        self._powered = True
        self._rose: float | None = None
        self._dout = machine.mcu.gpio[CONVERTER_DATA]
        self._conversion = machine.alarm(self._convert)
        self._down = machine.alarm(self._power_down)
        self._scripted = False
        machine.mcu.gpio[CONVERTER_CLOCK].add_listener(self._clock_changed)
        self._drive(True)
        self._start()

    # faults -------------------------------------------------------------------------------------

    def unplug(self) -> None:
        """Pulls the plug: DOUT floats, what the pin's pull makes of it."""
        self.fault = "unplugged"
        self._conversion.cancel()
        self._down.cancel()
        self._dout.release_input()

    def stick(self, level: str) -> None:
        """Ties DOUT "low" or "high"."""
        self.fault = level
        self._dout.set_input_value(level == "high")

    def ones(self) -> None:
        """Every conversion reads as all ones, as with a cell wire off at the rail."""
        self.fault = "ones"

    def mend(self) -> None:
        """Takes the fault away; a chip that was unplugged starts as at power-on."""
        unplugged, self.fault = self.fault == "unplugged", None
        if unplugged:
            self._powered, self._rose = True, None
            self._start()
        self._drive(not self._ready)

    # the script's way in ------------------------------------------------------------------------

    def by_script(self) -> None:
        """Conversions come only when `offer` brings one, at the moment it does."""
        self._scripted = True
        self._conversion.cancel()

    def offer(self, counts: int) -> None:
        """Makes `counts` ready now, unless the chip is powered down."""
        if self._powered:
            self._make_ready(counts)

    # the chip -----------------------------------------------------------------------------------

    @property
    def powered(self) -> bool:
        """Whether the chip converts at all."""
        return self._powered and self.fault != "unplugged"

    def _start(self) -> None:
        self._pulses, self._ready, self.gain = 0, False, "A128"
        self._drive(True)
        if not self._scripted:
            # DOUT stays high until the output has settled.
            self._conversion.schedule(SETTLING_CONVERSIONS * 1e9 / self.rate_hertz)

    def _convert(self) -> None:
        self._conversion.schedule(1e9 / self.rate_hertz)
        self._make_ready(self.source(self.conversions, self.machine.ms))

    def _make_ready(self, counts: int) -> None:
        if self._ready and 0 < self._pulses < BITS:
            # The sheet is silent on a new conversion during a read; the register is taken to be held.
            self.torn += 1
            return
        if self._ready:
            self.missed += 1
        self.conversions += 1
        self._word = ALL_ONES if self.fault == "ones" else counts & 0xFF_FFFF
        self._pulses, self._ready = 0, True
        self._drive(False)
        for action in self.on_ready:
            action()

    def _clock_changed(self, value: GPIOPinState, _last: GPIOPinState) -> None:
        # Not driven counts as low: the boards pull PD_SCK down.
        if value == GPIOPinState.HIGH:
            if self._rose is None:
                self._rose = self.machine.clock.nanos
                if self._fell is not None and 0 < self._pulses <= BITS:
                    self.shortest_us = min(self.shortest_us, (self._rose - self._fell) / 1000)
                self._rising()
        elif self._rose is not None:
            high_us = (self.machine.clock.nanos - self._rose) / 1000
            self._rose, self._fell = None, self.machine.clock.nanos
            self._falling(high_us)

    def _rising(self) -> None:
        if self.fault == "unplugged":
            return
        self._down.schedule(POWER_DOWN_US * 1000)
        if not self._powered:
            return
        self._pulses += 1
        if not self._ready:
            return
        if self._pulses <= BITS:
            self._drive(bool(self._word >> (BITS - self._pulses) & 1))
        else:
            self._drive(True)
            self._ready = False
            signed = self._word - (1 << BITS) if self._word >> (BITS - 1) else self._word
            self.read.append((self.machine.ms, signed))

    def _falling(self, high_us: float) -> None:
        self._down.cancel()
        if self.fault == "unplugged":
            return
        if not self._powered:
            self._switch(True)
            self._start()
            return
        self.longest_high_us = max(self.longest_high_us, high_us)
        self.shortest_us = min(self.shortest_us, high_us)
        if self._pulses > BITS:
            self.gain = GAINS.get(self._pulses, "?")
            if self._pulses == BITS + 1:
                for action in self.on_read:
                    action()

    def _power_down(self) -> None:
        if not self._powered:
            return
        if 1 < self._pulses <= BITS + 1:
            # A clock held high in the middle of a read: never meant. (One pulse, or one beyond the 25th, is how a driver
            # powers the chip down.)
            self.high_over_limit.append((self.machine.ms, POWER_DOWN_US))
        self._switch(False)
        self._ready = False
        self.power_downs += 1
        self._conversion.cancel()
        self._drive(True)

    def _switch(self, on: bool) -> None:
        for action in self.before_power:
            action()
        self._powered = on

    def _drive(self, level: bool) -> None:
        if self.fault in (None, "ones"):
            self._dout.set_input_value(level)

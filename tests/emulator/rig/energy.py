"""What the scale draws from its cells: time in each state times a table of currents.

The table is of published measurements and data sheets; nobody has measured this scale. All are brought to cells of 3.75 V at VSYS: what
was measured at a board's input at 5 V by the power, as if the regulator were as good at both; what a part draws at 3.3 V by the power and
the regulator's best efficiency. With a plug on the USB the cells give nothing.
"""

from dataclasses import dataclass, field

CELLS_VOLTS = 3.75
BOARD_VOLTS, PARTS_VOLTS = 5.0, 3.3
# "Up to 90 %" (RT6150 data sheet, features).
EFFICIENCY = 0.9
NANOSECONDS_PER_HOUR = 3.6e12


def at_board(milliamperes: float) -> float:
    """From the input of a board at 5 V."""
    return milliamperes * BOARD_VOLTS / CELLS_VOLTS


def at_part(milliamperes: float) -> float:
    """From a part behind the regulator."""
    return milliamperes * PARTS_VOLTS / CELLS_VOLTS / EFFICIENCY


# The board: what the processor does, and at how many hertz at most. Sources, each a measurement of a board of this chip:
# busy 20 at 125 MHz (CircuitPython PR 7430), 9 at 48 MHz and 3 at 12 MHz (rssing.com, article 1115, +-1 mA); waiting 16 at 125 MHz
# (esp-reader 1.1.1, on its cell, so taken as it is), 8 at 48 MHz (the same article), at 12 MHz without gates as if busy;
# 0.99 at 12 MHz with all but a timer gated (MicroPython PR 8832); dormant 0.9 (the same; 0.76 and 1.3 elsewhere: arduino-pico PR 2620,
# meshtastic PR 4510).
BOARD = {
    "awake": ((12e6, at_board(3.0)), (48e6, at_board(9.0)), (125e6, at_board(20.0))),
    "asleep": ((12e6, at_board(3.0)), (48e6, at_board(8.0)), (125e6, 16.0)),
    "asleep, gated": ((12e6, at_board(0.99)), (48e6, at_board(8.0)), (125e6, 16.0)),
    "dormant": ((125e6, at_board(0.9)),),
}
# The regulator at a fixed frequency (GPIO 23 high) beside its saving mode: no number is published; an assumption.
FIXED_FREQUENCY = 3.0
# The board's divider from VSYS to ground, 300 kOhm (Pico data sheet, schematic).
DIVIDER = 1000 * CELLS_VOLTS / 300e3
# HX711: < 1.5 mA on, < 1 uA off (data sheet); its bridge of 1 kOhm at 3.2 V goes off with it.
CONVERTER = at_part(1.5 + 3.2)
CONVERTER_OFF = at_part(0.001)
# Display: 1.44 mA + 0.054 mA a percent lit at contrast 127, 1.40 + 0.048 at 1 (hsel.co.uk, 2018), between and beyond by a straight line;
# off at most 0.25 mA (an issue of a public library).
DISPLAY_OFF = at_part(0.25)
PIXELS = 128 * 64


def display(lit_pixels: int, contrast: int) -> float:
    """A display that is on."""
    brighter = (contrast - 1) / 126
    return at_part(1.40 + 0.04 * brighter + (0.048 + 0.006 * brighter) * 100 * lit_pixels / PIXELS)


def board(state: str, hertz: float) -> float:
    """The board without its parts."""
    return next(current for fastest, current in BOARD[state] if hertz <= fastest)


@dataclass
class Spent:
    """Charge by part, mAh, time by state of the processor, hours, and for how long converter and display were on."""

    hours: float = 0.0
    states: dict[str, float] = field(default_factory=dict)
    charge: dict[str, float] = field(default_factory=dict)
    on: dict[str, float] = field(default_factory=dict)

    def add(self, part: str, milliamperes: float, nanoseconds: float) -> None:
        """Some time of one part."""
        used = milliamperes * nanoseconds / NANOSECONDS_PER_HOUR
        self.charge[part] = self.charge.get(part, 0.0) + used

    @property
    def milliampere_hours(self) -> float:
        """All parts."""
        return sum(self.charge.values())

    @property
    def milliamperes(self) -> float:
        """The mean current."""
        return self.milliampere_hours / self.hours if self.hours else 0.0


class Energy:
    """Counts what a bench draws from its cells, from its making on or from `begin`."""

    def __init__(self, bench):
        self.bench = bench
        self.spent = Spent()
        power = bench.machine.power
        power.on_spent.append(self._spent)
        # Whatever changes a current closes the time before it.
        bench.converter.before_power.append(power.account)
        bench.display.before_change.append(power.account)

    def begin(self) -> None:
        """Counts anew from now on."""
        self.bench.machine.power.account()
        self.spent = Spent()

    def end(self) -> Spent:
        """What was spent since."""
        self.bench.machine.power.account()
        return self.spent

    def _spent(self, hertz: float, states: dict[str, float]) -> None:
        bench, spent = self.bench, self.spent
        span = sum(states.values())
        spent.hours += span / NANOSECONDS_PER_HOUR
        for state, nanoseconds in states.items():
            name = state if state == "dormant" else f"{state} at {hertz / 1e6:.0f} MHz"
            spent.states[name] = spent.states.get(name, 0.0) + nanoseconds / NANOSECONDS_PER_HOUR
            if not bench.supply.usb:
                spent.add("board", board(state, hertz), nanoseconds)
        for part, on in (("converter", bench.converter.powered), ("display", bench.display.lit)):
            spent.on[part] = spent.on.get(part, 0.0) + on * span / NANOSECONDS_PER_HOUR
        if bench.supply.usb:
            return
        spent.add("divider", DIVIDER, span)
        spent.add("regulator", FIXED_FREQUENCY if bench.supply.fixed_frequency else 0.0, span)
        spent.add("converter", CONVERTER if bench.converter.powered else CONVERTER_OFF, span)
        seen = bench.display
        lit = display(seen.lit_pixels, seen.contrast) if seen.lit else DISPLAY_OFF
        spent.add("display", lit, span)

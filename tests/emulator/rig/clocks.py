"""The chip's clock tree as registers: crystal, ring oscillator, two PLLs, the multiplexers, the gates of sleep, and the pins that end
dormant mode (RP2040 data sheet, chapters 2.15 to 2.18 and "GPIO").

The emulator keeps most of these registers, and nothing of its own depends on them; what depends on them here is in power.py.
"""

from rp2040py.peripherals.clocks import RPClocks
from rp2040py.peripherals.io import RPIO
from rp2040py.peripherals.peripheral import BasePeripheral
from rp2040py.peripherals.xosc import DORMANT_VALUE, XOSC_DORMANT, XOSC_STATUS, RPXOSC

CRYSTAL_HERTZ = 12e6
# Typical; the sheet allows 1.8 to 12 MHz ("Ring Oscillator").
RING_HERTZ = 6.5e6
# No sheet says how long; an assumption.
LOCKING_NANOSECONDS = 100e3

REF_CTRL, REF_DIV, SYS_CTRL, SYS_DIV, USB_CTRL, ADC_CTRL = 0x30, 0x34, 0x3C, 0x40, 0x54, 0x60
CLOCK_ENABLED = 1 << 11
# Offset of each register of gates, and what it holds after reset: everything runs.
GATES = {0xA0: 0xFFFF_FFFF, 0xA4: 0x7FFF, 0xA8: 0xFFFF_FFFF, 0xAC: 0x7FFF}
SLEEP_GATES_0, SLEEP_GATES_1 = 0xA8, 0xAC
# Gates by the block behind them: the register, and its bits.
BLOCKS = {
    "I2C0": (SLEEP_GATES_0, 1 << 6),
    "IO": (SLEEP_GATES_0, 1 << 8),
    "PWM": (SLEEP_GATES_0, 1 << 17),
    "TIMER": (SLEEP_GATES_1, 1 << 5),
    "USB": (SLEEP_GATES_1, 3 << 10),
    "WATCHDOG": (SLEEP_GATES_1, 1 << 12),
}


class Clocks(RPClocks):
    """CLOCKS, with its gates; says when a clock may have changed."""

    def __init__(self, power):
        super().__init__(power.mcu, "CLOCKS_BASE")
        self.power, self.gates = power, dict(GATES)

    def reset(self) -> None:
        super().reset()
        self.gates = dict(GATES)
        self.power.clock_changed()

    def read_uint32(self, offset: int) -> int:
        if offset in self.gates:
            return self.gates[offset]
        # The emulator masks the wrong bits of this one.
        return self.ref_div & 0x300 if offset == REF_DIV else super().read_uint32(offset)

    def write_uint32(self, offset: int, value: int) -> None:
        if offset in self.gates:
            self.power.account()
            self.gates[offset] = value
            return
        if offset == SYS_CTRL and self.sys_ctrl & value & 1 and (self.sys_ctrl ^ value) & 0xE0:
            self.power.fault("another source for clk_sys while it runs from that multiplexer, which is not free of glitches")
        super().write_uint32(offset, value)
        self.power.clock_changed()

    def gated(self) -> bool:
        """Whether deep sleep would stop anything."""
        return any(self.gates[register] != GATES[register] for register in (SLEEP_GATES_0, SLEEP_GATES_1))

    def runs_asleep(self, block: str) -> bool:
        """Whether a block keeps its clock in deep sleep."""
        register, bits = BLOCKS[block]
        return self.gates[register] & bits == bits


class Loop(BasePeripheral):
    """A PLL: it takes time to lock, and gives no clock before."""

    CONTROL, POWER, FEEDBACK, POST_DIVIDERS = 0, 4, 8, 12
    DOWN, VCO_DOWN, POST_DIVIDER_DOWN = 1, 1 << 5, 1 << 3

    def __init__(self, power, name: str):
        super().__init__(power.mcu, name)
        self.power = power
        self.reset()

    def reset(self) -> None:
        self.registers = {self.CONTROL: 1, self.POWER: 0x2D, self.FEEDBACK: 0, self.POST_DIVIDERS: 0x77000}
        self._locked_at = 0.0

    @property
    def running(self) -> bool:
        """Whether it draws its current."""
        return not self.registers[self.POWER] & (self.DOWN | self.VCO_DOWN) and self.registers[self.FEEDBACK] > 0

    @property
    def locked(self) -> bool:
        """Whether its clock may be used."""
        return self.running and self.power.crystal.stable and self.power.clock.nanos >= self._locked_at

    @property
    def hertz(self) -> float:
        """What it gives, 0 before it has locked."""
        if not self.locked or self.registers[self.POWER] & self.POST_DIVIDER_DOWN:
            return 0.0
        dividers = self.registers[self.POST_DIVIDERS]
        reference = CRYSTAL_HERTZ / (self.registers[self.CONTROL] & 63)
        return reference * self.registers[self.FEEDBACK] / ((dividers >> 16 & 7) * (dividers >> 12 & 7))

    def read_uint32(self, offset: int) -> int:
        value = self.registers[offset]
        return value | self.locked << 31 if offset == self.CONTROL else value

    def write_uint32(self, offset: int, value: int) -> None:
        was = self.running
        self.power.account()
        self.registers[offset] = value & 0x7FFF_FFFF
        if self.running and not was:
            self._locked_at = self.power.clock.nanos + LOCKING_NANOSECONDS
        self.power.clock_changed()


class Crystal(RPXOSC):
    """The crystal oscillator: stable only when its start-up time is over, and it can be told to stop until a pin moves."""

    def __init__(self, power):
        super().__init__(power.mcu, "XOSC_BASE")
        self.power, self.stable_at = power, 0.0

    @property
    def on(self) -> bool:
        """Whether it is enabled at all."""
        return self._enabled

    @property
    def stable(self) -> bool:
        """Whether its clock may be used."""
        return self._enabled and self.power.clock.nanos >= self.stable_at

    @property
    def start_up_nanoseconds(self) -> float:
        """What the program has allowed it to start up."""
        return (self._startup & 0x3FFF) * (4 if self._startup >> 20 & 1 else 1) * 256e9 / CRYSTAL_HERTZ

    def read_uint32(self, offset: int) -> int:
        value = super().read_uint32(offset)
        return value & 0x7FFF_FFFF if offset == XOSC_STATUS and not self.stable else value

    def write_uint32(self, offset: int, value: int) -> None:
        if offset == XOSC_DORMANT and value == DORMANT_VALUE:
            self.power.go_dormant()
            return
        was = self._enabled
        super().write_uint32(offset, value)
        if self._enabled and not was:
            self.stable_at = self.power.clock.nanos + self.start_up_nanoseconds
        self.power.clock_changed()


class Ring(BasePeripheral):
    """The ring oscillator: the chip begins on it, and so does every reset by the watchdog."""

    CONTROL, STATUS = 0x00, 0x18
    DISABLE, STABLE = 0xD1E, 1 << 31

    def __init__(self, power):
        super().__init__(power.mcu, "ROSC_BASE")
        self.power, self.on, self.registers = power, True, {self.CONTROL: 0xFAB_AA0}

    def read_uint32(self, offset: int) -> int:
        if offset == self.STATUS:
            return self.STABLE | 1 << 12 if self.on else 0
        return self.registers.get(offset, 0)

    def write_uint32(self, offset: int, value: int) -> None:
        self.power.account()
        self.registers[offset] = value
        self.on = self.registers[self.CONTROL] >> 12 & 0xFFF != self.DISABLE
        self.power.clock_changed()


class Pins(RPIO):
    """IO_BANK0 with the registers of what ends dormant mode."""

    ENABLED, FORCED, SEEN = 0x160, 0x170, 0x180
    LATCHED_EDGES = 0xCCCC_CCCC

    def __init__(self, power):
        super().__init__(power.mcu, "IO_BANK0_BASE")
        self.power = power
        self.enabled, self.forced = [0] * 4, [0] * 4

    def reset(self) -> None:
        super().reset()
        self.enabled, self.forced = [0] * 4, [0] * 4

    def read_uint32(self, offset: int) -> int:
        number = (offset & 0xF) >> 2
        match offset & ~0xF:
            case self.ENABLED:
                return self.enabled[number]
            case self.FORCED:
                return self.forced[number]
            case self.SEEN:
                return super().read_uint32(0xF0 + 4 * number) & self.enabled[number] | self.forced[number]
        return super().read_uint32(offset)

    def write_uint32(self, offset: int, value: int) -> None:
        number = (offset & 0xF) >> 2
        match offset & ~0xF:
            case self.ENABLED:
                latched = super().read_uint32(0xF0 + 4 * number) & self.LATCHED_EDGES
                if latched & value & ~self.enabled[number]:
                    self.power.fault("a pin that ends dormant mode is armed while an old edge is latched")
                self.enabled[number] = value
            case self.FORCED:
                self.forced[number] = value
            case _:
                super().write_uint32(offset, value)

    def armed(self) -> bool:
        """Whether any pin could end dormant mode."""
        return any(self.enabled)

    def wakes(self) -> bool:
        """Whether a pin ends it now."""
        return any(self.read_uint32(self.SEEN + 4 * number) for number in range(4))

"""The supply as the chip sees it: VSYS divided by three on a 12-bit converter that counts to its 3.3 V reference."""

from .machine import Machine
from .wiring import SUPPLY_CHANNEL, SUPPLY_DIVIDER

REFERENCE_MILLIVOLTS = 3300
STEPS = 4096


class Supply:
    """VSYS, in millivolts; set it at any time."""

    def __init__(self, machine: Machine, millivolts: int = 4800):
        self.machine = machine
        self.set(millivolts)

    def set(self, millivolts: int) -> None:
        """Sets VSYS."""
        counts = millivolts * STEPS // (SUPPLY_DIVIDER * REFERENCE_MILLIVOLTS)
        self.machine.mcu.adc.channel_values[SUPPLY_CHANNEL] = min(counts, STEPS - 1)

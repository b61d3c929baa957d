"""The supply as the chip sees it: VSYS through the board's divider *and* the pad's own pull, on a noisy 12-bit converter.

On a Pico 200 kΩ and 100 kΩ stand between VSYS, GPIO 29 and ground; on a Pico W they are 20 and 10, and VSYS reaches them only while
GPIO 25 is high (schematics of both boards). A pad's pull is 50 to 80 kΩ (RP2040 data sheet, "Pin Specifications"). With 5 V on USB,
VBUS feeds VSYS through a Schottky diode, and GPIO 24 is high.
"""

import random

from .machine import Machine
from .wiring import LAMP, REGULATOR, SUPPLY, SUPPLY_CHANNEL, SUPPLY_DIVIDER, VBUS

REFERENCE_MILLIVOLTS = 3300
STEPS = 4096
PULL_KILOHM = 65.0
# Parallel resistance of the divider, seen from the pad.
DIVIDER_KILOHM = {"pico": 66.7, "pico-w": 6.67}
# Standard deviation of a conversion, in steps: 8.7 effective bits (RP2040 data sheet, "ADC": ENOB).
NOISE_STEPS = 3.0
VBUS_MILLIVOLTS = 5000
DIODE_MILLIVOLTS = 200


class Supply:
    """VSYS, in millivolts, and USB's 5 V; set them at any time."""

    def __init__(self, machine: Machine, millivolts: int = 4800, *, usb: bool = False, board: str = "pico"):
        self.machine, self.board, self.cells = machine, board, millivolts
        # The ADC's reference is the board's 3.3 V, whatever that is.
        self.reference = REFERENCE_MILLIVOLTS
        self._noise = random.Random(29)
        self._adc = machine.mcu.adc
        self._read = self._adc.on_adc_read
        self._adc.on_adc_read = self._convert
        self.plug(usb)

    def set(self, millivolts: int) -> None:
        """Sets what the cells give."""
        self.cells = millivolts

    def plug(self, there: bool) -> None:
        """Puts 5 V on USB, or takes them away."""
        self.usb = there
        if self.board == "pico":
            self.machine.mcu.gpio[VBUS].set_input_value(there)

    @property
    def fixed_frequency(self) -> bool:
        """Whether the regulator is kept from its saving mode."""
        pin = self.machine.mcu.gpio[REGULATOR]
        return bool(pin.output_enable and pin.output_value)

    @property
    def vsys(self) -> int:
        """What stands at VSYS: cells or USB, whichever is higher, behind their diodes."""
        return max(self.cells, VBUS_MILLIVOLTS - DIODE_MILLIVOLTS if self.usb else 0)

    def at_the_pad(self) -> float:
        """The voltage at GPIO 29, mV."""
        pins = self.machine.mcu.gpio
        connected = self.board == "pico" or (pins[LAMP].output_enable and pins[LAMP].output_value)
        conductance = 1 / DIVIDER_KILOHM[self.board]
        current = (self.vsys if connected else 0) / SUPPLY_DIVIDER * conductance
        register = pins[SUPPLY].pad_value
        if register & 4:
            conductance += 1 / PULL_KILOHM
        if register & 8:
            conductance += 1 / PULL_KILOHM
            current += self.reference / PULL_KILOHM
        return current / conductance

    def _convert(self, channel: int) -> None:
        if channel == SUPPLY_CHANNEL:
            steps = self.at_the_pad() * STEPS / self.reference + self._noise.gauss(0, NOISE_STEPS)
            self._adc.channel_values[channel] = round(min(max(steps, 0), STEPS - 1))
        self._read(channel)

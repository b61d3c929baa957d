"""The buzzer: a piezo between its pin and ground, which sounds while the pin moves and is bent while it stays high."""

from .machine import Machine
from .wiring import BUZZER


class Buzzer:
    """Watches the wire."""

    def __init__(self, machine: Machine):
        self.machine = machine
        self._pin = machine.mcu.gpio[BUZZER]
        # The emulator gives an output's direction to the second channel of each PWM slice only.
        machine.mcu.pwm.gpio_direction |= 1 << BUZZER
        self.edges: list[float] = []
        self._high = False
        self._look()
        self._pwm_set = machine.mcu.pwm.gpio_set
        machine.mcu.pwm.gpio_set = self._pwm_moved

    @property
    def high(self) -> bool:
        """Whether the wire is driven high now."""
        return bool(self._pin.output_enable and self._pin.output_value)

    def hertz(self, since_ms: float) -> float:
        """The tone since then: rising edges over the time from the first to the last."""
        rising = [ms for ms in self.edges if ms >= since_ms]
        return 1000 * (len(rising) - 1) / (rising[-1] - rising[0]) if len(rising) > 1 else 0.0

    def _pwm_moved(self, index: int, value: bool) -> None:
        self._pwm_set(index, value)
        if index == BUZZER:
            self._look()

    def _look(self) -> None:
        if self.high and not self._high:
            self.edges.append(self.machine.ms)
        self._high = self.high

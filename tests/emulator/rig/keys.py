"""The three keys, each to ground: pressed is low; released floats, and the pin's own pull must make it high."""

from .machine import Machine
from .wiring import KEYS

# A small push button's contacts chatter for some milliseconds (common practice, no source).
BOUNCE_MS = (0.0, 0.4, 0.9, 1.7, 2.2, 3.8, 4.4)


class Keys:
    """ZERO, MARK and NEXT under a finger."""

    def __init__(self, machine: Machine):
        self.machine = machine
        self.down = {name: False for name in KEYS}

    def set(self, name: str, down: bool) -> None:
        """Moves a key's contact, without bounce."""
        pin = self.machine.mcu.gpio[KEYS[name]]
        self.down[name] = down
        if down:
            pin.set_input_value(False)
        else:
            pin.release_input()

    def press(self, name: str, ms: float = 120.0, bounce: bool = True) -> None:
        """Presses a key for `ms` from now on; the finger moves while the machine runs."""
        for delay, down in self._contact(ms, bounce):
            self.machine.after(delay, lambda down=down: self.set(name, down))

    @staticmethod
    def _contact(ms: float, bounce: bool) -> list[tuple[float, bool]]:
        if not bounce:
            return [(0.0, True), (ms, False)]
        pressing = [(t, i % 2 == 0) for i, t in enumerate(BOUNCE_MS)]
        releasing = [(ms + t, i % 2 == 1) for i, t in enumerate(BOUNCE_MS)]
        return pressing + releasing

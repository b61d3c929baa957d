"""Where the awake cycles go: the program counter looked at every so often, by function."""

from collections import Counter

from .machine import Machine

# Not a divisor of anything regular in the image.
EVERY_NANOSECONDS = 10_007.0


class Profile:
    """Counts samples by function from now on; and by function and its caller, as far as the link register tells."""

    def __init__(self, machine: Machine):
        self.machine = machine
        self.samples: Counter[str] = Counter()
        self._alarm = machine.alarm(self._look)
        self._alarm.schedule(EVERY_NANOSECONDS)

    def _look(self) -> None:
        core = self.machine.mcu.core
        if not core.waiting:
            self.samples[self.machine.image.function_at(core.pc)] += 1
        self._alarm.schedule(EVERY_NANOSECONDS)

    def shares(self) -> list[tuple[str, float]]:
        """Functions by share of the awake time, in percent, largest first."""
        total = sum(self.samples.values())
        return [(name, 100 * count / total) for name, count in self.samples.most_common()]

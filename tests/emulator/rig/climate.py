"""The humidity sensor, after the SHT4x data sheet (command table, conversion formulas, CRC-8 of polynomial 0x31)."""

from .machine import Machine

# Commands that measure, with the longest time each takes, ms.
MEASURE_MS = {0xFD: 8.3, 0xF6: 4.5, 0xE0: 1.6}
SERIAL_NUMBER, SOFT_RESET = 0x89, 0x94


class Climate:
    """The sensor on the bus, in air of `celsius` and `humidity_percent`."""

    def __init__(self, machine: Machine, celsius: float = 21.0, humidity_percent: float = 48.0):
        self.machine, self.celsius, self.humidity_percent = machine, celsius, humidity_percent
        self.plugged = True
        self.broken_sum = False
        self.measurements = 0
        self._ready_at = 0.0
        self._answer: list[int] = []

    def start(self, reading: bool) -> bool:
        """Addressed; a read before the measurement is done is not acknowledged."""
        if not self.plugged:
            return False
        return not reading or bool(self._answer) and self.machine.ms >= self._ready_at

    def write(self, value: int) -> bool:
        """A command."""
        if value in MEASURE_MS:
            self.measurements += 1
            self._ready_at = self.machine.ms + MEASURE_MS[value]
            temperature = round((self.celsius + 45) / 175 * 65535)
            humidity = round((self.humidity_percent + 6) / 125 * 65535)
            self._answer = self._words(temperature, humidity)
        elif value == SERIAL_NUMBER:
            self._ready_at = self.machine.ms
            self._answer = self._words(0x0F0E, 0x0D0C)
        elif value == SOFT_RESET:
            self._answer = []
        else:
            return False
        return True

    def read(self) -> int:
        """The next byte of the answer."""
        return self._answer.pop(0) if self._answer else 0xFF

    def stop(self) -> None:
        """The end of a transfer."""

    def _words(self, *words: int) -> list[int]:
        answer = []
        for word in words:
            pair = [word >> 8, word & 0xFF]
            answer += [*pair, checksum(bytes(pair)) ^ (0xFF if self.broken_sum else 0)]
        return answer


def checksum(data: bytes) -> int:
    """CRC-8, polynomial 0x31, start 0xFF; the data sheet's example: 0xBE 0xEF gives 0x92."""
    value = 0xFF
    for byte in data:
        value ^= byte
        for _ in range(8):
            value = (value << 1 ^ 0x31) & 0xFF if value & 0x80 else value << 1
    return value

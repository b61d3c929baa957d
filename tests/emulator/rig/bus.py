"""The two-wire bus: hands what the chip's I2C controller sends to the device of that address.

A transfer takes no time unless `timed` says so: most tests need the order of things, not the 22 us of a byte. Then it takes what the
controller's counts make of the processor's clock.
"""

from rp2040py.peripherals.i2c import I2CMode

from .machine import Machine

BITS_PER_BYTE = 9  # eight and the acknowledge


class Bus:
    """I2C0 and what is wired to it: `devices[address]` with `start`, `write`, `read` and `stop`."""

    def __init__(self, machine: Machine, timed: bool = False):
        self.machine, self.timed = machine, timed
        self.devices: dict[int, object] = {}
        self.bytes = 0
        self.refused: dict[int, int] = {}
        self._addressed = None
        self._i2c = machine.mcu.i2c[0]
        self._then = None
        self._alarm = machine.alarm(lambda: self._then())
        self._i2c.on_connect = self._connect
        self._i2c.on_write_byte = self._write
        self._i2c.on_read_byte = self._read
        self._i2c.on_stop = self._stop

    def _after_a_byte(self, action) -> None:
        self.bytes += 1
        if self.timed:
            self._then = action
            self._alarm.schedule(BITS_PER_BYTE * 1e9 / self.machine.power.bus_hertz())
        else:
            action()

    def _connect(self, address: int, mode: I2CMode) -> None:
        self.machine.power.check_bus()
        device = self.devices.get(address)
        acknowledged = device is not None and device.start(mode == I2CMode.READ)
        if not acknowledged:
            self.refused[address] = self.refused.get(address, 0) + 1
        self._addressed = device if acknowledged else None
        self._after_a_byte(lambda: self._i2c.complete_connect(acknowledged))

    def _write(self, value: int) -> None:
        acknowledged = self._addressed is not None and self._addressed.write(value)
        self._after_a_byte(lambda: self._i2c.complete_write(acknowledged))

    def _read(self, _more: bool) -> None:
        value = self._addressed.read() if self._addressed is not None else 0xFF
        self._after_a_byte(lambda: self._i2c.complete_read(value))

    def _stop(self) -> None:
        if self._addressed is not None:
            self._addressed.stop()
        self._addressed = None
        self._i2c.complete_stop()

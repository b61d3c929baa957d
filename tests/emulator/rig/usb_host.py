"""A computer on the USB port, as far as a serial device needs one: it enumerates, opens the port, sends and receives.

A host sees a device when it pulls D+ up, and a device may do that only with 5 V on the bus (USB 2.0, 7.1.5): `unpowered` holds the
times at which it did so without. The emulator's own host comes as soon as the controller is on; and it answers an armed OUT endpoint at once with nothing, and takes what an IN endpoint holds at once.
This one leaves an OUT endpoint armed until there is something to send, and an IN endpoint full while nobody reads, as the
bus would.
"""

from rp2040py.peripherals.usb import EP0_IN_BUFFER_CONTROL, EP0_OUT_BUFFER_CONTROL, USB_BUF_CTRL_AVAILABLE
from rp2040py.usb.cdc import USBCDC

from .machine import Machine
from .supply import Supply

SIE_CONTROL, PULL_UP, LINE_J = 0x4C, 1 << 16, 1 << 2
# A host holds a new device's bus down that long (USB 2.0, 7.1.7.5).
BUS_RESET_MS = 10.0
# A host waits so long after a request before the next (USB 2.0, 9.2.6.3, after SET_ADDRESS): the emulator's would ask within the acknowledgement.
PAUSE_MS = 2.0


class UsbHost(USBCDC):
    """The host's end of the serial line; `received` holds all that came."""

    def __init__(self, machine: Machine, supply: Supply):
        super().__init__(machine.mcu.usb_ctrl)
        self.machine, self.supply = machine, supply
        self.unpowered: list[float] = []
        self.pulled_up = False
        self._attached, self.usb.on_usb_enabled = self.usb.on_usb_enabled, None
        self._request, self.usb.send_setup_packet = self.usb.send_setup_packet, self._requested
        self._write, self.usb.write_uint32 = self.usb.write_uint32, self._written
        self.received = bytearray()
        self.connected = False
        self._armed: dict[int, int] = {}
        self._waiting = bytearray()
        self._reading = True
        self._untaken: tuple[int, int] | None = None
        self._offered = self.usb.dpram_updated
        self.usb.dpram_updated = self._offered_by_device
        self._control_read = self.usb.on_endpoint_read
        self.usb.on_endpoint_read = self._armed_by_device
        self._reset = self.usb.on_reset
        self.usb.on_reset = self._dropped_off
        self.on_device_connected = self._opened
        self.on_serial_data = self.received.extend

    def unplug(self) -> None:
        """Pulls the cable."""
        self.supply.plug(False)
        self._forget()

    def plug(self) -> None:
        """Puts it back."""
        self.supply.plug(True)

    def _requested(self, packet) -> None:
        self.machine.after(PAUSE_MS, lambda: self._request(packet))

    def _written(self, offset: int, value: int) -> None:
        self._write(offset, value)
        if offset == SIE_CONTROL and bool(value & PULL_UP) != self.pulled_up:
            self.pulled_up = not self.pulled_up
            if self.pulled_up and self.supply.usb:
                self._attached()
                self.machine.after(BUS_RESET_MS, self._let_go)
            elif self.pulled_up:
                self.unpowered.append(self.machine.ms)

    def _let_go(self) -> None:
        # The host no longer drives the bus, and the device's pull-up makes it a J (the emulator knows no line states by itself).
        self.usb._sie_status |= LINE_J

    def send(self, data: bytes) -> None:
        """Queues `data`; it goes out as fast as the device takes it."""
        self._waiting += data
        self._pump()

    def is_sent(self) -> bool:
        """Whether the device has taken all that was to be sent."""
        return not self._waiting

    def take(self) -> bytes:
        """What has come since the last call."""
        taken = bytes(self.received)
        self.received.clear()
        return taken

    def stop_reading(self) -> None:
        """From now on the device's packets stay where they are: the port is open, and no program reads from it."""
        self._reading = False

    def read_again(self) -> None:
        """Takes what waits, and from now on everything."""
        self._reading = True
        if self._untaken:
            untaken, self._untaken = self._untaken, None
            self._offered(*untaken)

    @property
    def is_full(self) -> bool:
        """Whether the device holds a packet that nobody has taken."""
        return self._untaken is not None

    def _opened(self) -> None:
        self.connected = True
        self._pump()

    def _dropped_off(self) -> None:
        self.pulled_up = False
        self._forget()

    def _forget(self) -> None:
        self._armed.clear()
        self._waiting.clear()
        self._untaken = None
        self.connected = False
        self._reset()

    def _offered_by_device(self, offset: int, value: int) -> None:
        # Left as the device wrote it, available, until it is taken.
        serial = EP0_IN_BUFFER_CONTROL + 8 * self._in_endpoint
        if self.connected and not self._reading and offset == serial and value & USB_BUF_CTRL_AVAILABLE:
            self._untaken = (offset, value)
        else:
            self._offered(offset, value)

    def _armed_by_device(self, endpoint: int, size: int) -> None:
        if endpoint == 0:
            self._control_read(endpoint, size)
            return
        self._armed[endpoint] = size
        self._set_available(endpoint, True)
        self._pump()

    def descriptor(self, kind: int, index: int = 0, language: int = 0) -> bytes:
        """A descriptor of the device, which must be connected."""
        answer = bytearray()
        write = self.usb.on_endpoint_write

        def came(endpoint: int, data: bytes | bytearray) -> None:
            if endpoint == 0:
                answer.extend(data)
            else:
                write(endpoint, data)

        self.usb.on_endpoint_write = came
        self.usb.send_setup_packet(bytes([0x80, 6, index, kind]) + language.to_bytes(2, "little") + b"\xff\0")
        try:
            self.machine.run_until(lambda: len(answer) > 1 and len(answer) >= answer[0], 200)
        finally:
            self.usb.on_endpoint_write = write
        return bytes(answer[: answer[0]])

    def text(self, index: int) -> str:
        """A string descriptor."""
        return self.descriptor(3, index, 0x0409)[2:].decode("utf-16-le")

    def _pump(self) -> None:
        size = self._armed.get(self._out_endpoint, 0)
        if self.connected and size and self._waiting:
            del self._armed[self._out_endpoint]
            packet, self._waiting = self._waiting[:size], self._waiting[size:]
            self._set_available(self._out_endpoint, False)
            self.usb.endpoint_read_done(self._out_endpoint, packet)

    def _set_available(self, endpoint: int, available: bool) -> None:
        # Straight into the buffer memory: the emulator clears the bit when it sees the endpoint armed.
        at = EP0_OUT_BUFFER_CONTROL + 8 * endpoint
        memory = self.machine.mcu.usb_dpram
        word = int.from_bytes(memory[at : at + 4], "little") & ~USB_BUF_CTRL_AVAILABLE
        memory[at : at + 4] = (word | (USB_BUF_CTRL_AVAILABLE if available else 0)).to_bytes(4, "little")

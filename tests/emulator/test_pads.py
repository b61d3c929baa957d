"""What each pad of the chip does, electrically, and that the image itself has said so."""

import pytest

from knitter import FIRST_CAKE, Knitter
from loads import steady
from rig import wiring
from rig.bench import Bench
from rig.module import noise_counts
from rig.pads import PADS, UNUSED, Written, pad, table
from rig.wiring import BORROWED, LAMP, REGULATOR, SUPPLY

# Registers, by block, that the program relies on, as offsets (RP2040 data sheet, the blocks' lists of registers).
PADS_OF_PINS = set(range(4, 4 + 4 * PADS, 4))
RELIED_ON = {
    "PADS_BANK0": PADS_OF_PINS,
    # The functions of the pins in use, and whose edges wake the core: converter, keys, 5 V on USB.
    "IO_BANK0_BASE": {8 * gpio + 4 for gpio in table()} | {0x100 + gpio // 8 * 4 for gpio in (3, 10, 11, 12, 24)},
    # Controller; target, counts of the clock in fast mode, spikes, hold time of data, on.
    "I2C0": {0x00, 0x04, 0x1C, 0x20, 0x6C, 0x7C, 0xA0},
    # Slice 7: control, divider, counter, level, top.
    "PWM_BASE": {0x14 * 7 + register for register in (0x00, 0x04, 0x08, 0x0C, 0x10)},
    "ADC": {0x00},
    # Control, load, tick.
    "WATCHDOG": {0x00, 0x04, 0x2C},
    # Reference, system, peripheral, USB and ADC clocks with their dividers; no resuscitation; what is gated awake, and asleep.
    "CLOCKS_BASE": {0x30, 0x34, 0x3C, 0x40, 0x48, 0x54, 0x58, 0x60, 0x64, 0x78, 0xA0, 0xA4, 0xA8, 0xAC},
    # Crystal: range, how long it takes; PLLs: reference, power, feedback, dividers.
    "XOSC_BASE": {0x00, 0x0C},
    "PLL_SYS_BASE": {0x00, 0x04, 0x08, 0x0C},
    "PLL_USB_BASE": {0x00, 0x04, 0x08, 0x0C},
    # The core's voltage, and the level that resets it.
    "VREG": {0x00, 0x04},
    # When an alarm comes, what it leaves, and whether it interrupts.
    "TIMER_BASE": {0x10, 0x34, 0x38},
    # What a reset by the watchdog takes along, and which blocks are out of reset.
    "PSM_BASE": {0x08},
    "RESETS_BASE": {0x00},
    # Main and bus control, interrupts, whose pins, power.
    "USB": {0x40, 0x4C, 0x90, 0x74, 0x78},
}


def bench(image, **options) -> tuple[Bench, Written]:
    made = Bench(image, steady(1000), **options)
    return made, Written(made.machine)


def test_every_pad_does_what_the_table_says(image):
    rig, _ = bench(image)
    rig.run(1500)
    rows = table()
    assert len(rows) == 12, "the table was found"
    assert {gpio: pad(rig.machine, gpio).row for gpio in range(PADS)} == {gpio: rows.get(gpio, UNUSED) for gpio in range(PADS)}
    for gpio in range(PADS):
        set_as = pad(rig.machine, gpio)
        assert (set_as.drive, set_as.fast, set_as.hysteresis) == (4, False, True), f"GPIO {gpio}"


def test_the_rig_is_wired_as_the_table_says():
    on_board = {wiring.REGULATOR, wiring.VBUS, wiring.LAMP, wiring.SUPPLY}
    parts = {wiring.CONVERTER_CLOCK, wiring.CONVERTER_DATA, wiring.I2C_SDA, wiring.I2C_SCL, wiring.BUZZER, *wiring.KEYS.values()}
    assert on_board | parts == set(table())
    assert wiring.BORROWED not in table()


def test_a_module_on_less_voltage_is_noisier():
    """HX711 data sheet: 50 nV at its input are 25 counts of 2^24 over 4.3 V at gain 128 (by hand)."""
    assert noise_counts("5 V", 10) == pytest.approx(25.0, abs=0.1)
    assert noise_counts("3.3 V", 10) == pytest.approx(33.6, abs=0.1)
    assert noise_counts("5 V", 80) == pytest.approx(45.0, abs=0.1)


def test_every_register_that_is_relied_on_was_set_by_the_image(image):
    rig, written = bench(image, usb=True)
    rig.run(1500)
    names = {block for block, _ in written.registers}
    for block, registers in RELIED_ON.items():
        block = next((name for name in names if name.startswith(block)), block)
        assert registers - written.of(block) == set(), f"{block}: left as reset left them"


def test_the_regulator_runs_at_a_fixed_frequency_and_the_lamp_is_off(image):
    rig, _ = bench(image)
    rig.run(1500)
    pins = rig.machine.mcu.gpio
    assert pins[REGULATOR].output_enable and pins[REGULATOR].output_value
    assert pins[LAMP].output_enable and not pins[LAMP].output_value


def test_the_supply_is_read_through_a_pad_that_does_not_pull(image, ready):
    """With the pad's pull beside the divider 4.5 V would read as less than 2.3, and nothing would be noted."""
    knitter = Knitter(image, flash=ready, millivolts=4500)
    supply = knitter.bench.supply
    knitter.mark(FIRST_CAKE - 4.4)
    assert supply.at_the_pad() == pytest.approx(4500 / 3)
    assert pad(knitter.machine, SUPPLY).input == "off"


def test_enumeration_borrows_only_the_pad_that_nothing_is_wired_to(image):
    rig, written = bench(image, usb=True)
    driven: list[float] = []
    pins = rig.machine.mcu.gpio
    pins[BORROWED].add_listener(lambda *_: driven.append(rig.machine.ms) if pins[BORROWED].output_enable else None)
    rig.machine.run_until(lambda: rig.usb.connected, 2000)
    assert 8 * BORROWED + 4 in written.of("IO_BANK0_BASE"), "it was borrowed"
    rig.run(100)
    assert driven == [], "and never drove"
    assert pad(rig.machine, BORROWED).row == UNUSED, "and is back"


def test_the_buzzer_is_silent_after_every_tone(image, ready):
    """Refusals one after the other, each ending at another moment of the wave: the wire must be low after each."""
    knitter = Knitter(image, flash=ready)
    rig = knitter.bench
    knitter.put(FIRST_CAKE - 4.4)
    knitter.see_steady(FIRST_CAKE - 4.4)
    rig.supply.set(2500)
    rig.run(1500)
    assert not rig.buzzer.high
    for press in range(8):
        before = rig.machine.ms
        rig.keys.press("mark", 120 + press * 0.37)
        rig.run(800 + press * 0.13)
        assert rig.buzzer.hertz(before) == pytest.approx(900, rel=0.02), rig.page().words
        assert not rig.buzzer.high, f"stuck after {press + 1} tones"
        rig.keys.press("next", 120)
        rig.run(500)


def test_the_converter_is_clocked_with_room_to_spare(image):
    """0.2 us is the least; what comes close to it on a tick's edge would be too short on a chip that runs a little fast."""
    rig = Bench(image, steady(1000))
    rig.run(5000)
    assert len(rig.converter.read) > 30
    assert rig.converter.shortest_us >= 1.0
    assert rig.converter.longest_high_us < 10


def test_a_pico_w_is_refused_by_name(image):
    rig = Bench(image, steady(1000), board="pico-w")
    rig.wait_for("Pico W", 1500)
    rig.run(8000)
    assert rig.converter.read == [], "it does not weigh"
    assert rig.machine.resets == [] and rig.page().says("Pico W"), "and it says so for good"
    assert rig.flash.operations == []

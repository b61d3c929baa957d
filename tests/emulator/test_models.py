"""The models by themselves, against the data sheets they stand for: a wrong model would prove a wrong driver right."""

import struct
import zlib

import pytest

from figures import crate
from rig import png, reader
from rig.bench import Bench
from rig.climate import checksum
from rig.display import SIZE, WIDTH, Display
from rig.flash import torn
from rig.wiring import CONVERTER_CLOCK, CONVERTER_DATA, SUPPLY

SIO_GPIO_IN, SIO_OUT_SET, SIO_OUT_CLEAR, SIO_ENABLE_SET = 0xD000_0004, 0xD000_0014, 0xD000_0018, 0xD000_0024
IO_CONTROL, SIO_FUNCTION = 0x4001_4004, 5
PAD, INPUT_ON = 0x4001_C004, 0x56


class Wires:
    """A hand on the converter's wires, in the place of the firmware."""

    def __init__(self, bench: Bench):
        self.bench, self.mcu = bench, bench.machine.mcu
        for pin in (CONVERTER_CLOCK, CONVERTER_DATA):
            self.mcu.write_uint32(IO_CONTROL + 8 * pin, SIO_FUNCTION)
            self.mcu.write_uint32(PAD + 4 * pin, INPUT_ON)
        self.mcu.write_uint32(SIO_ENABLE_SET, 1 << CONVERTER_CLOCK)

    def data(self) -> int:
        return self.mcu.read_uint32(SIO_GPIO_IN) >> CONVERTER_DATA & 1

    def pulse(self, high_us: float = 1.0) -> int:
        self.mcu.write_uint32(SIO_OUT_SET, 1 << CONVERTER_CLOCK)
        self.bench.run(high_us / 1000)
        bit = self.data()
        self.mcu.write_uint32(SIO_OUT_CLEAR, 1 << CONVERTER_CLOCK)
        self.bench.run(0.001)
        return bit

    def read(self, pulses: int = 25) -> int:
        bits = [self.pulse() for _ in range(pulses)]
        return int("".join(map(str, bits[:24])), 2)


def bench(values=(0,), **options) -> tuple[Bench, Wires]:
    made = Bench(None, lambda n, ms: values[n % len(values)], **options)
    return made, Wires(made)


@pytest.mark.parametrize("counts, word", [(0, 0), (1, 1), (-1, 0xFF_FFFF), (0x7F_FFFF, 0x7F_FFFF), (-0x80_0000, 0x80_0000)])
def test_converter_shifts_out_twenty_four_bits_most_significant_first(counts, word):
    rig, wires = bench([counts])
    assert wires.data() == 1
    rig.run(399)
    assert wires.data() == 1, "not before it has settled"
    rig.run(2)
    assert wires.data() == 0
    assert wires.read() == word
    assert wires.data() == 1, "the 25th pulse ends it"
    assert rig.converter.read[-1][1] == counts
    assert rig.converter.gain == "A128"


@pytest.mark.parametrize("pulses, gain", [(25, "A128"), (26, "B32"), (27, "A64")])
def test_converter_takes_gain_from_the_number_of_pulses(pulses, gain):
    rig, wires = bench([5])
    rig.run(401)
    wires.read(pulses)
    assert rig.converter.gain == gain


@pytest.mark.parametrize("high_us, down", [(55.0, False), (65.0, True)])
def test_converter_powers_down_after_sixty_microseconds(high_us, down):
    rig, wires = bench([5])
    rig.run(401)
    for _ in range(3):
        wires.pulse()
    wires.pulse(high_us)
    assert rig.converter.power_downs == down
    assert bool(rig.converter.high_over_limit) == down
    if not down:
        assert rig.converter.longest_high_us == pytest.approx(high_us, abs=0.1)


def test_converter_starts_anew_when_its_clock_falls():
    rig, wires = bench([5])
    rig.run(401)
    wires.read()
    wires.mcu.write_uint32(SIO_OUT_SET, 1 << CONVERTER_CLOCK)
    rig.run(1000)
    assert not rig.converter.powered and wires.data() == 1
    assert rig.converter.high_over_limit == [], "this was meant"
    wires.mcu.write_uint32(SIO_OUT_CLEAR, 1 << CONVERTER_CLOCK)
    rig.run(399)
    assert wires.data() == 1
    rig.run(2)
    assert wires.data() == 0


def test_converter_counts_conversions_that_nobody_took():
    rig, wires = bench([5, 6, 7])
    rig.run(650)
    assert rig.converter.missed == 2
    assert wires.read() == 7, "the last one stands"


def test_converter_faults_are_what_they_say():
    rig, wires = bench([5])
    rig.run(401)
    rig.converter.stick("high")
    rig.run(300)
    assert wires.data() == 1
    rig.converter.stick("low")
    assert wires.read() == 0 and wires.data() == 0
    rig.converter.mend()
    rig.converter.ones()
    rig.run(101)
    assert wires.read() == 0xFF_FFFF
    rig.converter.unplug()
    rig.run(500)
    count = rig.converter.conversions
    rig.converter.mend()
    rig.run(401)
    assert rig.converter.conversions == count + 1


def send(display: Display, control: int, *payload: int) -> None:
    assert display.start(False)
    for byte in (control, *payload):
        assert display.write(byte)
    display.stop()


def test_display_fills_a_window_row_by_row():
    display = Bench(None).display
    send(display, 0x00, 0x20, 0x00, 0x21, 10, 12, 0x22, 2, 3)
    display.chip_memory[:] = bytes(SIZE)
    send(display, 0x40, *range(1, 8))
    expected = bytearray(SIZE)
    for n, at in enumerate([(2, 10), (2, 11), (2, 12), (3, 10), (3, 11), (3, 12)], start=1):
        expected[at[0] * WIDTH + at[1]] = n
    expected[2 * WIDTH + 10] = 7  # the window is full, and it begins again
    assert display.frames[-1].memory == expected
    assert display.unknown == []


def test_display_in_page_mode_stays_in_its_page():
    display = Bench(None).display
    send(display, 0x00, 0x20, 0x02, 0xB5, 0x0E, 0x17)
    display.chip_memory[:] = bytes(SIZE)
    send(display, 0x40, 1, 2, 3)
    expected = bytearray(SIZE)
    expected[5 * WIDTH + 126 : 5 * WIDTH + 128] = b"\x01\x02"
    expected[5 * WIDTH] = 3
    assert display.frames[-1].memory == expected


def test_display_is_dark_until_it_is_on_and_its_pump_runs():
    display = Bench(None).display
    assert display.seen() == bytes(SIZE) and any(display.memory), "at power-on its memory holds noise"
    send(display, 0x80, 0xAF)
    assert not display.lit
    send(display, 0x00, 0x8D, 0x14, 0x81, 0x40)
    assert display.lit and display.contrast == 0x40
    display.unplug()
    assert not display.start(False) and not display.lit
    display.plug()
    assert display.start(False) and not display.lit


def test_picture_holds_the_pixels(tmp_path):
    memory = bytearray(SIZE)
    memory[3 * WIDTH + 100] = 0b100
    png.write(tmp_path / "a.png", bytes(memory), scale=1)
    raw = (tmp_path / "a.png").read_bytes()
    at = raw.index(b"IDAT")
    size = struct.unpack(">I", raw[at - 4 : at])[0]
    rows = zlib.decompress(raw[at + 4 : at + 4 + size])
    lit = [(x, y) for y in range(64) for x in range(128) if rows[y * 17 + 1 + x // 8] >> (7 - x % 8) & 1]
    assert lit == [(100, 3 * 8 + 2)]


def test_climate_checksum_is_the_data_sheets():
    assert checksum(b"\xbe\xef") == 0x92  # SHT4x data sheet, "checksum calculation"


def test_climate_answers_when_it_has_measured():
    rig = Bench(None, climate=True)
    sensor = rig.climate
    assert sensor.start(False) and sensor.write(0xFD)
    assert not sensor.start(True), "not yet"
    rig.run(9)
    assert sensor.start(True)
    raw = [sensor.read() for _ in range(6)]
    celsius = -45 + 175 * (raw[0] << 8 | raw[1]) / 65535
    humidity = -6 + 125 * (raw[3] << 8 | raw[4]) / 65535
    assert celsius == pytest.approx(21.0, abs=0.01) and humidity == pytest.approx(48.0, abs=0.01)
    assert raw[2] == checksum(bytes(raw[:2])) and raw[5] == checksum(bytes(raw[3:5]))


def test_key_is_low_while_pressed_and_floats_when_released():
    rig = Bench(None)
    pin = rig.machine.mcu.gpio[11]
    pin.pad_value = 0b1001010  # input on, pull-up, as the firmware must set it
    assert pin.input_value
    rig.keys.press("mark", 50, bounce=False)
    rig.run(1)
    assert not pin.input_value
    rig.run(51)
    assert pin.input_value
    pin.pad_value = 0b1000110  # with the reset value's pull-down a released key would read as pressed
    assert not pin.input_value


def test_key_chatters():
    rig = Bench(None)
    levels = []
    pin = rig.machine.mcu.gpio[10]
    pin.pad_value = 0b1001010
    rig.keys.press("zero", 50)
    for _ in range(80):
        rig.run(1)
        levels.append(pin.input_value)
    assert sum(a != b for a, b in zip(levels, levels[1:])) > 4
    assert levels[-1] and not levels[20]


def test_supply_reads_as_a_third_of_the_rail():
    rig = Bench(None, millivolts=4950)
    rig.machine.mcu.gpio[SUPPLY].pad_value = 0  # no pull
    assert round(rig.supply.at_the_pad()) == 1650
    rig.machine.mcu.gpio[SUPPLY].pad_value = 4  # the pull-down that every pad has after reset
    assert rig.supply.at_the_pad() < 850


@pytest.mark.parametrize("tear", ["before", "prefix", "bits", "after"])
def test_torn_flash_only_holds_bits_of_before_or_after(tear):
    before, after = bytes([0xFF] * 64), bytes(range(64))
    for seed in range(20):
        held = torn(before, after, tear, seed)
        assert all((h ^ b) & ~(a ^ b) & 0xFF == 0 for h, b, a in zip(held, before, after))
    assert tear != "before" or torn(before, after, tear, 1) == before
    assert tear != "after" or torn(before, after, tear, 1) == after


def test_torn_page_loses_something_of_what_it_was_to_hold():
    before, after = b"\xff" * 256, b"\x12\x34\x56" + b"\xff" * 253
    assert all(torn(before, after, "prefix", seed) != after for seed in range(50))


def test_crate_names_are_read_from_mangled_names():
    """The names are made after the rules of Rust's second mangling scheme (RFC 2603)."""
    assert crate("_RNvNtCs1a2B_15yarn_scale_core4math4sqrt") == "yarn_scale_core"
    assert crate("_RNCNvMs_NtCs9_7ssd13064mode3foo0Cs1_4main") == "ssd1306"
    assert crate("_ZN4core9panicking5panic17h0123456789abcdefE") == "core"
    assert crate("__aeabi_fadd") == "compiler_builtins"
    assert crate("Reset") == "start-up"


def put(memory: bytearray, type_face: reader.Font, text: str, x: int, y: int, dark: bool = False) -> None:
    """Draws `text` as the device does: glyph after glyph, the font's gap between two."""
    by_character = {glyph.character: glyph for glyph in type_face.glyphs}
    for character in text:
        for column in by_character[character].columns:
            for row in range(type_face.rows):
                if column >> row & 1:
                    at, bit = (y + row) // 8 * WIDTH + x, 1 << (y + row) % 8
                    memory[at] = memory[at] & ~bit if dark else memory[at] | bit
            x += 1
        x += type_face.gap


@pytest.mark.parametrize("number", ["-102.4", "16.9", "7.3"])
@pytest.mark.parametrize("steady", [False, True])
def test_reader_reads_what_was_drawn(steady, number):
    text, figures = reader.font("TEXT"), reader.font("FIGURES")
    memory = bytearray(SIZE)
    put(memory, reader.font("HEADING"), "Heel 1", 2, 0)
    put(memory, figures, "✓" if steady else "~", 0, 17)
    put(memory, figures if steady else figures.outlined(), number, 32, 17)
    put(memory, text, "used 4.1 ±0.1", 0, 43)
    for y in range(53, 64):
        for x in range(37, 91):
            memory[y // 8 * WIDTH + x] |= 1 << y % 8
    put(memory, text, "MARK", 50, 54, dark=True)
    page = reader.Page(bytes(memory))
    assert (page.number, page.steady) == (number, steady)
    assert page.words == ["Heel 1", "used 4.1 ±0.1", "MARK"]
    assert page.keys == ["MARK"] and page.highlighted == ""
    memory[44 // 8 * WIDTH + 5] ^= 0xFF
    assert not reader.Page(bytes(memory)).says("used 4.1"), "a picture that is nearly a text is none"


def test_reader_reads_nothing_on_a_dark_display():
    page = reader.Page(bytes(SIZE))
    assert page.number is None and page.words == []

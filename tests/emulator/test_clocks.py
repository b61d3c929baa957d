"""Clocks by need: the rig's model of them against the data sheet, each of its faults, and what the image does with them on cells."""

import pytest

from knitter import FIRST_CAKE, Knitter
from loads import steady
from rig.bench import Bench
from rig.branch import branch
from rig.clocks import CRYSTAL_HERTZ, RING_HERTZ
from rig.wiring import KEYS

CLOCKS, CRYSTAL, PLL_SYS, IO, RING = 0x4000_8000, 0x4002_4000, 0x4002_8000, 0x4001_4000, 0x4006_0000
REF_CTRL, SYS_CTRL, SYS_DIV = CLOCKS + 0x30, CLOCKS + 0x3C, CLOCKS + 0x40
CONTROL, STATUS, DORMANT, START_UP = CRYSTAL, CRYSTAL + 4, CRYSTAL + 8, CRYSTAL + 12
ENABLE, STOP, STABLE = 0xFAB_AA0, 0x636F_6D61, 1 << 31
LATCHES, ARMED = 0xF0, 0x160
NEXT_FELL = 1 << 4 * (KEYS["next"] % 8) + 2
NEXT_REGISTERS = 4 * (KEYS["next"] // 8)
# A page, from the finger's leaving to the last of it on the panel.
PAGE_MS = 100.0


@pytest.fixture
def rig() -> Bench:
    """A chip without a program, its crystal running and clk_ref on it."""
    bench = Bench(None)
    write = bench.machine.mcu.write_uint32
    write(START_UP, 281)
    write(CONTROL, ENABLE)
    bench.run(10)
    write(REF_CTRL, 2)
    return bench


def start_pll(bench: Bench) -> None:
    """The fast clock as the data sheet's table has it: 12 MHz x 125 / 6 / 2."""
    write = bench.machine.mcu.write_uint32
    for offset, value in ((8, 125), (4, 0x0C), (12, 6 << 16 | 2 << 12), (4, 0x04)):
        write(PLL_SYS + offset, value)


def test_clocks_follow_their_multiplexers_and_dividers(rig):
    power, write = rig.machine.power, rig.machine.mcu.write_uint32
    assert Bench(None).machine.power.sys_hertz == RING_HERTZ
    assert power.sys_hertz == CRYSTAL_HERTZ
    start_pll(rig)
    assert power.pll_sys.hertz == 0, "it has not locked yet"
    rig.run(0.2)
    write(SYS_CTRL, 1)
    assert power.sys_hertz == 125e6 and rig.machine.mcu.read_uint32(PLL_SYS) & 1 << 31
    write(SYS_DIV, 0x200)
    assert power.sys_hertz == 62.5e6
    assert power.faults == []


def test_the_crystal_takes_the_time_it_is_given(rig):
    bench = Bench(None)
    write, read = bench.machine.mcu.write_uint32, bench.machine.mcu.read_uint32
    write(START_UP, 281)
    write(CONTROL, ENABLE)
    bench.run(5.9)  # 281 x 256 / 12 MHz = 5.995 ms
    assert not read(STATUS) & STABLE
    bench.run(0.2)
    assert read(STATUS) & STABLE


def test_dormant_everything_stands_until_an_armed_key_falls(rig):
    power, write = rig.machine.power, rig.machine.mcu.write_uint32
    rig.keys.set("next", False)
    write(IO + LATCHES + NEXT_REGISTERS, 0xFFFF_FFFF)
    write(IO + ARMED + NEXT_REGISTERS, NEXT_FELL)
    write(RING, 0xD1E_AA0)
    before = rig.machine.mcu.timer._micros()
    write(CRYSTAL + 8, STOP)
    rig.run(10_000)
    assert power.dormant
    rig.keys.set("next", True)
    rig.run(5)
    assert power.dormant, "the crystal starts up"
    rig.run(2)
    assert not power.dormant
    assert rig.machine.mcu.timer._micros() - before < 2_000, "the timer has stood"
    assert power.faults == []


def faults_of(bench: Bench, *writes: tuple[int, int]) -> str:
    """What a few writes leave in the list of faults."""
    for address, value in writes:
        bench.machine.mcu.write_uint32(address, value)
    return " ".join(bench.machine.power.faults)


def test_what_no_chip_forgives_is_a_fault(rig):
    assert "no pin armed" in faults_of(rig, (DORMANT, STOP))
    assert "with the ring oscillator on" in faults_of(rig)


def test_a_stopped_pll_under_the_processor_is_a_fault(rig):
    start_pll(rig)
    rig.run(0.2)
    assert faults_of(rig, (SYS_CTRL, 1)) == ""
    assert "no clock any more" in faults_of(rig, (PLL_SYS + 4, 0x2D))


def test_an_old_edge_under_an_armed_pin_is_a_fault(rig):
    rig.keys.set("next", True)
    rig.keys.set("next", False)
    assert "an old edge is latched" in faults_of(rig, (IO + ARMED + NEXT_REGISTERS, NEXT_FELL))


def test_a_watchdog_without_the_ring_oscillator_locks_the_chip(rig):
    faults_of(rig, (RING, 0xD1E_AA0))
    rig.machine.mcu.watchdog.on_watchdog_trigger()
    assert "locked until the power goes" in faults_of(rig) and rig.machine.resets == []


def test_a_press_shows_its_whole_page_within_a_tenth_of_a_second(image):
    bench = Bench(image, steady(1000), bus_timed=True)
    bench.run(2_000)
    power = bench.machine.power
    assert power.sys_hertz == CRYSTAL_HERTZ and not power.pll_sys.running and not power.pll_usb.running
    for _page in range(3):
        bench.keys.press("next", 100, bounce=False)
        bench.run(100)
        left = bench.machine.ms
        bench.run(400)
        shown = [frame.ms for frame in bench.display.frames if frame.ms > left]
        assert shown and max(shown) - left < PAGE_MS, [round(ms - left) for ms in shown]
    assert power.sys_hertz == CRYSTAL_HERTZ
    assert bench.converter.missed == 0 and bench.unexpected() == []


# Around the write that switches: before it, while a PLL locks, and right behind it, ms.
AROUND_A_SWITCH = (-0.11, -0.03, 0.0, 0.03)


@pytest.mark.parametrize("share", ["some", pytest.param("all", marks=pytest.mark.long)])
def test_no_press_is_lost_at_a_switch_of_the_clock(image, ready, share):
    """A load grows: pages are drawn fast, samples are read slowly. At each switch NEXT goes down, for 60 ms."""
    knitter = Knitter(image, flash=ready)
    bench, power = knitter.bench, knitter.machine.power
    knitter.put(0)
    bench.run(3_000)
    for step in range(5):
        bench.machine.after(1_200 * step, lambda step=step: setattr(knitter, "grams", FIRST_CAKE + 3 * step))
    begin = bench.machine.ms

    def switches() -> list[float]:
        since = len(power.switches)
        bench.run(6_000)
        return [ms for ms, _ in power.switches[since:]]

    moments = [ms + apart for ms in branch(switches) for apart in AROUND_A_SWITCH]
    assert len(moments) >= 40
    for moment in moments if share == "all" else moments[:: len(moments) // 6]:

        def pressed(moment=moment) -> None:
            bench.run(moment - begin)
            assert bench.page().number is not None
            bench.keys.press("next", 60, bounce=False)
            bench.run(500)
            assert bench.page().number is None, f"the press at {moment:.3f} ms turned no page"
            assert bench.unexpected() == []

        branch(pressed)

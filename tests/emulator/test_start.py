"""From power-on to the first conversion, as the boot ROM and the boot loader do it."""

import hashlib

import pytest

from loads import steady
from rig.bench import Bench
from rig.image import uf2_contents
from rig.machine import Machine
from rig.wiring import FLASH_SIZE

SECTOR = 4096
# Settling takes the converter four conversions; the rest is the image's share.
FIRST_CONVERSION_MS = 400.0


def test_starts_by_the_boot_rom_and_reads_the_first_conversion(image):
    bench = Bench(image, steady(1000))
    bench.machine.run_until(lambda: bench.converter.read, 1000)
    assert bench.converter.read[0][0] < FIRST_CONVERSION_MS + 120
    assert bench.display.lit, "the display is on by then"
    assert bench.machine.resets == []
    assert bench.unexpected() == []


def test_does_not_start_with_a_damaged_second_stage(image):
    flash = Machine(image).flash()
    damaged = bytearray(flash)
    damaged[10] ^= 1
    bench = Bench(None, steady(1000))
    bench.machine.mcu.flash[:FLASH_SIZE] = bytes(damaged)
    bench.machine.mcu.core.reset()
    bench.run(300)
    assert not bench.display.lit, "the boot ROM checks the second stage, and this one is wrong"


def test_boot_loader_file_holds_the_same_image(image):
    from_uf2, from_elf = bytearray(b"\xff" * FLASH_SIZE), bytearray(b"\xff" * FLASH_SIZE)
    blocks = uf2_contents(image.path.with_suffix(".uf2"))
    offsets = [offset for offset, _ in blocks]
    assert offsets == list(range(0, SECTOR * (offsets[-1] // SECTOR + 1), 256)), "no gap, and whole sectors"
    for offset, data in blocks:
        from_uf2[offset : offset + len(data)] = data
    image.into(from_elf)
    used = max(offset + len(data) for offset, data in image.flash)
    assert from_uf2[:used] == from_elf[:used]
    assert from_uf2[used:].strip(b"\xff\x00") == b"", "padding only"
    assert max(offset for offset, _ in blocks) < 1024 * 1024, "a new image leaves the journal alone"


def test_starts_from_the_boot_loader_file(image):
    flash = bytearray(b"\xff" * FLASH_SIZE)
    for offset, data in uf2_contents(image.path.with_suffix(".uf2")):
        flash[offset : offset + len(data)] = data
    bench = Bench(None, steady(1000))
    bench.machine.mcu.flash[:FLASH_SIZE] = bytes(flash)
    bench.machine.mcu.core.reset()
    bench.machine.run_until(lambda: bench.converter.read, 1000)
    assert bench.display.lit


def digest(image, seconds: int) -> str:
    bench = Bench(image, steady(123_456))
    bench.run(seconds * 1000)
    state = bench.machine.flash() + bytes(bench.machine.mcu.sram)
    state += b"".join(frame.memory for frame in bench.display.frames) + repr(bench.machine.clock.nanos).encode()
    return hashlib.sha256(state).hexdigest()


@pytest.mark.parametrize("seconds", [3])
def test_two_runs_are_the_same_to_the_last_bit(image, seconds):
    assert digest(image, seconds) == digest(image, seconds)

"""What the compiler calls by name, in the image: floating point against IEEE 754, long division, copying."""

import math
import random
import struct

import pytest

from rig.image import Image
from rig.machine import Machine
from rig.wiring import RAM_BASE, RAM_SIZE

STACK, HERE, START = RAM_BASE + RAM_SIZE - 1024, RAM_BASE + 0x1000, 96
SIGN, FRACTION, INFINITE = 1 << 31, (1 << 23) - 1, 0xFF << 23


class Calls:
    """Calls functions of the image, with nothing else running."""

    def __init__(self, image: Image):
        self.image = image
        self.machine = Machine(image)
        self.core = self.machine.mcu.core

    def __call__(self, name: str, *arguments: int) -> tuple[int, int, int, int]:
        """The first four registers after `name` has come back."""
        core = self.core
        back = self.image.address("Reset") & ~1
        for number, argument in enumerate(arguments):
            core.registers[number] = argument
        core.registers[13], core.lr, core.pc = STACK, back | 1, self.image.address(name) & ~1
        while core.pc & ~1 != back:
            core.execute_instruction()
        return tuple(core.registers[number] & 0xFFFF_FFFF for number in range(4))


@pytest.fixture(scope="module")
def call(image) -> Calls:
    return Calls(image)


def number(bits: int) -> float:
    """The single precision number with these bits."""
    return struct.unpack("<f", struct.pack("<I", bits))[0]


def bits(value: float) -> int:
    """The nearest single precision number's. A double holds sums, products and quotients of two so well that rounding it once more
    gives what rounding once would (Figueroa: enough with 2 p + 2 digits for p)."""
    try:
        return struct.unpack("<I", struct.pack("<f", value))[0]
    except OverflowError:
        return INFINITE | (SIGN if value < 0 else 0)


def operands(count: int) -> list[tuple[int, int]]:
    """Pairs at the edges with each other, and any."""
    chance = random.Random(6000)
    exponents, fractions = [0, 1, 26, 27, 127, 128, 151, 252, 253, 254, 255], [0, 1, 0x40_0000, FRACTION]
    edges = [exponent << 23 | fraction for exponent in exponents for fraction in fractions]
    edges += [edge | SIGN for edge in edges]
    pairs = [(a, b) for a in edges for b in edges]
    for _ in range(count):
        a = chance.getrandbits(32)
        near = (a + (chance.randrange(32) << 23) & 0xFFFF_FFFF) ^ chance.getrandbits(32) & (SIGN | FRACTION)
        pairs += [(a, chance.getrandbits(32)), (a, near)]
    return pairs


@pytest.mark.parametrize(
    "name, operation",
    [
        ("__aeabi_fadd", lambda a, b: a + b),
        ("__aeabi_fsub", lambda a, b: a - b),
        ("__aeabi_fmul", lambda a, b: a * b),
        ("__aeabi_fdiv", lambda a, b: a / b if b else math.nan if a == 0 or a != a else a * math.copysign(math.inf, b)),
    ],
)
def test_floating_point(call, name, operation):
    for a, b in operands(3000):
        ours, theirs = call(name, a, b)[0], operation(number(a), number(b))
        if theirs != theirs:
            assert ours & ~SIGN > INFINITE, f"{name} of {a:#x} and {b:#x}: {ours:#x} is a number"
        else:
            assert ours == bits(theirs), f"{name} of {a:#x} and {b:#x}: {ours:#x}, not {bits(theirs):#x}"


def test_long_division(call):
    chance = random.Random(6001)
    for _ in range(300):
        dividend, divisor = (chance.getrandbits(64) >> chance.randrange(64) for _ in range(2))
        divisor = divisor or 1
        halves = [word for value in (dividend, divisor) for word in (value & 0xFFFF_FFFF, value >> 32)]
        low, high, rest, rest_high = call("__aeabi_uldivmod", *halves)
        assert (high << 32 | low, rest_high << 32 | rest) == divmod(dividend, divisor)


def test_long_products(call):
    chance = random.Random(6002)
    factors = [0, 1, 0xFFFF, 0x1_0000, 0xFFFF_FFFF, 1 << 32, (1 << 64) - 1] + [chance.getrandbits(64) for _ in range(30)]
    for a in factors:
        for b in factors:
            low, high, _, _ = call("__aeabi_lmul", a & 0xFFFF_FFFF, a >> 32, b & 0xFFFF_FFFF, b >> 32)
            assert high << 32 | low == a * b % (1 << 64), f"{a:#x} by {b:#x}"


def test_leading_zeros(call):
    for length in range(33):
        for word in {(1 << length) - 1, 1 << length >> 1}:
            assert call("__clzsi2", word)[0] == 32 - word.bit_length(), f"{word:#x}"


def test_copying(call):
    ram = call.machine.mcu.sram
    for distance in (-33, -32, -4, -1, 0, 1, 3, 4, 32, 64):
        for size in (0, 1, 3, 4, 7, 8, 15, 16, 31, 64):
            for start in (START, START + 1, START + 2):
                before = bytearray(range(256))
                ram[0x1000 : 0x1000 + 256] = before
                call("__aeabi_memmove", HERE + start + distance, HERE + start, size)
                after = bytearray(before)
                after[start + distance : start + distance + size] = before[start : start + size]
                assert bytes(ram[0x1000 : 0x1000 + 256]) == bytes(after), f"{size} bytes from {start} by {distance}"


@pytest.mark.parametrize("name, byte", [("__aeabi_memset4", 0x5A), ("__aeabi_memclr", 0), ("__aeabi_memclr4", 0)])
def test_filling(call, name, byte):
    ram = call.machine.mcu.sram
    for size in (0, 1, 4, 8, 13, 60):
        ram[0x1000 : 0x1000 + 256] = bytes(range(256))
        call(name, HERE + START, size, byte)
        wanted = bytearray(range(256))
        wanted[START : START + size] = bytes([byte]) * size
        assert bytes(ram[0x1000 : 0x1000 + 256]) == bytes(wanted), f"{name} of {size} bytes"

"""Floating point in the image, which the compiler calls by name, against IEEE 754: what the simulator computes, the device does."""

import math
import random
import struct

import pytest

from rig.image import Image
from rig.machine import Machine
from rig.wiring import RAM_BASE, RAM_SIZE

STACK = RAM_BASE + RAM_SIZE - 1024
SIGN, FRACTION, INFINITE = 1 << 31, (1 << 23) - 1, 0xFF << 23


class Calls:
    """Calls functions of the image, with nothing else running."""

    def __init__(self, image: Image):
        self.image = image
        self.machine = Machine(image)
        self.core = self.machine.mcu.core

    def __call__(self, name: str, *arguments: int) -> int:
        """What `name` gives back."""
        core = self.core
        back = self.image.address("Reset") & ~1
        for number, argument in enumerate(arguments):
            core.registers[number] = argument
        core.registers[13], core.lr, core.pc = STACK, back | 1, self.image.address(name) & ~1
        while core.pc & ~1 != back:
            core.execute_instruction()
        return core.registers[0] & 0xFFFF_FFFF


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
        ours, theirs = call(name, a, b), operation(number(a), number(b))
        if theirs != theirs:
            assert ours & ~SIGN > INFINITE, f"{name} of {a:#x} and {b:#x}: {ours:#x} is a number"
        else:
            assert ours == bits(theirs), f"{name} of {a:#x} and {b:#x}: {ours:#x}, not {bits(theirs):#x}"

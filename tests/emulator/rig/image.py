"""A firmware image: what of it lies in flash, and where its functions are."""

import bisect
import os
import struct
from dataclasses import dataclass
from pathlib import Path

import figures
from elf import Elf

from .wiring import FLASH_BASE, FLASH_SIZE

REPOSITORY = Path(__file__).resolve().parents[3]
DEFAULT_IMAGE = REPOSITORY / "target" / "image" / "yarn-scale.elf"

# Kinds of symbols (ELF): none, object, function.
FUNCTION = 2

UF2_BLOCK = 512
UF2_MAGICS = (0x0A32_4655, 0x9E5D_5157, 0x0AB1_6F30)
UF2_RP2040_FAMILY = 0xE48B_FF56
UF2_HAS_FAMILY = 0x2000


def image_path() -> Path:
    """The image under test: `YARN_SCALE_IMAGE`, else where `firmware/build` leaves it."""
    return Path(os.environ.get("YARN_SCALE_IMAGE", DEFAULT_IMAGE))


def simulator() -> Path:
    """The simulator's program: `YARN_SCALE_SIMULATOR`, else as cargo leaves it."""
    built = [REPOSITORY / "target" / profile / "yarn-scale" for profile in ("release", "debug")]
    given = os.environ.get("YARN_SCALE_SIMULATOR")
    found = [Path(given)] if given else [path for path in built if path.exists()]
    assert found, "the simulator is not built: cargo build --release -p yarn-scale-sim"
    return max(found, key=lambda path: path.stat().st_mtime)


@dataclass(frozen=True)
class Symbol:
    """A named piece of the image; `address` without the Thumb bit, `size` in bytes."""

    name: str
    address: int
    size: int
    is_code: bool


class Image:
    """An ELF of the firmware: flash contents and symbols."""

    def __init__(self, path: Path | None = None):
        self.path = Path(path or image_path())
        elf = Elf(self.path)
        self.flash = [(s.address - FLASH_BASE, s.data) for s in elf.segments if FLASH_BASE <= s.address < FLASH_BASE + FLASH_SIZE]
        self.ram_bytes = figures.ram_bytes(elf)
        self.symbols = [
            Symbol(s.name, s.address & ~1 if s.kind == FUNCTION else s.address, s.size, s.kind == FUNCTION)
            for s in elf.symbols
            if s.name and s.kind <= FUNCTION
        ]
        code = sorted((s for s in self.symbols if s.is_code and s.size), key=lambda s: s.address)
        self._code, self._starts = code, [s.address for s in code]

    def into(self, flash: bytearray | memoryview) -> None:
        """Writes the image into flash, as the boot loader would; the rest stays as it is."""
        for offset, data in self.flash:
            flash[offset : offset + len(data)] = data

    def address(self, name: str) -> int | None:
        """Address of the symbol `name`, as the linker knows it, or `None`."""
        return next((s.address for s in self.symbols if s.name == name), None)

    def matching(self, *parts: str) -> list[Symbol]:
        """Functions whose (mangled) names hold all of `parts`."""
        return [s for s in self._code if all(part in s.name for part in parts)]

    def function_at(self, address: int) -> str:
        """Name of the function that `address` lies in; the address itself where there is none."""
        at = bisect.bisect_right(self._starts, address) - 1
        if at >= 0 and address < self._code[at].address + self._code[at].size:
            return self._code[at].name
        return f"{address:#010x}"


def uf2_contents(path: Path) -> list[tuple[int, bytes]]:
    """Flash offsets and bytes of a UF2 file, every block checked against the format (github.com/microsoft/uf2).

    Raises ValueError for a block that a boot loader would not take.
    """
    raw = Path(path).read_bytes()
    if not raw or len(raw) % UF2_BLOCK:
        raise ValueError(f"{len(raw)} bytes are not whole blocks of {UF2_BLOCK}")
    blocks = []
    for at in range(0, len(raw), UF2_BLOCK):
        start0, start1, flags, address, size, number, count, family = struct.unpack_from("<8I", raw, at)
        (end,) = struct.unpack_from("<I", raw, at + UF2_BLOCK - 4)
        if (start0, start1, end) != UF2_MAGICS:
            raise ValueError(f"block {number}: wrong magic numbers")
        if not flags & UF2_HAS_FAMILY or family != UF2_RP2040_FAMILY:
            raise ValueError(f"block {number}: not for this chip")
        if number != at // UF2_BLOCK or count != len(raw) // UF2_BLOCK:
            raise ValueError(f"block {number} of {count} is out of order")
        if size != 256 or address % 256 or not FLASH_BASE <= address < FLASH_BASE + FLASH_SIZE:
            raise ValueError(f"block {number}: {size} bytes at {address:#x} do not fit the flash")
        blocks.append((address - FLASH_BASE, raw[at + 32 : at + 32 + size]))
    return blocks

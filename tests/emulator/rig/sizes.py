"""What of the image is how large: by section, and by crate as the names of its symbols tell."""

import re
from collections import Counter

from .image import Image
from .wiring import FLASH_BASE, FLASH_SIZE, RAM_BASE, RAM_SIZE

# v0 names: a crate root is C, a disambiguator, the length and the name; the first one is where the item was written.
V0_CRATE = re.compile(r"C(?:s[0-9A-Za-z]*_)?(\d+)_?([A-Za-z_].*)")
LEGACY_CRATE = re.compile(r"^_ZN(\d+)(.*)")
LEGACY_IMPL = re.compile(r"(?:\$LT\$|_\$LT\$|\.\.)*(?:&|\$RF\$|mut\$u20\$)*([A-Za-z_][A-Za-z0-9_]*)\.\.")


def by_section(image: Image) -> list[tuple[str, int, int]]:
    """Name, bytes in flash and bytes in RAM of each section that is loaded; initialised data counts in both."""
    rows = []
    for name, address, size, held in image.sections:
        in_ram = RAM_BASE <= address < RAM_BASE + RAM_SIZE
        in_flash = held and (in_ram or FLASH_BASE <= address < FLASH_BASE + FLASH_SIZE)
        if size and (in_ram or in_flash):
            rows.append((name, size if in_flash else 0, size if in_ram else 0))
    return rows


def flash_bytes(image: Image) -> int:
    """Bytes that the image takes in flash."""
    return sum(row[1] for row in by_section(image))


def static_ram_bytes(image: Image) -> int:
    """Bytes of RAM that are taken before the stack."""
    return sum(row[2] for row in by_section(image))


def by_crate(image: Image) -> list[tuple[str, int]]:
    """Bytes in flash of each crate's named symbols, largest first; what has no name is listed as such."""
    totals: Counter[str] = Counter()
    seen: set[int] = set()
    for symbol in image.symbols:
        if symbol.size and symbol.address not in seen and FLASH_BASE <= symbol.address < FLASH_BASE + FLASH_SIZE:
            seen.add(symbol.address)
            totals[crate_of(symbol.name)] += symbol.size
    rest = flash_bytes(image) - sum(totals.values())
    if rest > 0:
        totals["(constants without a name, padding)"] = rest
    return totals.most_common()


def crate_of(name: str) -> str:
    """The crate in which the item with this mangled name was written."""
    if name.startswith("_R"):
        found = V0_CRATE.search(name)
        return found[2][: int(found[1])] if found else "(other)"
    found = LEGACY_CRATE.match(name)
    if found:
        first = found[2][: int(found[1])]
        inner = LEGACY_IMPL.match(first)
        return inner[1] if inner else first if re.fullmatch(r"\w+", first) else "core"
    if name.startswith(("__aeabi", "mem", "__", "compiler_builtins")):
        return "compiler_builtins"
    return "(other)"

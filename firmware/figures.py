"""Prints what an image takes: flash and static RAM, by section and by crate, and the places where it can panic.

usage: figures.py IMAGE.elf
"""

import re
import struct
import sys
from collections import Counter

from elf import Elf

FLASH_START, FLASH_END = 0x1000_0000, 0x1020_0000
MANGLED = re.compile(r"C(?:s[0-9a-zA-Z]*_)(\d+)")
OLD_MANGLED = re.compile(r"^_ZN(\d+)")


def crate(name):
    """The crate that a symbol's code was written in, as its mangled name says; where inlined, the crate it went to."""
    for pattern in (MANGLED, OLD_MANGLED):
        if found := pattern.search(name):
            start = found.end()
            return name[start : start + int(found[1])].lstrip("_")
    return "without a crate (start-up, compiler's own)"


def calls(section, targets):
    """Counts the branch-with-link instructions (ARMv6-M, encoding T1 of BL) that go to one of the addresses."""
    count = 0
    for at in range(0, len(section.data) - 3, 2):
        high, low = struct.unpack_from("<HH", section.data, at)
        if high >> 11 != 0b11110 or low & 0xD000 != 0xD000:
            continue
        sign, j1, j2 = high >> 10 & 1, low >> 13 & 1, low >> 11 & 1
        offset = sign << 24 | (1 - (j1 ^ sign)) << 23 | (1 - (j2 ^ sign)) << 22 | (high & 0x3FF) << 12 | (low & 0x7FF) << 1
        if sign:
            offset -= 1 << 25
        count += section.address + at + 4 + offset in targets
    return count


def main():
    elf = Elf(sys.argv[1])
    flash = sum(len(segment.data) for segment in elf.segments if FLASH_START <= segment.address < FLASH_END)
    ram = sum(section.size for section in elf.sections if section.writable)
    print(f"flash_bytes {flash}")
    print(f"ram_bytes {ram}")
    for section in elf.sections:
        print(f"section {section.name} {section.size}")

    loaded = [section for section in elf.sections if section.loaded]
    sizes = Counter()
    for symbol in {symbol.address: symbol for symbol in elf.symbols if symbol.kind in (1, 2)}.values():
        if any(section.address <= symbol.address < section.address + section.size for section in loaded):
            sizes[crate(symbol.name)] += symbol.size
    for name, size in sizes.most_common(10):
        print(f"crate {name} {size}")

    panicking = {symbol.address & ~1 for symbol in elf.symbols if crate(symbol.name) == "core" and "panic" in symbol.name}
    print(f"panic_sites {sum(calls(section, panicking) for section in loaded)}")


if __name__ == "__main__":
    main()

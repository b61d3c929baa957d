"""Prints what an image takes: flash and static RAM, by section and by crate, and the places where it can panic.

usage: figures.py [--unlimited] IMAGE.elf

Fails if the image takes more flash than it may, or can panic at more places than it could.
"""

import re
import struct
import sys
from collections import Counter

from elf import Elf

FLASH_START, FLASH_END = 0x1000_0000, 0x1020_0000
RAM_START, RAM_END = 0x2000_0000, 0x2004_2000
TOP = 10
# What the image may take of its half of the flash: so much that nothing is squeezed, so little that growth is seen.
MOST_FLASH = 320 * 1024
# Nearly all are in libraries, which check what they were given (the standard library's sort among them, for what a press can mean). The drive's endpoints are checked by the USB library at three more. More of them means that a change can panic: look where.
MOST_PANIC_SITES = 123
WITHOUT_NAME = "constants without a name"
MANGLED = re.compile(r"C(?:s[0-9a-zA-Z]*_)(\d+)")
OLD_MANGLED = re.compile(r"^_ZN(\d+)")


def crate(name):
    """The crate that a symbol's code was written in, as its mangled name says; where inlined, the crate it went to."""
    for pattern in (MANGLED, OLD_MANGLED):
        if found := pattern.search(name):
            start = found.end()
            return name[start : start + int(found[1]) + 1].lstrip("_")[: int(found[1])]
    return "compiler_builtins" if name.startswith(("__aeabi", "mem")) else "start-up"


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


def sizes(section):
    """Bytes that a section takes in flash and in RAM; what is copied to RAM at the start takes both."""
    in_ram = RAM_START <= section.address < RAM_END
    return (section.size if section.loaded else 0, section.size if in_ram else 0)


def flash_bytes(elf):
    """What the image takes in flash, the gaps between its sections apart."""
    return sum(sizes(section)[0] for section in elf.sections)


def ram_bytes(elf):
    """RAM that is taken before the stack."""
    return sum(sizes(section)[1] for section in elf.sections)


def by_crate(elf):
    """Bytes in flash and RAM of what the crates' symbols name, largest first; what has no name comes under one of its own."""
    flash, ram = Counter(), Counter()
    for symbol in {symbol.address & ~1: symbol for symbol in elf.symbols if symbol.kind in (1, 2)}.values():
        for section in elf.sections:
            if section.address <= symbol.address < section.address + section.size:
                in_flash, in_ram = (symbol.size if taken else 0 for taken in sizes(section))
                flash[crate(symbol.name)] += in_flash
                ram[crate(symbol.name)] += in_ram
    flash[WITHOUT_NAME] = flash_bytes(elf) - sum(flash.values())
    ram[WITHOUT_NAME] = ram_bytes(elf) - sum(ram.values())
    return sorted(((name, flash[name], ram[name]) for name in flash), key=lambda row: -row[1] - row[2])


def main():
    elf = Elf(sys.argv[-1])
    print(f"flash_bytes {flash_bytes(elf)}")
    print(f"ram_bytes {ram_bytes(elf)}")
    for section in elf.sections:
        flash, ram = sizes(section)
        print(f"section {section.name} flash {flash} ram {ram}")
    for name, flash, ram in by_crate(elf)[:TOP]:
        print(f"crate {name.replace(' ', '_')} flash {flash} ram {ram}")

    loaded = [section for section in elf.sections if section.loaded]
    panicking = {symbol.address & ~1 for symbol in elf.symbols if crate(symbol.name) == "core" and "panic" in symbol.name}
    panic_sites = sum(calls(section, panicking) for section in loaded)
    print(f"panic_sites {panic_sites}")

    limits = {"flash_bytes": (flash_bytes(elf), MOST_FLASH), "panic_sites": (panic_sites, MOST_PANIC_SITES)}
    above = [f"{name} {found} is more than {most}" for name, (found, most) in limits.items() if found > most]
    if above and "--unlimited" not in sys.argv:
        sys.exit(f"{sys.argv[-1]}: {', '.join(above)} (limits in firmware/figures.py)")


if __name__ == "__main__":
    main()

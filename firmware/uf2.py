"""Turns an ELF image into a UF2 file, which a Pico in its boot mode takes as a file dropped on its drive.

Each block carries one 256-byte page of flash (github.com/microsoft/uf2, "File format"; family of the RP2040). Every page of every
4 KiB sector from the first to the last is there, blank ones too: the boot ROM erases a sector when it meets the first page of it, and what
a file leaves out of a sector is not blank for certain afterwards (RP2040 data sheet, erratum RP2040-E14).

usage: uf2.py IMAGE.elf IMAGE.uf2
"""

import struct
import sys

from elf import Elf

PAGE = 256
SECTOR = 4096
BLANK = b"\xff" * PAGE
MAGIC_START = (0x0A324655, 0x9E5D5157)
MAGIC_END = 0x0AB16F30
FAMILY_PRESENT = 0x2000
RP2040 = 0xE48BFF56


def pages(segments):
    """The flash pages of all sectors from the first to the last that a segment touches; what no segment fills is blank."""
    first = min(segment.address for segment in segments) // SECTOR * SECTOR
    end = max(segment.address + len(segment.data) for segment in segments)
    found = {address: bytearray(BLANK) for address in range(first, -(-end // SECTOR) * SECTOR, PAGE)}
    for segment in segments:
        for offset, byte in enumerate(segment.data):
            address = segment.address + offset
            found[address // PAGE * PAGE][address % PAGE] = byte
    return sorted(found.items())


def main():
    source, destination = sys.argv[1:]
    blocks = pages(Elf(source).segments)
    with open(destination, "wb") as file:
        for number, (address, page) in enumerate(blocks):
            head = struct.pack(
                "<8I", *MAGIC_START, FAMILY_PRESENT, address, PAGE, number, len(blocks), RP2040
            )
            file.write(head + bytes(page).ljust(476, b"\0") + struct.pack("<I", MAGIC_END))


if __name__ == "__main__":
    main()

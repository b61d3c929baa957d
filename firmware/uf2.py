"""Turns an ELF image into a UF2 file, which a Pico in its boot mode takes as a file dropped on its drive.

Each block carries one 256-byte page of flash (github.com/microsoft/uf2, "File format"; family of the RP2040).

usage: uf2.py IMAGE.elf IMAGE.uf2
"""

import struct
import sys

from elf import Elf

PAGE = 256
MAGIC_START = (0x0A324655, 0x9E5D5157)
MAGIC_END = 0x0AB16F30
FAMILY_PRESENT = 0x2000
RP2040 = 0xE48BFF56


def pages(segments):
    """The flash pages that the segments touch, by address; what no segment fills is left as erased."""
    found = {}
    for segment in segments:
        for offset, byte in enumerate(segment.data):
            address = segment.address + offset
            page = found.setdefault(address // PAGE * PAGE, bytearray(b"\xff" * PAGE))
            page[address % PAGE] = byte
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

"""Reads what the other scripts need of a 32-bit little-endian ELF file."""

import struct
from typing import NamedTuple


class Segment(NamedTuple):
    """Bytes to be loaded, at their address in flash."""

    address: int
    data: bytes


class Section(NamedTuple):
    """A part of the image. `loaded` tells whether it takes room in the file, `writable` whether it takes RAM."""

    name: str
    address: int
    size: int
    loaded: bool
    writable: bool
    data: bytes


class Symbol(NamedTuple):
    """A name for an address; `kind` 1 is data, 2 is a function."""

    name: str
    address: int
    size: int
    kind: int


class Elf:
    """An ELF file's loadable segments, allocated sections and symbols."""

    def __init__(self, path):
        with open(path, "rb") as file:
            raw = file.read()
        if raw[:6] != b"\x7fELF\x01\x01":
            raise SystemExit(f"{path}: not a 32-bit little-endian ELF file")
        segments_at, sections_at = struct.unpack_from("<II", raw, 28)
        _, segment_size, segment_count, section_size, section_count, names_index = struct.unpack_from("<6H", raw, 40)

        self.segments = []
        for index in range(segment_count):
            kind, offset, _, physical, size = struct.unpack_from("<5I", raw, segments_at + index * segment_size)
            if kind == 1 and size:
                self.segments.append(Segment(physical, raw[offset : offset + size]))

        headers = [
            struct.unpack_from("<10I", raw, sections_at + index * section_size) for index in range(section_count)
        ]

        def text(table, at):
            start = headers[table][4] + at
            return raw[start : raw.index(b"\0", start)].decode()

        self.sections = []
        self.symbols = []
        for name, kind, flags, address, offset, size, link, _, _, entry in headers:
            if flags & 2 and size:
                loaded = kind != 8
                data = raw[offset : offset + size] if loaded else b""
                self.sections.append(Section(text(names_index, name), address, size, loaded, bool(flags & 1), data))
            if kind == 2:
                for at in range(offset, offset + size, entry):
                    label, value, length, info = struct.unpack_from("<IIIB", raw, at)
                    self.symbols.append(Symbol(text(link, label), value, length, info & 15))

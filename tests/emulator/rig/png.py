"""A frame as a picture: one bit a pixel, PNG (ISO/IEC 15948), each pixel drawn `scale` times."""

import struct
import zlib
from pathlib import Path

WIDTH, HEIGHT = 128, 64


def pixel(memory: bytes, x: int, y: int) -> bool:
    """Whether the pixel in column `x` and row `y` is lit."""
    return bool(memory[y // 8 * WIDTH + x] >> (y % 8) & 1)


def edges(memory: bytes) -> tuple[bool, bool, bool, bool]:
    """Whether a lit line runs all along the left, top, right and bottom edge of what is seen."""
    lines = [
        [(0, y) for y in range(HEIGHT)],
        [(x, 0) for x in range(WIDTH)],
        [(WIDTH - 1, y) for y in range(HEIGHT)],
        [(x, HEIGHT - 1) for x in range(WIDTH)],
    ]
    return tuple(all(pixel(memory, x, y) for x, y in line) for line in lines)


def write(path: Path, memory: bytes, scale: int = 4) -> None:
    """Writes the frame to `path`, making its folder."""
    rows = bytearray()
    for y in range(HEIGHT):
        bits = "".join(("1" if pixel(memory, x, y) else "0") * scale for x in range(WIDTH))
        row = b"\x00" + int(bits, 2).to_bytes(len(bits) // 8, "big")
        rows += row * scale
    header = struct.pack(">2I5B", WIDTH * scale, HEIGHT * scale, 1, 0, 0, 0, 0)
    chunks = (b"IHDR", header), (b"IDAT", zlib.compress(bytes(rows))), (b"IEND", b"")
    body = b"".join(struct.pack(">I", len(d)) + n + d + struct.pack(">I", zlib.crc32(n + d)) for n, d in chunks)
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_bytes(b"\x89PNG\r\n\x1a\n" + body)


def text(memory: bytes) -> str:
    """The frame in half-block characters, for a failing test's message."""
    blocks = {(False, False): " ", (True, False): "▀", (False, True): "▄", (True, True): "█"}
    lines = (
        "".join(blocks[pixel(memory, x, y), pixel(memory, x, y + 1)] for x in range(WIDTH)).rstrip()
        for y in range(0, HEIGHT, 2)
    )
    return "\n".join(lines)

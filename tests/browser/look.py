"""Looks at what the browser has made of the pages: `look.py FOLDER`. Needs nothing but Python."""

import re
import struct
import sys
import zlib
from pathlib import Path

# Width and height in points of ISO 216 A4 and of ANSI/ASME Y14.1 A (Letter), at 50 dots an inch.
PAPERS = {"A4": (413, 585), "letter": (425, 550)}
# 12 mm at 50 dots an inch, less a dot for rounding: no page has a smaller margin.
MARGIN = 22
# Pairs of a report; a manual has none.
PAGES = {"report": 5, "start.en": 4, "start.de": 4, "manual.en": 0, "manual.de": 0}
# Sides of a manual.
SIDES = 2


def grey_of_png(path: Path) -> list[bytes]:
    """Rows of a PNG of 8 bits a channel (ISO/IEC 15948), its first channel."""
    data, at, packed = path.read_bytes(), 8, b""
    while at < len(data):
        length, kind = struct.unpack_from(">I4s", data, at)
        body = data[at + 8 : at + 8 + length]
        if kind == b"IHDR":
            width, height, depth, colour = struct.unpack_from(">IIBB", body)
            step = {0: 1, 2: 3, 6: 4}[colour]
            assert depth == 8
        packed += body if kind == b"IDAT" else b""
        at += 12 + length
    raw, rows, above = zlib.decompress(packed), [], bytes(width * step)
    for y in range(height):
        start = y * (width * step + 1)
        how, line = raw[start], bytearray(raw[start + 1 : start + 1 + width * step])
        for x in range(len(line)):
            left, corner = (line[x - step], above[x - step]) if x >= step else (0, 0)
            guess = left + above[x] - corner
            nearest = min((abs(guess - v), n, v) for n, v in enumerate((left, above[x], corner)))[2]
            line[x] = (line[x] + (0, left, above[x], (left + above[x]) // 2, nearest)[how]) & 255
        rows.append(bytes(line[::step]))
        above = line
    return rows


def grey_of_pgm(path: Path) -> list[bytes]:
    """Rows of a binary portable graymap."""
    data = path.read_bytes()
    header = re.match(rb"P5\s+(\d+)\s+(\d+)\s+255\s", data)
    width, height = int(header[1]), int(header[2])
    pixels = data[header.end() :]
    return [pixels[y * width : (y + 1) * width] for y in range(height)]


def mean(rows: list[bytes]) -> float:
    return sum(map(sum, rows)) / sum(map(len, rows))


def look(folder: Path, name: str, pairs: int) -> None:
    page = (folder / f"{name}.dom").read_text()
    assert page.count("<article ") == pairs, f"{name}: {page.count('<article ')} pairs"
    assert page.count("role=\"img\"") == page.count("<desc ") == 2 * pairs, f"{name}: a chart is missing"
    light, dark = mean(grey_of_png(folder / f"{name}.light.png")), mean(grey_of_png(folder / f"{name}.dark.png"))
    assert light > 215 and dark < 70, f"{name}: light {light:.0f}, dark {dark:.0f} of 255"
    most = pairs or SIDES
    for paper, (width, height) in PAPERS.items():
        sheets = sorted(folder.glob(f"{name}.{paper}-*.pgm"))
        assert 1 <= len(sheets) <= most, f"{name}: {len(sheets)} sheets of {paper}"
        for sheet in sheets:
            rows = grey_of_pgm(sheet)
            assert abs(len(rows[0]) - width) <= 2 and abs(len(rows) - height) <= 2, f"{sheet}: {len(rows[0])} x {len(rows)}"
            edge = rows[:MARGIN] + rows[-MARGIN:] + [r[:MARGIN] + r[-MARGIN:] for r in rows]
            assert min(map(min, edge)) > 200, f"{sheet}: something stands in the margin, or is cut by it"
            inked = sum(min(row) < 128 for row in rows)
            assert inked > 20, f"{sheet} is as good as empty"
        print(f"{name}, {paper}: {len(sheets)} sheets for {pairs} pairs")
    print(f"{name}, mean grey: light {light:.0f}, dark {dark:.0f} of 255")


def main() -> None:
    for name, pairs in PAGES.items():
        look(Path(sys.argv[1]), name, pairs)


main()

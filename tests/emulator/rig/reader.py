"""Reads the display as a knitter does: the main number and the words, by the fonts' own drawings.

A font file (core/src/screen/fonts) lists its characters in its first line; below stand bands of glyphs side by side, `#` lit
and `.` dark, parted by one blank column; lines that begin with `=` are captions.
"""

from dataclasses import dataclass
from functools import cache, cached_property
from pathlib import Path

from .image import REPOSITORY
from .png import HEIGHT, WIDTH, pixel

FONTS = REPOSITORY / "core" / "src" / "screen" / "fonts"
TEXT_ROWS, FIGURE_ROWS = 10, 25
TEXT_GAP, FIGURE_GAP = 1, 2
# The row at which the words above the keys begin.
KEYS_TOP = 53


@dataclass(frozen=True)
class Glyph:
    """A character's picture: one number a column, the top row in the lowest bit."""

    character: str
    columns: tuple[int, ...]

    def outline(self, rows: int) -> "Glyph":
        """The glyph with only those pixels that have a dark neighbour above, below, left or right."""
        full = (1 << rows) - 1
        padded = (0, *self.columns, 0)
        edges = []
        for left, here, right in zip(padded, padded[1:], padded[2:]):
            inner = here & left & right & (here << 1) & (here >> 1) & full
            edges.append(here & ~inner)
        return Glyph(self.character, tuple(edges))


@cache
def font(name: str, rows: int) -> tuple[Glyph, ...]:
    """The glyphs of a font file, widest first."""
    first, *lines = (FONTS / name).read_text(encoding="utf-8").split("\n")
    art = [line for line in lines if line and not line.startswith("=")]
    glyphs: list[tuple[int, ...]] = []
    for top in range(0, len(art), rows):
        band = art[top : top + rows]
        starts = [0, *(x + 1 for x, mark in enumerate(band[0]) if mark == " ")]
        for start, end in zip(starts, [*(s - 1 for s in starts[1:]), len(band[0])]):
            columns = (sum((line[x] == "#") << y for y, line in enumerate(band)) for x in range(start, end))
            glyphs.append(tuple(columns))
    assert len(glyphs) == len(first), f"{name} names {len(first)} characters and draws {len(glyphs)}"
    return tuple(sorted(map(Glyph, first, glyphs), key=lambda glyph: -len(glyph.columns)))


@dataclass(frozen=True)
class Piece:
    """A piece of text: its first row and column, and whether it is dark on lit."""

    text: str
    top: int
    left: int
    dark: bool


class Page:
    """What can be read in one frame of the display."""

    def __init__(self, memory: bytes):
        self.memory = memory
        self._lit = [sum(pixel(memory, x, y) << y for y in range(HEIGHT)) for x in range(WIDTH)]

    @cached_property
    def pieces(self) -> list[Piece]:
        """All text on it, top to bottom."""
        glyphs = font("text.txt", TEXT_ROWS)
        found = []
        for top in range(HEIGHT - 8):
            for dark, columns in ((False, self._lit), (True, [~column for column in self._lit])):
                band = [column >> top & 0x3FF for column in columns]
                found += [Piece(text, top, left, dark) for text, left in _pieces(band, glyphs, TEXT_GAP)]
        return found

    @property
    def words(self) -> list[str]:
        """The texts of all pieces."""
        return [piece.text for piece in self.pieces]

    @property
    def highlighted(self) -> str:
        """What stands dark on lit above the keys' words: the highlighted line of a list."""
        return " ".join(piece.text for piece in self.pieces if piece.dark and piece.top < KEYS_TOP - 2)

    @property
    def keys(self) -> list[str]:
        """What the keys do, left to right."""
        return [piece.text for piece in sorted(self.pieces, key=lambda p: p.left) if piece.dark and piece.top >= KEYS_TOP - 2]

    @cached_property
    def number(self) -> str | None:
        """The main number as it stands there, or None."""
        full = font("figures.txt", FIGURE_ROWS)
        for glyphs in (full, tuple(glyph.outline(FIGURE_ROWS) for glyph in full)):
            for top in range(HEIGHT - FIGURE_ROWS + 1):
                band = [column >> top & (1 << FIGURE_ROWS) - 1 for column in self._lit]
                pieces = [p for p, _ in _pieces(band, glyphs, FIGURE_GAP) if any(c.isdigit() for c in p)]
                if pieces:
                    return max(pieces, key=len)
        return None

    @property
    def steady(self) -> bool:
        """Whether the steady sign stands beside the number: a filled square of 14 by 14 in columns 0 to 13 from row 17."""
        square = (1 << 14) - 1 << 17
        return all(column & square == square for column in self._lit[:14])

    @property
    def grams(self) -> float | None:
        """The main number's value."""
        return float(self.number.replace(",", ".")) if self.number else None

    def says(self, text: str) -> bool:
        """Whether `text` can be read on it."""
        return any(text in piece for piece in self.words)


def _pieces(columns: list[int], glyphs: tuple[Glyph, ...], gap: int) -> list[tuple[str, int]]:
    """Texts in a band of rows, each with its first column: from a lit column on, as many glyphs as fit with nothing over."""
    found, x = [], 0
    by_first, leads = _by_first_column(glyphs), _blank_columns_before(glyphs)
    while x < len(columns):
        # A glyph may itself begin with blank columns, as the 1 of the figures does.
        starts = [x - blank for blank in leads.get(columns[x], ()) if blank <= x and not any(columns[x - blank : x])]
        reads = [read for start in starts if (read := _read(columns, start, by_first, gap))]
        read = max(reads, key=lambda read: read[1], default=None)
        if read and read[0].strip(".,-−–'—: "):
            found.append((read[0].rstrip(), x))
            x = read[1]
        else:
            x += 1
    return found


@cache
def _by_first_column(glyphs: tuple[Glyph, ...]) -> dict[int, list[Glyph]]:
    begins: dict[int, list[Glyph]] = {}
    for glyph in glyphs:
        begins.setdefault(glyph.columns[0], []).append(glyph)
    return begins


@cache
def _blank_columns_before(glyphs: tuple[Glyph, ...]) -> dict[int, set[int]]:
    """For each first lit column of a glyph, how many blank ones can stand before it within the glyph."""
    leads: dict[int, set[int]] = {}
    for glyph in glyphs:
        blank = next((i for i, column in enumerate(glyph.columns) if column), None)
        if blank is not None:
            leads.setdefault(glyph.columns[blank], set()).add(blank)
    return leads


def _read(columns: list[int], start: int, begins: dict[int, list[Glyph]], gap: int) -> tuple[str, int] | None:
    """The longest text that begins in column `start` and is followed by dark: its characters and the column after it."""
    best = None
    ends = [("", start)]
    while ends:
        text, x = ends.pop()
        for glyph in begins.get(columns[x], ()):
            end = x + len(glyph.columns)
            if tuple(columns[x:end]) != glyph.columns or any(columns[end : end + gap]):
                continue
            if text.endswith("  ") and glyph.character == " ":
                continue
            read = text + glyph.character, end
            if glyph.character != " " and (best is None or end > best[1]):
                best = read
            if end + gap < len(columns):
                ends.append((read[0], end + gap))
    return best

"""Reads the display as a knitter does: the main number and the words, by the fonts' own drawings.

A font file (core/src/screen/fonts) lists its characters in its first line; below stand bands of glyphs side by side, `#` lit
and `.` dark, parted by one blank column; lines that begin with `=` are captions.
"""

import re
from dataclasses import dataclass
from functools import cache, cached_property
from pathlib import Path

from .image import REPOSITORY
from .png import HEIGHT, WIDTH, pixel

FONTS = REPOSITORY / "core" / "src" / "screen" / "fonts"
# In fonts/mod.rs: a font's name, then rows, rows of a capital, and blank columns between two glyphs.
FONT = re.compile(r"pub static (\w+): Font = Font::new\(\[(\d+), \d+, (\d+)\]")
BLANKS = " \u2009"
# Beside the main number: a pan at rest, one that swings.
STEADY_SIGNS = "✓~"
# The row at which the words above the keys begin, a little generous.
KEYS_TOP = 51


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

    def bold(self) -> "Glyph":
        """The glyph with every stroke one column broader."""
        return Glyph(self.character, tuple(a | b for a, b in zip((*self.columns, 0), (0, *self.columns))))


@dataclass(frozen=True)
class Font:
    """A font: its glyphs, their rows, and the blank columns between two."""

    glyphs: tuple[Glyph, ...]
    rows: int
    gap: int

    def outlined(self) -> "Font":
        """The font as outlines: how the main number is written while it cannot be trusted."""
        return Font(tuple(glyph.outline(self.rows) for glyph in self.glyphs), self.rows, self.gap)

    def bold(self) -> "Font":
        """The font with every stroke one column broader."""
        return Font(tuple(glyph.bold() for glyph in self.glyphs), self.rows, self.gap)


@cache
def font(name: str) -> Font:
    """The font of that name, from its drawing."""
    rows, gap = {n: (int(r), int(g)) for n, r, g in FONT.findall((FONTS / "mod.rs").read_text())}[name]
    first, *lines = (FONTS / f"{name.lower()}.txt").read_text(encoding="utf-8").split("\n")
    art = [line for line in lines if line and not line.startswith("=")]
    pictures: list[tuple[int, ...]] = []
    for top in range(0, len(art), rows):
        band = art[top : top + rows]
        starts = [0, *(x + 1 for x, mark in enumerate(band[0]) if mark == " ")]
        for start, end in zip(starts, [*(s - 1 for s in starts[1:]), len(band[0])]):
            columns = (sum((line[x] == "#") << y for y, line in enumerate(band)) for x in range(start, end))
            pictures.append(tuple(columns))
    assert len(pictures) == len(first), f"{name} names {len(first)} characters and draws {len(pictures)}"
    return Font(tuple(map(Glyph, first, pictures)), rows, gap)


@cache
def _outlined(name: str) -> Font:
    return font(name).outlined()


@cache
def _bold(name: str) -> Font:
    return font(name).bold()


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
        found = []
        for type_face in (font("TEXT"), _bold("TEXT"), font("HEADING")):
            for top in range(HEIGHT - type_face.rows + 2):
                found += self._band(type_face, top, dark=False) + self._band(type_face, top, dark=True)
        return sorted(found, key=lambda piece: (piece.top, piece.left))

    def _band(self, type_face: Font, top: int, dark: bool) -> list[Piece]:
        mask = (1 << type_face.rows) - 1
        columns = [(~column if dark else column) >> top & mask for column in self._lit]
        return [Piece(text, top, left, dark) for text, left in _pieces(columns, type_face)]

    @property
    def words(self) -> list[str]:
        """The texts of all pieces."""
        return [piece.text for piece in self.pieces]

    @property
    def highlighted(self) -> str:
        """What stands dark on lit above the keys' words: the highlighted line of a list."""
        return " ".join(piece.text for piece in self.pieces if piece.dark and piece.top < KEYS_TOP)

    @property
    def keys(self) -> list[str]:
        """What the keys do, left to right."""
        return [piece.text for piece in sorted(self.pieces, key=lambda p: p.left) if piece.dark and piece.top >= KEYS_TOP]

    @cached_property
    def _figures(self) -> list[str]:
        """What is written in the large figures: the number, full or in outline, and the sign beside it."""
        for top in range(HEIGHT - font("FIGURES").rows + 1):
            both = self._band(font("FIGURES"), top, dark=False) + self._band(_outlined("FIGURES"), top, dark=False)
            if any(piece.text[0] in STEADY_SIGNS for piece in both):
                return [piece.text for piece in both]
        return []

    @property
    def number(self) -> str | None:
        """The main number as it stands there, or None."""
        return next((text for text in self._figures if any(character.isdigit() for character in text)), None)

    @property
    def steady(self) -> bool:
        """Whether the sign beside the number says that it can be trusted."""
        return STEADY_SIGNS[0] in self._figures

    @property
    def grams(self) -> float | None:
        """The main number's value."""
        return float(self.number.replace(",", ".")) if self.number else None

    def says(self, text: str) -> bool:
        """Whether `text` can be read on it."""
        return any(text in piece for piece in self.words)


def _pieces(columns: list[int], type_face: Font) -> list[tuple[str, int]]:
    """Texts in a band of rows, each with its first column: from a lit column on, as many glyphs as fit with nothing over."""
    found, x, leads = [], 0, _blank_columns_before(type_face)
    while x < len(columns):
        # A glyph may itself begin with blank columns, as the 1 of the figures does.
        starts = [x - blank for blank in leads.get(columns[x], ()) if blank <= x and not any(columns[x - blank : x])]
        reads = [read for start in starts if (read := _read(columns, start, type_face))]
        read = max(reads, key=lambda read: read[1], default=None)
        # Some signs are so simple that they can be found in anything.
        if read and any(character.isalnum() or character in STEADY_SIGNS for character in read[0]):
            found.append((read[0].translate(SPACES).rstrip(), x))
            x = read[1]
        else:
            x += 1
    return found


SPACES = str.maketrans(BLANKS, " " * len(BLANKS))


@cache
def _by_first_column(type_face: Font) -> dict[int, list[Glyph]]:
    begins: dict[int, list[Glyph]] = {}
    for glyph in type_face.glyphs:
        begins.setdefault(glyph.columns[0], []).append(glyph)
    return begins


@cache
def _blank_columns_before(type_face: Font) -> dict[int, set[int]]:
    """For each first lit column of a glyph, how many blank ones can stand before it within the glyph."""
    leads: dict[int, set[int]] = {}
    for glyph in type_face.glyphs:
        blank = next((i for i, column in enumerate(glyph.columns) if column), None)
        if blank is not None:
            leads.setdefault(glyph.columns[blank], set()).add(blank)
    return leads


def _read(columns: list[int], start: int, type_face: Font) -> tuple[str, int] | None:
    """The longest text that begins in column `start` and is followed by dark: its characters and the column after it."""
    best, begins, gap = None, _by_first_column(type_face), type_face.gap
    ends = [("", start)]
    while ends:
        text, x = ends.pop()
        for glyph in begins.get(columns[x], ()):
            end = x + len(glyph.columns)
            if tuple(columns[x:end]) != glyph.columns or any(columns[end : end + gap]):
                continue
            if glyph.character in BLANKS and text[-1:] in BLANKS:
                continue
            if glyph.character not in BLANKS and (best is None or end > best[1]):
                best = text + glyph.character, end
            if end + gap < len(columns):
                ends.append((text + glyph.character, end + gap))
    return best

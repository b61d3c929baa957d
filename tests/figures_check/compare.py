"""The documents beside what is printed."""

import re

from .power import POWER, compare_power
from .printed import ROOT, numbers
from .tables import REPEATED, SENTENCES, TABLES

FIGURES, README = "hardware-notes/figures.md", "README.md"


class Comparison:
    def __init__(self, printed):
        self.printed, self.held, self.wrong, self.left = printed, 0, [], 0

    def figure(self, where, shown, source, tolerance=0.0):
        command, value = source
        text = self.printed(command)
        if text is None:
            self.left += 1
            return
        found = value(text)
        decimals = len(shown.partition(".")[2])
        allowed = 0.5 * 10.0**-decimals + tolerance * abs(found) + 1e-9
        if abs(float(shown) - found) <= allowed:
            self.held += 1
        else:
            self.wrong.append(f"{where}: {shown} stands there, {found:g} is printed")

    def same(self, where, one, other):
        if one == other:
            self.held += 1
        else:
            self.wrong.append(f"{where}: {one} in the README, {other} in the figures")


def tables(text):
    """The tables of a document: each its rows, each its cells."""
    found, rows = [], []
    for line in text.splitlines() + [""]:
        if line.startswith("|"):
            cells = [cell.strip() for cell in line.strip("|").split("|")]
            if not set(line) <= set("|-: "):
                rows.append(cells)
        elif rows:
            found.append(rows)
            rows = []
    return found


def row_of(rows, begin):
    return next(row for row in rows if row[0].startswith(begin))


def compare(printed):
    result = Comparison(printed)
    figures, readme = ((ROOT / name).read_text() for name in (FIGURES, README))
    in_figures = tables(figures)
    for rows in in_figures:
        heading = rows[0][0]
        known = next((known for begin, known in TABLES.items() if heading.startswith(begin)), None)
        if known is None:
            result.wrong.append(f"{FIGURES}: nothing is known of the table {heading!r}")
            continue
        for row in rows[1:]:
            # The longest name that fits: one may begin like another.
            names = sorted((name for name in known if row[0].startswith(name)), key=len)
            if not names:
                result.wrong.append(f"{FIGURES}: no command is known for the row {row[0]!r}")
                continue
            for column, sources in known[names[-1]].items():
                shown = numbers(row[column])
                if len(shown) != len(sources):
                    result.wrong.append(f"{FIGURES}, {row[0]}: {len(shown)} numbers in {row[column]!r}, not {len(sources)}")
                    continue
                for one, source in zip(shown, sources):
                    result.figure(f"{FIGURES}, {row[0]}", one, source)
    for pattern, source, tolerance in SENTENCES:
        found = re.search(pattern, figures)
        if found is None:
            result.wrong.append(f"{FIGURES}: no sentence like {pattern!r}")
        else:
            result.figure(f"{FIGURES}, {pattern!r}", found[1].replace(",", ""), source, tolerance)
    compare_power(result, (ROOT / POWER).read_text(), readme, tables)
    trusted = next(rows for rows in tables(readme) if rows[0][1:] == ["goal", "measured"])
    everywhere = [row for rows in in_figures for row in rows]
    for begin, column, other, other_column, places in REPEATED:
        here = numbers(row_of(trusted, begin)[column])
        there = numbers(row_of(everywhere, other)[other_column])
        result.same(f"{README}, {begin}", here, [there[place] for place in places])
    cuts = re.search(r"lost in ([\d,]+) power cuts", readme)
    result.same(f"{README}, power cuts", cuts[1], re.search(r"not one in ([\d,]+) simulated", figures)[1])
    enough = numbers(row_of(trusted, '"enough" was wrong')[2])
    five = [float(row_of(everywhere, name)[2].split()[0]) for name in ("both toes", "all contrast sections", "sock 2, sock 1 known")]
    result.same(f"{README}, enough", [float(one) for one in enough], [min(five), max(five)])
    return result

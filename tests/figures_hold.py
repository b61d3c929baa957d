#!/usr/bin/env python3
"""Compares the figures of README.md and hardware-notes/figures.md with what the command beside each prints.

  tests/figures_hold.py                 the commands that take seconds, and that both documents say the same
  tests/figures_hold.py --long          all of them: some hours of one core
  tests/figures_hold.py --from FOLDER   the same against what the commands printed earlier, kept as FOLDER/NAME.txt
  tests/figures_hold.py --keep FOLDER   keeps what they print there

A figure holds if it is what is printed, rounded as it stands in the document; where a tolerance stands below, by that part of it, too. What
depends on the machine has one: time. What is drawn from a seed has none: the same program prints the same. A row of a table that nothing
here speaks of is an error, so that no figure comes in without its command. Prints one line a figure that does not hold, and how many do.
"""

import os
import re
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
FIGURES, README = "hardware-notes/figures.md", "README.md"

LAB = ["cargo", "run", "--quiet", "--locked", "--release", "-p", "yarn-scale-sim", "--bin", "yarn-scale-lab", "--"]
COMMANDS = {
    "season": (LAB + ["season"], "quick"),
    "knitters": (LAB + ["knitters"], "long"),
    "calibrations": (LAB + ["calibrations"], "long"),
    "measure": (LAB + ["measure"], "long"),
    "worlds": (LAB + ["measure", "--worlds"], "long"),
    "tests-figures": (["tests/figures"], "long"),
    "emulator-figures": (["tests/emulator/figures"], "long"),
    "image": (["firmware/build"], "long"),
}


class Printed:
    """What the commands print, each run once at the most."""

    def __init__(self, kept, long, keep):
        self.kept, self.long, self.keep, self.texts = kept, long, keep, {}

    def __call__(self, name):
        """The text, or `None` if it is not to be had this time."""
        if name not in self.texts:
            self.texts[name] = self.fetch(name)
        return self.texts[name]

    def fetch(self, name):
        command, pace = COMMANDS[name]
        if self.kept:
            file = Path(self.kept) / f"{name}.txt"
            return (file.read_text() or None) if file.exists() else None
        if pace == "long" and not self.long:
            return None
        text = subprocess.run(command, check=True, stdout=subprocess.PIPE, text=True, cwd=ROOT).stdout
        if self.keep:
            os.makedirs(self.keep, exist_ok=True)
            (Path(self.keep) / f"{name}.txt").write_text(text)
        return text


def numbers(text):
    """Every number of a text, as written: signs and commas between thousands left out."""
    return [found.replace(",", "") for found in re.findall(r"\d[\d,]*(?:\.\d+)?", text)]


def line_of(text, begin):
    """The numbers behind the name with which a line begins."""
    for line in text.splitlines():
        if line.startswith(begin):
            return numbers(line[len(begin) :])
    raise SystemExit(f"figures_hold: nothing is printed for {begin!r}")


# --- where each figure is printed ----------------------------------------------------------------


def contender(text, name):
    """The place of a column by the heading that lists it."""
    for line in text.splitlines():
        found = re.match(r"\((\d+)\) (.*)", line)
        if found and found[2].startswith(name):
            return int(found[1]) - 1
    raise SystemExit(f"figures_hold: no column of {name!r}")


def measured(name, column="this scale", times=1.0):
    def value(text):
        for line in text.splitlines():
            words = line.split()
            if words[:1] == [name]:
                cell = words[1 + contender(text, column)]
                return float("nan") if cell == "-" else float(cell) * times
        raise SystemExit(f"figures_hold: {name} is not printed")

    return "measure", value


def honest(course, when, place):
    return "measure", lambda text: float(line_of(text, f"{course}, {when}")[place])


def season(way, hours):
    def value(text):
        table = text.split(f"\n{way}\n")[1].split("\n\n")[0]
        return float(next(row.split("|")[2] for row in table.splitlines()[1:] if row.split("|")[0].strip() == str(hours))) / 1000

    return "season", value


def knitters(question, pairs, column):
    def value(text):
        table = text.split(f"\n{question}\n")[1].split("\n\n")[0]
        row = next(row for row in table.splitlines()[1:] if row.split("|")[0].strip() == str(pairs))
        return float(numbers(row.split("|")[column])[0])

    return "knitters", value


def calibrations(loads, column, times=1.0):
    def value(text):
        row = next(row for row in text.splitlines() if row.split("|")[0].strip() == loads)
        return float(row.split("|")[column]) * times

    return "calibrations", value


def mishap(name, group, place):
    def value(text):
        row = next(row for row in text.splitlines() if row.startswith(name))
        return float(numbers(row.split("|")[group])[place])

    return "calibrations", value


def world(name, column):
    def value(text):
        row = next(row for row in text.splitlines() if row.startswith(name))
        cell = row[16:].split()[column]
        return float("nan") if cell == "-" else float(cell)

    return "worlds", value


def named(command, name, times=1.0):
    return command, lambda text: float(line_of(text, f"{name} ")[0]) * times


# --- the tables ----------------------------------------------------------------------------------

# What depends on how quick a machine is, and what is drawn while time passes in it, may differ by this part.
TIMING = 0.05


def three(name, column, times=1.0):
    return [measured(f"{name}_{p}", column, times) for p in ("p50_s", "p95_s", "p99_9_s")]


def errors(column):
    return [measured(f"error_{p}_mg", column) for p in ("p50", "p95", "p99_9")]


SCALE, EIGHT, SIXTEEN, BOUND = "this scale", "moving average of 8", "moving average of 16", "physical bound"
# Cells by their column; a column that is left out is a goal, or is checked by nobody because nobody prints it, and the reason stands beside.
WEIGHING = {
    "hand off to tick": {2: three("latency", SCALE), 3: three("latency", EIGHT), 4: three("latency", SIXTEEN), 5: three("latency", BOUND)},
    # Of the moving averages the last is in grams.
    "error at the tick": {
        2: errors(SCALE),
        3: errors(EIGHT)[:2] + [measured("error_p99_9_mg", EIGHT, 1e-3)],
        4: errors(SIXTEEN)[:2] + [measured("error_p99_9_mg", SIXTEEN, 1e-3)],
    },
    "tick while a hand": {c: [measured("handled_per_100", n)] for c, n in ((2, SCALE), (3, EIGHT), (4, SIXTEEN))},
    "tick and more than": {c: [measured("wrong_per_100", n)] for c, n in ((2, SCALE), (3, EIGHT), (4, SIXTEEN))},
    "tick during a tug": {c: [measured("tugs_per_100", n)] for c, n in ((2, SCALE), (3, EIGHT), (4, SIXTEEN))},
    "number changes": {
        c: [measured("flicker_per_min", n), measured("footsteps_per_min", n)] for c, n in ((2, SCALE), (3, EIGHT), (4, SIXTEEN))
    },
    "bit faults": {c: [measured("faults_shown_percent", n)] for c, n in ((2, SCALE), (3, EIGHT), (4, SIXTEEN))},
    "a section whose cake came back": {
        2: [
            measured("back_cold_rms_mg"),
            measured("back_warm_rms_mg"),
            measured("back_cold_in_the_end_rms_mg"),
            measured("back_warm_in_the_end_rms_mg"),
        ],
        **{c: [measured("back_cold_rms_mg", n), measured("back_warm_rms_mg", n)] for c, n in ((3, EIGHT), (4, SIXTEEN), (5, BOUND))},
    },
    "a section knitted from the pan": {
        2: [measured("stays_rms_mg"), measured("stays_in_the_end_rms_mg")],
        **{c: [measured("stays_rms_mg", n)] for c, n in ((3, EIGHT), (4, SIXTEEN), (5, BOUND))},
    },
    "the same in a bowl": {2: [measured("bowl_rms_mg"), measured("bowl_in_the_end_rms_mg")], 5: [measured("bowl_rms_mg", BOUND)]},
    "stated 95 % interval": {2: [measured("covered_percent")]},
}


def course(name):
    """Columns of the table of sections: within at the mark and in the end; median and mean of each; covered of each."""
    when = ("at the marks", "in the end")
    return {
        1: [honest(name, w, 2) for w in when],
        2: [honest(name, w, place) for w in when for place in (4, 3)],
        3: [honest(name, w, 5) for w in when],
    }


SECTIONS = {
    "cake came back, cold start": course("comes back, cold start"),
    "cake came back, warm": course("comes back, warm"),
    "knitted from the pan": course("stays on the pan"),
    "everything at once": course("everything at once"),
    "back into a bowl": course("comes back into a bowl"),
}


def percents(question, column):
    return {place: [knitters(question, pairs, column)] for place, pairs in ((1, 3), (2, 5), (3, 8), (4, 24))}


FORECAST = {
    "both toes": percents("both toes", 1),
    "all contrast sections": percents("cuffs, heels, toes of both socks", 1),
    "sock 2, sock 1 known": percents("heel and toe of sock 2, sock 1 knitted", 1),
    "a quarter over, both toes": percents("both toes", 2),
    "mean × 2": percents("both toes", 3),
}


def procedure(loads, in_grams):
    last = calibrations(loads, 4, 1e-3 if in_grams else 1.0)
    return {1: [calibrations(loads, 1)], 2: [calibrations(loads, 2)], 3: [last], 4: [calibrations(loads, 5)]}


CALIBRATION = {
    "one weight of 100 g": procedure("100 g", True),
    "one weight of 200 g": procedure("200 g", True),
    "the weight of 100 g, then": procedure("100 g, cup", False),
    "the weight of 200 g, then": procedure("200 g, cup", False),
    "100 g, 200 g and both": procedure("100, 200, both", False),
    "twenty coins": procedure("20 coins", True),
}
WAYS = {
    "nothing": "nothing, range of the scale alone",
    "humidity sensor, read at the marks": "humidity sensor, read at marks",
    "control skein of 20 g": "control skein of 20 g",
    "control skein of 50 g": "control skein of 50 g",
}
WOOL = {
    name: {place: [season(way, hours)] for place, hours in ((1, 1), (2, 12), (3, 24), (4, 72), (5, 336))} for name, way in WAYS.items()
}
WORLDS = [
    "raised in", "soft mount", "one movement", "two touches", "slow hands", "popcorn noise", "hum", "restless cells", "slides", "rolls", "anything",
    "all mean", "all worst",
]  # fmt: skip
# Columns as `measure --worlds` prints them.
P50, BOUND_P50, P95, BOUND_P95, HANDLED, WRONG = range(6)
ASKED = 9
# Cold, warm, into a bowl, stays, everything at once: error and share covered of each.
COURSES = [(10, 12), (13, 14), (15, 16), (17, 18), (19, 20)]
IN_WORLDS = {
    name: {
        1: [world(name, c) for c in (P50, P95, BOUND_P50, BOUND_P95)],
        2: [world(name, c) for c in (HANDLED, WRONG)],
        3: [world(name, ASKED)],
        **{place: [world(name, c) for c in columns] for place, columns in enumerate(COURSES, 4)},
    }
    for name in WORLDS
}
# Heading of the first column, then the rows.
TABLES = {
    "at 10 samples a second": WEIGHING,
    "1,000 sections, mg": SECTIONS,
    "world (*": IN_WORLDS,
    '"enough" is wrong': FORECAST,
    "calibrated on its own pages": CALIBRATION,
    "hours between cake on": WOOL,
}

# A sentence of the document, its numbers in parentheses; where each is printed, and the part by which it may differ.
SENTENCES = [
    (r"not one in ([\d,]+) simulated power cuts", named("tests-figures", "cut_points"), 0),
    (r"None of ([\d,]+) flipped bits", named("tests-figures", "flips"), 0),
    (r"holds ([\d,]+) pairs", named("tests-figures", "capacity_pairs"), 0),
    # Rounded to hundreds.
    (r"lasts ([\d,]+) years", named("tests-figures", "endurance_years_at_20_marks_and_200_visits_a_day"), 0.02),
    (r"image: ([\d.]+) of at most", named("image", "flash_bytes", 1e-3), 0),
    (r"In ([\d.]+) of 100\s+emptied pans", measured("asked_per_100"), 0),
    (r"([\d.]+) ms for a sample", named("emulator-figures", "sample_mean_ms"), TIMING),
    (r"coins, ± ([\d.]+) g of 300 g", calibrations("20 coins", 6, 1e-3), 0),
    (r"stated, covers ([\d.]+) %", calibrations("20 coins", 7), 0),
]

# What the README repeats: a row of its table, and where the same stands in the figures.
REPEATED = [
    ("hand off to tick", 2, "hand off to tick", 2, [0, 1]),
    ("error at the tick", 2, "error at the tick", 2, [0, 1]),
    ("tick and more than 0.1 g off", 2, "tick and more than 0.1 g off", 2, [0]),
    ("the same with a moving average", 2, "tick and more than 0.1 g off", 3, [0]),
    ("a section, error (rms)", 2, "a section whose cake came back", 2, [2]),
    ("a section knitted from the pan", 2, "a section knitted from the pan", 2, [1]),
    ("stated ± covers", 2, "stated 95 % interval", 2, [0]),
    ("a 4 g section, a day apart", 2, "nothing", 3, [0]),
]


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


def main():
    arguments = sys.argv[1:]
    option = lambda name: arguments[arguments.index(name) + 1] if name in arguments else None  # noqa: E731
    result = compare(Printed(option("--from"), "--long" in arguments, option("--keep")))
    for wrong in result.wrong:
        print(wrong)
    print(f"{result.held} figures hold, {len(result.wrong)} do not, {result.left} need a longer run")
    sys.exit(1 if result.wrong else 0)


if __name__ == "__main__":
    main()

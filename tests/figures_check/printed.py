"""What the commands print that the figures come from, and how a number is found in it."""

import os
import re
import subprocess
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent.parent
LAB = ["cargo", "run", "--quiet", "--locked", "--release", "-p", "yarn-scale-sim", "--bin", "yarn-scale-lab", "--"]
COMMANDS = {
    "season": (LAB + ["season"], "quick"),
    "knitters": (LAB + ["knitters"], "long"),
    "calibrations": (LAB + ["calibrations"], "long"),
    "measure": (LAB + ["measure", "--seed", "7"], "long"),
    "worlds": (LAB + ["measure", "--worlds", "--long", "--seed", "7"], "long"),
    "tests-figures": (["tests/figures"], "long"),
    "emulator-figures": (["tests/emulator/figures"], "long"),
    "emulator-days": (["tests/emulator/figures", "--days"], "long"),
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

"""The power budget and the README's weeks, and where each figure of them is printed."""

import re

from .printed import named, numbers

POWER, README = "hardware-notes/power-budget.md", "README.md"
STATES = ("in_use", "at_rest", "dark", "deep")
# Rows of currents by their beginning, and what each part is called where it is printed.
CURRENTS = {
    "board: RP2040": "_board",
    "regulator at a fixed": "_regulator",
    "HX711 and a bridge": "_converter",
    "display, ": "_display",
    "board's divider": "_divider",
    "**together**": "",
}
# Rows of days.
DAYS = {"three AA alkaline": "three_alkaline", "three AA NiMH": "three_nimh", "lithium 1,200": "lithium"}
WORDS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine")


def printed(name):
    return named("emulator-days", name)


def compare_power(result, power, readme, tables):
    """Currents by part and state, days at both rates, and the weeks that follow from them."""
    every = [row for rows in tables(power) for row in rows]
    row = lambda begin: next(row for row in every if row[0].startswith(begin))  # noqa: E731
    for begin, part in CURRENTS.items():
        for state, shown in zip(STATES, row(begin)[1:5]):
            result.figure(f"{POWER}, {begin}, {state}", numbers(shown)[0], printed(f"current_{state}{part}_ma"))
    at_80 = re.search(r"At 80 samples a second it is ([\d.]+) mA in use, ([\d.]+) at rest and ([\d.]+) dark", power)
    for state, shown in zip(("in_use", "at_rest", "dark"), at_80.groups()):
        result.figure(f"{POWER}, at 80, {state}", shown, printed(f"current_{state}_at_80_ma"))
    for begin, supply in DAYS.items():
        for end, shown in zip(("", "_at_80"), row(begin)[2:4]):
            result.figure(f"{POWER}, days, {begin}{end}", shown, printed(f"days_on_{supply}{end}"))
    for shown, end in zip(re.search(r"= (\d+) mAh a day; at 80 (\d+)", power).groups(), ("", "_at_80")):
        result.figure(f"{POWER}, a day{end}", shown, printed(f"charge_of_a_day{end}_mah"))
    weeks = re.search(r"some (\w+) weeks on three AA batteries, (\w+) on 1,200 mAh", readme)
    for word, supply in zip(weeks.groups(), ("three_alkaline", "lithium")):
        command, days = printed(f"days_on_{supply}")
        result.figure(f"{README}, weeks, {supply}", str(WORDS.index(word)), (command, lambda text, days=days: days(text) // 7))

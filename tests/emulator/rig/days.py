"""What a day costs the cells, and how many days a supply lasts: the image's currents, state by state, times a knitter's day."""

from collections.abc import Iterator

from knitter import FIRST_CAKE, Knitter

from .energy import Spent
from .image import Image

# Since the last use, as on a new device: the display dims, goes dark, and every clock stands.
DIMMED_MS, DARK_MS, DEEP_MS = 60e3, 300e3, 2100e3
LOOKED_AT_MS = 20e3
SINCE_USE = {"at_rest": 10e3, "dimmed": DIMMED_MS + 10e3, "dark": DARK_MS + 60e3, "deep": DEEP_MS + 60e3}
# A day: an hour awake, most of it on the home page at rest, an hour dark, and left on otherwise. Assumed.
HOURS_IN_USE, HOURS_AT_REST, HOURS_DARK = 0.25, 0.75, 1.0
# Usable charge, mAh (common practice, no source).
SUPPLIES = {"three_alkaline": 2200, "three_nimh": 1900, "lithium": 1100}
# What the scale may draw from cells of 3.75 V, mA.
MOST = {"in_use": 14.0, "at_rest": 14.0, "dark": 4.0, "deep": 1.6}


def states(image: Image, flash: bytes, rate_hertz: int, since_use: dict[str, float]) -> Iterator[tuple[str, Spent]]:
    """Each state with what it took: marking sections, then those that come so long after the last use."""
    knitter = Knitter(image, flash=flash, bus_timed=True, rate_hertz=rate_hertz)
    bench = knitter.bench
    knitter.put(FIRST_CAKE - 4.4)
    knitter.see_steady(FIRST_CAKE - 4.4, within=0.2)
    bench.energy.begin()
    for section in range(2):
        knitter.put(FIRST_CAKE - 8.8 - section)
        knitter.see_steady(FIRST_CAKE - 8.8 - section, within=0.2)
        for _page in range(3):
            knitter.press("next")
        bench.run(2_000)
    yield "in_use", bench.energy.end()
    used = bench.machine.ms
    for name, since in since_use.items():
        bench.run(used + since - bench.machine.ms)
        bench.energy.begin()
        bench.run(LOOKED_AT_MS)
        yield name, bench.energy.end()
    assert bench.unexpected() == [], bench.unexpected()


def print_states(image: Image, flash: bytes, rate_hertz: int, since_use: dict[str, float], end: str) -> dict[str, float]:
    """Prints what each state takes, by part and by what the processor does; `end` ends each name. Returns the currents, mA."""
    currents = {}
    for name, spent in states(image, flash, rate_hertz, since_use):
        currents[name] = spent.milliamperes
        print(f"current_{name}{end}_ma {spent.milliamperes:.2f}", flush=True)
        for part, charge in spent.charge.items():
            print(f"current_{name}{end}_{part}_ma {charge / spent.hours:.3f}")
        for state, hours in spent.states.items():
            share = 100 * hours / spent.hours
            if share >= 0.01:
                print(f"time_{name}{end}_{state.replace(',', '').replace(' ', '_')}_percent {share:.2f}")
    return currents


def print_day(currents: dict[str, float], end: str) -> None:
    """Prints what an hour and a day take, and how many of these each supply lasts."""
    hour = HOURS_IN_USE * currents["in_use"] + HOURS_AT_REST * currents["at_rest"]
    day = hour + HOURS_DARK * currents["dark"] + (24 - 1 - HOURS_DARK) * currents["deep"]
    print(f"charge_of_an_hour_awake{end}_mah {hour:.1f}")
    print(f"charge_of_a_day{end}_mah {day:.1f}")
    for supply, charge in SUPPLIES.items():
        print(f"days_on_{supply}{end} {charge / day:.0f}")


def print_days(image: Image, flash: bytes) -> list[str]:
    """Prints all of it at ten samples a second, and what is different at eighty; returns what is more than it may be."""
    currents = print_states(image, flash, 10, SINCE_USE, "")
    print_day(currents, "")
    print(f"charge_of_an_idle_day_mah {24 * currents['deep']:.1f}")
    for supply, charge in SUPPLIES.items():
        print(f"idle_days_on_{supply} {charge / 24 / currents['deep']:.0f}")
    # Deep, where every clock stands, no rate makes a difference.
    faster = {name: since for name, since in SINCE_USE.items() if name in ("at_rest", "dark")}
    at_80 = print_states(image, flash, 80, faster, "_at_80")
    print_day(currents | at_80, "_at_80")
    too_much = [f"{name} draws more than {most} mA" for name, most in MOST.items() if currents[name] > most]
    # Lit, eighty a second take more, and are told so; in the dark they need not.
    return too_much + [f"{name} draws more than {MOST[name]} mA at 80" for name in ("dark",) if at_80[name] > MOST[name]]

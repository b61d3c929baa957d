"""The converter's module: how noisy it is by what it is fed from.

The converter's noise at its input is 50 nV at ten conversions a second and 90 at eighty (HX711 data sheet, "Input noise" at gain 128). Its
reference is the voltage that feeds the bridge, so that a load gives the same counts on any, and less voltage only more noise: on
VCC of 5 V the module's regulator makes 4.3 V, on 3.3 V it passes on some 3.2 (hardware-notes/bench-checks.md, part A).
"""

import random

GAIN, STEPS = 128, 1 << 24
VOLTS = {"5 V": 4.3, "3.3 V": 3.2}
NOISE_NANOVOLTS = {10: 50.0, 80: 90.0}


def noise_counts(fed_from: str, rate_hertz: float) -> float:
    """Standard deviation of a conversion in counts: 25 on 5 V at ten a second."""
    nanovolts = NOISE_NANOVOLTS[80 if rate_hertz > 40 else 10]
    return nanovolts * 1e-9 * GAIN * STEPS / VOLTS[fed_from]


def on(fed_from: str, source, rate_hertz: float):
    """What the converter gives for what the cell feels: `source(n, ms)` in counts, and noise, the same in every run."""
    spread, chance = noise_counts(fed_from, rate_hertz), random.Random(711)
    return lambda n, ms: source(n, ms) + round(chance.gauss(0, spread))

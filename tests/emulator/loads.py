"""What the cell feels in the tests: invented loads, in counts, by a fixed rule so that every run is the same."""

from collections.abc import Callable


def noise(n: int) -> int:
    """A few counts of noise for conversion `n`: a linear congruence, the same in every run."""
    return (n * 1_103_515_245 + 12_345 >> 16) % 31 - 15


def steady(counts: int) -> Callable[[int, float], int]:
    """A load of `counts` that stays."""
    return lambda n, ms: counts + noise(n)


def steps(*loads: tuple[float, int]) -> Callable[[int, float], int]:
    """Loads by the clock: (from ms, counts) in order of time."""
    return lambda n, ms: [counts for start, counts in loads if start <= ms][-1] + noise(n)

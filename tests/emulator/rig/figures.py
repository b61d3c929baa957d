"""What the image costs, printed as lines `name value`; README.md says how each is measured."""

from . import sizes
from .bench import Bench
from .cycles import CallMeter, SampleMeter
from .image import Image
from .stack import Stack
from .wiring import CORE_HERTZ

TOP = 10


def print_sizes(image: Image) -> None:
    """Flash and RAM by section, flash by crate."""
    for name, flash, ram in sizes.by_section(image):
        print(f"section{name.replace('.', '_')} flash {flash} ram {ram}")
    for crate, size in sizes.by_crate(image)[:TOP]:
        print(f"crate {crate} {size}")


def print_run(image: Image) -> None:
    """Stack, cycles and start, over a run with weighing, keys, flash writes and a computer on the port."""
    bench = Bench(image, knitting, usb=True)
    stack = Stack(bench.machine)
    samples = SampleMeter(bench.machine, bench.converter, bench.display)
    bench.run(1500)
    for key in ("next", "next", "zero", "mark", "next"):
        bench.keys.press(key)
        bench.run(3000)
    used = stack.depth()
    static = sizes.static_ram_bytes(image)
    print(f"flash_bytes {sizes.flash_bytes(image)}")
    print(f"ram_static_bytes {static}")
    print(f"stack_worst_bytes {used}")
    print(f"ram_static_and_stack_bytes {static + used}")
    print(f"cycles_sample_median {samples.median()}")
    print(f"cycles_sample_worst {samples.worst()}")
    print(f"cycles_sample_and_screen_median {samples.with_screen.median()}")
    print(f"cycles_sample_and_screen_worst {samples.with_screen.worst()}")
    print(f"sample_share_at_80_hertz_percent {100 * 80 * samples.worst() / CORE_HERTZ:.3f}")
    print(f"clock_high_longest_us {bench.converter.longest_high_us:.2f}")
    print(f"first_conversion_ms {bench.converter.read[0][0]:.0f}")


def knitting(n: int, ms: float) -> int:
    """Counts of an invented cake with a little noise: a load after two seconds, a bit lighter every ten."""
    load = 0 if ms < 2000 else 200_000 - int(ms // 10_000) * 2_000
    return 12_345 + load + (n * 7919 % 31) - 15


def main() -> None:
    """Prints all figures of the image."""
    image = Image()
    print_sizes(image)
    print_run(image)


if __name__ == "__main__":
    main()

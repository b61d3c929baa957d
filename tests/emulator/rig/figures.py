"""What the image costs, printed as lines `name value`; README.md says how each is measured."""

import re
import sys

from knitter import Knitter

from . import sizes
from .cycles import CallMeter, SampleMeter
from .image import Image, Symbol
from .profile import Profile
from .stack import Stack
from .wiring import CORE_HERTZ

TOP = 10
FASTEST_RATE_HERTZ = 80


def print_sizes(image: Image) -> None:
    """Flash and RAM by section, flash by crate."""
    for name, flash, ram in sizes.by_section(image):
        print(f"section {name} flash {flash} ram {ram}")
    for crate, size in sizes.by_crate(image)[:TOP]:
        print(f"crate {crate} {size}")
    print(f"flash_bytes {sizes.flash_bytes(image)}")


def print_knitting(image: Image) -> bytes:
    """Stack and cycles from a new device's calibration to its first mark, with a computer on the port; returns its flash."""
    knitter = Knitter(image, usb=True)
    bench = knitter.bench
    stack = Stack(bench.machine)
    core = function(image, r"^_RNvM.*3app8dispatch.*App6handle$")
    samples = SampleMeter(bench.machine, bench.converter, bench.display, core)
    drawing = CallMeter(bench.machine, function(image, r"^_RINv.*6screen4draw4draw"))
    knitter.calibrate()
    knitter.begin_pair()
    knitter.weigh_in(21.3)
    knitter.mark(16.9)
    used, static = stack.depth(), sizes.static_ram_bytes(image)
    print(f"ram_static_bytes {static}")
    print(f"stack_worst_bytes {used}")
    print(f"ram_static_and_stack_bytes {static + used}")
    spent = {"sample_core": samples.core, "sample": samples.quiet, "sample_and_screen": samples.with_screen}
    for name, cycles in {**spent, "drawing": drawing}.items():
        print(f"cycles_{name}_median {cycles.median()}")
        print(f"cycles_{name}_worst {cycles.worst()}")
    share = 100 * FASTEST_RATE_HERTZ * samples.core.median() / CORE_HERTZ
    print(f"sample_core_percent_at_{FASTEST_RATE_HERTZ}_hertz {share:.2f}")
    print(f"clock_high_longest_us {bench.converter.longest_high_us:.2f}")
    print(f"flash_erases {bench.flash.erases()}")
    print(f"flash_programs {len(bench.flash.operations) - bench.flash.erases()}")
    return bench.machine.flash()


def print_start(image: Image, flash: bytes) -> None:
    """Time from power-on to the first shown weight."""
    knitter = Knitter(image, flash=flash)
    shown = knitter.bench.until(lambda: knitter.bench.page().number is not None, 5000, "a weight")
    print(f"first_weight_ms {shown:.0f}")


def print_profile(image: Image) -> None:
    """Where the awake cycles of weighing go, by function."""
    knitter = Knitter(image)
    knitter.bench.run(1500)
    profile = Profile(knitter.machine)
    knitter.bench.run(4000)
    for name, percent in profile.shares()[: 3 * TOP]:
        print(f"profile {percent:.1f} {name}")


def function(image: Image, name: str) -> Symbol:
    """The one function whose mangled name matches."""
    found = [symbol for symbol in image.matching() if re.search(name, symbol.name)]
    assert len(found) == 1, f"{len(found)} functions match {name}: {[s.name for s in found]}"
    return found[0]


def main() -> None:
    """Prints all figures of the image, or where the cycles go with `--profile`."""
    image = Image()
    if "--profile" in sys.argv:
        print_profile(image)
        return
    print_sizes(image)
    print_start(image, print_knitting(image))


if __name__ == "__main__":
    main()

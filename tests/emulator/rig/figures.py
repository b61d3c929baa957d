"""What the image costs when it runs, printed as lines `name value`: stack, cycles, times. `firmware/build` prints its sizes.

Fails if it costs more than it may.

usage: figures [--drive | --profile | --days]
"""

import re
import sys

from knitter import FIRST_CAKE, Knitter

from .attach import print_drive
from .cycles import CallMeter, SampleMeter, Spent
from .days import print_days
from .decades import decades_later
from .image import Image, Symbol
from .link import Computer
from .profile import Profile
from .stack import Stack
from .wiring import CORE_HERTZ

TOP = 10
# Statics and the deepest stack together: half of the chip's RAM, so that a stack that was never seen still has room. What happens once
# after a restore is not measured here: the application is built anew beside the old one, by its frames 139 KB.
MOST_RAM_BYTES = 128 * 1024
# A sample in the mean, all that hangs on it included: a hundredth of the time between two.
MOST_SAMPLE_CYCLES = CORE_HERTZ // 1000
DISPATCH, DRAW = r"^_RNvM.*3app11application.*App6handle$", r"^_RINv.*6screen4draw4draw"
POLL = r"^_RINvM.*5drive5drive.*Drive4poll"
# What a press of MARK can mean, from the load on the pan to the record or the question.
TAKE_MARK = r"^_RNvM.*3app6asking.*App9take_mark$"


def print_cycles(name: str, spent: Spent) -> None:
    """The middle, the mean and the worst."""
    print(f"cycles_{name}_median {spent.median()}")
    print(f"cycles_{name}_mean {spent.mean()}")
    print(f"cycles_{name}_worst {spent.worst()}")


def print_rate(samples: SampleMeter, rate_hertz: int) -> None:
    """What one sample costs at that many samples a second, and which share of the processor all of them are."""
    for part, spent in {"core": samples.core, "all": samples.quiet}.items():
        print_cycles(f"sample_{part}_at_{rate_hertz}_hertz", spent)
        share = 100 * rate_hertz / CORE_HERTZ
        print(f"sample_{part}_percent_at_{rate_hertz}_hertz {share * spent.mean():.2f} worst {share * spent.worst():.2f}")


def print_knitting(image: Image) -> tuple[bytes, int, float]:
    """Cycles from a new device's calibration to its first mark, with a computer on the port; returns its flash and stack, and a sample's
    cycles in the mean."""
    knitter = Knitter(image, usb=True)
    bench = knitter.bench
    stack = Stack(bench.machine)
    samples = SampleMeter(bench.machine, bench.converter, bench.display, function(image, DISPATCH))
    drawing = CallMeter(bench.machine, function(image, DRAW))
    considering = CallMeter(bench.machine, function(image, TAKE_MARK))
    knitter.calibrate()
    knitter.begin_pair()
    knitter.weigh_in(FIRST_CAKE)
    knitter.mark(FIRST_CAKE - 4.4)
    print_rate(samples, 10)
    print_cycles("screen_drawn", drawing)
    print_cycles("mark_considered", considering)
    print_cycles("screen_drawn_and_sent", samples.with_screen)
    print(f"clock_high_longest_us {bench.converter.longest_high_us:.2f}")
    print(f"flash_erases {bench.flash.erases()}")
    print(f"flash_programs {len(bench.flash.operations) - bench.flash.erases()}")
    return bench.machine.flash(), stack.depth(), samples.quiet.mean()


def print_fast(image: Image, flash: bytes) -> None:
    """The same with the converter strapped to 80 samples a second: an empty pan, a cake put on, a cake at rest."""
    knitter = Knitter(image, flash=flash, rate_hertz=80)
    bench = knitter.bench
    bench.run(1500)
    samples = SampleMeter(bench.machine, bench.converter, bench.display, function(image, DISPATCH))
    knitter.put(FIRST_CAKE)
    knitter.see_steady(FIRST_CAKE, within=0.2)
    bench.run(2000)
    print_rate(samples, 80)
    print(f"samples_missed_at_80_hertz {bench.converter.missed}")


def print_start(image: Image, flash: bytes, what: str) -> int:
    """Time from power-on to the first shown weight; returns the stack that a start on a computer's USB and a backup over it took."""
    alone = Knitter(image, flash=flash)
    shown = alone.bench.until(lambda: alone.bench.page().number is not None, 5000, "a weight")
    print(f"first_weight_ms_{what} {shown:.0f}")
    knitter = Knitter(image, flash=flash, usb=True)
    stack = Stack(knitter.machine)
    knitter.machine.run_until(lambda: knitter.bench.usb.connected, 3000)
    Computer(knitter.bench).read_all(most=20)
    return stack.depth()


def made_ready(image: Image) -> bytes:
    """The flash of a device with a pair begun and its first yarn weighed in."""
    knitter = Knitter(image, usb=True)
    knitter.calibrate()
    knitter.begin_pair()
    knitter.weigh_in(FIRST_CAKE)
    return knitter.machine.flash()


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
    """Prints all figures of the image; with an option only how the drive comes, where the cycles go, or what the cells are drawn from."""
    image = Image()
    if "--profile" in sys.argv:
        print_profile(image)
        return
    if "--days" in sys.argv:
        too_much = print_days(image, made_ready(image))
        sys.exit("; ".join(too_much) or None)
    if "--drive" in sys.argv:
        flash = made_ready(image)
        flashes = {"empty": None, "usual": flash, "journal_full": decades_later(flash)}
        print_drive(image, function(image, POLL), flashes)
        return
    flash, stack, sample_cycles = print_knitting(image)
    print_fast(image, flash)
    full = decades_later(flash)
    stacks = [stack, print_start(image, flash, "new"), print_start(image, full, "journal_full")]
    print(f"stack_worst_bytes {max(stacks)}")
    print(f"ram_static_bytes {image.ram_bytes}")
    ram = image.ram_bytes + max(stacks)
    print(f"ram_static_and_stack_bytes {ram}")
    if ram > MOST_RAM_BYTES or sample_cycles > MOST_SAMPLE_CYCLES:
        sys.exit(f"more than {MOST_RAM_BYTES} bytes of RAM, or than {MOST_SAMPLE_CYCLES} cycles a sample in the mean (limits in rig/figures.py)")


if __name__ == "__main__":
    main()

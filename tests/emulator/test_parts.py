"""One image for the parts that shops sell: both straps, both panels, three supplies, modules on 5 and on 3.3 V.

By default those combinations in which every two of strap, panel and supply meet; with --long all. The panel's question is answered by what
is seen.
"""

import itertools

import pytest

from knitter import FIRST_CAKE, Knitter
from rig import journal
from rig.png import edges

RATES = (10, 80)
PANELS = ("ssd1306", "sh1106")
# What the list calls it, what the module then is fed from (hardware-notes/wiring.md), and VSYS when it is fresh and below its limit for
# writing; USB has no such limit in reach.
SUPPLIES = {
    "3 AA alkaline": ("3.3 V", 4300, 2850),
    "lithium battery": ("3.3 V", 3700, 3000),
    "USB only": ("5 V", 4800, None),
}
IN_PAIRS = [
    (10, "ssd1306", "3 AA alkaline"),
    (80, "sh1106", "3 AA alkaline"),
    (10, "sh1106", "lithium battery"),
    (80, "ssd1306", "lithium battery"),
    (10, "sh1106", "USB only"),
    (80, "ssd1306", "USB only"),
]
OTHERS = [every for every in itertools.product(RATES, PANELS, SUPPLIES) if every not in IN_PAIRS]


def test_every_two_parts_meet():
    for one, other in itertools.combinations(range(3), 2):
        met = {(combination[one], combination[other]) for combination in IN_PAIRS}
        all_of = {(combination[one], combination[other]) for combination in itertools.product(RATES, PANELS, SUPPLIES)}
        assert met == all_of


def answer_by_picture(knitter: Knitter) -> int:
    """Answers the panel's question as who looks at it would, and says how often the picture had to be moved."""
    bench = knitter.bench
    bench.wait_for("frame", 2000)
    for moved in range(6):
        bench.run(300)
        if all(edges(bench.display.seen())):
            knitter.go_on("OK")
            return moved
        knitter.press("next")
    raise AssertionError("the frame never touches all edges")


@pytest.mark.parametrize(
    ("rate", "panel", "supply"),
    IN_PAIRS + [pytest.param(*every, marks=pytest.mark.long) for every in OTHERS],
)
def test_a_mark_is_noted_with_these_parts(image, ready, rate, panel, supply):
    fed_from, fresh, empty = SUPPLIES[supply]
    usb = supply == "USB only"
    knitter = Knitter(
        image, flash=ready, rate_hertz=rate, panel=panel, millivolts=0 if usb else fresh, usb=usb, module=fed_from
    )
    bench = knitter.bench
    knitter.put(0)
    # On a shifted panel the first letter is cut off until the question is answered.
    if usb:
        bench.wait_for("rive", 5000)
        knitter.press("mark")
    bench.run(2000)
    knitter.hold("next")
    knitter.choose("arts")
    assert answer_by_picture(knitter) == PANELS.index(panel)
    knitter.choose(supply)
    knitter.choose("500")
    knitter.put(FIRST_CAKE - 4.4)
    if empty:
        knitter.see_steady(FIRST_CAKE - 4.4)
        bench.supply.set(empty)
        bench.run(1200)
        knitter.press("mark")
        bench.wait_for("Not done", 1000)
        bench.supply.set(fresh)
        bench.run(1200)
        knitter.press("next")
    knitter.mark(FIRST_CAKE - 4.4)
    assert len(knitter.entries(*journal.MARKS)) == 1
    assert bench.converter.torn == 0 and bench.machine.resets == [] and bench.unexpected() == []


def test_a_new_scale_on_a_shifted_panel_asks_by_its_picture(image):
    """From a blank journal on an SH1106 whose picture begins in column 2: what is asked can be read before, and all is seen after."""
    knitter = Knitter(image, panel="sh1106", module="3.3 V", millivolts=3700)
    bench = knitter.bench
    knitter.put(0)
    knitter.go_on("choose")  # English
    knitter.go_on("calibrate")
    assert answer_by_picture(knitter) == 1
    knitter.choose("lithium battery")
    knitter.go_on("choose")
    bench.wait_for("Empty the pan", 2000)
    assert bench.page().keys == ["weigh"] and bench.page().says("back"), "whole words from edge to edge"
    settings = [entry.fields for entry in knitter.entries("Setting")]
    # English, asked for, column 2, lithium, 500 g: the numbers of the settings and their values.
    asked = [bytes([1, 0]), bytes([9, 1])]
    assert settings == [*asked, bytes([7, 2]), bytes([8, 2]), bytes([6, 0xF4, 3])]
    again = Knitter(image, flash=bench.machine.flash(), panel="sh1106", millivolts=3700)
    again.bench.wait_for("Not calibrated", 3000)
    assert bench.unexpected() == []

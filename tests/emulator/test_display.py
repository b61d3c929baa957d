"""The panel pulled off and put back: weighing goes on without it, and afterwards it shows what it would have shown."""

from loads import steps
from rig.bench import Bench

# The firmware looks after the panel once a second.
BACK_WITHIN_MS = 2500


def test_without_a_panel_it_weighs_on_and_shows_all_when_it_is_back(image):
    def bench() -> Bench:
        return Bench(image, steps((0, 1000), (2500, 250_000)))

    undisturbed, disturbed = bench(), bench()
    for each in (undisturbed, disturbed):
        each.run(2000)
    disturbed.display.unplug()
    for each in (undisturbed, disturbed):
        each.run(3000)
    assert disturbed.bus.refused, "it has been tried"
    assert disturbed.converter.missed == 0
    assert disturbed.converter.read[-1][1] == undisturbed.converter.read[-1][1]
    disturbed.display.plug()
    disturbed.machine.run_until(lambda: disturbed.display.lit, BACK_WITHIN_MS)
    for each in (undisturbed, disturbed):
        each.run(6000 + BACK_WITHIN_MS - each.machine.ms)
    assert disturbed.display.seen() == undisturbed.display.seen()
    assert disturbed.display.contrast == undisturbed.display.contrast
    assert disturbed.machine.resets == [] and disturbed.unexpected() == []


def test_a_panel_that_lost_its_power_unnoticed_comes_back(image):
    bench = Bench(image, lambda n, ms: 1000)
    bench.run(2000)
    before = bench.display.seen()
    bench.display.unplug()
    bench.display.plug()
    bench.run(10_000)
    assert bench.display.lit
    assert bench.display.seen() == before


def test_starts_without_a_panel(image):
    bench = Bench(image, steps((0, 1000)))
    bench.display.unplug()
    bench.run(3000)
    assert len(bench.converter.read) > 20 and bench.converter.missed == 0
    bench.display.plug()
    bench.machine.run_until(lambda: bench.display.lit, BACK_WITHIN_MS)


def test_a_lit_panel_is_not_told_again_what_it_cannot_have_lost(image):
    """Rows, offset, clock and wiring of the rows stand as after reset; said again to a lit panel they can make it flicker."""
    bench = Bench(image, lambda n, ms: 1000)
    bench.run(2000)
    bench.display.while_lit.clear()
    bench.run(20_000)
    assert bench.display.while_lit, "it is looked after"
    assert not {0xA8, 0xD3, 0xD5, 0xDA, 0xAE} & set(bench.display.while_lit)
    assert bench.display.while_lit.count(0x8D) <= 3, "the charge pump now and then"


def test_a_panel_with_the_other_controller_is_lit_and_readable(image):
    """An SH1106 whose first columns are bonded, so that its picture begins where an SSD1306's does."""
    pages = []
    for panel in ("ssd1306", "sh1106"):
        bench = Bench(image, lambda n, ms: 1000, panel=panel)
        bench.display.first_column = 0
        bench.run(3000)
        assert bench.display.lit and bench.display.unknown == []
        pages.append(bench.display.seen())
    assert pages[0] == pages[1]

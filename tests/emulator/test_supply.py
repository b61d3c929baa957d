"""A battery that runs down: it is said in time, and flash is no longer written when a write might not end."""

from knitter import FIRST_CAKE, Knitter
from rig import journal

# Below 3.3 V the battery is called low, below 2.9 V nothing is noted any more.
BATTERY_LOW = 3100


def test_a_mark_is_refused_aloud_when_the_supply_is_too_low_to_write(image, ready):
    knitter = Knitter(image, flash=ready)
    bench = knitter.bench
    after = FIRST_CAKE - 4.4
    knitter.put(after)
    knitter.see_steady(after)
    bench.run(2000)
    bench.supply.set(1900)
    bench.run(1500)
    operations = len(bench.flash.operations)
    knitter.press("mark")
    bench.wait_for("Not done", 1500)
    assert len(bench.flash.operations) == operations
    assert knitter.entries(*journal.MARKS) == []
    bench.supply.set(4800)
    bench.run(1500)
    knitter.press("next")
    knitter.mark(after)
    assert len(knitter.entries(*journal.MARKS)) == 1


def test_a_low_battery_is_shown_before_it_matters(image, ready):
    healthy, low = Knitter(image, flash=ready), Knitter(image, flash=ready, millivolts=BATTERY_LOW)
    pages = []
    for knitter in (healthy, low):
        knitter.put(FIRST_CAKE)
        knitter.see_steady(FIRST_CAKE)
        knitter.bench.run(2000)
        pages.append(knitter.bench.page())
    assert pages[0].grams == pages[1].grams
    assert pages[0].memory != pages[1].memory, "a sign in the top line"
    low.mark(FIRST_CAKE - 4.4)
    assert len(low.entries(*journal.MARKS)) == 1, "and it still notes"

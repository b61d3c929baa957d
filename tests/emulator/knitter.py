"""A knitter at the bench: puts things on the pan, presses keys, reads the display. All loads are invented."""

from loads import noise
from rig import journal
from rig.bench import Bench
from rig.image import Image
from rig.link import Computer

# A 500 g cell of 1 mV/V behind a gain of 128: 4,295 counts a gram, and an empty pan somewhere off zero.
COUNTS_PER_GRAM = 4295
EMPTY_COUNTS = 81_234
# What the first cake of the tests weighs, in the contrast yarn.
FIRST_CAKE = 21.3
PRESS_MS, HOLD_MS = 120.0, 900.0
# Longest that a reading takes to be steady after a hand has left the pan, and that a page takes to be drawn.
STEADY_MS, PAGE_MS = 6000.0, 600.0


class Knitter:
    """Works the scale of `bench`; `grams` is what lies on the pan."""

    def __init__(self, image: Image, **options):
        self.grams = 0.0
        self.bench = Bench(image, self._cell, **options)
        self.machine = self.bench.machine
        self._read: tuple[int, list[journal.Entry]] | None = None

    def _cell(self, n: int, ms: float) -> int:
        return EMPTY_COUNTS + round(self.grams * COUNTS_PER_GRAM) + 4 * noise(n)

    # the pan ------------------------------------------------------------------------------------

    def put(self, grams: float) -> None:
        """Changes what lies on the pan to `grams` in all, and waits until a hand would be away."""
        self.grams = grams
        self.bench.run(400)

    def see(self, grams: float, within: float = 0.05) -> None:
        """Waits until the main number shows `grams`."""
        self.bench.until(lambda: self._shows(grams, within), STEADY_MS, f"{grams:.1f} g")

    def see_steady(self, grams: float, within: float = 0.05) -> None:
        """Waits until the main number shows `grams` and the steady sign beside it."""
        steady = lambda: self._shows(grams, within) and self.bench.page().steady
        self.bench.until(steady, STEADY_MS, f"{grams:.1f} g, steady")

    def _shows(self, grams: float, within: float) -> bool:
        shown = self.bench.page().grams
        return shown is not None and abs(shown - grams) <= within

    # the keys -----------------------------------------------------------------------------------

    def press(self, key: str) -> None:
        """A short press, and the time it takes to see what it did."""
        self.bench.keys.press(key, PRESS_MS)
        self.bench.run(PRESS_MS + 300)

    def hold(self, key: str) -> None:
        """A long press."""
        self.bench.keys.press(key, HOLD_MS)
        self.bench.run(HOLD_MS + 300)

    def choose(self, text: str) -> None:
        """On a list: goes to the line that says `text` and takes it."""
        for _ in range(30):
            if text in self.bench.page().highlighted:
                self.press("mark")
                return
            self.press("next")
        raise AssertionError(f"no line says {text!r}: {self.bench.page().words}")

    def home(self) -> None:
        """Back to the home page."""
        for _ in range(6):
            if self.bench.page().number:
                return
            self.press("zero")
        raise AssertionError(f"no way home: {self.bench.page().words}")

    # longer jobs --------------------------------------------------------------------------------

    def go_on(self, word: str) -> None:
        """Waits until the big key says `word`, and presses it."""
        self.bench.until(lambda: word in self.bench.page().keys, STEADY_MS, f"a key that says {word!r}")
        self.press("mark")

    def calibrate(self) -> None:
        """Calibrates a new device with the empty pan and a mass of 100 g, led by the big key."""
        self.put(0)
        self.bench.run(STEADY_MS)
        self.go_on("choose")  # English
        self.go_on("calibrate")
        self.answer_for_parts()
        self.bench.run(STEADY_MS)
        self.go_on("weigh")  # the empty pan
        self.go_on("choose")  # a known mass
        self.go_on("OK")  # of 100 g
        self.put(100)
        self.bench.run(STEADY_MS)
        self.go_on("weigh")
        self.put(0)
        self.bench.run(STEADY_MS)
        self.go_on("weigh")  # the empty pan again
        self.go_on("choose")  # that is enough
        self.go_on("save")
        self.bench.until(lambda: bool(self.entries("Calibrated")), STEADY_MS, "a calibration in the journal")

    def answer_for_parts(self, panel_presses: int = 0, supply: str = "3 AA alkaline") -> None:
        """Says of a new device what it was built with: where the panel's picture begins, its supply, a cell of 500 g."""
        for _ in range(panel_presses):
            self.press("next")
        self.go_on("OK")
        self.choose(supply)
        self.go_on("choose")

    def begin_pair(self) -> None:
        """Begins the first pair with the first plan: contrast cuffs, heels and toes."""
        self.put(0)
        self.bench.wait_for("Cuffs, heels, toes", STEADY_MS)
        self.go_on("choose")
        self.bench.wait_for("One, then the other", STEADY_MS)
        self.go_on("choose")
        self.bench.until(lambda: bool(self.entries("PairBegun")), STEADY_MS, "a pair in the journal")

    def mark(self, grams: float, word: str = "MARK") -> None:
        """Puts a cake of `grams` on, waits until it is shown steadily, presses MARK and closes the notice."""
        self.put(grams)
        self.see_steady(grams)
        self.go_on(word)
        self.bench.until(self.has_noted, PAGE_MS, "a notice that it is noted")
        self.press("next")

    def has_noted(self) -> bool:
        """Whether the display says that something has been noted: a notice, and no refusal."""
        page = self.bench.page()
        return page.keys == ["OK"] and not page.says("Not done")

    def weigh_in(self, grams: float) -> None:
        """The same for a yarn's first weight."""
        self.mark(grams, "weigh in")

    # what is kept -------------------------------------------------------------------------------

    def entries(self, *kinds: str) -> list[journal.Entry]:
        """Entries of the journal, of these kinds or all."""
        # Read anew only when the flash has changed: a full journal takes longer to read than the scale to run meanwhile.
        operations = len(self.bench.flash.operations)
        if self._read is None or self._read[0] != operations:
            self._read = operations, journal.entries(self.bench.flash.journal())
        return [entry for entry in self._read[1] if not kinds or entry.kind in kinds]


def plugged_in(image: Image, flash: bytes | None = None) -> tuple[Knitter, Computer]:
    """A device that a computer has found on its USB port."""
    knitter = Knitter(image, flash=flash, usb=True)
    knitter.machine.run_until(lambda: knitter.bench.usb.connected, 3000)
    knitter.bench.run(500)
    return knitter, Computer(knitter.bench)

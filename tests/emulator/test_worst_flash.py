"""The flash chip at the longest times its sheet allows: an erase of 400 ms, a program of 3 ms, and the core deaf meanwhile.

Conversions may be lost then; no press and no confirmed record may.
"""

import pytest

from knitter import FIRST_CAKE, Knitter
from rig import journal, link
from rig.link import Computer
from rig.wiring import JOURNAL_OFFSET, JOURNAL_SIZE


def test_a_mark_is_noted_and_kept_at_the_longest_times(image, ready):
    knitter = Knitter(image, flash=ready, flash_times="worst", usb=True)
    bench = knitter.bench
    bench.machine.run_until(lambda: bench.usb.connected, 3000)
    computer = Computer(bench)
    knitter.mark(FIRST_CAKE - 4.4)
    assert len(knitter.entries(*journal.MARKS)) == 1
    assert computer.ask(link.hello())[0] == link.DEVICE, "and the computer is answered"
    assert bench.machine.resets == [] and bench.unexpected() == []
    again = Knitter(image, flash=bench.machine.flash(), flash_times="worst")
    assert len(again.entries(*journal.MARKS)) == 1


def dirtied(flash: bytes) -> bytes:
    """The same, but that the sector behind the one with the latest marks holds what a supply that failed in an erase left."""
    area = flash[JOURNAL_OFFSET : JOURNAL_OFFSET + JOURNAL_SIZE]
    at, _ = journal.room_for_a_mark(area, b"")
    ahead = JOURNAL_OFFSET + (at // journal.SECTOR + 1) * journal.SECTOR
    return flash[: ahead + 99] + b"\x7f" + flash[ahead + 100 :]


@pytest.mark.long
def test_a_press_during_the_longest_erase_is_not_lost(image, ready):
    """A sector is erased ahead when the display dims; NEXT is pressed and let go within that erase."""
    knitter = Knitter(image, flash=dirtied(ready), flash_times="worst")
    bench = knitter.bench
    knitter.put(0)
    pressed: list[float] = []
    command = bench.flash._note

    def erase_begins(operation) -> None:
        command(operation)
        if operation.kind == "erase" and not pressed:
            pressed.append(bench.machine.ms)
            bench.keys.press("next", 150)

    bench.flash._note = erase_begins
    before = bench.page().words
    bench.until(lambda: bool(pressed), 120_000, "an erase")
    bench.run(1500)
    assert bench.page().words != before, "the press turned the page"
    assert bench.machine.resets == []

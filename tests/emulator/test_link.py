"""The line to a computer on the image itself: what is read is what the flash holds, what is restored is what was read."""

import random

import pytest

from knitter import FIRST_CAKE, Knitter, plugged_in
from rig import journal, link
from rig.wiring import JOURNAL_OFFSET

# How many frames are damaged, and how many of them are sent at a time.
DAMAGED, WITH_LONG = 5_000, 100_000
AT_ONCE = 250


def test_says_who_it_is(image, ready):
    knitter, computer = plugged_in(image, ready)
    answer = computer.ask(link.hello())
    assert answer[0] == link.DEVICE
    assert answer[1] == 5, "protocol"
    length, at = link.unvarint(answer, 3)
    assert answer[at : at + length].decode().count(".") == 2, "a version"
    assert knitter.bench.unexpected() == []


def test_reads_out_what_the_flash_holds_and_restores_it_to_a_blank_scale(image, ready):
    knitter, computer = plugged_in(image, ready)
    saved = computer.read_all()
    assert link.numbers(saved) == link.standing(knitter.bench.flash.journal())
    area = knitter.bench.flash.journal()
    assert all(entry in area for _, entry in saved), "byte by byte"
    marks = [entry for ring, entry in saved if ring == link.MARKS]
    assert len(marks) >= 3, "a calibration, a pair, a weigh-in"

    assert computer.ask(link.ends()) == bytes([link.ENDS_ARE, 0]), "nothing was cut off"

    blank, computer = plugged_in(image)
    assert computer.ask(link.restore(link.MARKS, marks[0])) == bytes([link.REFUSED, link.STALE]), "none was begun"
    assert computer.ask(link.restore_begin())[0] == link.RESTORE_BEGUN
    for part in (link.PAIRS, link.MARKS, link.VISITS):
        entries = [entry for ring, entry in saved if ring == part]
        # One alone, then all the others at once.
        for row in filter(None, (entries[:1], entries[1:])):
            # The second time as if the answer had been lost.
            assert computer.ask(link.restore(part, *row)) == bytes([link.RESTORED])
            assert computer.ask(link.restore(part, *row)) == bytes([link.RESTORED])
        if entries:
            assert computer.ask(link.restore(part, entries[0])) == bytes([link.REFUSED, link.FOREIGN]), "one that stands there"
    assert computer.ask(link.restore_end(saved[1:])) == bytes([link.REFUSED, link.FOREIGN]), "that is not what came"
    assert computer.ask(link.restore_end(saved)) == bytes([link.RESTORED])
    blank.bench.run(2500)
    assert computer.read_all() == saved
    # And it goes on as the first one would have.
    blank.put(FIRST_CAKE - 4.4)
    blank.see_steady(FIRST_CAKE - 4.4)
    assert blank.bench.unexpected() == []


def test_a_later_versions_record_is_left_alone_and_weighing_goes_on(image, ready):
    """Going back to this image from one that knows more: what it cannot read is not written over."""
    later = bytearray(ready)
    at, item = journal.room_for_a_mark(bytes(later[JOURNAL_OFFSET:]), bytes([journal.SCHEMA + 1]) + b"\x7fsomething new")
    later[JOURNAL_OFFSET + at : JOURNAL_OFFSET + at + len(item)] = item
    knitter = Knitter(image, flash=bytes(later))
    knitter.grams = FIRST_CAKE
    knitter.bench.until(lambda: knitter.bench.page().number is not None, 3000, "a weight")
    knitter.bench.run(5000)
    area = knitter.bench.flash.journal()
    assert area[at : at + len(item)] == item
    sector = at - at % journal.SECTOR
    assert ready[JOURNAL_OFFSET + sector : JOURNAL_OFFSET + at] == area[sector:at]
    assert knitter.machine.resets == [] and knitter.bench.unexpected() == []


def test_gives_a_computer_that_records_what_the_converter_gave(image, ready):
    knitter, computer = plugged_in(image, ready)
    converter = knitter.bench.converter
    assert link.converted(computer.ask(link.conversions())) == (False, []), "kept from the first question on"
    already, rows = len(converter.read), []
    for load in (0, 30, 30, 60, 0):
        # In all less than a second, after which the computer would have gone.
        knitter.put(load)
        knitter.bench.run(400)
        missed, more = link.converted(computer.ask(link.conversions()))
        assert not missed
        rows += more
    gave = [counts for _, counts in converter.read]
    assert len(rows) >= 35 and [raw for _, raw in rows] == gave[already : already + len(rows)]
    assert len(gave) - already - len(rows) <= 1
    assert all(80 <= later - at <= 120 for (at, _), (later, _) in zip(rows, rows[1:]))
    assert knitter.bench.unexpected() == []


def test_notes_the_clock_once(image, ready):
    knitter, computer = plugged_in(image, ready)
    marks = [entry for ring, entry in computer.read_all() if ring == link.MARKS]
    expected = link.unvarint(marks[-1], 1)[0] + 1
    clock = link.note_clock(expected, 1_790_000_000)
    assert computer.ask(clock) == bytes([link.NOTED]) + link.varint(expected)
    assert computer.ask(clock) == bytes([link.REFUSED, link.STALE])
    clocks = [e for e in journal.marks(knitter.bench.flash.journal()) if e.kind == "ClockSet"]
    assert [link.unvarint(e.fields, 0)[0] for e in clocks] == [1_790_000_000]
    assert knitter.bench.unexpected() == []


def damaged(frames: list[bytes], chance: random.Random) -> bytes:
    """A frame with a bit flipped, cut off, repeated, with another behind it, or with two of its bytes in the other order."""
    one = bytearray(chance.choice(frames))
    # Whole ones are rarer: each is answered, which takes the emulator longest.
    match chance.randrange(20):
        case 0:
            one *= 2
        case 1:
            one += chance.choice(frames)
        case kind if kind < 8:
            one[chance.randrange(len(one))] ^= 1 << chance.randrange(8)
        case kind if kind < 14:
            del one[chance.randrange(len(one)) :]
        case _:
            a, b = chance.randrange(len(one)), chance.randrange(len(one))
            one[a], one[b] = one[b], one[a]
    return bytes(one)


@pytest.mark.parametrize("count", [DAMAGED, pytest.param(WITH_LONG, marks=pytest.mark.long)])
def test_damaged_frames_change_nothing(image, ready, count):
    knitter, computer = plugged_in(image, ready)
    saved = computer.read_all()
    before = knitter.bench.flash.journal()
    chance = random.Random(8)
    restores = [link.restore(ring, entry) for ring, entry in saved]
    asks = [link.hello(), link.read((link.VISITS, None, 0)), link.note_clock(1_000_000, 1_790_000_000), *restores]
    frames = [link.frame(bytes([200]) + ask) for ask in asks]
    frames.append(link.frame(bytes([200]) + link.restore(link.MARKS, *(entry for ring, entry in saved if ring == link.MARKS))))
    answered = 0
    for _ in range(count // AT_ONCE):
        knitter.bench.usb.send(b"".join(damaged(frames, chance) for _ in range(AT_ONCE)))
        knitter.bench.until(knitter.bench.usb.is_sent, 3000, "all of them taken")
        answered += len(computer.answers())
    # The end of whatever was begun; then it waits for what does not come.
    knitter.bench.usb.send(b"\0")
    knitter.bench.run(3000)
    answered += len(computer.answers())
    print(f"damaged_frames {count} answered {answered}")
    assert answered > count // 20, "whole ones among them are answered"
    assert knitter.bench.flash.journal() == before
    assert computer.ask(link.hello())[0] == link.DEVICE
    assert knitter.bench.converter.missed == 0
    assert knitter.machine.resets == [] and knitter.bench.unexpected() == []

"""The line to a computer on the image itself: what is read is what the flash holds, what is restored is what was read."""

import random
import subprocess

from knitter import FIRST_CAKE, Knitter
from rig import journal, link
from rig.bench import Bench
from rig.image import simulator
from rig.line import ask_by_program
from rig.link import Computer
from rig.wiring import JOURNAL_OFFSET

RINGS = {"pairs": link.PAIRS, "marks": link.MARKS, "visits": link.VISITS}
DAMAGED = 3000


def plugged_in(image, flash: bytes | None = None) -> tuple[Knitter, Computer]:
    knitter = Knitter(image, flash=flash, usb=True)
    knitter.machine.run_until(lambda: knitter.bench.usb.connected, 3000)
    knitter.bench.run(500)
    return knitter, Computer(knitter.bench)


def standing(bench: Bench) -> list[tuple[int, int]]:
    """Ring and number of every entry that the flash holds, by the rig's own reader."""
    return sorted((RINGS[entry.ring], entry.sequence) for entry in journal.entries(bench.flash.journal()))


def numbers(entries: list[tuple[int, bytes]]) -> list[tuple[int, int]]:
    # Behind the byte that marks an item as ours stands its number.
    return sorted((ring, link.unvarint(entry, 1)[0]) for ring, entry in entries)


def test_says_who_it_is(image, ready):
    knitter, computer = plugged_in(image, ready)
    answer = computer.ask(link.hello())
    assert answer[0] == link.DEVICE
    assert answer[1] == 1, "protocol"
    length, at = link.unvarint(answer, 3)
    assert answer[at : at + length].decode().count(".") == 2, "a version"
    assert knitter.bench.unexpected() == []


def test_reads_out_what_the_flash_holds_and_restores_it_to_a_blank_scale(image, ready):
    knitter, computer = plugged_in(image, ready)
    saved = computer.read_all()
    assert numbers(saved) == standing(knitter.bench)
    area = knitter.bench.flash.journal()
    assert all(entry in area for _, entry in saved), "byte by byte"
    marks = [entry for ring, entry in saved if ring == link.MARKS]
    assert len(marks) >= 3, "a calibration, a pair, a weigh-in"

    blank, computer = plugged_in(image)
    for ring, entry in saved:
        answer = computer.ask(link.restore(ring, entry))
        # A visit's number may be behind the blank scale's own start.
        assert answer[0] == link.RESTORED or ring == link.VISITS, answer.hex()
    blank.bench.run(2500)
    again = [entry for ring, entry in computer.read_all() if ring != link.VISITS]
    assert again == [entry for ring, entry in saved if ring != link.VISITS]
    for ring, entry in saved:
        if ring != link.VISITS:
            assert computer.ask(link.restore(ring, entry)) == bytes([link.REFUSED, link.FOREIGN])
    # And it goes on as the first one would have.
    blank.put(FIRST_CAKE - 4.4)
    blank.see_steady(FIRST_CAKE - 4.4)
    assert blank.bench.unexpected() == []


def test_a_backup_by_the_computers_own_program_makes_a_blank_scale_the_same(image, ready, tmp_path):
    first, again = tmp_path / "first", tmp_path / "again"
    knitter, _ = plugged_in(image, ready)
    ask_by_program(knitter.bench, simulator(), "pull", first)
    blank, computer = plugged_in(image)
    assert "restored" in ask_by_program(blank.bench, simulator(), "push", first)
    blank.bench.run(2500)
    ask_by_program(blank.bench, simulator(), "pull", again)
    there, here = (standing(each.bench) for each in (knitter, blank))
    assert [e for e in here if e[0] != link.VISITS] == [e for e in there if e[0] != link.VISITS]
    saved, restored = (table(path, tmp_path) for path in (first, again))
    assert saved == restored and saved.count("\n") >= 1, saved
    assert knitter.bench.unexpected() == [] and blank.bench.unexpected() == []


def table(backup, folder) -> str:
    """The sections in a backup, as the computer's program prints them."""
    command = [simulator(), "table", "--file", backup]
    return subprocess.run(command, check=True, capture_output=True, text=True, cwd=folder).stdout


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


def test_damaged_frames_change_nothing(image, ready):
    knitter, computer = plugged_in(image, ready)
    saved = computer.read_all()
    before = knitter.bench.flash.journal()
    chance = random.Random(8)
    restores = [link.restore(ring, entry) for ring, entry in saved if ring != link.VISITS]
    asks = [link.hello(), link.read((0, None, 0)), link.note_clock(1_000_000, 1_790_000_000), *restores]
    frames = [link.frame(bytes([200]) + ask) for ask in asks]
    answered = 0
    for number in range(DAMAGED):
        one = bytearray(chance.choice(frames))
        match chance.randrange(4):
            case 0:
                one[chance.randrange(len(one))] ^= 1 << chance.randrange(8)
            case 1:
                del one[chance.randrange(len(one)) :]
            case 2:
                one += chance.choice(frames)
            case _:
                a, b = chance.randrange(len(one)), chance.randrange(len(one))
                one[a], one[b] = one[b], one[a]
        knitter.bench.usb.send(bytes(one))
        if number % 50 == 49:
            knitter.bench.run(150)
            answered += len(computer.answers())
    knitter.bench.run(3000)
    answered += len(computer.answers())
    assert answered > DAMAGED // 20, "whole ones among them are answered"
    assert knitter.bench.flash.journal() == before
    assert computer.ask(link.hello())[0] == link.DEVICE
    assert knitter.bench.converter.missed == 0
    assert knitter.machine.resets == [] and knitter.bench.unexpected() == []

"""The power is cut in the middle of a restore, on the image itself: the journal is what it was, and the restore can be done again."""

from knitter import plugged_in
from rig import link


def begun(computer, saved):
    assert computer.ask(link.restore_begin())[0] == link.RESTORE_BEGUN
    for ring in (link.PAIRS, link.MARKS, link.VISITS):
        entries = [entry for of, entry in saved if of == ring]
        if entries:
            assert computer.ask(link.restore(ring, *entries)) == bytes([link.RESTORED])


def test_a_restore_without_its_end_does_not_count_and_can_be_done_again(image, ready):
    _, computer = plugged_in(image, ready)
    saved = computer.read_all()
    blank, computer = plugged_in(image)
    begun(computer, saved)
    area = blank.bench.flash.journal()
    assert all(entry in area for _, entry in saved), "it stands in the flash"

    # Power is gone, and comes back.
    again, computer = plugged_in(image, blank.machine.flash())
    there = computer.read_all()
    assert not [entry for ring, entry in there if ring != link.VISITS], "nothing of it counts"
    own = [entry for ring, entry in there]
    newer = [(ring, entry) for ring, entry in saved if ring != link.VISITS]
    begun(computer, newer)
    assert computer.ask(link.restore_end(newer)) == bytes([link.RESTORED])
    again.bench.run(2500)
    found = computer.read_all()
    assert [one for one in found if one[0] != link.VISITS] == newer
    assert [entry for ring, entry in found if ring == link.VISITS][: len(own)] == own
    assert again.bench.unexpected() == []

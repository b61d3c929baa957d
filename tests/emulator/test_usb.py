"""A computer comes and goes, and the scale weighs on."""

import re

from knitter import FIRST_CAKE, PAGE_MS, plugged_in
from loads import steady
from rig import journal, link
from rig.bench import Bench
from rig.flash import NUMBER
from rig.image import REPOSITORY

# The first entries of the ring of marks: an answer longer than a packet.
MARKS = (link.MARKS, None, 0)


def test_is_found_by_a_computer(image):
    bench = Bench(image, steady(1000), usb=True)
    bench.machine.run_until(lambda: bench.usb.connected, 2000)
    assert bench.usb._in_endpoint > 0 and bench.usb._out_endpoint > 0
    assert bench.unexpected() == []


def test_says_who_it_is_by_names_and_by_a_number_of_its_own(image):
    bench = Bench(image, steady(1000), usb=True)
    bench.machine.run_until(lambda: bench.usb.connected, 2000)
    device = bench.usb.descriptor(1)
    vendor, product = (int.from_bytes(device[at : at + 2], "little") for at in (8, 10))
    # The pair for private tests, which the build has warned of; the pair that was borrowed before must never come back.
    assert (vendor, product) == (0x1209, 0x0001)
    names = re.findall(r'pub const (?:MANUFACTURER|PRODUCT): &str = "(.*)";', (REPOSITORY / "core/src/link/mod.rs").read_text())
    assert [bench.usb.text(index) for index in device[14:17]] == [*names, NUMBER.hex().upper()]
    assert bench.unexpected() == [], "the flash's number was read from RAM, interrupts off"


def test_the_line_is_taken_up_only_while_the_bus_has_power(image):
    bench = Bench(image, steady(1000), usb=True)
    bench.usb.unplug()
    bench.run(3000)
    assert bench.usb.unpowered == [] and not bench.usb.pulled_up
    bench.usb.plug()
    bench.machine.run_until(lambda: bench.usb.connected, 500)
    bench.usb.unplug()
    bench.machine.run_until(lambda: not bench.usb.pulled_up, 500)
    bench.run(3000)
    assert bench.usb.unpowered == []
    bench.usb.plug()
    bench.machine.run_until(lambda: bench.usb.connected, 500)
    assert bench.converter.missed == 0 and bench.unexpected() == []


def test_garbage_from_the_computer_does_not_stop_weighing(image):
    bench = Bench(image, steady(1000), usb=True)
    bench.machine.run_until(lambda: bench.usb.connected, 2000)
    bench.machine.run_until(lambda: bench.converter.read, 1000)
    for n in range(8):
        bench.usb.send(bytes((n * 37 + k * 91) % 256 for k in range(200)))
        bench.run(100)
    assert bench.converter.missed == 0
    assert len(bench.converter.read) > 7
    assert bench.machine.resets == []


def test_a_computer_that_does_not_read_does_not_stop_weighing(image, ready):
    """It asks for more than the device's buffers hold, and takes nothing: the answers wait, the scale does not."""
    knitter, computer = plugged_in(image, ready)
    bench, usb = knitter.bench, knitter.bench.usb
    whole = computer.ask(link.read(MARKS))
    knitter.put(FIRST_CAKE - 4.4)
    knitter.see_steady(FIRST_CAKE - 4.4)
    usb.stop_reading()
    asked: list[int] = []
    while usb.is_sent():
        assert len(asked) < 20, "the device answers into nowhere"
        asked.append(len(asked))
        usb.send(link.frame(bytes(asked[-1:]) + link.read(MARKS)))
        bench.run(20)
    assert usb.is_full, "an answer waits, and questions behind it"
    stuck, taken = bench.machine.ms, len(bench.converter.read)
    knitter.go_on("MARK")
    bench.until(knitter.has_noted, PAGE_MS, "a notice that it is noted")
    assert len(knitter.entries(*journal.MARKS)) == 1
    assert len(bench.converter.read) - taken >= (bench.machine.ms - stuck) // 100, "ten conversions a second"
    assert usb.is_full and not usb.is_sent() and usb.take() == b"", "it was stuck all the time"
    assert bench.converter.missed == 0 and bench.machine.resets == []

    usb.read_again()
    answers: list[bytes] = []
    bench.until(lambda: answers.extend(computer.answers()) or len(answers) == len(asked), 3000, "every answer, whole")
    assert [answer[0] for answer in answers] == asked, "in the order of the questions"
    assert answers[0][1:] == whole, "as it was before the mark"
    assert computer.ask(link.hello())[0] == link.DEVICE
    assert bench.converter.missed == 0 and bench.unexpected() == []

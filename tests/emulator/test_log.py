"""The image with log lines (firmware/build --log): it works as the other one does, and tells what happens."""

import pytest

from knitter import Knitter
from rig.image import REPOSITORY, Image
from rig.rtt import Log, unpacked

WHAT_IS_LEFT = 16.9
PATH = REPOSITORY / "target" / "image" / "yarn-scale-log.elf"


@pytest.fixture(scope="module")
def talking() -> Image:
    """The image with its log. It must be there."""
    assert PATH.exists(), f"{PATH} is missing: build it with firmware/build --log"
    return Image(PATH)


def test_frames_are_unpacked():
    # Worked by hand: the head's bits say data, zero, data, and four that are not there or zero.
    assert unpacked(bytes([7, 5, 0b0010_0101])) == bytes([0, 0, 0, 0, 7, 0, 5])
    # One zero after eight bytes as they are.
    assert unpacked(bytes([1, 2, 3, 4, 5, 6, 7, 8, 0x81])) == bytes([1, 2, 3, 4, 5, 6, 7, 8, 0])


def test_the_log_tells_the_start_what_is_noted_and_faults(talking, ready):
    knitter = Knitter(talking, flash=ready)
    bench = knitter.bench
    log, told = Log(bench.machine), []

    def listen(ms: float) -> None:
        for _ in range(int(ms // 100)):
            bench.run(100)
            told.extend(log.lines())

    listen(2000)
    assert told[0] == "yarn scale {}, {}"
    assert "started: {}, journal {}" in told
    assert "converter {}" in told and "display at {}" in told
    assert "scale: {}" in told and "self-test {}: {}" in told

    told.clear()
    knitter.put(WHAT_IS_LEFT)
    listen(3000)
    assert "noted {}: {}" in told, "a visit"

    told.clear()
    bench.converter.unplug()
    listen(3000)
    assert told.count("scale: {}") == 1, told
    assert "self-test {}: {}" in told

    told.clear()
    bench.converter.mend()
    listen(2000)
    assert told.count("scale: {}") == 1 and told.count("self-test {}: {}") == 1, told
    assert bench.unexpected() == []


def test_the_shipped_image_has_no_log(image):
    assert image.address("_SEGGER_RTT") is None
    assert not image.matching("defmt")

"""The main job by presses alone: a new device is calibrated, a pair begun, a yarn weighed in and a section marked."""

import pytest

from knitter import Knitter
from rig import journal

CAKE, CONTRAST = 48.7, 21.3


def test_a_new_device_says_that_it_must_be_calibrated_and_shows_no_number(image):
    knitter = Knitter(image)
    knitter.put(50)
    knitter.bench.run(5000)
    assert knitter.bench.page().says("Deutsch"), "the language comes first"
    knitter.go_on("choose")
    page = knitter.bench.page()
    assert page.number is None
    assert "calibrate" in page.keys


def test_first_pair_from_calibration_to_two_sections(image):
    knitter = Knitter(image)
    knitter.calibrate()
    knitter.begin_pair()
    knitter.weigh_in(CONTRAST)
    knitter.mark(CONTRAST - 4.4)  # the cuff, in the contrast yarn
    knitter.weigh_in(CAKE)
    knitter.mark(CAKE - 13.1)  # the leg
    kept = [e for e in knitter.entries() if e.ring == "marks"]
    kept = kept[5:]  # its language and the settings of its parts, asked for before
    assert [e.kind for e in kept] == ["Calibrated", "PairBegun", "WeighIn", "SharedZeroMark", "WeighIn", "SharedZeroMark"]
    assert [e.sequence for e in kept] == list(range(6, 12))
    weights = [journal.weight_milligrams(e) / 1000 for e in kept[2:]]
    assert weights == pytest.approx([21.3, 16.9, 48.7, 35.6], abs=0.05)
    assert [journal.line(e) for e in kept if e.kind in journal.MARKS] == [0, 1]
    assert [journal.yarn(e) for e in kept[2:]] == [1, 1, 0, 0]
    assert knitter.bench.unexpected() == []
    assert knitter.machine.resets == []

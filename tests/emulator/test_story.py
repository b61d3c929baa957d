"""The scenario files of the simulator on the image: the same frames bit for bit, in the same order, and the same journal.

Both run the same core; what differs is everything around it. The simulator writes down what its core was given, the bench
gives the same through wires.
"""

import re
import subprocess
from dataclasses import replace

import pytest

from rig import story
from rig.image import REPOSITORY, simulator

# A story up to this long is played whole; of a longer one, without `--long`, this much.
WHOLE_MS, BEGINNING_MS = 150e3, 60e3
# Until bowl and cake have settled in it.
SETTLED_MS = 12e3
# The steps that end a boot; the first of them inside a write.
ENDS = re.compile(r'cut-in-write|power = "off"')
SCENARIOS = sorted((REPOSITORY / "tests" / "scenarios").glob("*.toml"))


@pytest.mark.parametrize("scenario", SCENARIOS, ids=[path.stem for path in SCENARIOS])
def test_image_does_what_the_simulator_does(image, scenario, tmp_path, pytestconfig):
    command = [simulator(), "play", scenario, "--record", tmp_path]
    subprocess.run(command, check=True, stdout=subprocess.DEVNULL, timeout=120)
    ends = ENDS.findall(scenario.read_text())
    torn = frozenset(boot for boot, end in enumerate(ends) if end.startswith("cut"))
    boots = story.load(tmp_path, torn)
    if sum(boot.events[-1].ms for boot in boots) > WHOLE_MS and not pytestconfig.getoption("--long"):
        boots = story.shortened(boots, BEGINNING_MS)
    for boot, bench in zip(boots, story.play(image, boots, story.blank(tmp_path)), strict=True):
        taken = [counts for _, counts in bench.converter.read]
        assert taken == [int(event.value) for event in boot.events if event.kind == "sample"]
        assert boot.frames
        story.compare_frames(boot.frames, bench.display.frames, boot.end_ms)
        if boot.journal is not None:
            compare = story.compare_torn_journal if boot.torn else story.compare_journal
            compare(boot.journal, bench.flash.journal())
        assert bench.machine.resets == [] and bench.unexpected() == []


def test_a_load_that_settles_costs_no_conversion_on_cells(image, tmp_path):
    """The second power-on of a whole pair: a bowl is set, two yarns and their loads are known, and whose cake it is takes a while."""
    whole = REPOSITORY / "tests" / "scenarios" / "whole_pair.toml"
    subprocess.run([simulator(), "play", whole, "--record", tmp_path], check=True, stdout=subprocess.DEVNULL, timeout=120)
    first, second = story.load(tmp_path)[:2]
    [boot] = story.shortened([second], SETTLED_MS)
    [bench] = story.play(image, [boot], first.journal)
    assert [counts for _, counts in bench.converter.read] == [int(event.value) for event in boot.events if event.kind == "sample"]


def test_what_each_section_took_costs_no_conversion_on_cells(image, tmp_path):
    """The last power-on of a week's diary: nine sections are marked, and the page that lists them is open while a cake is put on."""
    week = REPOSITORY / "tests" / "scenarios" / "a_week.toml"
    subprocess.run([simulator(), "play", week, "--record", tmp_path], check=True, stdout=subprocess.DEVNULL, timeout=120)
    before, last = story.load(tmp_path)[-2:]
    [boot] = story.shortened([last], SETTLED_MS)
    page = [story.Event(ms, "next", value) for ms, value in ((3_000.0, "1"), (3_100.0, "0"))]
    events = sorted(boot.events + page, key=lambda event: event.ms)
    [bench] = story.play(image, [replace(boot, events=events)], before.journal)
    assert [counts for _, counts in bench.converter.read] == [int(event.value) for event in boot.events if event.kind == "sample"]


def test_there_are_scenarios():
    assert SCENARIOS

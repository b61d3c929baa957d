"""The journal's bytes as hardware-notes/journal-format.md describes them: a reader written from it alone, and the program, agree."""

import csv
import subprocess
import sys

import pytest

from rig.image import REPOSITORY, simulator

READER = REPOSITORY / "tests" / "read_journal.py"
SCENARIOS = REPOSITORY / "tests" / "scenarios"


def rows(*command):
    text = subprocess.run(command, check=True, capture_output=True, text=True).stdout
    return list(csv.reader(text.splitlines()))


@pytest.mark.parametrize("scenario", ["whole_pair"])
def test_a_reader_written_from_the_notes_agrees_with_the_program(scenario, tmp_path):
    record = tmp_path / "record"
    command = [simulator(), "play", SCENARIOS / f"{scenario}.toml", "--record", record]
    subprocess.run(command, check=True, capture_output=True)
    images = sorted(record.glob("journal-*.bin"))
    assert len(images) > 1
    for image in images:
        backup = tmp_path / f"{image.stem}.backup"
        subprocess.run([simulator(), "backup", "--file", image, backup], check=True, capture_output=True)
        theirs = rows(simulator(), "table", "visits", "--file", image)
        for file in (image, backup):
            ours = rows(sys.executable, READER, file, "visits")
            assert len(ours) == len(theirs)
            for one, other in zip(ours[1:], theirs[1:]):
                # The calendar time is the program's business.
                assert (one[0], one[2], one[4]) == (other[0], other[2], other[4])
                assert float(one[3]) == pytest.approx(float(other[3]), rel=1e-6)

"""The journal's bytes as hardware-notes/journal-format.md describes them: a reader written from it alone, and the program, agree."""

import csv
import math
import subprocess
import sys

import pytest

from rig.image import REPOSITORY, simulator

READER = REPOSITORY / "tests" / "read_journal.py"
SCENARIOS = REPOSITORY / "tests" / "scenarios"


def rows(*command):
    text = subprocess.run(command, check=True, capture_output=True, text=True).stdout
    return list(csv.DictReader(text.splitlines()))


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
        theirs = rows(simulator(), "table", "weighings", "--file", image)
        for file in (image, backup):
            ours = rows(sys.executable, READER, file, "weighings")
            assert len(ours) == len(theirs)
            for one, other in zip(ours, theirs):
                # The calendar time is the program's business.
                for column in ("at_s", "gross_mg", "bowl"):
                    assert one[column] == other[column]
                # The table rounds it up.
                assert math.ceil(float(one["u_mg"])) == int(other["u_mg"])

"""What the tests of the image share."""

import fcntl
import os

import pytest

from knitter import FIRST_CAKE, Knitter
from rig.image import Image, image_path


def pytest_addoption(parser) -> None:
    """`--long` runs what takes more than a few minutes, too."""
    parser.addoption("--long", action="store_true")


# What takes longest, begun first: so that no worker is left with one of them at the end.
LONGEST = (
    "test_idle",
    "[next_pair]",
    "[first_start",
    "[every_setting]",
    "[whole_pair]",
    "test_power_cut",
    "[left_alone]",
    "test_damaged_frames",
    "test_full_journal",
)


def pytest_collection_modifyitems(config, items) -> None:
    """Passes over the long ones, unless they are asked for, and puts the rest in order."""
    for item in items:
        if item.get_closest_marker("long") and not config.getoption("--long"):
            item.add_marker(pytest.mark.skip(reason="only with --long"))
    items.sort(key=lambda item: next((place for place, part in enumerate(LONGEST) if part in item.nodeid), len(LONGEST)))


@pytest.fixture(scope="session")
def image() -> Image:
    """The firmware image under test. It must be there: an image that was not built is not an image that passed."""
    path = image_path()
    assert path.exists(), f"{path} is missing: build it with firmware/build"
    return Image(path)


@pytest.fixture(scope="session")
def ready(image, tmp_path_factory, testrun_uid) -> bytes:
    """The flash of a device that is calibrated, has a pair begun and its first yarn weighed in at 21.3 g.

    The worker that first needs it makes it for all.
    """
    folder = tmp_path_factory.getbasetemp()
    if "PYTEST_XDIST_WORKER" in os.environ:
        folder = folder.parent
    kept = folder / f"ready-{testrun_uid}"
    with open(kept.with_suffix(".lock"), "w") as lock:
        fcntl.flock(lock, fcntl.LOCK_EX)
        if not kept.exists():
            kept.write_bytes(made_ready(image))
        return kept.read_bytes()


def made_ready(image: Image) -> bytes:
    """That flash, by presses."""
    knitter = Knitter(image)
    knitter.calibrate()
    knitter.begin_pair()
    knitter.weigh_in(FIRST_CAKE)
    assert knitter.bench.unexpected() == []
    return knitter.machine.flash()

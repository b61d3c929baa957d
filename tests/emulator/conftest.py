"""What the tests of the image share."""

import pytest

from knitter import FIRST_CAKE, Knitter
from rig.image import Image, image_path


def pytest_addoption(parser) -> None:
    """`--long` runs what takes more than a few minutes, too."""
    parser.addoption("--long", action="store_true")


def pytest_collection_modifyitems(config, items) -> None:
    """Passes over the long ones, unless they are asked for."""
    for item in items:
        if item.get_closest_marker("long") and not config.getoption("--long"):
            item.add_marker(pytest.mark.skip(reason="only with --long"))


@pytest.fixture(scope="session")
def image() -> Image:
    """The firmware image under test. It must be there: an image that was not built is not an image that passed."""
    path = image_path()
    assert path.exists(), f"{path} is missing: build it with firmware/build"
    return Image(path)


@pytest.fixture(scope="session")
def ready(image) -> bytes:
    """The flash of a device that is calibrated, has a pair begun and its first yarn weighed in at 21.3 g."""
    knitter = Knitter(image)
    knitter.calibrate()
    knitter.begin_pair()
    knitter.weigh_in(FIRST_CAKE)
    assert knitter.bench.unexpected() == []
    return knitter.machine.flash()

"""What the tests of the image share."""

import pytest

from rig.image import Image, image_path


@pytest.fixture(scope="session")
def image() -> Image:
    """The firmware image under test. It must be there: an image that was not built is not an image that passed."""
    path = image_path()
    assert path.exists(), f"{path} is missing: build it with firmware/build"
    return Image(path)

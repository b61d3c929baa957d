"""A device's flash as it is decades later, with its journal full."""

import subprocess
import tempfile
from pathlib import Path

from .image import REPOSITORY
from .wiring import JOURNAL_OFFSET

PROGRAM = ["cargo", "run", "--quiet", "--locked", "--release", "-p", "yarn-scale-tests", "--bin", "full_journal"]


def decades_later(flash: bytes) -> bytes:
    """The flash of a device that has knitted 900 pairs more, and whose ring of marks has come round."""
    with tempfile.TemporaryDirectory() as folder:
        new, full = Path(folder) / "new.bin", Path(folder) / "full.bin"
        new.write_bytes(flash[JOURNAL_OFFSET:])
        subprocess.run([*PROGRAM, new, full], cwd=REPOSITORY, check=True)
        return flash[:JOURNAL_OFFSET] + full.read_bytes()

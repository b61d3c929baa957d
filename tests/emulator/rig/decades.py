"""A device's flash as it is years or decades later."""

import subprocess
import tempfile
from pathlib import Path

from .image import REPOSITORY
from .wiring import JOURNAL_OFFSET

PROGRAM = ["cargo", "run", "--quiet", "--locked", "--release", "-p", "yarn-scale-tests", "--bin", "full_journal"]


# So many that the ring of marks is full and has come round.
DECADES = 900


def decades_later(flash: bytes, pairs: int = DECADES) -> bytes:
    """The flash of a device that has knitted so many pairs more."""
    with tempfile.TemporaryDirectory() as folder:
        new, full = Path(folder) / "new.bin", Path(folder) / "full.bin"
        new.write_bytes(flash[JOURNAL_OFFSET:])
        subprocess.run([*PROGRAM, new, full, str(pairs)], cwd=REPOSITORY, check=True)
        return flash[:JOURNAL_OFFSET] + full.read_bytes()

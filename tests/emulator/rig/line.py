"""A serial port of this computer with the bench's scale at its other end, for programs that expect one."""

import os
import pty
import subprocess
import tempfile
import tty
from pathlib import Path

from .bench import Bench

STEP_MS = 2.0


def ask_by_program(bench: Bench, *command: str | Path, code: int = 0) -> str:
    """Runs a program with `--device` and the name of such a port, lets the scale run as long, and returns what it printed.

    Raises AssertionError with its complaint if it does not end with this exit code.
    """
    scale, computer = pty.openpty()
    try:
        tty.setraw(computer)
        os.set_blocking(scale, False)
        with tempfile.TemporaryFile() as said:
            program = subprocess.Popen([*command, "--device", os.ttyname(computer)], stdout=said, stderr=subprocess.STDOUT)
            while program.poll() is None:
                _carry(bench, scale)
            said.seek(0)
            text = said.read().decode()
    finally:
        os.close(scale)
        os.close(computer)
    assert program.returncode == code, text
    return text


def _carry(bench: Bench, scale: int) -> None:
    try:
        bench.usb.send(os.read(scale, 4096))
    except BlockingIOError:
        pass
    bench.run(STEP_MS)
    answer = bench.usb.take()
    while answer:
        answer = answer[os.write(scale, answer) :]

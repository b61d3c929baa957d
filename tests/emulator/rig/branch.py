"""Tries many endings of one beginning: the process is forked where they part, so the beginning is run once."""

import os
import pickle
import sys
import traceback
from collections.abc import Callable


def branch(ending: Callable[[], object]) -> object:
    """Runs `ending` in a copy of this process and returns its result; the machine here stays where it is.

    Raises AssertionError with the copy's own traceback if `ending` raises.
    """
    reading, writing = os.pipe()
    child = os.fork()
    if child == 0:
        os.close(reading)
        try:
            outcome = (True, ending())
        except BaseException:  # noqa: BLE001 - whatever it was, the parent reports it
            outcome = (False, traceback.format_exc())
        with os.fdopen(writing, "wb") as pipe:
            pickle.dump(outcome, pipe)
        sys.stdout.flush()
        os._exit(0)
    os.close(writing)
    with os.fdopen(reading, "rb") as pipe:
        data = pipe.read()
    os.waitpid(child, 0)
    passed, result = pickle.loads(data) if data else (False, "the copy ended without a word")
    assert passed, result
    return result

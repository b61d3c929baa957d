"""Plays what the simulator recorded to the image, through wires, and says where the two part. README.md has the format."""

import csv
from dataclasses import dataclass
from pathlib import Path

from . import journal, png
from .bench import Bench
from .display import SIZE, Frame
from .image import Image
from .wiring import FLASH_SIZE, JOURNAL_OFFSET, JOURNAL_SIZE

KEYS = ("zero", "mark", "next")
LAST_MOMENT_MS = 500.0


@dataclass(frozen=True)
class Event:
    """Something that happens to the board `ms` after its power-on."""

    ms: float
    kind: str
    value: str


@dataclass(frozen=True)
class Boot:
    """From one power-on to the end of the supply: what goes in, and what the simulator showed and kept."""

    events: list[Event]
    frames: list[Frame]
    journal: bytes | None


class Differs(AssertionError):
    """Image and simulator do not do the same."""


def load(folder: Path) -> list[Boot]:
    """The boots of a recording. Raises ValueError for one that is not whole."""
    inputs, frames = _rows(folder / "inputs.csv"), _rows(folder / "frames.csv")
    if not inputs:
        raise ValueError("nothing was recorded")
    boots = []
    for boot in range(int(inputs[-1]["boot"]) + 1):
        events = [Event(float(r["t_ms"]), r["kind"], r["value"]) for r in inputs if int(r["boot"]) == boot]
        if not events or events[-1].kind != "off":
            raise ValueError(f"boot {boot} does not end")
        # Whoever cuts the supply also writes down that the panel is dark; the bench's panel just keeps its memory.
        shown = [
            Frame(float(r["t_ms"]), (folder / r["file"]).read_bytes())
            for r in frames
            if int(r["boot"]) == boot and float(r["t_ms"]) < events[-1].ms
        ]
        if any(len(frame.memory) != SIZE for frame in shown):
            raise ValueError(f"a frame is not {SIZE} bytes")
        boots.append(Boot(events, shown, (folder / f"journal-{boot}.bin").read_bytes()))
    return boots


def _rows(path: Path) -> list[dict]:
    with open(path, newline="") as file:
        return list(csv.DictReader(file))


def shortened(boots: list[Boot], ms: float) -> list[Boot]:
    """The first `ms` of a recording, over its boots. What the last of them keeps is unknown, and None."""
    kept, left = [], ms
    for boot in boots:
        if boot.events[-1].ms <= left:
            kept.append(boot)
            left -= boot.events[-1].ms
            continue
        events = [event for event in boot.events if event.ms < left] + [Event(left, "off", "")]
        # A frame begun in the last moment may not have been sent.
        frames = [frame for frame in boot.frames if frame.ms < left - LAST_MOMENT_MS]
        kept.append(Boot(events, frames, None))
        break
    return kept


def start(folder: Path) -> bytes:
    """The flash as it is before the first boot: blank but for the journal that the recording begins with."""
    flash = bytearray(b"\xff" * FLASH_SIZE)
    flash[JOURNAL_OFFSET : JOURNAL_OFFSET + JOURNAL_SIZE] = (folder / "journal-start.bin").read_bytes()
    return bytes(flash)


def play(image: Image, boots: list[Boot], flash: bytes, **options) -> list[Bench]:
    """Plays the boots one after the other on one flash and returns the benches as the supply left them."""
    benches = []
    for boot in boots:
        bench = Bench(image, flash=flash, climate=any(e.kind == "climate" for e in boot.events), **options)
        bench.converter.by_script()
        for event in boot.events[:-1]:
            bench.machine.at(event.ms, lambda event=event, bench=bench: _happen(bench, event))
        bench.run(boot.events[-1].ms)
        benches.append(bench)
        flash = bench.machine.flash()
    return benches


def _happen(bench: Bench, event: Event) -> None:
    if event.kind == "sample":
        bench.converter.offer(int(event.value))
    elif event.kind in KEYS:
        bench.keys.set(event.kind, event.value == "1")
    elif event.kind == "supply":
        bench.supply.set(int(event.value))
    elif event.kind == "climate":
        bench.climate.humidity_percent, bench.climate.celsius = map(float, event.value.split())
    elif event.kind == "link":
        bench.usb.send(bytes.fromhex(event.value))
    else:
        raise ValueError(f"unknown input {event.kind!r}")


def compare_frames(expected: list[Frame], seen: list[Frame], whole: bool = True) -> None:
    """Checks that the panel showed the expected frames, all, in order, and nothing else but the change from one to the next.

    The panel is sent in slices, so between two frames each byte is the old frame's or the new one's. If the story is not
    `whole`, more may follow. Raises Differs.
    """
    at = -1
    for state in seen:
        old = expected[at].memory if at >= 0 else None
        if state.memory == old:
            continue
        if at + 1 == len(expected):
            if not whole:
                return
            raise Differs(f"at {state.ms:.0f} ms a frame more than the simulator's {len(expected)}:\n{png.text(state.memory)}")
        new = expected[at + 1].memory
        if state.memory == new:
            at += 1
        elif old is not None and any(s not in (o, n) for s, o, n in zip(state.memory, old, new)):
            raise Differs(
                f"frame {at + 1}, at {state.ms:.0f} ms (simulator {expected[at + 1].ms:.0f} ms), the simulator's:\n"
                f"{png.text(new)}\nthe image's:\n{png.text(state.memory)}"
            )
    if at + 1 < len(expected):
        raise Differs(
            f"frame {at + 1} of {len(expected)} (simulator at {expected[at + 1].ms:.0f} ms) was never shown:\n"
            f"{png.text(expected[at + 1].memory)}"
        )


def compare_journal(expected: bytes, found: bytes) -> None:
    """Checks that two journal areas hold the same records in the same bytes. Raises Differs with the first that is not."""
    if len(expected) != len(found):
        raise Differs(f"the simulator's journal has {len(expected)} bytes, the image's {len(found)}")
    kept, others = journal.entries(expected), journal.entries(found)
    for mine, other in zip(kept, others):
        if mine != other:
            raise Differs(f"the simulator noted {mine}, the image {other}")
    if len(kept) != len(others):
        raise Differs(f"the simulator noted {len(kept)} records, the image {len(others)}")
    if expected != found:
        at = next(i for i, (e, f) in enumerate(zip(expected, found)) if e != f)
        start = at & ~15
        raise Differs(
            f"journal differs at {at:#x} (flash {JOURNAL_OFFSET + at:#x}): simulator {expected[start:start + 32].hex(' ')}, "
            f"image {found[start:start + 32].hex(' ')}"
        )

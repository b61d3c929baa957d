"""Plays what the simulator recorded to the image, through wires, and says where the two part. README.md has the format."""

import csv
import struct
from dataclasses import dataclass, replace
from pathlib import Path

from . import journal, png
from .bench import Bench
from .display import SIZE, Frame
from .image import Image
from .machine import PowerCut
from .wiring import FLASH_SIZE, JOURNAL_OFFSET, JOURNAL_SIZE

KEYS = ("zero", "mark", "next")
# What is on its way to the panel when the supply goes may or may not get there.
LAST_MOMENT_MS = 100.0
# How much later than the simulator, which takes no time to calculate, the image may begin a write.
WRITE_LATE_MS = 100.0
# Difference of two numbers that differ only because a word was read some milliseconds later: a thousandth of itself.
LAST_BITS = 1e-3
# And a zero by less than a count, which is 0.2 mg: how fast it is followed depends on the age of the cell to the millisecond.
LAST_COUNTS = 256
# And with the zero a mass, by its rounding.
LAST_MG = 2
# From one conversion to the next at ten a second, and as much as the panel's slices and the loop take.
CONVERSION_MS = 110.0
# Furthest that a picture is moved aside while it is asked where the panel begins.
MOST_ASIDE = 4


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
    torn: bool = False  # the supply fails inside a write

    @property
    def end_ms(self) -> float:
        """Up to when its frames are certain."""
        return self.events[-1].ms - LAST_MOMENT_MS


class Differs(AssertionError):
    """Image and simulator do not do the same."""


def load(folder: Path, torn: frozenset[int] = frozenset()) -> list[Boot]:
    """The boots of a recording, `torn` those of them that end inside a write. Raises ValueError for one that is not whole."""
    inputs, frames = _rows(folder / "inputs.csv"), _rows(folder / "frames.csv")
    if not inputs:
        raise ValueError("nothing was recorded")
    boots = []
    for boot in range(int(inputs[-1]["boot"]) + 1):
        events = [Event(float(r["t_ms"]), r["kind"], r["value"]) for r in inputs if int(r["boot"]) == boot]
        if not events or events[-1].kind != "off":
            raise ValueError(f"boot {boot} does not end")
        shown = [
            Frame(float(r["t_ms"]), (folder / r["file"]).read_bytes()) for r in frames if int(r["boot"]) == boot
        ]
        if any(len(frame.memory) != SIZE for frame in shown):
            raise ValueError(f"a frame is not {SIZE} bytes")
        boots.append(Boot(events, shown, (folder / f"journal-{boot}.bin").read_bytes(), boot in torn))
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
        kept.append(Boot(events, boot.frames, None))
        break
    return kept


def blank(folder: Path) -> bytes:
    """The journal's area before the first boot."""
    return (folder / "journal-start.bin").read_bytes()


def play(image: Image, boots: list[Boot], journal_area: bytes, **options) -> list[Bench]:
    """Plays the boots one after the other and returns the benches as the supply left them.

    Each begins with the journal that the one before it has in the recording, from `journal_area` on.
    """
    benches = []
    for boot in boots:
        flash = bytearray(b"\xff" * FLASH_SIZE)
        flash[JOURNAL_OFFSET : JOURNAL_OFFSET + JOURNAL_SIZE] = journal_area
        air = any(event.kind == "climate" for event in boot.events)
        bench = Bench(image, flash=bytes(flash), climate=air, **options)
        bench.converter.by_script()
        for event in boot.events[:-1]:
            bench.machine.at(event.ms, lambda event=event, bench=bench: _happen(bench, event))
        bench.run(boot.events[-1].ms)
        if boot.torn:
            _end_the_next_write(bench)
        benches.append(bench)
        journal_area = boot.journal
    return benches


def _end_the_next_write(bench: Bench) -> None:
    bench.flash.cut_at(len(bench.flash.operations), "after")
    try:
        bench.run(WRITE_LATE_MS)
    except PowerCut:
        return
    raise Differs("the simulator's supply failed inside a write, and the image writes nothing there")


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


def compare_frames(expected: list[Frame], seen: list[Frame], end_ms: float = float("inf")) -> None:
    """Checks that the panel showed the expected frames, all, in order, and nothing else but the change from one to the next.

    The panel is sent in slices, so between two frames each byte is the old frame's or the new one's. A frame that the simulator showed for
    one conversion only may be passed over: the image reads the converter some milliseconds later, and a +/- on the edge between two tenths
    then rounds the other way for that long. What comes after `end_ms` is not judged. Raises Differs.
    """
    at, old = -1, None
    for state in seen:
        if state.memory == old:
            continue
        if at + 1 == len(expected):
            if state.ms > end_ms:
                return
            raise Differs(f"at {state.ms:.0f} ms a frame more than the simulator's {len(expected)}:\n{png.text(state.memory)}")
        if is_brief(expected, at + 1) and not is_between(state.memory, old, expected[at + 1].memory):
            if is_between(state.memory, old, expected[at + 2].memory):
                at += 1
        new = expected[at + 1].memory
        if state.memory == new:
            at, old = at + 1, new
        elif is_moved(state.memory, old, new):
            continue
        elif state.ms < end_ms and old is not None and not is_between(state.memory, old, new):
            raise Differs(
                f"frame {at + 1}, at {state.ms:.0f} ms (simulator {expected[at + 1].ms:.0f} ms), the simulator's:\n"
                f"{png.text(new)}\nthe image's:\n{png.text(state.memory)}"
            )
    if at + 1 < len(expected) and expected[at + 1].ms < end_ms:
        raise Differs(
            f"frame {at + 1} of {len(expected)} (simulator at {expected[at + 1].ms:.0f} ms) was never shown:\n"
            f"{png.text(expected[at + 1].memory)}"
        )


def is_brief(expected: list[Frame], at: int) -> bool:
    """Whether the simulator showed this frame for one conversion at the most."""
    return at + 1 < len(expected) and expected[at + 1].ms - expected[at].ms <= CONVERSION_MS


def is_between(memory: bytes, old: bytes | None, new: bytes) -> bool:
    """Whether each byte is the old or the new frame's."""
    return old is not None and all(shown in (before, after) for shown, before, after in zip(memory, old, new))


def is_moved(memory: bytes, old: bytes | None, new: bytes) -> bool:
    """Whether a panel shows the page with a frame along its edges moved aside, or is about to: the simulator's panel begins anywhere.

    Each byte is the old or the new frame's at its place or up to MOST_ASIDE columns before it, or comes from outside the frame.
    """
    if old is None or not any(all(byte & 1 for byte in frame[:128]) for frame in (old, new)):
        return False
    for at, byte in enumerate(memory):
        column = at % 128
        if column < MOST_ASIDE:
            continue
        if not any(byte == frame[at - aside] for frame in (old, new) for aside in range(MOST_ASIDE + 1)):
            return False
    return True


def compare_journal(expected: bytes, found: bytes) -> None:
    """Checks that two journal areas hold the same records in the same bytes. Raises Differs with the first that is not.

    A word that comes while a page is drawn is read some milliseconds later than in the simulator, which takes no time to draw. What
    depends on how long something lies may then differ in the last bits of an uncertainty, a zero by less than a count, a mass by
    its rounding, and nothing else.
    """
    kept, others = journal.entries(expected), journal.entries(found)
    for mine, other in zip(kept, others):
        if mine != other and not but_for_last_bits(mine, other):
            raise Differs(f"the simulator noted {mine}, the image {other}")
    if len(kept) != len(others):
        raise Differs(f"the simulator noted {len(kept)} records, the image {len(others)}")
    if kept != others:
        return
    for at, (mine, other) in enumerate(zip(expected, found, strict=True)):
        if mine != other:
            here = slice(at & ~15, (at & ~15) + 32)
            raise Differs(f"journal differs at {at:#x}: simulator {expected[here].hex(' ')}, image {found[here].hex(' ')}")


def but_for_last_bits(mine: journal.Entry, other: journal.Entry) -> bool:
    """Whether two entries differ only in uncertainties, by less than LAST_BITS of their size, and in the masses before them, by LAST_MG."""
    places = journal.uncertainties_at(mine)
    if places != journal.uncertainties_at(other):
        return False
    if mine.kind == other.kind and mine.kind in ("Calibrated", "Visit"):
        (one, rest), (two, others) = journal.zero(mine), journal.zero(other)
        if abs(one - two) >= LAST_COUNTS:
            return False
        mine, other = replace(mine, fields=rest), replace(other, fields=others)
    for at in places:
        ((a,), (b,)) = (struct.unpack_from("<f", entry.fields, at) for entry in (mine, other))
        if abs(a - b) > LAST_BITS * abs(a):
            return False
        # The numbers of a calibration follow each other; every other one follows its mass.
        masses = [(at, 0) if e.kind == "Calibrated" else mass_before(e.fields, at) for e in (mine, other)]
        (from_, one), (to, two) = masses
        if from_ != to or abs(one - two) > LAST_MG:
            return False
        mine, other = (replace(e, fields=e.fields[:from_] + bytes(at + 4 - from_) + e.fields[at + 4 :]) for e in (mine, other))
    return mine == other


def mass_before(fields: bytes, at: int) -> tuple[int, int]:
    """Where the number begins that ends before `at`, and its value: seven bits a byte, the lowest first, the sign in the lowest bit."""
    first = at - 1
    while first > 0 and fields[first - 1] & 0x80:
        first -= 1
    number = sum((byte & 0x7F) << 7 * place for place, byte in enumerate(fields[first:at]))
    return first, number >> 1 ^ -(number & 1)


def compare_torn_journal(expected: bytes, found: bytes) -> None:
    """The same where the simulator's supply failed inside a write that the image has ended. Raises Differs.

    What stood before is the same, and the torn write has changed only cells that the whole one changes, to the same.
    """
    kept, others = journal.entries(expected), journal.entries(found)
    if not set(kept) <= set(others) or len(others) > len(kept) + 1:
        raise Differs(f"the simulator noted {kept}, the image {others}")
    for at, (mine, other) in enumerate(zip(expected, found, strict=True)):
        if mine & other != other:
            raise Differs(f"at {at:#x} the simulator's write left {mine:#04x} and the image's {other:#04x}")

"""The comparison of image and simulator by itself: what it lets pass, and what it does not."""

import re
import struct

import pytest

from rig import journal, story
from rig.display import SIZE
from rig.image import REPOSITORY


def frames(*memories: bytes) -> list:
    return [story.Frame(1_000.0 * n, memory) for n, memory in enumerate(memories)]


def test_frame_comparison_takes_slices_but_nothing_else():
    a, b, c = bytes(SIZE), bytes([1] * SIZE), bytes([2] * SIZE)
    half = b[:512] + a[512:]
    story.compare_frames(frames(a, b, c), frames(a, half, b, c))
    for seen in [(a, half, c), (a, b), (a, c, b), (a, b, c, a), (a, b, bytes([3] * SIZE), c)]:
        with pytest.raises(story.Differs):
            story.compare_frames(frames(a, b, c), frames(*seen))


def test_frame_comparison_lets_a_frame_of_one_conversion_go_by():
    a, b, c = bytes(SIZE), bytes([1] * SIZE), bytes([2] * SIZE)
    half = c[:512] + a[512:]
    simulated = [story.Frame(0.0, a), story.Frame(1_000.0, b), story.Frame(1_097.0, c)]
    story.compare_frames(simulated, frames(a, half, c))
    story.compare_frames(simulated, frames(a, b, c))
    longer = [story.Frame(0.0, a), story.Frame(1_000.0, b), story.Frame(1_200.0, c)]
    with pytest.raises(story.Differs):
        story.compare_frames(longer, frames(a, half, c))


def test_frame_comparison_does_not_judge_what_comes_after_the_end():
    a, b, c = bytes(SIZE), bytes([1] * SIZE), bytes([2] * SIZE)
    story.compare_frames(frames(a, b), frames(a, b, c), end_ms=1_500)
    story.compare_frames(frames(a, b, c), frames(a, b), end_ms=1_500)
    with pytest.raises(story.Differs):
        story.compare_frames(frames(a, b), frames(a, b, c), end_ms=2_500)


def test_reader_names_every_record_in_its_place():
    for file, kind, names in (("record", "Record", journal.KINDS), ("pair_event", "PairEvent", journal.EVENTS)):
        source = (REPOSITORY / f"core/src/journal/{file}.rs").read_text()
        body = source.split(f"pub enum {kind} {{\n")[1].split("\n}\n")[0]
        assert tuple(re.findall(r"^    (\w+)(?: \{|\(.*\),|,)$", body, re.M)) == names


def test_journal_comparison_names_the_place():
    blank = bytes([0xFF]) * 1024 * 1024
    story.compare_journal(blank, blank)
    written = bytearray(blank)
    written[0x8012] = 0
    with pytest.raises(story.Differs, match="0x8012"):
        story.compare_journal(blank, bytes(written))
    story.compare_torn_journal(blank, bytes(written))
    with pytest.raises(story.Differs):
        story.compare_torn_journal(bytes(written), blank)


@pytest.mark.parametrize(
    ("kind", "value", "u", "same"),
    [
        ("Visit", 20_083, 40.179_085, True),
        ("Visit", 20_083, 40.179_11, True),
        ("Visit", 20_083, 40.189, True),
        ("Visit", 20_083, 40.23, False),
        ("Visit", 20_084, 40.179_085, True),
        ("Visit", 20_085, 40.179_085, True),
        ("Visit", 20_086, 40.179_085, False),
        ("Started", 20_083, 40.179_085, False),
    ],
)
def test_journal_comparison_allows_last_bits_and_rounding_only(kind: str, value: int, u: float, same: bool):
    def noted(kind: str, value: int, u: float) -> journal.Entry:
        zigzag = value << 1
        varint = bytes([zigzag & 0x7F | 0x80, zigzag >> 7 & 0x7F | 0x80, zigzag >> 14])
        return journal.Entry("visits", 3, 86_465, kind, varint + struct.pack("<f", u) + b"\x00\x01")

    assert story.but_for_last_bits(noted("Visit", 20_083, 40.179_085), noted(kind, value, u)) is same


@pytest.mark.parametrize(
    ("zero", "slope", "same"),
    [(20_102, 0.232_668, True), (20_102, 0.232_669, True), (20_390, 0.232_668, False), (20_102, 0.235, False)],
)
def test_journal_comparison_allows_a_zero_and_what_follows_from_it(zero: int, slope: float, same: bool):
    def noted(zero: int, slope: float) -> journal.Entry:
        zigzag = zero << 1
        varint = bytes([zigzag & 0x7F | 0x80, zigzag >> 7 & 0x7F | 0x80, zigzag >> 14])
        return journal.Entry("marks", 4, 31, "Calibrated", varint + struct.pack("<4f", slope, 0.0, 0.0049, 0.0))

    assert story.but_for_last_bits(noted(20_082, 0.232_668), noted(zero, slope)) is same


@pytest.mark.parametrize(("kind", "numbers"), journal.BEFORE_WEIGHT.items())
def test_journal_comparison_allows_last_bits_of_each_weight(kind: str, numbers: int):
    def noted(u: float, first: int = 200) -> journal.Entry:
        before = bytes([first & 0x7F | 0x80, first >> 7]) + bytes(max(numbers - 1, 0)) if numbers else b""
        behind = b"\x00\x00\x00\x00\x00\x00\x00"
        return journal.Entry("marks", 17, 522_035, kind, before + b"\xcc\xc6\x01" + struct.pack("<f", u) + behind)

    assert story.but_for_last_bits(noted(14.766_15), noted(14.764_63))
    assert not story.but_for_last_bits(noted(14.766_15), noted(14.8))
    assert numbers == 0 or not story.but_for_last_bits(noted(14.766_15), noted(14.766_15, first=201))


def test_every_weight_of_a_record_is_known_to_the_comparison():
    """Of the program's own list: whichever record or event has a field of that type."""
    source = REPOSITORY / "core" / "src" / "journal"
    text = "".join((source / name).read_text() for name in ("record.rs", "pair_event.rs"))
    variants = re.findall(r"^    (\w+) \{\n((?:        .*\n|\n)*?)    \}", text, re.MULTILINE)
    with_weight = {name for name, fields in variants if re.search(r": (Weight|Measured),", fields)}
    assert with_weight == set(journal.BEFORE_WEIGHT)

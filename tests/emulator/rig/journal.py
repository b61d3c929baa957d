"""Reads the journal's area by itself, without a line of the program that wrote it: what stands there is what was kept.

Sectors of 4 KiB in three rings, one behind the other (visits a sixteenth, condensed pairs a quarter, marks the rest). In a
sector items follow a marker byte: data checksum (4 bytes), length (2), checksum of the length (2), data, as the storage
library documents them. An item is a byte that marks it as ours with the schema's version, then in postcard's encoding number, time and record.
"""

from dataclasses import dataclass

SECTOR = 4096
HEADER = 8
# An item's first byte: ours in the upper half, the version of the schema in the lower.
SCHEMA = 0xA2

# The place in this list is the number on flash, for ever.
KINDS = (
    "Reserved", "Started", "Calibrated", "Bowl", "PairBegun", "LineChanged", "WeighIn", "Mark", "Unplanned", "Amended",
    "Undone", "Skipped", "LateMark", "Visit", "PairClosed", "Setting", "Yarn", "ClockSet", "Named", "Lost", "Condensed",
    "Checkpoint", "Control", "SharedZeroMark", "OfPair", "Kept", "Bench",
)
# The same of what happens to a pair.
EVENTS = (
    "LineChanged", "WeighIn", "Mark", "Unplanned", "Amended", "Undone", "Skipped", "LateMark", "Moved", "TakenBack", "Carried",
    "Label", "YarnNamed", "Gauge", "Rounds", "Reopened",
)


# What the check on the bench measures.
CHECKS = (
    "Supply", "Rate", "Noise", "Span", "Drift", "Keys", "Panel", "Sensor", "Buzzer", "Flash", "Reset", "Boot", "Empty",
)


@dataclass(frozen=True)
class Entry:
    """One record: the ring it stands in, its number, its time in seconds, its kind and the bytes of its fields."""

    ring: str
    sequence: int
    at: int
    kind: str
    fields: bytes


def entries(area: bytes) -> list[Entry]:
    """All intact entries, ring by ring, in the order of their numbers."""
    sectors = len(area) // SECTOR
    visits, pairs = max(sectors // 16, 3), sectors // 4
    rings = ("visits", 0, visits), ("pairs", visits, visits + pairs), ("marks", visits + pairs, sectors)
    found = []
    for ring, first, last in rings:
        items = [i for s in range(first, last) for i in _items(area[s * SECTOR : (s + 1) * SECTOR])]
        # What is not ours, and the fence of a restore, is no entry.
        ours = (item for item in items if item[0] & 0xF0 == SCHEMA & 0xF0)
        found += sorted((_entry(ring, item) for item in ours), key=lambda entry: entry.sequence)
    return found


def marks(area: bytes) -> list[Entry]:
    """The entries of the ring that marks stand in."""
    return [entry for entry in entries(area) if entry.ring == "marks"]


# A boundary: of a cake that was lifted off since its last weight, and of one that was not.
MARKS = ("Mark", "SharedZeroMark")
# Numbers before the weight of records that keep one.
BEFORE_WEIGHT = {
    "WeighIn": 1, "Mark": 2, "SharedZeroMark": 2, "Unplanned": 1, "Amended": 1, "LateMark": 2, "Carried": 3, "Rounds": 2,
    "Visit": 0, "Bowl": 1, "Control": 0,
}  # fmt: skip


def weight_milligrams(entry: Entry) -> int:
    """The mass that a record keeps: of a visit gross, else net."""
    value, _ = _varint(entry.fields, _weight_at(entry.kind, entry.fields))
    return (value >> 1) ^ -(value & 1)


def uncertainties_at(entry: Entry) -> list[int]:
    """Where in its fields the uncertainties begin, single precision numbers: of its weight, and last of what went in a stay; and where the
    numbers of a calibration do, its zero left out."""
    if entry.kind == "Calibrated":
        return list(range(0, len(zero(entry)[1]), 4))
    if entry.kind not in BEFORE_WEIGHT:
        return []
    of_weight = _varint(entry.fields, _weight_at(entry.kind, entry.fields))[1]
    return [of_weight, len(entry.fields) - 4] if entry.kind == "SharedZeroMark" else [of_weight]


def zero(entry: Entry) -> tuple[int, bytes]:
    """Where the empty pan stood by a visit or a calibration, in fine counts, and the fields without that."""
    at = 0
    if entry.kind == "Visit":
        at = _varint(entry.fields, 0)[1] + 4
        at += 1 if entry.fields[at] == 0 else 2
    value, end = _varint(entry.fields, at)
    return (value >> 1) ^ -(value & 1), entry.fields[:at] + entry.fields[end:]


def checks(area: bytes) -> dict[str, tuple[int, bool | None]]:
    """The latest result of each check on the bench: what came out, and whether it passed."""
    found = {}
    for entry in entries(area):
        if entry.kind == "Bench":
            value, at = _varint(entry.fields, 1)
            passed = bool(entry.fields[at + 1]) if entry.fields[at] else None
            found[CHECKS[entry.fields[0]]] = ((value >> 1) ^ -(value & 1), passed)
    return found


def yarn(entry: Entry) -> int:
    """The yarn's place in the alphabet, from 0, of a weigh-in, mark or unplanned use."""
    return entry.fields[1 if entry.kind in MARKS else 0]


def line(entry: Entry) -> int:
    """The place in the plan of the section that a mark closes."""
    assert entry.kind in MARKS
    return entry.fields[0]


def room_for_a_mark(area: bytes, data: bytes) -> tuple[int, bytes]:
    """Where the next item of the ring of marks belongs, and how one with this data is written."""
    sectors = len(area) // SECTOR
    first = max(sectors // 16, 3) + sectors // 4
    starts = (s * SECTOR for s in range(first, sectors))
    last = [start for start in starts if _items(area[start : start + SECTOR])][-1]
    at = last + 1 + sum(HEADER + len(item) for item in _items(area[last : last + SECTOR]))
    length = len(data).to_bytes(2, "little")
    header = _data_checksum(data).to_bytes(4, "little") + length + _length_checksum(length).to_bytes(2, "little")
    assert area[at : at + HEADER + len(data)] == b"\xff" * (HEADER + len(data)), "blank"
    return at, header + data


def _items(sector: bytes) -> list[bytes]:
    found, at = [], 1
    while at + HEADER <= SECTOR and sector[at : at + HEADER] != b"\xff" * HEADER:
        checksum = int.from_bytes(sector[at : at + 4], "little")
        length = int.from_bytes(sector[at + 4 : at + 6], "little")
        end = at + HEADER + length
        if _length_checksum(sector[at + 4 : at + 6]) != int.from_bytes(sector[at + 6 : at + 8], "little") or end > SECTOR:
            at += 1  # a damaged header: the next one stands somewhere behind it
            continue
        data = sector[at + HEADER : end]
        if checksum and checksum == _data_checksum(data):
            found.append(data)
        at = end
    return found


def _entry(ring: str, item: bytes) -> Entry:
    assert item[0] == SCHEMA, f"an item that begins with {item[0]:#x}"
    sequence, at = _varint(item, 1)
    seconds, at = _varint(item, at)
    kind, at = _varint(item, at)
    if KINDS[kind] == "OfPair":
        return Entry(ring, sequence, seconds, *_event(item, at))
    return Entry(ring, sequence, seconds, KINDS[kind], item[at:])


def _event(item: bytes, at: int) -> tuple[str, bytes]:
    """What happened to a pair, under the name and with the fields that schema 1 had for it: its pair's number left out."""
    _, at = _varint(item, at)
    kind, at = _varint(item, at)
    fields = item[at:]
    if EVENTS[kind] != "Mark":
        return EVENTS[kind], fields
    # A mark ends with a byte for "not known better" or, after one for "known better", the uncertainty of what went.
    weight_at = _varint(fields, _weight_at("Mark", fields))[1] + 4
    for _ in range(2):
        weight_at += 1 if fields[weight_at] == 0 else 2
    known = fields[weight_at] == 1
    return ("SharedZeroMark" if known else "Mark"), fields[:weight_at] + fields[weight_at + 1 :]


def _weight_at(kind: str, fields: bytes) -> int:
    at = 0
    for _ in range(BEFORE_WEIGHT[kind]):
        _, at = _varint(fields, at)
    return at


def _varint(data: bytes, at: int) -> tuple[int, int]:
    value = shift = 0
    while True:
        byte = data[at]
        value |= (byte & 0x7F) << shift
        at, shift = at + 1, shift + 7
        if not byte & 0x80:
            return value, at


def _length_checksum(data: bytes) -> int:
    crc = _crc(data, 0xFFFF, 0x1A2E) ^ 0xFFFF
    return 0xFFFE if crc == 0xFFFF else crc


def _data_checksum(data: bytes) -> int:
    crc = _crc(data, 0xEEEE_EEEE, 0x82F6_3B78) ^ 0xFFFF_FFFF
    if crc == 0:
        return 1
    return crc ^ 1 if crc & 0xFF in (0, 0xFF) else crc


def _crc(data: bytes, crc: int, polynomial: int) -> int:
    for byte in data:
        crc ^= byte
        for _ in range(8):
            crc = crc >> 1 ^ polynomial if crc & 1 else crc >> 1
    return crc

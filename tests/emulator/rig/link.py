"""The computer's side of the line, written from the protocol's description alone, not from the program that answers.

A frame is COBS (Cheshire and Baker 1999) of a postcard body and its CRC-32 (zlib's), closed by a zero. Postcard: unsigned
numbers in base 128, low groups first; signed ones zigzag; an enum's variant by its number; a text or list behind its length.
"""

import struct
import zlib

from . import journal

PAIRS, MARKS, VISITS = range(3)
HELLO, READ, NOTE, RESTORE, CHECK, RESTORE_BEGIN, RESTORE_END, ENDS, CONVERSIONS = range(9)
DEVICE, ENTRIES, NOTED, RESTORED, REFUSED, CHECKING, RESTORE_BEGUN, ENDS_ARE, CONVERSIONS_ARE = range(9)
BUSY, STALE, FOREIGN = range(3)


def frame(body: bytes) -> bytes:
    """A body as it goes over the line."""
    return cobs(body + zlib.crc32(body).to_bytes(4, "little")) + b"\0"


def body_of(frame: bytes) -> bytes:
    """The body of a frame without its closing zero. Raises ValueError if it is damaged."""
    plain = uncobs(frame)
    if len(plain) < 4 or zlib.crc32(plain[:-4]) != int.from_bytes(plain[-4:], "little"):
        raise ValueError("the CRC is wrong")
    return plain[:-4]


def cobs(data: bytes) -> bytes:
    out = bytearray()
    for piece in (data + b"\0").split(b"\0")[:-1]:
        while len(piece) >= 254:
            out += b"\xff" + piece[:254]
            piece = piece[254:]
        out += bytes([len(piece) + 1]) + piece
    return bytes(out)


def uncobs(data: bytes) -> bytes:
    out, at = bytearray(), 0
    while at < len(data):
        code = data[at]
        if code == 0 or at + code > len(data):
            raise ValueError("no such code")
        out += data[at + 1 : at + code]
        at += code
        if code != 255 and at < len(data):
            out.append(0)
    return bytes(out)


def varint(value: int) -> bytes:
    out = bytearray()
    while value > 127:
        out.append(value & 127 | 128)
        value >>= 7
    return bytes(out + bytes([value]))


def unvarint(data: bytes, at: int) -> tuple[int, int]:
    value = shift = 0
    while True:
        value |= (data[at] & 127) << shift
        shift += 7
        at += 1
        if not data[at - 1] & 128:
            return value, at


def hello() -> bytes:
    return bytes([HELLO])


def read(position: tuple[int, int | None, int]) -> bytes:
    part, sector, entries = position
    return bytes([READ, part]) + (b"\0" if sector is None else b"\1" + varint(sector)) + varint(entries)


def note_clock(expected: int, unix: int) -> bytes:
    return bytes([NOTE]) + varint(expected) + b"\1" + varint(unix)


def note_pair_name(expected: int, pair: int, name: str) -> bytes:
    text = name.encode()
    return bytes([NOTE]) + varint(expected) + b"\0\0" + varint(pair) + varint(len(text)) + text


def restore(ring: int, *entries: bytes) -> bytes:
    row = b"".join(len(entry).to_bytes(2, "big") + entry for entry in entries)
    return bytes([RESTORE, ring]) + varint(len(row)) + row


# What can be asked of the check on the bench.
TASKS = (
    "supply", "empty pan", "drift", "known mass", "keys", "frame", "edges", "sensor", "tone", "heard", "chip", "stop",
)


def check(task: str | None = None, value: int | None = None) -> bytes:
    """Does a task of the check on the bench, or none, and asks how it stands."""
    if task is None:
        return bytes([CHECK, 0])
    return bytes([CHECK, 1, TASKS.index(task)]) + (b"" if value is None else varint(value))


def under_way(answer: bytes) -> bool:
    """Whether a task is, by the answer."""
    assert answer[0] == CHECKING
    return answer[1] == 1


def restore_begin() -> bytes:
    return bytes([RESTORE_BEGIN])


def restore_end(entries: list[tuple[int, bytes]]) -> bytes:
    """What ends a restore of these: their number, and the checksum over ring, length and bytes of each."""
    checksum = zlib.crc32(b"".join(bytes([ring]) + len(entry).to_bytes(2, "big") + entry for ring, entry in entries))
    return bytes([RESTORE_END]) + varint(len(entries)) + varint(checksum)


def ends() -> bytes:
    return bytes([ENDS])


def conversions() -> bytes:
    return bytes([CONVERSIONS])


def converted(answer: bytes) -> tuple[bool, list[tuple[int, int]]]:
    """Whether some were missed, and time in ms and counts of each of the others."""
    assert answer[0] == CONVERSIONS_ARE
    length, at = unvarint(answer, 2)
    assert len(answer) == at + length and length % 8 == 0
    return answer[1] == 1, list(struct.iter_unpack("<Ii", answer[at:]))


class Computer:
    """Asks the scale on a bench's USB port."""

    def __init__(self, bench):
        self.bench, self.usb = bench, bench.usb
        self.id, self.came = 0, bytearray()

    def ask(self, ask: bytes, limit_ms: float = 3000.0) -> bytes:
        """Sends a question and waits for the body of its answer, from the variant's number on."""
        self.id = (self.id + 1) % 256
        self.usb.send(b"\0" + frame(bytes([self.id]) + ask))
        answer: list[bytes] = []

        def come() -> bool:
            answer.extend(body[1:] for body in self.answers() if body[0] == self.id)
            return bool(answer)

        self.bench.until(come, limit_ms, "an answer")
        assert len(answer) == 1
        return answer[0]

    def answers(self) -> list[bytes]:
        """The bodies of the frames that have come whole since the last look."""
        self.came += self.usb.take()
        *frames, self.came = self.came.split(b"\0")
        return [body_of(bytes(one)) for one in frames if one]

    def read_all(self, most: int | None = None, part: int = 0) -> list[tuple[int, bytes]]:
        """Every entry of the journal with its ring, as a backup has them; or what `most` questions from `part` on bring."""
        found, position = [], (part, None, 0)
        while position is not None and most != 0:
            most = most and most - 1
            answer = self.ask(read(position))
            assert answer[0] == ENTRIES
            ring = answer[1]
            length, at = unvarint(answer, 2)
            end = at + length
            while at < end:
                size = int.from_bytes(answer[at : at + 2], "big")
                found.append((ring, answer[at + 2 : at + 2 + size]))
                at += 2 + size
            position, at = _position(answer, end)
            assert at == len(answer)
        return found


def standing(area: bytes) -> list[tuple[int, int]]:
    """Ring and number of every entry that a journal's area holds, by the rig's own reader."""
    rings = {"pairs": PAIRS, "marks": MARKS, "visits": VISITS}
    return sorted((rings[entry.ring], entry.sequence) for entry in journal.entries(area))


def numbers(entries: list[tuple[int, bytes]]) -> list[tuple[int, int]]:
    """Ring and number of entries, by their bytes."""
    # Behind the byte that marks an item as ours stands its number.
    return sorted((ring, unvarint(entry, 1)[0]) for ring, entry in entries)


def entries_of_backup(backup: bytes) -> list[tuple[int, bytes]]:
    """Ring and bytes of every entry in a backup file: a line of text, then frames for the device (0), each entry (1), the end (2)."""
    found = []
    for one in backup[backup.index(b"\n") + 1 :].split(b"\0")[:-1]:
        body = body_of(one)
        if body[0] == 1:
            length, at = unvarint(body, 2)
            assert at + length == len(body)
            found.append((body[1], body[at:]))
    return found


def _position(data: bytes, at: int) -> tuple[tuple[int, int | None, int] | None, int]:
    if data[at] == 0:
        return None, at + 1
    part, at = data[at + 1], at + 2
    sector = None
    if data[at]:
        sector, at = unvarint(data, at + 1)
    else:
        at += 1
    entries, at = unvarint(data, at)
    return (part, sector, entries), at

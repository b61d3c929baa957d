"""Where records are found: a backup's frames, and a flash image's sectors. Each gives the records in order, and the parts torn at their end."""

import struct
import sys
import zlib

from .fields import Reader

MAGIC = b"yarn-scale backup 1\n"
PAIRS, MARKS, VISITS = 0, 1, 2
SECTOR, HEADER = 4096, 8


def uncobs(frame):
    out, at = bytearray(), 0
    while at < len(frame):
        code = frame[at]
        out += frame[at + 1 : at + code]
        at += code
        if code < 0xFF and at < len(frame):
            out.append(0)
    return bytes(out)


def of_backup(data):
    records, torn, ended = [], set(), False
    for frame in data[len(MAGIC) :].split(b"\0"):
        if not frame:
            continue
        plain = uncobs(frame)
        body, crc = plain[:-4], plain[-4:]
        if ended or zlib.crc32(body) != int.from_bytes(crc, "little"):
            sys.exit("damaged")
        reader = Reader(body, 1)
        if body[0] == 1:
            part = reader.number()
            records.append((part, reader.raw(reader.number())))
        elif body[0] == 2:
            ended = reader.number() == len(records)
        elif body[0] == 3:
            torn.add(reader.number())
    if not ended:
        sys.exit("not all there")
    return records, torn


def table(polynomial):
    def entry(value):
        for _ in range(8):
            value = value >> 1 ^ polynomial if value & 1 else value >> 1
        return value

    return [entry(byte) for byte in range(256)]


CRC_16, CRC_32 = table(0x1A2E), table(0x82F63B78)


def crc(data, value, entries):
    for byte in data:
        value = value >> 8 ^ entries[(value ^ byte) & 0xFF]
    return value


def length_checksum(data):
    return min(crc(data, 0xFFFF, CRC_16) ^ 0xFFFF, 0xFFFE)


def data_checksum(data):
    value = crc(data, 0xEEEEEEEE, CRC_32) ^ 0xFFFFFFFF
    if value == 0:
        return 1
    return value ^ 1 if value & 0xFF in (0, 0xFF) else value


def items(sector):
    """Each item of a sector, and where it ends."""
    at = 1
    while at + HEADER <= SECTOR and sector[at : at + HEADER] != b"\xff" * HEADER:
        checksum, length, of_length = struct.unpack("<IHH", sector[at : at + HEADER])
        end = at + HEADER + length
        if length_checksum(sector[at + 4 : at + 6]) != of_length or end > SECTOR:
            at += 1
            continue
        if checksum and checksum == data_checksum(sector[at + HEADER : end]):
            yield sector[at + HEADER : end], end
        at = end


def is_record(item):
    return item[0] & 0xF0 == 0xA0


def blank(data):
    return data.count(0xFF) == len(data)


def of_image(data):
    if not data or len(data) % SECTOR:
        sys.exit("neither a backup nor an image")
    count = len(data) // SECTOR
    visits, pairs = max(count // 16, 3), count // 4
    sectors = [data[s * SECTOR : (s + 1) * SECTOR] for s in range(count)]
    cut = None
    for sector in sectors[:visits]:
        first = next(items(sector), (b"\0", 0))[0]
        if first[0] == 0xB1:
            cut = struct.unpack("<III", first[1:13])
    records, torn = [], set()
    for part, first, last in (PAIRS, visits, visits + pairs), (MARKS, visits + pairs, count), (VISITS, 0, visits):
        ring = []
        for sector in sectors[first:last]:
            found = [(item, end) for item, end in items(sector) if is_record(item)]
            ring.append([(item, end) for item, end in found if not cut or Reader(item, 1).number() < cut[part]])
        begun = [Reader(found[0][0], 1).number() if found else 0 for found in ring]
        head = begun.index(max(begun))
        if not begun[head]:
            if not cut and not all(blank(sector) for sector in sectors[first:last]):
                torn.add(part)
            continue
        for found in ring[head + 1 :] + ring[: head + 1]:
            records += ((part, item) for item, _ in found)
        if not blank(sectors[first + head][ring[head][-1][1] : -1]):
            torn.add(part)
    if not records:
        sys.exit("neither a backup nor an image")
    return records, torn

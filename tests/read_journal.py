#!/usr/bin/env python3
"""Reads a backup or an image of a journal by hardware-notes/journal-format.md alone, with nothing but the standard library.

Prints the visits as `yarn-scale table visits` does, and on standard error how many records each part holds and what is missing.
"""

import struct
import sys
import zlib

MAGIC = b"yarn-scale backup 1\n"
PAIRS, MARKS, VISITS = 0, 1, 2
SECTOR, HEADER = 4096, 8
VISIT = 13


def varint(data, at):
    value = shift = 0
    while True:
        value |= (data[at] & 0x7F) << shift
        at, shift = at + 1, shift + 7
        if data[at - 1] < 0x80:
            return value, at


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
    records, ended = [], False
    for frame in data[len(MAGIC) :].split(b"\0"):
        if not frame:
            continue
        plain = uncobs(frame)
        body, crc = plain[:-4], plain[-4:]
        if ended or zlib.crc32(body) != int.from_bytes(crc, "little"):
            sys.exit("damaged")
        if body[0] == 1:
            length, at = varint(body, 2)
            records.append((body[1], body[at : at + length]))
        elif body[0] == 2:
            ended = varint(body, 1)[0] == len(records)
    if not ended:
        sys.exit("not all there")
    return records


def crc(data, value, polynomial):
    for byte in data:
        value ^= byte
        for _ in range(8):
            value = value >> 1 ^ polynomial if value & 1 else value >> 1
    return value


def length_checksum(data):
    return min(crc(data, 0xFFFF, 0x1A2E) ^ 0xFFFF, 0xFFFE)


def data_checksum(data):
    value = crc(data, 0xEEEEEEEE, 0x82F63B78) ^ 0xFFFFFFFF
    if value == 0:
        return 1
    return value ^ 1 if value & 0xFF in (0, 0xFF) else value


def items(sector):
    at = 1
    while at + HEADER <= SECTOR and sector[at : at + HEADER] != b"\xff" * HEADER:
        checksum, length, of_length = struct.unpack("<IHH", sector[at : at + HEADER])
        end = at + HEADER + length
        if length_checksum(sector[at + 4 : at + 6]) != of_length or end > SECTOR:
            at += 1
            continue
        if checksum and checksum == data_checksum(sector[at + HEADER : end]):
            yield sector[at + HEADER : end]
        at = end


def of_image(data):
    if not data or len(data) % SECTOR:
        sys.exit("neither a backup nor an image")
    count = len(data) // SECTOR
    visits, pairs = max(count // 16, 3), count // 4
    parts = (PAIRS, visits, visits + pairs), (MARKS, visits + pairs, count), (VISITS, 0, visits)
    records = []
    for part, first, last in parts:
        found = [item for s in range(first, last) for item in items(data[s * SECTOR : (s + 1) * SECTOR])]
        records += ((part, item) for item in sorted(found, key=lambda item: varint(item, 1)[0]))
    return records


def main():
    with open(sys.argv[1], "rb") as file:
        data = file.read()
    records = of_backup(data) if data.startswith(MAGIC) else of_image(data)
    print("at_s,utc_s,gross_mg,u_mg,bowl", end="\r\n")
    for part, name in ((PAIRS, "closed pairs"), (MARKS, "marks"), (VISITS, "visits")):
        numbers = []
        for record in (record for of, record in records if of == part):
            number, at = varint(record, 1)
            seconds, at = varint(record, at)
            kind, at = varint(record, at)
            numbers.append(number)
            if part == VISITS and kind == VISIT:
                mass, at = varint(record, at)
                (u,) = struct.unpack("<f", record[at : at + 4])
                bowl = record[at + 5] if record[at + 4] else 0
                print(f"{seconds},,{mass >> 1 ^ -(mass & 1)},{u:.9g},{bowl}", end="\r\n")
        gaps = sum(b - a - 1 for a, b in zip(numbers, numbers[1:]))
        print(f"{name}: {len(numbers)} records, {gaps} missing between", file=sys.stderr)


main()

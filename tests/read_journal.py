#!/usr/bin/env python3
"""Reads a backup or an image of a journal by hardware-notes/journal-format.md alone, with nothing but the standard library.

Prints the sections as `yarn-scale table` does, or with `visits` behind the file the visits; and on standard error how many records each
part holds and what is missing. The exit code is 1 if something is.
"""

import csv
import struct
import sys
import zlib

MAGIC = b"yarn-scale backup 1\n"
PAIRS, MARKS, VISITS = 0, 1, 2
SECTOR, HEADER = 4096, 8
SECTIONS = ["cuff", "leg", "heel", "gusset", "foot", "toe"]
CONSTRUCTIONS = [
    "plain",
    ["rib 1x1", "rib 2x2", "rib twisted"],
    ["heel flap and gusset", "heel short row", "heel afterthought"],
    ["toe wedge", "toe rounded", "toe asymmetric"],
]
# Kinds of schema 1 that are events of the pair begun last.
EVENT_OF_KIND = {5: 0, 6: 1, 7: 2, 8: 3, 9: 4, 10: 5, 11: 6, 12: 7, 23: 2}
WEIGH_IN, UNPLANNED = -1, -2


class Reader:
    """The fields of a record, one behind the other."""

    def __init__(self, data, at=0):
        self.data, self.at = data, at

    def number(self):
        value = shift = 0
        while True:
            byte = self.data[self.at]
            self.at += 1
            value |= (byte & 0x7F) << shift
            shift += 7
            if byte < 0x80:
                return value

    def signed(self):
        value = self.number()
        return value >> 1 ^ -(value & 1)

    def raw(self, count):
        self.at += count
        if self.at > len(self.data):
            raise IndexError
        return self.data[self.at - count : self.at]

    def text(self):
        return self.raw(self.number()).decode()

    def single(self):
        return struct.unpack("<f", self.raw(4))[0]

    def option(self, thing):
        return thing() if self.number() else None

    def mass(self):
        return self.signed(), self.single()

    def weight(self):
        (mg, _), _, _ = self.mass(), self.option(lambda: self.raw(1)), self.option(lambda: self.raw(1))
        return mg

    def line(self):
        section, sock, yarn, construction = (self.number() for _ in range(4))
        of = CONSTRUCTIONS[construction]
        return {
            "section": SECTIONS[section],
            "sock": sock + 1,
            "yarn": "ABCDEFGH"[yarn],
            "construction": of if isinstance(of, str) else of[self.number()],
            "stitches": self.raw(1)[0],
        }


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


class Pair:
    """The weights of a pair, and what they say."""

    def __init__(self, lines):
        self.lines, self.weights, self.skips, self.open, self.doubt, self.applied = lines, [], [], True, set(), 0
        self.lacks = False

    def find(self, number):
        return next((w for w in self.weights if w["number"] == number), None)

    def has_weight(self, yarn):
        return yarn in self.doubt or any(w["yarn"] == yarn for w in self.weights)

    def gap(self):
        self.doubt = set(range(8))
        for yarn in range(8):
            last = [w for w in self.weights if w["yarn"] == yarn][-1:]
            for w in last:
                w["doubtful"] = True

    def event(self, number, at, kind, reader, schema_1=None):
        """Takes an event, if what it speaks of is there. The fields are read before that, so that the record is known to be whole."""
        if kind == 0:
            place, line = reader.raw(1)[0], reader.line()
            return lambda: self.change_line(place, line)
        if kind in (1, 10):
            yarn = reader.number()
            if kind == 10:
                reader.number(), reader.number()
            mg = reader.weight()
            return lambda: self.add(number, at, yarn, mg, WEIGH_IN)
        if kind == 2:
            place, yarn, mg = reader.raw(1)[0], reader.number(), reader.weight()
            if schema_1 is None:
                reader.option(reader.single)
            elif schema_1 == 23:
                reader.single()
            return lambda: place < len(self.lines) and self.has_weight(yarn) and self.add(number, at, yarn, mg, place)
        if kind == 3:
            yarn, mg = reader.number(), reader.weight()
            return lambda: self.has_weight(yarn) and self.add(number, at, yarn, mg, UNPLANNED)
        if kind == 4:
            of, mg = reader.number(), reader.weight()
            return lambda: self.find(of) and self.find(of).update(mg=mg, amended=True)
        if kind in (5, 9):
            of = reader.number()
            return lambda: self.take_back(of, kind == 9)
        if kind == 6:
            place = reader.raw(1)[0]
            return lambda: place < len(self.lines) and self.skips.append(number)
        if kind == 7:
            place, yarn, mg, visited = reader.raw(1)[0], reader.number(), reader.weight(), reader.number()
            before = reader.option(lambda: (reader.number(), reader.raw(1)[0]))
            return lambda: self.late(number, place, yarn, mg, visited, before)
        if kind == 8:
            of, place = reader.number(), reader.raw(1)[0]
            return lambda: self.move(of, place)
        if kind == 15:
            return self.reopen
        if kind == 11:
            reader.number(), reader.number(), reader.number()
        elif kind == 12:
            reader.number(), reader.text()
        elif kind == 13:
            reader.raw(3)
        elif kind == 14:
            reader.raw(1), reader.number(), reader.weight(), reader.number()
        else:
            raise IndexError
        return lambda: None

    def reopen(self):
        self.open = True

    def change_line(self, place, line):
        if place < len(self.lines):
            self.lines[place] = line
        elif place == len(self.lines):
            self.lines.append(line)

    def new(self, number, at, yarn, mg, purpose):
        doubtful = yarn in self.doubt
        return dict(number=number, at=at, yarn=yarn, mg=mg, to=purpose, doubtful=doubtful, amended=False, late=False, pushed=None)

    def add(self, number, at, yarn, mg, purpose):
        if self.open:
            self.weights.append(self.new(number, at, yarn, mg, purpose))
            self.doubt.discard(yarn)

    def late(self, number, place, yarn, mg, visited, before):
        if not (self.open and place < len(self.lines) and self.has_weight(yarn)):
            return
        weight = self.new(number, visited, yarn, mg, place) | {"late": True}
        if before is None:
            self.weights.append(weight)
            return
        later = self.find(before[0])
        if later is None or later["yarn"] != yarn or later["to"] < 0 or before[1] >= len(self.lines):
            return
        weight["pushed"] = (later, later["to"])
        self.weights.insert(self.weights.index(later), weight)
        later["to"] = before[1]

    def take_back(self, of, only_marks):
        weight = self.find(of)
        if not only_marks and of in self.skips:
            self.skips.remove(of)
        elif weight and not (only_marks and weight["to"] == WEIGH_IN):
            self.weights.remove(weight)
            if weight["pushed"]:
                later, to = weight["pushed"]
                later["to"] = to
            if weight["doubtful"] and not weight["late"]:
                self.doubt.add(weight["yarn"])

    def move(self, of, place):
        weight = self.find(of)
        if weight and weight["to"] != WEIGH_IN and place < len(self.lines):
            weight["to"] = place
            for other in self.weights:
                if other["pushed"] and other["pushed"][0] is weight:
                    other["pushed"] = None

    def sections(self):
        last, went = {}, []
        for weight in self.weights:
            before = last.get(weight["yarn"])
            went.append(None if before is None else before - weight["mg"])
            last[weight["yarn"]] = weight["mg"]
        rows = []
        for place, line in enumerate(self.lines):
            marks = [(w, mg) for w, mg in zip(self.weights, went) if w["to"] == place]
            amounts = [mg for _, mg in marks if mg is not None]
            if amounts:
                flags = {flag: any(w[flag] for w, _ in marks) for flag in ("amended", "late", "doubtful")}
                rows.append({"place": place + 1, **line, "used_mg": sum(amounts), "at_s": marks[-1][0]["at"], **flags})
        return rows


class Journal:
    """What the records of a journal say."""

    def __init__(self, records, torn):
        self.names, self.rows, self.visits, self.pairs, self.counts = {}, {}, [], {}, {}
        # The pair begun last, to which events without a number belong.
        self.begun = 0
        for part in (PAIRS, MARKS, VISITS):
            self.read_part(part, [record for of, record in records if of == part], part in torn)
        for number, pair in self.pairs.items():
            if pair.weights and not (pair.lacks and number in self.rows):
                self.rows[number] = pair.sections()

    def read_part(self, part, records, is_torn):
        first = Reader(records[0], 1).number() if records else 0
        expected, missing = 1 if first <= 8 else first, 0
        for record in records:
            number = Reader(record, 1).number()
            if number < expected:
                # Out of order: nobody reads it.
                missing += 1
                self.gap(part)
                continue
            if number > expected:
                missing += number - expected
                self.gap(part)
            expected = number + 1
            if not self.read(number, record):
                missing += 1
                self.gap(part)
        if is_torn:
            self.gap(part)
        self.counts[part] = (len(records), missing, is_torn)

    def gap(self, part):
        if part == MARKS:
            for pair in self.open_pairs():
                pair.lacks = True
                pair.gap()

    def open_pairs(self):
        return [pair for pair in self.pairs.values() if pair.open]

    def read(self, number, record):
        """Takes a record; whether it could be read."""
        if record[0] not in (0xA1, 0xA2):
            return False
        reader = Reader(record, 1)
        try:
            _, at, kind = reader.number(), reader.number(), reader.number()
            done = self.meaning(number, at, kind, reader)
        except (IndexError, struct.error, UnicodeDecodeError):
            return False
        if reader.at != len(record):
            return False
        done()
        return True

    def meaning(self, number, at, kind, reader):
        if kind == 4:
            pair, lines = reader.number(), [reader.line() for _ in range(reader.number())]
            return lambda: self.begin(pair, lines)
        if kind in EVENT_OF_KIND:
            return self.event(self.begun, number, at, EVENT_OF_KIND[kind], reader, kind)
        if kind == 24:
            return self.event(reader.number(), number, at, reader.number(), reader)
        if kind == 25:
            pair, first = reader.number(), reader.number()
            return self.event(pair, first, at, reader.number(), reader)
        if kind == 13:
            mass, bowl = reader.mass(), reader.option(lambda: reader.raw(1)[0])
            reader.signed()
            return lambda: self.visits.append((at, *mass, bowl or 0))
        if kind == 14:
            pair = reader.number()
            return lambda: self.close(pair)
        if kind == 18:
            is_pair, of, name = reader.number() == 0, reader.number(), reader.text()
            return lambda: is_pair and self.names.update({of: name})
        if kind == 19:
            reader.number()
            return lambda: [open_pair.gap() for open_pair in self.open_pairs()]
        if kind == 20:
            pair, count = reader.number(), reader.number()
            sections = [(reader.line(), reader.mass()[0], reader.number()) for _ in range(count)]
            return lambda: self.in_short(pair, sections)
        if kind == 21:
            _, pair, _ = reader.number(), reader.number(), reader.number()
            return lambda: self.checkpoint(pair)
        if not 1 <= kind <= 26:
            raise IndexError
        # What is left changes no section and no visit.
        reader.at = len(reader.data)
        return lambda: None

    def event(self, pair, number, at, kind, reader, schema_1=None):
        of = self.pairs.get(pair, Pair([]))
        done = of.event(number, at, kind, reader, schema_1)

        def take():
            if number > of.applied:
                of.applied = number
                done()

        return take

    def begin(self, pair, lines):
        self.begun = max(self.begun, pair)
        self.pairs.setdefault(pair, Pair(lines))

    def close(self, pair):
        if pair in self.pairs:
            self.pairs[pair].open = False

    def checkpoint(self, pair):
        self.begun = max(self.begun, pair)

    def in_short(self, pair, sections):
        rows = []
        for place, (line, mg, doubtful) in enumerate(sections):
            flags = {"at_s": "", "amended": False, "late": False, "doubtful": bool(doubtful)}
            rows.append({"place": place + 1, **line, "used_mg": mg, **flags})
        self.rows[pair] = rows


COLUMNS = "pair name place section sock yarn construction stitches used_mg u_mg at_s utc_s utc amended late doubtful".split()


def main():
    with open(sys.argv[1], "rb") as file:
        data = file.read()
    journal = Journal(*(of_backup(data) if data.startswith(MAGIC) else of_image(data)))
    out = csv.writer(sys.stdout)
    if sys.argv[2:] == ["visits"]:
        out.writerow(["at_s", "utc_s", "utc", "gross_mg", "u_mg", "bowl"])
        for at, mg, u, bowl in journal.visits:
            out.writerow([at, "", "", mg, f"{u:.9g}", bowl])
    else:
        out.writerow(COLUMNS)
        for pair in sorted(journal.rows):
            for row in journal.rows[pair]:
                flags = {key: str(value).lower() for key, value in row.items() if isinstance(value, bool)}
                whole = {"pair": pair, "name": journal.names.get(pair, "")} | row | flags
                out.writerow([whole.get(column, "") for column in COLUMNS])
    wrong = 0
    for part, name in ((PAIRS, "closed pairs"), (MARKS, "marks"), (VISITS, "visits")):
        count, missing, torn = journal.counts[part]
        end = ", something unreadable at the end" if torn else ""
        print(f"{name}: {count} records, {missing} missing{end}", file=sys.stderr)
        wrong += missing + torn
    sys.exit(1 if wrong else 0)


main()

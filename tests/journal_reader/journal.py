"""What the records of a journal say."""

import struct

from .containers import MARKS, PAIRS, VISITS
from .fields import Reader
from .pair import Pair

# Kinds of schema 1 that are events of the pair begun last.
EVENT_OF_KIND = {5: 0, 6: 1, 7: 2, 8: 3, 9: 4, 10: 5, 11: 6, 12: 7, 23: 2}


class Journal:
    """What the records of a journal say."""

    def __init__(self, records, torn):
        self.names, self.rows, self.visits, self.pairs, self.counts = {}, {}, [], {}, {}
        # The pair begun last, to which events without a number belong.
        self.begun = 0
        for part in (PAIRS, MARKS, VISITS):
            self.read_part(part, [record for of, record in records if of == part], part in torn)
        for number, pair in self.pairs.items():
            in_short = pair.lacks and not pair.reopened and number in self.rows
            if pair.weights and not in_short:
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
        elsewhere = of.elsewhere

        def take():
            if elsewhere and elsewhere[0] == "carried":
                others = [self.pairs[elsewhere[1]]] if elsewhere[1] in self.pairs and elsewhere[1] != pair else []
            else:
                others = [other for other in self.pairs.values() if other is not of] if elsewhere else []
            for other in others:
                other.of_other(number, at, elsewhere)
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

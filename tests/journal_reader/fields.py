"""The fields of a record: numbers, masses, lines of a plan."""

import struct

SECTIONS = ["cuff", "leg", "heel", "gusset", "foot", "toe"]
CONSTRUCTIONS = [
    "plain",
    ["1x1 rib", "2x2 rib", "twisted rib"],
    ["flap and gusset", "short-row heel", "afterthought heel"],
    ["wedge toe", "rounded toe", "asymmetric toe"],
]


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

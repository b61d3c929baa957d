"""What the records of one pair say."""

WEIGH_IN, UNPLANNED, CARRIED = -1, -2, -3


class Pair:
    """The weights of a pair, and what they say."""

    def __init__(self, lines):
        self.lines, self.weights, self.skips, self.open, self.doubt, self.applied = lines, [], [], True, set(), 0
        # Something of it may be missing; and it was opened again, so that what was noted in short may be from before.
        self.lacks, self.reopened = False, False
        # What the event read last does to other pairs.
        self.elsewhere = None

    def find(self, number):
        return next((w for w in self.weights if w["number"] == number and w["to"] != CARRIED), None)

    def has_weight(self, yarn):
        return yarn in self.doubt or self.goes_on(yarn)

    def goes_on(self, yarn):
        """Whether a chain of this yarn is there that another weight can join."""
        return [w["to"] for w in self.weights if w["yarn"] == yarn][-1:] not in ([], [CARRIED])

    def gap(self):
        self.doubt = set(range(8))
        for yarn in range(8):
            last = [w for w in self.weights if w["yarn"] == yarn][-1:]
            for w in last:
                w["doubtful"] = True

    def event(self, number, at, kind, reader, schema_1=None):
        """Takes an event, if what it speaks of is there. The fields are read before that, so that the record is known to be whole."""
        self.elsewhere = None
        if kind == 0:
            place, line = reader.raw(1)[0], reader.line()
            return lambda: self.change_line(place, line)
        if kind in (1, 10):
            yarn = reader.number()
            if kind == 10:
                other = reader.number(), reader.number()
            mg = reader.weight()
            if kind == 10:
                self.elsewhere = ("carried", *other, mg)
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
            self.elsewhere = ("amended", of, mg)
            return lambda: self.find(of) and self.find(of).update(mg=mg, amended=True)
        if kind in (5, 9):
            of = reader.number()
            if kind == 5:
                self.elsewhere = ("undone", of)
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

    def of_other(self, number, at, what):
        """Takes what an event of another pair does here: a yarn that goes on there, corrected or taken back; whether it did."""
        if number <= self.applied:
            return
        kind, of, *rest = what
        if kind == "carried":
            was, mg = rest
            if self.goes_on(was):
                self.weights.append(self.new(number, at, was, mg, CARRIED))
                self.applied = number
            return
        end = next((w for w in self.weights if w["number"] == of and w["to"] == CARRIED), None)
        if end is None:
            return
        self.applied = number
        if kind == "amended":
            end.update(mg=rest[0])
        else:
            self.weights.remove(end)

    def reopen(self):
        self.open = self.reopened = True

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
        if later is None or later["yarn"] != yarn or before[1] >= len(self.lines):
            return
        place = self.weights.index(later)
        before_it = [w for w in self.weights[:place] if w["yarn"] == yarn]
        if later["to"] == WEIGH_IN and (not before_it or before_it[-1]["to"] == CARRIED):
            return
        if later["to"] >= 0:
            weight["pushed"] = (later, later["to"])
            later["to"] = before[1]
        self.weights.insert(place, weight)

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
        if weight and weight["to"] not in (WEIGH_IN, CARRIED) and place < len(self.lines):
            weight["to"] = place
            for other in self.weights:
                if other["pushed"] and other["pushed"][0] is weight:
                    other["pushed"] = None

    def sections(self):
        last, went = {}, []
        for weight in self.weights:
            before = last.get(weight["yarn"])
            went.append(None if before is None else before - weight["mg"])
            last[weight["yarn"]] = None if weight["to"] == CARRIED else weight["mg"]
        rows = []
        for place, line in enumerate(self.lines):
            marks = [(w, mg) for w, mg in zip(self.weights, went) if w["to"] == place]
            amounts = [mg for _, mg in marks if mg is not None]
            if amounts:
                flags = {flag: any(w[flag] for w, _ in marks) for flag in ("amended", "late", "doubtful")}
                rows.append({"place": place + 1, **line, "used_mg": sum(amounts), "at_s": marks[-1][0]["at"], **flags})
        return rows

"""Each figure of the documents, and where it is printed."""

from .printed import calibrations, honest, knitters, measured, named, season, world

# What depends on how quick a machine is, and what is drawn while time passes in it, may differ by this part.
TIMING = 0.05


def three(name, column, times=1.0):
    return [measured(f"{name}_{p}", column, times) for p in ("p50_s", "p95_s", "p99_9_s")]


def errors(column):
    return [measured(f"error_{p}_mg", column) for p in ("p50", "p95", "p99_9")]


SCALE, EIGHT, SIXTEEN, BOUND = "this scale", "moving average of 8", "moving average of 16", "physical bound"
# Cells by their column; a column that is left out is a goal, or is checked by nobody because nobody prints it, and the reason stands beside.
WEIGHING = {
    "hand off to tick": {2: three("latency", SCALE), 3: three("latency", EIGHT), 4: three("latency", SIXTEEN), 5: three("latency", BOUND)},
    # Of the moving averages the last is in grams.
    "error at the tick": {
        2: errors(SCALE),
        3: errors(EIGHT)[:2] + [measured("error_p99_9_mg", EIGHT, 1e-3)],
        4: errors(SIXTEEN)[:2] + [measured("error_p99_9_mg", SIXTEEN, 1e-3)],
    },
    "tick while a hand": {c: [measured("handled_per_100", n)] for c, n in ((2, SCALE), (3, EIGHT), (4, SIXTEEN))},
    "tick and more than": {c: [measured("wrong_per_100", n)] for c, n in ((2, SCALE), (3, EIGHT), (4, SIXTEEN))},
    "tick during a tug": {c: [measured("tugs_per_100", n)] for c, n in ((2, SCALE), (3, EIGHT), (4, SIXTEEN))},
    "number changes": {
        c: [measured("flicker_per_min", n), measured("footsteps_per_min", n)] for c, n in ((2, SCALE), (3, EIGHT), (4, SIXTEEN))
    },
    "bit faults": {c: [measured("faults_shown_percent", n)] for c, n in ((2, SCALE), (3, EIGHT), (4, SIXTEEN))},
    "a section whose cake came back": {
        2: [
            measured("back_cold_rms_mg"),
            measured("back_warm_rms_mg"),
            measured("back_cold_in_the_end_rms_mg"),
            measured("back_warm_in_the_end_rms_mg"),
        ],
        **{c: [measured("back_cold_rms_mg", n), measured("back_warm_rms_mg", n)] for c, n in ((3, EIGHT), (4, SIXTEEN), (5, BOUND))},
    },
    "a section knitted from the pan": {
        2: [measured("stays_rms_mg"), measured("stays_in_the_end_rms_mg")],
        **{c: [measured("stays_rms_mg", n)] for c, n in ((3, EIGHT), (4, SIXTEEN), (5, BOUND))},
    },
    "the same in a bowl": {2: [measured("bowl_rms_mg"), measured("bowl_in_the_end_rms_mg")], 5: [measured("bowl_rms_mg", BOUND)]},
    "stated 95 % interval": {2: [measured("covered_percent")]},
}


def course(name):
    """Columns of the table of sections: within at the mark and in the end; median and mean of each; covered of each."""
    when = ("at the marks", "in the end")
    return {
        1: [honest(name, w, 2) for w in when],
        2: [honest(name, w, place) for w in when for place in (4, 3)],
        3: [honest(name, w, 5) for w in when],
    }


SECTIONS = {
    "cake came back, cold start": course("comes back, cold start"),
    "cake came back, warm": course("comes back, warm"),
    "knitted from the pan": course("stays on the pan"),
    "everything at once": course("everything at once"),
    "back into a bowl": course("comes back into a bowl"),
}


def percents(question, column):
    return {place: [knitters(question, pairs, column)] for place, pairs in ((1, 3), (2, 5), (3, 8), (4, 24))}


FORECAST = {
    "both toes": percents("both toes", 1),
    "all contrast sections": percents("cuffs, heels, toes of both socks", 1),
    "sock 2, sock 1 known": percents("heel and toe of sock 2, sock 1 knitted", 1),
    "a quarter over, both toes": percents("both toes", 2),
    "mean × 2": percents("both toes", 3),
}


def procedure(loads, in_grams):
    last = calibrations(loads, 4, 1e-3 if in_grams else 1.0)
    return {1: [calibrations(loads, 1)], 2: [calibrations(loads, 2)], 3: [last], 4: [calibrations(loads, 5)]}


CALIBRATION = {
    "one weight of 100 g": procedure("100 g", True),
    "one weight of 200 g": procedure("200 g", True),
    "the weight of 100 g, then": procedure("100 g, cup", False),
    "the weight of 200 g, then": procedure("200 g, cup", False),
    "100 g, 200 g and both": procedure("100, 200, both", False),
    "twenty coins": procedure("20 coins", True),
}
WAYS = {
    "nothing": "nothing, range of the scale alone",
    "humidity sensor, as the scale takes it": "humidity sensor, as the scale takes it",
    "control skein of 20 g": "control skein of 20 g",
    "control skein of 50 g": "control skein of 50 g",
}
WOOL = {
    name: {place: [season(way, hours)] for place, hours in ((1, 1), (2, 12), (3, 24), (4, 72), (5, 336))} for name, way in WAYS.items()
}
WORLDS = [
    "raised in", "soft mount", "one movement", "two touches", "slow hands", "popcorn noise", "hum", "restless cells", "slides", "rolls", "anything",
    "all mean", "all worst",
]  # fmt: skip
# Columns as `measure --worlds` prints them.
P50, BOUND_P50, P95, BOUND_P95, HANDLED, WRONG, AT_TICK, BY_NOISE = range(8)
ASKED, BOUND_ASKED = 11, 12
# Cold, warm, into a bowl, stays, everything at once: error and share covered of each.
COURSES = [(13, 15), (16, 17), (18, 19), (20, 21), (22, 23)]
IN_WORLDS = {
    name: {
        1: [world(name, c) for c in (P50, P95, BOUND_P50, BOUND_P95)],
        2: [world(name, c) for c in (HANDLED, WRONG, AT_TICK, BY_NOISE)],
        3: [world(name, c) for c in (ASKED, BOUND_ASKED)],
        **{place: [world(name, c) for c in columns] for place, columns in enumerate(COURSES, 4)},
    }
    for name in WORLDS
}
# Heading of the first column, then the rows.
TABLES = {
    "at 10 samples a second": WEIGHING,
    "1,000 sections, mg": SECTIONS,
    "world (*": IN_WORLDS,
    '"enough" is wrong': FORECAST,
    "calibrated on its own pages": CALIBRATION,
    "hours between cake on": WOOL,
}

# A sentence of the document, its numbers in parentheses; where each is printed, and the part by which it may differ.
SENTENCES = [
    (r"not one in ([\d,]+) simulated power cuts", named("tests-figures", "cut_points"), 0),
    (r"None of ([\d,]+) flipped bits", named("tests-figures", "flips"), 0),
    (r"holds ([\d,]+) pairs", named("tests-figures", "capacity_pairs"), 0),
    (r"([\d,]+) where each has a name", named("tests-figures", "capacity_pairs_with_names"), 0),
    # Rounded to hundreds.
    (r"lasts ([\d,]+) years", named("tests-figures", "endurance_years_at_20_marks_and_200_visits_a_day"), 0.02),
    (r"image: ([\d.]+) of at most", named("image", "flash_bytes", 1e-3), 0),
    (r"In ([\d.]+) of 100\s+emptied pans", measured("asked_per_100"), 0),
    (r"([\d.]+) ms for a sample", named("emulator-figures", "cycles_sample_core_at_10_hertz_mean", 8e-6), TIMING),
    (r"coins, ± ([\d.]+) g of 300 g", calibrations("20 coins", 6, 1e-3), 0),
    (r"stated, covers ([\d.]+) %", calibrations("20 coins", 7), 0),
]

# What the README repeats: a row of its table, and where the same stands in the figures.
REPEATED = [
    ("hand off to tick", 2, "hand off to tick", 2, [0, 1]),
    ("error at the tick", 2, "error at the tick", 2, [0, 1]),
    ("tick and more than 0.1 g off", 2, "tick and more than 0.1 g off", 2, [0]),
    ("the same with a moving average", 2, "tick and more than 0.1 g off", 3, [0]),
    ("a section, error (rms)", 2, "a section whose cake came back", 2, [2]),
    ("a section knitted from the pan", 2, "a section knitted from the pan", 2, [1]),
    ("stated ± covers", 2, "stated 95 % interval", 2, [0]),
    ("a 4 g section, a day apart", 2, "nothing", 3, [0]),
]

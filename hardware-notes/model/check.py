"""What must hold before anything is sawn: numbers with their limits. `python check.py` prints them; a limit missed is an error."""

import functools
import sys
from itertools import combinations

import case
import parts
import sizes

GRAVITY = 9.81
PRINTED = ("shell", "lid")


class Scale:
    """Parts of one scale, made when asked for."""

    def __init__(self, s):
        self.s = s

    @functools.cached_property
    def weighing(self):
        return parts.weighing(self.s)

    @functools.cached_property
    def cased(self):
        return case.cased(self.s)

    @property
    def all(self):
        return self.weighing | self.cased

    def apart(self, a, b):
        """Least distance of two parts, mm; 0 if they touch or overlap."""
        return self.all[a].distance_to(self.all[b])

    def mass(self, name, density):
        return self.weighing[name].volume / 1000 * density

    @property
    def mass_pan(self):
        m = self.s.material
        return self.mass("pan", m.aluminium) + self.mass("spacer_free", m.steel)

    @property
    def mass_dead(self):
        """Wood and flats, g: what stands still and holds the scale down."""
        m = self.s.material
        flats = sum(self.mass(name, m.steel) for name in ("flat_middle", "flat_front", "flat_back"))
        return self.mass("base", m.wood) + flats


def overlap(a, b):
    """Common volume of two solids, mm3."""
    boxes = a.bounding_box(), b.bounding_box()
    for axis in "XYZ":
        if getattr(boxes[0].max, axis) < getattr(boxes[1].min, axis) or getattr(boxes[1].max, axis) < getattr(boxes[0].min, axis):
            return 0.0
    common = a.intersect(b)
    if common is None:
        return 0.0
    return sum(piece.volume for piece in (common if isinstance(common, list) else [common]))


# Each check yields rows: what, value, least, most (None: no limit on that side).


def nothing_overlaps(m):
    for (name, a), (other, b) in combinations(m.all.items(), 2):
        volume = overlap(a, b)
        if volume > 0.001:
            yield f"{name} and {other} overlap, mm3", volume, None, 0.001
    yield "parts tried against each other", len(m.all), 30, None


def does_not_tip(m):
    s = m.s
    edge, radius = s.base.side / 2 - s.base.foot_in, s.pan.diameter / 2
    yield "feet stand outside the pan's rim, mm", edge - radius, 3, None
    height = s.z_pan + s.pan.thickness - s.z_table
    held = (m.mass_dead + m.mass_pan) / 1000 * GRAVITY * edge
    yield "a sideways push on the pan: held moment / its moment", held / (s.loads.push * height), 2, None


def is_heavy_enough(m):
    yield "all that stands still, g", m.mass_dead, 500, None


def pan_is_light_enough(m):
    # The pan counts as load: 4 % of a 500 g cell would be 20 g, a fifth leaves 400 g for bowl and yarn.
    yield "pan and its spacer, g", m.mass_pan, None, 0.25 * m.s.loads.capacity


def stop_protects(m):
    s = m.s
    gap = m.apart("stop", "cell")
    yield "stop to cell, mm", gap, s.stop.gap - 0.001, s.stop.gap + 0.001
    # It touches at 105 to 150 % of capacity: cells are safe to 150 % (sheets of such cells).
    yield "gap / how far the cell sinks at capacity", gap / s.cell.deflection, 1.05, 1.5


def stop_is_under_solid_metal(m):
    s = m.s
    rim = s.cell.thread_free / 2 + s.stop.screw / 2
    nearest = min(((s.stop_x - x) ** 2 + y**2) ** 0.5 for x, y in s.free_holes)
    yield "stop's edge to the nearest hole, mm", nearest - rim, 0.8, None
    hollow = 0.43 * s.cell.height * 2
    yield "stop's edge to the milled hollow, mm", s.stop_x - s.stop.screw / 2 - hollow, 0.8, None


def stop_can_be_set(m):
    s = m.s
    low = m.weighing["stop"].bounding_box().min.Z
    yield "head of the stop's screw above the table, mm", low - s.z_table, 2, None
    yield "room for its nut between head and flat, mm", s.z_flat - (low + s.stop.screw) - s.stop.nut, 0, None
    yield "turns of its thread in the flat (pitch 0.5)", s.flat.thickness / 0.5, 6, None


def screws_fit_the_cell(m):
    s, c = m.s, m.s.cell
    for end, length, stack, diameter in (
        ("fixed", c.screw_fixed, s.flat.thickness + c.spacer_fixed, c.thread_fixed),
        ("free", c.screw_pan, s.pan.thickness + c.spacer_free, c.thread_free),
    ):
        bite = length - stack
        yield f"{end} end: screw in the cell / its diameter", bite / diameter, 1.0, 1.7
        yield f"{end} end: metal left above the tip, mm", c.height - bite, 1, None


def feet_clear_the_screws(m):
    low = min(solid.bounding_box().min.Z for name, solid in m.weighing.items() if name.startswith("screw"))
    yield "lowest screw head above the table, mm", low - m.s.z_table, 2, None


def air_around_the_pan(m):
    moving = ("pan", "spacer_free", "cell", "screw_pan", "corner", "spacer_fixed")
    for name in m.weighing:
        if not name.startswith((*moving, "foot", "screw_fixed")):
            yield f"pan to {name}, mm", m.apart("pan", name), m.s.pan.air - 1e-6, None
    yield "pan to case, mm", m.apart("pan", "shell"), 10, None


def air_around_the_cell(m):
    s = m.s
    for name in ("skirt", "flat_middle", "flat_front", "flat_back", "module", "clamp_base"):
        yield f"cell to {name}, mm", m.apart("cell", name), 3, None
    yield "pan's spacer to skirt, mm", m.apart("spacer_free", "skirt"), 3, None


def corner_stops_touch_last(m):
    s = m.s
    gaps = [m.apart("pan", f"corner{i}") for i in range(4)]
    yield "pan to the nearest corner stop, mm", min(gaps), s.stop.corner_gap - 0.001, 1.5
    # The pan as a beam from its spacer to the far rim, 100 wide, with half the capacity's weight beyond a corner.
    arm = s.spacer_x + s.pan.diameter / 2 - s.cell.spacer_length / 2
    force = s.loads.capacity / 1000 * GRAVITY
    sag = force * arm**3 / (3 * s.material.aluminium_modulus * 100 * s.pan.thickness**3 / 12)
    yield "corner gap left at capacity on the rim, mm", min(gaps) - s.cell.deflection - sag, 0.1, None
    post = m.weighing["corner0"].bounding_box()
    yield "corner stop: thread in its bore, mm", s.stop.corner_screw - post.min.Z, 4, s.corner_post - 3.5


def case_stands_apart(m):
    yield "case to base, mm", m.apart("shell", "base"), 10, None
    s = m.s
    yield "pan above the case, mm", s.z_pan + s.pan.thickness - m.cased["shell"].bounding_box().max.Z, 2, None


def case_holds_everything(m):
    loose = [name for name in m.cased if name not in PRINTED and not name.startswith("key_") or name == "key_board"]
    for a, b in combinations(loose, 2):
        together = {a, b} == {"glass", "display"} or any("clamp0" in name or "clamp1" in name for name in (a, b))
        if not together:
            yield f"{a} to {b}, mm", m.apart(a, b), 1, None


def lid_and_keys_move_freely(m):
    s = m.s
    k = s.case
    yield "lid to walls, mm", m.apart("lid", "shell"), 0, 0.001  # it lies against the corners' columns
    yield "play of the lid in the walls, mm", k.play, 0.15, 0.5
    for name, x, diameter in case.key_places(s):
        yield f"{name}: cap to its hole, mm", k.key_play / 2, 0.15, 0.5
        yield f"{name}: rim inside holds it, mm", diameter / 2 + 2 - (diameter + k.key_play) / 2, 1, None
    rims = sorted((x, d / 2 + 2) for _, x, d in case.key_places(s))
    for (x, r), (y, q) in zip(rims, rims[1:]):
        yield "rims of two caps apart, mm", y - x - r - q, 1, None
    yield "MARK is larger than the others, mm", k.mark_diameter - k.key_diameter, 3, None


def window_shows_the_pixels(m):
    # A 1.3 inch panel's lit area is 29.42 x 14.70 (data sheets of such panels).
    k = m.s.case
    yield "window beyond the lit width, mm", k.window_width - 29.42, 0.5, 4
    yield "window beyond the lit height, mm", k.window_height - 14.70, 0.5, 4


def template_fits_the_page(m):
    # A4 is 210 x 297; printers leave 5 mm white.
    yield "base on A4, mm", 210 - m.s.base.side, 10, None


CHECKS = (
    nothing_overlaps,
    does_not_tip,
    is_heavy_enough,
    pan_is_light_enough,
    stop_protects,
    stop_is_under_solid_metal,
    stop_can_be_set,
    screws_fit_the_cell,
    feet_clear_the_screws,
    air_around_the_pan,
    air_around_the_cell,
    corner_stops_touch_last,
    case_stands_apart,
    case_holds_everything,
    lid_and_keys_move_freely,
    window_shows_the_pixels,
    template_fits_the_page,
)


def failures(check, scale):
    """Rows of a check outside their limits."""
    rows = list(check(scale))
    assert rows, check.__name__
    return [row for row in rows if not within(row)]


def within(row):
    _, value, least, most = row
    return (least is None or value >= least) and (most is None or value <= most)


def main():
    failed = 0
    variants = [(cell, "batteries") for cell in sizes.cells()] + [("bar80", "lithium")]
    for cell, supply in variants:
        scale = Scale(sizes.load(cell, supply))
        print(f"-- {scale.s.cell.name}; {supply}")
        for row in (row for check in CHECKS for row in check(scale)):
            name, value, least, most = row
            limits = " .. ".join("" if limit is None else f"{limit:.3f}" for limit in (least, most))
            failed += not within(row)
            if not within(row) or (cell, supply) == variants[0]:
                print(f"{'ok ' if within(row) else 'BAD'} {name:58} {value:9.3f}   [{limits}]")
    print(f"{failed} limits missed")
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())

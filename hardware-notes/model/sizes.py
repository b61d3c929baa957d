"""Reads sizes.toml, and computes what follows from it."""

import copy
import math
import pathlib
import tomllib
from types import SimpleNamespace

HERE = pathlib.Path(__file__).parent
SUPPLIES = ("batteries", "lithium")


def table(path=HERE / "sizes.toml"):
    """The file as it stands: nested dictionaries."""
    return tomllib.loads(path.read_text())


def cells():
    return tuple(table()["cell"])


def load(cell="bar80", supply="batteries", change=None):
    """Sizes for one load cell and one supply. `change` maps "table.key" to another value, "cell.key" for the chosen cell."""
    values = copy.deepcopy(table())
    values["cell"], values["supply"] = values["cell"][cell], values["supply"][supply]
    for key, value in (change or {}).items():
        part, name = key.split(".")
        assert name in values[part], key
        values[part][name] = value
    sizes = SimpleNamespace(**{name: SimpleNamespace(**part) for name, part in values.items()})
    sizes.cell_key, sizes.supply_key = cell, supply
    derive(sizes)
    return sizes


def derive(s):
    c, half = s.cell, s.cell.length / 2
    if c.hole_across:
        free = [(half - c.hole_end, y * c.hole_across / 2) for y in (-1, 1)]
    else:
        free = [(half - c.hole_end - c.hole_pitch, 0.0), (half - c.hole_end, 0.0)]
    s.free_holes, s.fixed_holes = free, [(-x, y) for x, y in free]
    s.spacer_x = sum(x for x, _ in free) / 2  # middle of the free end's spacer; the other lies mirrored
    s.stop_x = half - c.stop_in
    # Heights of the stack, from the lower face of the wood.
    s.z_flat = s.base.thickness
    s.z_top = s.z_flat + s.flat.thickness  # upper face of the flats
    s.z_cell = s.z_top + c.spacer_fixed
    s.z_pan = s.z_cell + c.height + c.spacer_free
    s.z_table = -s.base.foot_height
    corner = s.base.side / 2 - s.base.foot_in
    s.feet = [(x * corner, y * corner) for x in (-1, 1) for y in (-1, 1)]
    corner = (s.pan.diameter / 2 - s.stop.corner_in) / math.sqrt(2)
    s.corners = [(x * corner, y * corner) for x in (-1, 1) for y in (-1, 1)]
    s.corner_post = s.z_pan - s.stop.corner_gap - s.z_top - s.stop.nut_and_washer
    k = s.case
    s.slope = math.degrees(math.atan2(k.back - k.front, k.depth))
    s.case_y = -s.base.side / 2 - k.gap - k.depth  # its front wall
    s.case_z = s.z_table + k.dot  # its lower edge


def thread(diameter):
    return f"M{diameter:g}"

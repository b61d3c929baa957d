"""Drawings with their sizes, the drilling template at 1:1, and printable parts, into the folder `out`."""

import pathlib
import sys

from build123d import Box, Compound, GeomType, Plane, Pos, Rot, export_stl

import case
import parts
import sizes
from sheet import Sheet, number, pdf

OUT = pathlib.Path(__file__).parent / "out"
WOOD, STEEL, METAL, PLASTIC, RUBBER = "#ecd9b0", "#b9c2cc", "#dfe5ea", "#f3e4bf", "#666666"
FILLS = {"base": WOOD, "flat": STEEL, "spacer": "#cfd6dd", "cell": METAL, "pan": METAL, "skirt": PLASTIC, "corner": PLASTIC, "clamp": PLASTIC}
FILLS |= {"stop": "#8f99a3", "screw": "#8f99a3", "foot": RUBBER, "shell": PLASTIC, "lid": "#e3cf9d", "module": "#9fc7a5"}
FILLS |= {"display": "#7fb0d8", "glass": "#333333", "key_board": "#9fc7a5", "key": "#ffd778", "pico": "#9fc7a5", "holder": "#bbbbbb"}
FILLS |= {"toggle": "#bbbbbb", "sensor": "#9fc7a5", "pouch": "#bbbbbb", "charger": "#9fc7a5"}


def fill_of(name):
    return next(colour for start, colour in sorted(FILLS.items(), key=lambda one: -len(one[0])) if name.startswith(start))


def points_of(edge):
    """An edge as points: straight ones by their ends, others by steps."""
    steps = 1 if edge.geom_type == GeomType.LINE else max(6, min(64, int(edge.length / 0.8)))
    places = [edge.position_at(i / steps) for i in range(steps + 1)]
    return [(place.X, place.Y) for place in places]


def view(sheet, solids, looking_from, up, at, hidden=True):
    """Visible and hidden edges of solids, seen from a direction, the model's origin at a point of the sheet."""
    seen, behind = Compound(children=list(solids)).project_to_viewport(looking_from, up, (0, 0, 0))
    for edges, pen in ((behind if hidden else [], "hidden"), (seen, "edge")):
        lines = [[(round(x + at[0], 2), round(y + at[1], 2)) for x, y in points_of(edge)] for edge in edges]
        for points in sorted(min(line, line[::-1]) for line in lines):
            sheet.line(points, pen)


def settled(ring):
    """The same ring from its least point on, in one direction: the kernel begins anywhere."""
    area = sum(x * v - u * y for (x, y), (u, v) in zip(ring, ring[1:] + ring[:1]))
    ring = ring if area > 0 else ring[::-1]
    least = ring.index(min(ring))
    return ring[least:] + ring[:least]


def cut(sheet, named, plane, place, at):
    """Faces where a plane cuts solids, filled; `place` turns a point of space into one of the sheet."""
    for name, solid in named:
        section = solid.intersect(plane)
        faces = [] if section is None else [face for piece in (section if isinstance(section, list) else [section]) for face in piece.faces()]
        areas = []
        for face in faces:
            rings = []
            for wire in (face.outer_wire(), *face.inner_wires()):
                ring = []
                for edge in wire.order_edges():
                    steps = 1 if edge.geom_type == GeomType.LINE else max(6, min(64, int(edge.length / 0.5)))
                    for i in range(steps):
                        x, y = place(edge.position_at(i / steps))
                        ring.append((round(x + at[0], 2), round(y + at[1], 2)))
                rings.append(settled(ring))
            areas.append(sorted(rings))
        for rings in sorted(areas):
            sheet.area(rings, fill_of(name))


def title(sheet, words, below=""):
    sheet.text(12, sheet.height - 14, words, 5.0)
    if below:
        sheet.text(12, sheet.height - 20, below, 3.2)


def base_sheet(s):
    """The base with its flats, seen from above."""
    sheet = Sheet(297, 256, "Base and steel flats, seen from above")
    title(sheet, "Base and steel flats, seen from above", f"{s.cell.name}. Sizes in mm. Dashed: in the wood below.")
    at, half, f = (148.0, 120.0), s.base.side / 2, s.flat
    named = parts.weighing(s)
    view(sheet, [named[n] for n in ("base", "flat_middle", "flat_front", "flat_back")], (0, 0, 1000), (0, 1, 0), at)

    def place(x, y):
        return at[0] + x, at[1] + y

    for x, y in [*s.fixed_holes, (s.stop_x, 0), *s.corners, *s.feet, (f.fixing, 0), (-f.fixing, 0)]:
        sheet.cross(*place(x, y), 5)
    foot, corner, edge = s.feet[3][0], s.corners[3][0], f.length / 2
    sheet.size(place(-half, half), place(half, half), 14)
    sheet.size(place(-foot, foot), place(foot, foot), half - foot + 5)
    sheet.size(place(-edge, 1.5 * f.width + f.gap), place(edge, 1.5 * f.width + f.gap), 6)
    sheet.size(place(half, half), place(half, -half), 14)
    sheet.size(place(foot, foot), place(foot, -foot), half - foot + 5)
    sheet.size(place(-edge, -f.width / 2), place(-edge, f.width / 2), half - edge + 5)
    sheet.size(place(-edge, -1.5 * f.width - f.gap), place(-edge, 1.5 * f.width + f.gap), half - edge + 14)
    sheet.size(place(corner, corner), place(corner, -corner), 14)
    sheet.size(place(-corner, -corner), place(corner, -corner), -10)
    sheet.size(place(-f.fixing, 0), place(f.fixing, 0), 14)
    xs = sorted({x for x, _ in s.fixed_holes})
    for low, high in zip([-edge, *xs], [*xs, s.stop_x]):
        sheet.size(place(low, 0), place(high, 0), -13, along="x")
    if s.cell.hole_across:
        (x, low), (_, high) = s.fixed_holes
        sheet.size(place(x, low), place(x, high), 14)
    wood = f"Ø{number(s.base.head_hole)} in the wood"
    sheet.note(place(xs[0] + 1, 1.8), place(-30, 33), f"2 × Ø{number(s.cell.thread_fixed + 0.5)} in the flat,\n{wood}", "start")
    sheet.note(place(s.stop_x - 0.5, 1.2), place(16, 33), f"M3 in the flat (drill 2.5),\n{wood}", "start")
    through = f"Ø{number(s.base.through)} through both"
    sheet.note(place(-corner, corner + 1.6), place(-corner + 7, corner + 10), f"4 × {through}: corner stops", "start")
    sheet.note(place(f.fixing - 0.6, -1.8), place(f.fixing - 20, -30), f"2 × {through}", "end")
    sheet.note(place(-foot, -foot + 1.2), place(-foot + 10, -foot + 4), "4 × Ø3.2: feet", "start")
    b = s.base
    sheet.text(*place(-half, -half - 12), f"Wood {number(b.side)} × {number(b.side)} × {number(b.thickness)}, corners rounded {number(b.corner)}. "
               f"Three flats {number(f.length)} × {number(f.width)} × {number(f.thickness)}, {number(f.gap)} apart.", 3.0)
    sheet.text(*place(-half, -half - 17), "The wired end of the load cell is at the left; the case stands below this view.", 3.0)
    return sheet


def section_sheet(s):
    """A cut along the cell: what is stacked on what."""
    sheet = Sheet(297, 146, "Section along the load cell")
    title(sheet, "Section along the load cell", f"{s.cell.name}. Sizes in mm. Nuts and washers are not drawn.")
    at = (138.0, 56.0)
    named = parts.weighing(s)
    names = [name for name in named if name != "module"]
    plane = Plane(origin=(0, 0, 0), x_dir=(1, 0, 0), z_dir=(0, -1, 0))
    behind = Pos(0, 500, 0) * Box(1000, 1000, 1000)
    rear = [named[n] & behind for n in ("corner1", "corner3", "foot1", "foot3", "pan", "screw_corner1", "screw_corner3")]
    view(sheet, rear, (0, -1000, 0), (0, 0, 1), at, hidden=False)
    cut(sheet, [(n, named[n]) for n in names], plane, lambda p: (p.X, p.Z), at)

    def place(x, z):
        return at[0] + x, at[1] + z

    half, radius, top = s.base.side / 2, s.pan.diameter / 2, s.z_pan + s.pan.thickness
    sheet.line([place(-half - 10, s.z_table), place(half + 10, s.z_table)], "thin")
    sheet.size(place(-radius, top), place(radius, top), 8)
    foot, corner = s.feet[3][0], s.corners[3][0]
    sheet.size(place(-foot, s.z_table), place(foot, s.z_table), -17)
    sheet.size(place(-s.cell.length / 2, s.z_cell), place(s.cell.length / 2, s.z_cell), -(s.z_cell - s.z_table + 25), along="x")
    sheet.size(place(half, top), place(half, s.z_table), 8, along="y")
    heights = [
        ("wood", 0, s.z_flat, -half),
        ("steel flat", s.z_flat, s.z_top, -s.flat.length / 2),
        ("spacer", s.z_top, s.z_cell, -s.spacer_x - s.cell.spacer_length / 2),
        ("load cell", s.z_cell, s.z_cell + s.cell.height, -s.cell.length / 2),
        ("spacer", s.z_cell + s.cell.height, s.z_pan, s.spacer_x - s.cell.spacer_length / 2),
        ("pan", s.z_pan, top, -radius),
    ]
    for i, (word, low, high, edge) in enumerate(heights):
        sheet.note(place(edge + 1.2, (low + high) / 2), place(-half - 12, -4 + i * 8.5), f"{word} {number(high - low)}", "end")
    words = f"overload stop M3: its gap, about {number(s.stop.gap)}, is set by the reading"
    sheet.note(place(s.stop_x, -2), place(s.stop_x - 4, s.z_table - 7), words, "end")
    words = f"corner stop, {number(s.stop.corner_gap)} below the pan"
    sheet.note(place(-corner - 3.2, s.z_pan - s.stop.corner_gap - 4), place(-corner - 16, top + 22), words, "start")
    sheet.note(place(-s.flat.fixing - 4, s.z_top + 2), place(-s.flat.fixing - 12, top + 14), "cable clamp", "end")
    skirt = s.cell.length / 2 + s.skirt.air + s.skirt.wall / 2
    words = f"skirt, {number(s.pan.air)} below the\npan, {number(s.skirt.air)} of air to\nthe load cell"
    sheet.note(place(skirt, s.z_pan - 6), place(half + 20, s.z_pan - 4), words, "start")
    return sheet


def case_sheet(s):
    """The case: square onto its slope, and cut through its middle."""
    sheet = Sheet(210, 250, "Case")
    title(sheet, "Case: square onto its slope, and cut through its middle", "Sizes in mm. Dashed: what lies behind.")
    named, k = case.cased(s), s.case
    flat = case.frame(s).inverse()
    at = (112.0, 118.0)
    view(sheet, [flat * named["shell"]], (0, 0, 1000), (0, 1, 0), at)
    view(sheet, [flat * named[f"key_{word}"] for word, _, _ in case.key_places(s)], (0, 0, 1000), (0, 1, 0), at, hidden=False)

    def place(x, y):
        return at[0] + x, at[1] + y

    half, row = k.width / 2, k.keys_up
    up = (k.depth**2 + (k.back - k.front) ** 2) ** 0.5
    w, h, m = k.window_width / 2, k.window_height / 2, k.window_up
    sheet.size(place(-half, up), place(half, up), 13)
    sheet.size(place(-w, m + h), place(w, m + h), up - m - h + 5)
    sheet.size(place(half, up), place(half, 0), 7)
    sheet.size(place(-half, 0), place(-half, row), 7)
    sheet.size(place(-half, 0), place(-half, m), 16)
    sheet.line([place(-half - 17, m), place(-w + 6, m)], "centre")
    sheet.line([place(-half - 8, row), place(-k.key_apart - 8, row)], "centre")
    sheet.size(place(w, m + h), place(w, m - h), 32)
    for word, x, d in case.key_places(s):
        sheet.cross(*place(x, row), d / 2 + 3)
    sheet.size(place(-k.key_apart, row), place(0, row), -(row + 12))
    sheet.size(place(0, row), place(k.key_apart, row), -(row + 12))
    caps = k.key_play
    sheet.note(place(k.key_apart + 4.2, row - 4.6), place(k.key_apart + 14, 6), f"2 × Ø{number(k.key_diameter + caps)}", "start")
    sheet.note(place(-6.6, row - 6.6), place(-18, 5), f"Ø{number(k.mark_diameter + caps)}", "end")

    at2 = (66.0, 34.0)
    plane = Plane(origin=(0.01, 0, 0), x_dir=(0, 1, 0), z_dir=(1, 0, 0))
    lying = [n for n in named if n not in ("shell", "lid")]
    cut(sheet, [(n, named[n]) for n in ("shell", "lid", *lying)], plane, lambda p: (p.Y - s.case_y, p.Z - s.case_z), at2)

    def beside(y, z):
        return at2[0] + y, at2[1] + z

    sheet.size(beside(0, 0), beside(k.depth, 0), -8)
    sheet.size(beside(0, 0), beside(0, k.front), 7)
    sheet.size(beside(k.depth, k.back), beside(k.depth, 0), 8)
    behind = k.window_up * 0.95
    sheet.note(beside(behind, case.inside(s, behind) - 0.4), beside(behind - 16, k.back + 12), "display", "end")
    for name, words, goal in (("key_MARK", "key cap", (0, k.back - 2)), ("key_board", "key board", (-18, 26))):
        middle = named[name].bounding_box().center()
        sheet.note(beside(middle.Y - s.case_y, middle.Z - s.case_z), beside(*goal), words, "end")
    sheet.note(beside(k.depth - 22, 12), beside(k.depth + 18, 33), "three AA\nin their holder", "start")
    sheet.note(beside(k.depth - 14, 1.2), beside(k.depth + 18, 6), "lid, four screws\nM3 × 10", "start")
    sheet.text(12, 12, f"Walls {number(k.wall)}. The case prints without supports, lying on its slope; the lid lies flat. "
               f"It stands on rubber dots {number(k.dot)} high.", 3.0)
    return sheet


def layout_sheet(s):
    """What lies on the lid, seen from above with the shell taken off, for both supplies."""
    sheet = Sheet(210, 262, "What lies in the case")
    title(sheet, "What lies in the case, seen from above", "Shell taken off. Display and key board hang on the slope: not drawn.")
    names = {"pico": "Raspberry Pi Pico", "toggle": "", "sensor": "humidity\nsensor", "holder": "three AA in their holder",
             "pouch": "protected lithium cell", "charger": "charger", "clamp_case": "cable\nclamp"}
    for supply, low in zip(sizes.SUPPLIES, (146.0, 36.0)):
        one = sizes.load(s.cell_key, supply)
        named, k, at = case.cased(one), one.case, (105.0, low - one.case_y)
        sheet.text(28, low + k.depth + 8, {"batteries": "Three AA", "lithium": "Lithium, with its charger"}[supply], 4.0)
        for x, y, pen in ((k.width, k.depth, "edge"), (k.width - 2 * k.wall, k.depth - 2 * k.wall, "thin")):
            middle = one.case_y + k.depth / 2
            sheet.line([(at[0] + i * x / 2, at[1] + middle + j * y / 2) for i, j in ((-1, -1), (1, -1), (1, 1), (-1, 1))], pen, closed=True)
        for x, y in case.lid_screws(one):
            hole(sheet, at[0] + x, at[1] + y, 3.4)
        for name, words in names.items():
            if name not in named:
                continue
            box = named[name].bounding_box()
            left, right, front, back = box.min.X + at[0], box.max.X + at[0], box.min.Y + at[1], box.max.Y + at[1]
            rim = [(round(x, 2), round(y, 2)) for x, y in ((left, front), (right, front), (right, back), (left, back))]
            above = name == "toggle"  # it sits in the back wall, over what lies there
            sheet.line(rim, "hidden" if above else "edge", None if above else fill_of(name), True)
            lines = words.split("\n")
            if name == "sensor":
                sheet.note((left + 1.5, front + 4), (at[0] - k.width / 2 + 20, front - 3), "humidity sensor, at its air holes", "start")
                continue
            for i, line in enumerate(lines):
                sheet.text((left + right) / 2, (front + back) / 2 + 2.0 * (len(lines) - 1) - 1 - 3.8 * i, line, 2.8, "middle")
        x, y, _ = case.pico_place(one)
        sheet.text(at[0] + k.width / 2 + 2, at[1] + y - 1, "USB", 2.8)
        sheet.text(at[0] + k.cable_x, low + k.depth + 3, "cable", 2.8, "middle")
        sheet.text(at[0] + k.switch_x, low + k.depth + 3, "switch", 2.8, "middle")
        if supply == "lithium":
            _, y, _ = case.charger_place(one)
            sheet.text(at[0] - k.width / 2 - 2, at[1] + y - 1, "charging", 2.8, "end")
        sheet.text(105, low - 5.5, "front", 2.8, "middle")
    return sheet


def ruler(sheet, x, y):
    sheet.line([(x, y), (x + 100, y)], "thin")
    for mm in range(0, 101, 5):
        sheet.line([(x + mm, y), (x + mm, y + (4 if mm % 10 == 0 else 2.5))], "thin")
    for mm in range(0, 101, 20):
        sheet.text(x + mm, y + 5, str(mm), 2.6, "middle")
    sheet.text(x + 50, y - 4.5, "This line is 100 mm long. If it is not, print again at 100 % (actual size).", 3.0, "middle")


def hole(sheet, x, y, diameter, words=None, at=(3.2, 2.6)):
    sheet.circle(x, y, diameter, "thin")
    sheet.cross(x, y, max(6.0, diameter / 2 + 2))
    if words:
        sheet.text(x + at[0], y + at[1], words, 2.6)


def template_base(s):
    sheet = Sheet(210, 297, f"Drilling template: base and flats, {s.cell.name}")
    title(sheet, "Drilling template 1:1, base and steel flats", f"{s.cell.name}. Seen from above. Stick it on, centre-punch the crosses.")
    half, at = s.base.side / 2, (105.0, 168.0)
    edge = [(at[0] + x * half, at[1] + y * half) for x, y in ((-1, -1), (1, -1), (1, 1), (-1, 1))]
    sheet.line(edge, "thin", closed=True)
    f = s.flat
    for y in (-f.width - f.gap, 0, f.width + f.gap):
        corners = [(at[0] + i * f.length / 2, at[1] + y + j * f.width / 2) for i, j in ((-1, -1), (1, -1), (1, 1), (-1, 1))]
        sheet.line(corners, "hidden", closed=True)
    through = number(s.base.through)
    for x, y in s.feet:
        hole(sheet, at[0] + x, at[1] + y, 3.2, "Ø3.2 wood", (-18, 2.6) if x > 0 else (3.2, 2.6))
    for x, y in s.corners:
        hole(sheet, at[0] + x, at[1] + y, s.base.through, f"Ø{through} both")
    for x in (-f.fixing, f.fixing):
        hole(sheet, at[0] + x, at[1], s.base.through, f"Ø{through} both", (-8, 4.5))
    for x, y in s.fixed_holes:
        hole(sheet, at[0] + x, at[1] + y, s.cell.thread_fixed + 0.5)
        sheet.circle(at[0] + x, at[1] + y, s.base.head_hole, "hidden")
    hole(sheet, at[0] + s.stop_x, at[1], 2.5)
    sheet.circle(at[0] + s.stop_x, at[1], s.base.head_hole, "hidden")
    x = min(x for x, _ in s.fixed_holes)
    head = number(s.base.head_hole)
    sheet.text(at[0] + x - 8, at[1] + 9.5, f"flat Ø{number(s.cell.thread_fixed + 0.5)}, wood Ø{head}: wired end", 2.6)
    sheet.text(at[0] + s.stop_x - 12, at[1] - 12, f"flat 2.5, thread M3, wood Ø{head}", 2.6)
    sheet.text(at[0] - half + 3, at[1] - half + 3, "front", 3.0)
    ruler(sheet, 55, 42)
    sheet.text(105, 24, "First hold it against the load cell: its holes must lie under the crosses. If not, change", 3.0, "middle")
    sheet.text(105, 19, "hole_end and hole_pitch in sizes.toml and draw it anew.", 3.0, "middle")
    return sheet


def template_pan(s):
    sheet = Sheet(210, 297, f"Drilling template: pan, {s.cell.name}")
    title(sheet, "Drilling template 1:1, pan", f"{s.cell.name}. Seen from above.")
    at = (105.0, 178.0)
    sheet.circle(*at, s.pan.diameter, "thin")
    sheet.cross(*at, 8)
    for x, y in s.free_holes:
        hole(sheet, at[0] + x, at[1] + y, s.cell.thread_free + 0.5)
    x = min(x for x, _ in s.free_holes)
    size = number(s.cell.thread_free + 0.5)
    sheet.text(at[0] + x - 6, at[1] + 10, f"2 × Ø{size}, countersunk", 2.6)
    sheet.text(at[0] + 4, at[1] - 11, "middle of the pan and of the load cell", 2.6)
    sheet.text(at[0] - 66, at[1] + 2, "wired end", 2.6)
    ruler(sheet, 55, 60)
    return sheet


def flat_down(s, solid):
    """A part as it lies on the printer's bed."""
    box = solid.bounding_box()
    return Pos(-box.center().X, -box.center().Y, -box.min.Z) * solid


def printable(s):
    """File name to solid, lying as it prints best."""
    named = parts.weighing(s)
    key = s.cell_key
    result = {f"skirt-{key}": named["skirt"]}
    if key in ("bar80", "small47"):  # the bars are all equally high
        result[f"corner-stop-{key.rstrip('0123456789')}"] = Rot(180, 0, 0) * named["corner0"]
    if key == "bar80":
        cased = case.cased(s)
        slope = case.frame(s).inverse()
        result |= {
            "lid": cased["lid"],
            "cable-clamp": Rot(180, 0, 0) * named["clamp_base"],
            "display-clamp": slope * cased["display_clamp0"],
            "key-cap": slope * cased["key_ZERO"],
            "key-cap-mark": slope * cased["key_MARK"],
        }
        for supply in sizes.SUPPLIES:
            shell = case.shell(sizes.load(key, supply))
            result[f"case-{supply}"] = Rot(180, 0, 0) * (slope * shell)
    return {name: flat_down(s, solid) for name, solid in result.items()}


def main():
    OUT.mkdir(exist_ok=True)
    s = sizes.load()
    small = sizes.load("small47")
    for name, make, one in (
        ("base", base_sheet, s),
        ("section", section_sheet, s),
        ("base-small47", base_sheet, small),
        ("section-small47", section_sheet, small),
        ("case", case_sheet, s),
        ("layout", layout_sheet, s),
    ):
        make(one).svg(OUT / f"{name}.svg")
    for cell in sizes.cells():
        s = sizes.load(cell)
        pages = [template_base(s), template_pan(s)]
        pages[0].svg(OUT / f"template-{cell}.svg")
        pages[1].svg(OUT / f"template-{cell}-pan.svg")
        pdf(OUT / f"template-{cell}.pdf", pages)
        for name, solid in printable(s).items():
            export_stl(solid, OUT / f"{name}.stl", tolerance=0.05, angular_tolerance=0.3)
    return 0


if __name__ == "__main__":
    sys.exit(main())

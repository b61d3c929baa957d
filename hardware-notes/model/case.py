"""The printed case: shell, lid, key caps, display clamps, and boxes for what lies in it."""

import math
import pathlib

import reportlab
from build123d import Align, Box, Cone, Cylinder, FontStyle, Plane, Polygon, Pos, Rot, Text, Vector, extrude

from parts import LOW, box, clamp, drill, rod

# The font whose licence lets it be passed on, in the same pinned package that writes the template.
FONT = str(pathlib.Path(reportlab.__file__).parent / "fonts" / "VeraBd.ttf")
BOSS = 8.5  # side of the square columns in the corners, for the lid's screws
M3_BITE = 2.5  # bore in plastic into which an M3 screw cuts its thread
UP = (Align.CENTER, Align.CENTER, Align.MIN)
DOWN = (Align.CENTER, Align.CENTER, Align.MAX)


def key_places(s):
    """Name, place across and diameter of the caps."""
    k = s.case
    return (
        ("ZERO", -k.key_apart, k.key_diameter),
        ("MARK", 0.0, k.mark_diameter),
        ("NEXT", k.key_apart, k.key_diameter),
    )


def frame(s):
    """Where the slope is: x across, y up the slope from the front edge, z out of it."""
    return Pos(0, s.case_y, s.case_z + s.case.front) * Rot(s.slope, 0, 0)


def inside(s, y):
    """Height of the slope's inner face over the lower edge, `y` behind the front wall."""
    k = s.case
    return k.front + (k.back - k.front) * y / k.depth - k.wall / math.cos(math.radians(s.slope))


def across(s, profile, x, length):
    """A profile of depth and height, drawn out across the case."""
    plane = Plane(origin=(x, s.case_y, s.case_z), x_dir=(0, 1, 0), z_dir=(1, 0, 0))
    return extrude(plane * Polygon(*profile, align=None), length)


def shell(s):
    k = s.case
    outline = [(0, 0), (k.depth, 0), (k.depth, k.back), (0, k.front)]
    outer = across(s, outline, -k.width / 2, k.width)
    near, far = k.wall, k.depth - k.wall
    hollow = [(near, -1), (far, -1), (far, inside(s, far)), (near, inside(s, near))]
    solid = outer - across(s, hollow, k.wall - k.width / 2, k.width - 2 * k.wall)
    slope, additions = frame(s), []
    for x, y in lid_screws(s):
        additions.append(box(BOSS, BOSS, 60, x, y, s.case_z + k.wall))
    inner = slope * Pos(0, 0, -k.wall)
    # Display: a rim around its board, a boss for a clamp at either side.
    middle = k.window_up - k.board_below
    rim_w, rim_h = k.board_width + 0.8, k.board_height + 0.8
    rim = Box(rim_w + 2.4, rim_h + 2.4, 3, align=DOWN) - Box(rim_w, rim_h, 3, align=DOWN)
    additions.append(inner * Pos(0, middle, 0.2) * rim)
    additions += [inner * Pos(x, middle + 6, 0.2) * Cylinder(3.5, k.glass + k.board + 0.2, align=DOWN) for x in clamp_places(s)]
    # Keys: two bosses that carry their board.
    additions += [inner * Pos(x, k.keys_up, 0.2) * Cylinder(3.5, key_depth(s) + 0.2, align=DOWN) for x in key_bosses(s)]
    for addition in additions:
        solid += addition & outer
    holes = [slope * Pos(0, k.window_up, 0) * Box(k.window_width, k.window_height, 20)]
    holes += [slope * Pos(x, k.keys_up, 0) * Cylinder(d / 2 + k.key_play / 2, 12) for _, x, d in key_places(s)]
    holes += [inner * Pos(x, middle + 6, 0) * Cylinder(M3_BITE / 2, 8, align=DOWN) for x in clamp_places(s)]
    holes += [inner * Pos(x, k.keys_up, 0) * Cylinder(M3_BITE / 2, 20, align=DOWN) for x in key_bosses(s)]
    holes += [rod(M3_BITE, 10, x, y, s.case_z + k.wall) for x, y in lid_screws(s)]
    back, left, right = s.case_y + k.depth, -k.width / 2, k.width / 2
    holes.append(Pos(k.cable_x, back, s.case_z + k.cable_z) * Rot(90, 0, 0) * Cylinder(k.cable_hole / 2, 12))
    holes.append(Pos(k.switch_x, back, s.case_z + k.switch_z) * Rot(90, 0, 0) * Cylinder(k.switch_hole / 2, 12))
    x, y, z = pico_place(s)
    holes.append(Pos(right, y, z + 1 + 1.4) * Box(12, k.usb_width, k.usb_height))
    # Air for the humidity sensor, at the front of the left wall, away from what gets warm.
    holes += [Pos(left, s.case_y + y, s.case_z + 9) * Rot(0, 90, 0) * Cylinder(1.25, 12) for y in (14, 18, 22, 26)]
    if s.supply_key == "lithium":
        x, y, z = charger_place(s)
        holes.append(Pos(left, y, z + s.supply.charger_height / 2) * Box(12, 11, 6))
    for hole in holes:
        solid -= hole
    for label in labels(s):
        solid -= label
    return solid


def labels(s):
    """The words at the keys, half a millimetre deep in the slope."""
    for word, x, diameter in key_places(s):
        place = frame(s) * Pos(x, s.case.keys_up + diameter / 2 + 3.6, 0)
        yield place * extrude(Text(word, 4.0, font_path=FONT, font_style=FontStyle.REGULAR), -0.5)


def lid_screws(s):
    k = s.case
    x, front, back = k.width / 2 - k.wall - 3.5, s.case_y + k.wall + 3.5, s.case_y + k.depth - k.wall - 3.5
    return [(i * x, y) for i in (-1, 1) for y in (front, back)]


def clamp_places(s):
    x = s.case.board_width / 2 + 0.4 + 1.2 + 3.7
    return (-x, x)


def key_bosses(s):
    return (-s.case.key_board_bosses / 2, s.case.key_board_bosses / 2)


def key_depth(s):
    """From the slope's inner face to the key board: rim of the cap, a little play, the switch."""
    return s.case.key_flange + 0.3 + s.case.key_height


def pico_place(s):
    """Middle of the board, and the height of its lower face. Its USB socket stands in the right wall's opening."""
    k = s.case
    y = s.case_y + k.depth - k.wall - BOSS - 3 - 10.5
    return k.width / 2 - k.wall - 0.5 - 25.5, y, s.case_z + k.wall + k.pico_posts


def charger_place(s):
    k = s.case
    y = s.case_y + k.depth - k.wall - BOSS - 1 - s.supply.charger_width / 2
    return -k.width / 2 + k.wall + 0.3 + s.supply.charger_length / 2, y, s.case_z + k.wall + 1


def lid(s):
    k = s.case
    width, depth = k.width - 2 * (k.wall + k.play), k.depth - 2 * (k.wall + k.play)
    solid = box(width, depth, k.wall, 0, s.case_y + k.depth / 2, s.case_z)
    for x, y in lid_screws(s):
        solid -= rod(3.4, 20, x, y, s.case_z - 5)
        solid -= Pos(x, y, s.case_z) * Cone(3.2, 1.7, 1.5, align=LOW)
    x, y, z = pico_place(s)
    for i in (-23.5, 23.5):
        for j in (-5.7, 5.7):
            solid += rod(5, k.pico_posts, x + i, y + j, s.case_z + k.wall) - rod(1.7, k.pico_posts, x + i, y + j, s.case_z + k.wall)
    x, y = clamp_inside(s)
    return drill(solid, s.base.through, [(x, y)])


def clamp_inside(s):
    groove = s.clamp.length / 2 - 3.5
    return s.case.cable_x + groove, s.case_y + s.case.depth - s.case.wall - 14


def key_cap(s, x, diameter):
    k = s.case
    height = k.wall + 0.3 + k.key_above
    solid = Cylinder(diameter / 2, height, align=UP)
    solid += Pos(0, 0, -k.key_flange) * Cylinder(diameter / 2 + 2, k.key_flange, align=UP)
    return frame(s) * Pos(x, k.keys_up, -k.wall - 0.3) * solid


def display_clamp(s, x):
    k = s.case
    side = 1 if x > 0 else -1
    edge = k.board_width / 2 - 3
    length = abs(x) + 3.5 - edge
    place = frame(s) * Pos(side * (edge + length / 2), k.window_up - k.board_below + 6, -k.wall - k.glass - k.board)
    solid = Box(length, 10, 3, align=DOWN)
    solid -= Pos(side * (abs(x) - edge - length / 2), 0, 0) * Cylinder(1.7, 20)
    return place * solid


def cased(s):
    """The case's printed parts, and what lies in it, by name."""
    k, slope = s.case, frame(s)
    inner = slope * Pos(0, 0, -k.wall)
    middle = k.window_up - k.board_below
    x, y, z = pico_place(s)
    back = s.case_y + k.depth - k.wall
    floor = s.case_z + k.wall
    supply = s.supply
    contents = {
        "glass": inner * Pos(0, k.window_up, 0) * Box(34.5, 23.0, k.glass, align=DOWN),
        "display": inner * Pos(0, middle, -k.glass) * Box(k.board_width, k.board_height, k.board, align=DOWN),
        "key_board": inner * Pos(0, k.keys_up, -key_depth(s)) * Box(k.key_board_width, k.key_board_height, 1.6, align=DOWN),
        "pico": box(51, 21, 1, x, y, z) + box(7, 8, 2.8, x + 25.5 + 1.3 - 3.5, y, z + 1),
        "toggle": Pos(k.switch_x, back, s.case_z + k.switch_z) * Rot(90, 0, 0) * Box(13, 7, 12, align=UP),
        "clamp_case": clamp(s, *clamp_inside(s), floor, 90),
        "sensor": box(3, 16, 12, -k.width / 2 + k.wall + 2.5, s.case_y + 20, floor + 0.5),
    }
    if s.supply_key == "batteries":
        corner = -k.width / 2 + k.wall + BOSS + 1
        contents["holder"] = box(
            supply.length, supply.width, supply.height, corner + supply.length / 2, back - 0.3 - supply.width / 2, floor
        )
    else:
        cx, cy, cz = charger_place(s)
        pouch_x = -k.width / 2 + k.wall + 8 + supply.length / 2
        pouch_y = cy - supply.charger_width / 2 - 2 - supply.width / 2
        contents["pouch"] = box(supply.length, supply.width, supply.height, pouch_x, pouch_y, floor)
        contents["charger"] = box(supply.charger_length, supply.charger_width, supply.charger_height, cx, cy, cz)
    for j, side in enumerate(clamp_places(s)):
        contents[f"display_clamp{j}"] = display_clamp(s, side)
    for word, x, diameter in key_places(s):
        contents[f"key_{word}"] = key_cap(s, x, diameter)
    return {"shell": shell(s), "lid": lid(s), **contents}

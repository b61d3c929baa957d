"""The weighing part: sizes in, one solid for each part out."""

from build123d import Align, Box, Cone, Cylinder, Pos, RectangleRounded, Rot, extrude

LOW = (Align.CENTER, Align.CENTER, Align.MIN)
CLEAR = 0.02  # a screw is drawn thinner than its thread by this, so that the two do not overlap


def box(length, width, height, x=0.0, y=0.0, z=0.0):
    return Pos(x, y, z) * Box(length, width, height, align=LOW)


def rod(diameter, height, x=0.0, y=0.0, z=0.0):
    return Pos(x, y, z) * Cylinder(diameter / 2, height, align=LOW)


def drill(solid, diameter, places):
    for x, y in places:
        solid -= rod(diameter, 200, x, y, -100)
    return solid


def screw_up(thread, length, x, y, head_at):
    """A socket screw that points up; `head_at` is the height of the face under its head (ISO 4762: head 1.5 d + 1 wide, d high)."""
    return rod(thread - CLEAR, length, x, y, head_at) + rod(1.5 * thread + 1, thread, x, y, head_at - thread)


def screw_down(thread, length, x, y, top):
    """A countersunk screw that points down, its head flush with `top`."""
    head = Pos(x, y, top - thread / 2) * Cone(thread / 2, thread, thread / 2, align=LOW)
    return rod(thread - CLEAR, length, x, y, top - length) + head


def ring(length, width, corner, wall, height, z):
    outer = extrude(RectangleRounded(length, width, corner), height)
    inner = extrude(RectangleRounded(length - 2 * wall, width - 2 * wall, corner - wall), height)
    return Pos(0, 0, z) * (outer - inner)


def cell(s):
    c = s.cell
    solid = box(c.length, c.width, c.height, z=s.z_cell)
    # The milled hollow: two bores and the slot between them. Its shape differs between makers; here it only says "keep out".
    bore = 0.43 * c.height
    for x in (-bore, bore):
        solid -= Pos(x, 0, s.z_cell + c.height / 2) * Rot(90, 0, 0) * Cylinder(bore, 50)
    solid -= Pos(0, 0, s.z_cell + c.height / 2) * Box(2 * bore, 50, bore)
    return drill(drill(solid, c.thread_fixed, s.fixed_holes), c.thread_free, s.free_holes)


def spacer(s, fixed):
    thickness = s.cell.spacer_fixed if fixed else s.cell.spacer_free
    thread = s.cell.thread_fixed if fixed else s.cell.thread_free
    z = s.z_top if fixed else s.z_cell + s.cell.height
    x = -s.spacer_x if fixed else s.spacer_x
    solid = box(s.cell.spacer_length, s.flat.spacer_width, thickness, x, 0, z)
    return drill(solid, thread + 0.5, s.fixed_holes if fixed else s.free_holes)


def pan(s):
    solid = drill(rod(s.pan.diameter, s.pan.thickness, z=s.z_pan), s.cell.thread_free + 0.5, s.free_holes)
    for x, y in s.free_holes:  # countersinks; a thin pan is pressed into the spacer's countersink below it
        depth = s.cell.thread_free / 2
        solid -= Pos(x, y, s.z_pan + s.pan.thickness - depth) * Cone(depth, 2 * depth, depth, align=LOW)
    return solid


def clamp(s, x, y, z, turn=0.0):
    """Holds the cable down beside its screw; the cable runs along x, or turned about the screw."""
    k = s.clamp
    solid = box(k.width, k.length, k.height) - rod(s.base.through, 50, z=-20)
    solid -= Pos(0, k.length / 2 - 3.5, 0) * Rot(0, 90, 0) * Cylinder(k.groove / 2, 50)
    return Pos(x, y, z) * Rot(0, 0, turn) * solid


def corner_stop(s, x, y):
    """A printed post that is turned down on the M4 screw: its bore is a tight one, and cuts its thread."""
    z = s.z_top + s.stop.nut_and_washer
    return rod(s.stop.corner_diameter, s.corner_post, x, y, z) - rod(3.8, s.corner_post - 3, x, y, z)


def skirt(s):
    k, c = s.skirt, s.cell
    height = s.z_pan - s.pan.air - s.z_top
    length, width = c.length + 2 * (k.air + k.wall), c.width + 2 * (k.air + k.wall)
    foot = extrude(RectangleRounded(length + 2 * k.foot, width + 2 * k.foot, 7), 1.2)
    foot -= extrude(RectangleRounded(length - 2 * k.wall, width - 2 * k.wall, 3), 1.2)
    solid = ring(length, width, 4, k.wall, height, s.z_top) + Pos(0, 0, s.z_top) * foot
    # A notch for the cable, at the fixed end.
    return solid - box(20, 10, 6, -length / 2, 0, s.z_top)


def overload_stop(s):
    """Screw from below, its tip under the free end."""
    tip = s.z_cell - s.stop.gap
    return screw_up(s.stop.screw, s.cell.stop_screw, s.stop_x, 0, tip - s.cell.stop_screw)


def weighing(s):
    """All parts but the case, by name."""
    b, f, c = s.base, s.flat, s.cell
    wood = extrude(RectangleRounded(b.side, b.side, b.corner), b.thickness)
    fixing = [(-f.fixing, 0), (f.fixing, 0)]
    wood = drill(wood, b.head_hole, [*s.fixed_holes, (s.stop_x, 0)])
    wood = drill(drill(wood, b.through, [*s.corners, *fixing]), 3.2, s.feet)
    middle = box(f.length, f.width, f.thickness, z=s.z_flat)
    middle = drill(drill(middle, c.thread_fixed + 0.5, s.fixed_holes), s.stop.screw, [(s.stop_x, 0)])
    middle = drill(middle, b.through, fixing)
    aside = f.width + f.gap
    sides = {
        name: drill(box(f.length, f.width, f.thickness, 0, y, s.z_flat), b.through, s.corners)
        for name, y in (("flat_front", -aside), ("flat_back", aside))
    }
    screws = {
        f"screw_fixed{i}": screw_up(c.thread_fixed, c.screw_fixed, x, y, s.z_flat) for i, (x, y) in enumerate(s.fixed_holes)
    }
    top = s.z_pan + s.pan.thickness
    screws |= {f"screw_pan{i}": screw_down(c.thread_free, c.screw_pan, x, y, top) for i, (x, y) in enumerate(s.free_holes)}
    screws |= {f"screw_corner{i}": screw_up(3.8 - CLEAR, s.stop.corner_screw, x, y, 0) for i, (x, y) in enumerate(s.corners)}
    screws |= {f"screw_flat{i}": screw_up(4 - CLEAR, 20, x, y, 0) for i, (x, y) in enumerate(fixing)}
    m = s.module
    return {
        "base": wood,
        "flat_middle": middle,
        **sides,
        "spacer_fixed": spacer(s, True),
        "cell": cell(s),
        "spacer_free": spacer(s, False),
        "stop": overload_stop(s),
        "pan": pan(s),
        "skirt": skirt(s),
        "clamp_base": clamp(s, -f.fixing, 0, s.z_top),
        "module": box(m.width, m.length, m.height, -f.length / 2 + m.width / 2 + 1, 12 + m.length / 2, s.z_top + m.above),
        **{f"corner{i}": corner_stop(s, x, y) for i, (x, y) in enumerate(s.corners)},
        **{f"foot{i}": rod(b.foot_diameter, b.foot_height, x, y, -b.foot_height) for i, (x, y) in enumerate(s.feet)},
        **screws,
    }

"""The finished scale as a picture, by POV-Ray (Debian: povray). By hand, not in CI: its pixels differ between versions."""

import pathlib
import subprocess
import sys
import tempfile

from build123d import Pos

import case
import parts
import sizes

HERE = pathlib.Path(__file__).parent
SCREEN = HERE.parents[1] / "tests/screens/pan/steady.en.png"
# Start of a part's name, red, green, blue, how much it shines. The first that fits.
COLOURS = (
    ("base", 0.68, 0.46, 0.24, 0.05),
    ("flat", 0.30, 0.33, 0.37, 0.25),
    ("screw_pan", 0.55, 0.57, 0.60, 0.5),
    ("screw", 0.30, 0.31, 0.33, 0.5),
    ("pan", 0.80, 0.82, 0.84, 0.30),
    ("cell", 0.75, 0.77, 0.80, 0.3),
    ("spacer", 0.45, 0.48, 0.52, 0.3),
    ("skirt", 0.90, 0.86, 0.75, 0.05),
    ("corner", 0.12, 0.12, 0.13, 0.1),
    ("clamp", 0.90, 0.86, 0.75, 0.05),
    ("foot", 0.05, 0.05, 0.05, 0.1),
    ("module", 0.05, 0.35, 0.16, 0.2),
    ("shell", 0.90, 0.86, 0.75, 0.05),
    ("key_MARK", 0.95, 0.62, 0.12, 0.15),
    ("key", 0.93, 0.93, 0.90, 0.15),
    ("glass", 0.01, 0.01, 0.012, 0.3),
)


def mesh(solid, colour):
    vertices, faces = solid.tessellate(0.03, 0.15)
    points = ",".join(f"<{v.X:.3f},{v.Y:.3f},{v.Z:.3f}>" for v in vertices)
    triangles = ",".join("<%d,%d,%d>" % face for face in faces)
    red, green, blue, shine = colour
    return (
        f"mesh2{{vertex_vectors{{{len(vertices)},{points}}}face_indices{{{len(faces)},{triangles}}}"
        f"texture{{pigment{{color srgb <{red},{green},{blue}>}}finish{{diffuse 0.8 specular {shine} roughness 0.02}}}}}}\n"
    )


def screen(s):
    """The display's pixels, as the project's own picture of that page, on the glass."""
    frame, k = case.frame(s), s.case
    wide, high = 29.42, 14.7
    corners = [(frame * Pos(x, k.window_up + y, 0.05 - k.wall)).position for x, y in ((-wide / 2, -high / 2), (wide / 2, -high / 2), (-wide / 2, high / 2))]
    place, right, up = corners[0], corners[1] - corners[0], corners[2] - corners[0]
    normal = right.cross(up).normalized()

    def row(v):
        return f"{v.X:.4f},{v.Y:.4f},{v.Z:.4f}"

    return (
        f'polygon{{4,<0,0>,<1,0>,<1,1>,<0,1> texture{{pigment{{image_map{{png "{SCREEN}" interpolate 2}}}}'
        f"finish{{ambient 0 diffuse 0 emission 0.95}}}} matrix <{row(right)},{row(up)},{row(normal)},{row(place)}>}}\n"
    )


def cake(s):
    """A wound ball of sock yarn, as turns of a strand."""
    top = s.z_pan + s.pan.thickness
    strands = []
    for layer in range(13):
        z = top + 2 + layer * 3.1
        bulge = 27 + 5 * (1 - ((layer - 6) / 7) ** 2)
        for ring in range(4):
            strands.append(f"torus{{{bulge - ring * 5:.2f},1.9 rotate x*{90 + (-1) ** layer * 2.5} translate <-6,2,{z:.2f}>}}")
    return (
        "union{" + "".join(strands) + "texture{pigment{granite scale 9 color_map{[0 srgb <0.05,0.27,0.33>][0.45 srgb <0.10,0.42,0.46>]"
        "[0.75 srgb <0.30,0.58,0.55>][1 srgb <0.75,0.55,0.35>]}}finish{diffuse 0.8}normal{wrinkles 0.6 scale 0.8}}}\n"
    )


def scene(s):
    named = parts.weighing(s) | case.cased(s)
    shown = [(n, c[1:]) for n in named for c in [next((c for c in COLOURS if n.startswith(c[0])), None)] if c and n != "key_board"]
    meshes = "".join(mesh(named[name], colour) for name, colour in shown)
    meshes += "".join(mesh(label, (0.15, 0.14, 0.13, 0.05)) for label in case.labels(s))  # as if filled with paint
    return f"""#version 3.7;
global_settings{{assumed_gamma 1 radiosity{{count 120 error_bound 0.7 recursion_limit 2 brightness 0.9}}}}
background{{color srgb <0.93,0.93,0.92>}}
camera{{perspective location <230,-480,330> sky z up z right -x*image_width/image_height angle 33 look_at <2,-54,-9>}}
light_source{{<-420,-300,620> color srgb 0.80 area_light <140,0,0>,<0,140,0>,6,6 adaptive 1 jitter}}
light_source{{<500,-500,400> color srgb 0.28 shadowless}}
plane{{z,{s.z_table} texture{{pigment{{color srgb <0.84,0.83,0.81>}}finish{{diffuse 0.85}}}}}}
{meshes}{screen(s)}{cake(s)}"""


def main(to, width=1200, height=820):
    with tempfile.TemporaryDirectory() as folder:
        source = pathlib.Path(folder) / "scale.pov"
        source.write_text(scene(sizes.load()))
        subprocess.run(["povray", f"+I{source}", f"+O{to}", f"+W{width}", f"+H{height}", "+A0.15", "-D", "-V"], check=True, capture_output=True)


if __name__ == "__main__":
    main(*sys.argv[1:2] or [str(HERE.parent / "pictures/scale.png")])

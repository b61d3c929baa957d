"""A drawing in true millimetres, written as SVG and as PDF. y runs up, the origin is the sheet's lower left corner."""

import math
import pathlib

import reportlab
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas

# Bitstream Vera comes with the pinned package, free to pass on; DejaVu has the same widths, so a browser draws the same.
pdfmetrics.registerFont(TTFont("Vera", str(pathlib.Path(reportlab.__file__).parent / "fonts" / "Vera.ttf")))
FAMILY = "'DejaVu Sans', 'Bitstream Vera Sans', Verdana, sans-serif"
POINTS = 72 / 25.4

# Width in mm, colour, dashes.
PENS = {
    "edge": (0.35, "#000000", None),
    "hidden": (0.18, "#777777", (1.6, 0.9)),
    "centre": (0.13, "#555555", (4, 0.8, 0.8, 0.8)),
    "size": (0.13, "#0b3d91", None),
    "thin": (0.18, "#000000", None),
}


def number(value):
    """At most two decimals; never a minus before a zero, which rounding may leave."""
    return f"{round(value, 2) + 0.0:.2f}".rstrip("0").rstrip(".")


class Sheet:
    def __init__(self, width, height, title):
        self.width, self.height, self.title, self.marks = width, height, title, []

    def line(self, points, pen="edge", fill=None, closed=False):
        self.marks.append(("path", [points], pen, fill, closed))

    def area(self, rings, fill, pen="edge"):
        """A face with holes: rings of points, filled between them."""
        self.marks.append(("path", rings, pen, fill, True))

    def circle(self, x, y, diameter, pen="edge", fill=None):
        self.marks.append(("circle", x, y, diameter / 2, pen, fill))

    def cross(self, x, y, reach=4.0):
        self.line([(x - reach, y), (x + reach, y)], "centre")
        self.line([(x, y - reach), (x, y + reach)], "centre")

    def text(self, x, y, words, size=3.0, anchor="start", turn=0, colour="#000000"):
        self.marks.append(("text", x, y, words, size, anchor, turn, colour))

    def arrow(self, x, y, angle, pen="size"):
        ends = [(x + 2.0 * math.cos(angle + turn), y + 2.0 * math.sin(angle + turn)) for turn in (2.9, -2.9)]
        self.line([ends[0], (x, y), ends[1]], pen, PENS[pen][1], True)

    def size(self, a, b, aside, words=None, along=None):
        """A dimension between two points, its line `aside` to the left of the way from a to b; `along` "x" or "y" measures that."""
        if along == "x":
            b_on, a_on = (b[0], a[1]), a
        elif along == "y":
            b_on, a_on = (a[0], b[1]), a
        else:
            b_on, a_on = b, a
        angle = math.atan2(b_on[1] - a_on[1], b_on[0] - a_on[0])
        length = math.dist(a_on, b_on)
        out = (-math.sin(angle), math.cos(angle))
        p, q = [(x + out[0] * aside, y + out[1] * aside) for x, y in (a_on, b_on)]
        beyond = math.copysign(1.0, aside)
        for start, end in ((a, p), (b, q)):
            self.line([(start[0] + out[0] * beyond, start[1] + out[1] * beyond), (end[0] + out[0] * beyond, end[1] + out[1] * beyond)], "size")
        words = words or number(length)
        wide = pdfmetrics.stringWidth(words, "Vera", 3.0)
        middle = ((p[0] + q[0]) / 2, (p[1] + q[1]) / 2)
        if length > wide + 6:
            self.line([p, q], "size")
            self.arrow(*p, angle + math.pi)
            self.arrow(*q, angle)
        else:  # arrows from outside
            away = (math.cos(angle), math.sin(angle))
            self.line([(p[0] - away[0] * 5, p[1] - away[1] * 5), (q[0] + away[0] * 5, q[1] + away[1] * 5)], "size")
            self.arrow(*p, angle)
            self.arrow(*q, angle + math.pi)
        upright = math.degrees(angle)
        upright = upright - 180 if upright > 90.5 else upright + 180 if upright < -89.5 else upright
        if length < wide + 1:  # too narrow: the figure stands beside
            middle = (q[0] + math.cos(angle) * (6 + wide / 2), q[1] + math.sin(angle) * (6 + wide / 2))
        turn = math.radians(upright)
        self.text(middle[0] - math.sin(turn) * 0.9, middle[1] + math.cos(turn) * 0.9, words, 3.0, "middle", upright, PENS["size"][1])

    def note(self, at, to, words, anchor=None):
        """A leader from a point to words."""
        self.line([at, to], "size")
        self.circle(*at, 0.8, "size", PENS["size"][1])
        anchor = anchor or ("start" if to[0] >= at[0] else "end")
        beside = 1.0 if anchor == "start" else -1.0
        for i, line in enumerate(words.split("\n")):
            self.text(to[0] + beside, to[1] - 1.0 - 3.8 * i, line, 3.0, anchor, 0, PENS["size"][1])

    def svg(self, path):
        w, h = number(self.width), number(self.height)
        out = [
            f'<svg xmlns="http://www.w3.org/2000/svg" width="{w}mm" height="{h}mm" viewBox="0 0 {w} {h}" font-family="{FAMILY}">',
            f"<title>{self.title}</title>",
            '<rect width="100%" height="100%" fill="#ffffff"/>',
        ]
        for mark in self.marks:
            kind, *rest = mark
            if kind == "text":
                x, y, words, size, anchor, turn, colour = rest
                place = f'x="{number(x)}" y="{number(self.height - y)}"'
                turned = f' transform="rotate({number(-turn)} {number(x)} {number(self.height - y)})"' if turn else ""
                words = words.replace("&", "&amp;").replace("<", "&lt;")
                out.append(f'<text {place} font-size="{number(size)}" text-anchor="{anchor}" fill="{colour}"{turned}>{words}</text>')
                continue
            pen, fill = (rest[3], rest[4]) if kind == "circle" else (rest[1], rest[2])
            width, colour, dashes = PENS[pen]
            style = f'fill="{fill or "none"}" stroke="{colour}" stroke-width="{width}"'
            if dashes:
                style += f' stroke-dasharray="{" ".join(map(str, dashes))}"'
            if kind == "circle":
                x, y, radius = rest[:3]
                out.append(f'<circle cx="{number(x)}" cy="{number(self.height - y)}" r="{radius:.3f}" {style}/>')
            else:
                rings, _, _, closed = rest
                d = "".join(
                    "M" + "L".join(f"{number(x)} {number(self.height - y)}" for x, y in ring) + ("Z" if closed else "") for ring in rings
                )
                out.append(f'<path d="{d}" fill-rule="evenodd" {style}/>')
        path.write_text("\n".join([*out, "</svg>"]) + "\n")

    def draw(self, canvas):
        """One page of a PDF."""
        canvas.setPageSize((self.width * POINTS, self.height * POINTS))
        canvas.scale(POINTS, POINTS)
        for mark in self.marks:
            kind, *rest = mark
            if kind == "text":
                x, y, words, size, anchor, turn, colour = rest
                canvas.saveState()
                canvas.translate(x, y)
                canvas.rotate(turn)
                canvas.setFillColor(colour)
                canvas.setFont("Vera", size)
                {"start": canvas.drawString, "middle": canvas.drawCentredString, "end": canvas.drawRightString}[anchor](0, 0, words)
                canvas.restoreState()
                continue
            pen, fill = (rest[3], rest[4]) if kind == "circle" else (rest[1], rest[2])
            width, colour, dashes = PENS[pen]
            canvas.setLineWidth(width)
            canvas.setStrokeColor(colour)
            canvas.setDash(*([list(dashes)] if dashes else []))
            if fill:
                canvas.setFillColor(fill)
            if kind == "circle":
                canvas.circle(*rest[:3], fill=1 if fill else 0)
                continue
            shape = canvas.beginPath()
            for ring in rest[0]:
                shape.moveTo(*ring[0])
                for point in ring[1:]:
                    shape.lineTo(*point)
                if rest[3]:
                    shape.close()
            canvas.drawPath(shape, fill=1 if fill else 0, fillMode=0)
        canvas.showPage()


def pdf(path, sheets):
    """Sheets as the pages of one file, the same bytes each time."""
    canvas = Canvas(str(path), invariant=1, pageCompression=1)
    canvas.setTitle(sheets[0].title)
    for sheet in sheets:
        sheet.draw(canvas)
    canvas.save()

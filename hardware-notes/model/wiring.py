"""The wiring drawings, one for each supply, from the table of wiring.md: the Pico in its own pin order. Needs Python alone."""

import pathlib

NOTES = pathlib.Path(__file__).parent.parent
COLOURS = {
    "red": "#c01818",
    "orange": "#e07a00",
    "black": "#222222",
    "grey": "#888888",
    "green": "#1d8a3a",
    "blue": "#1358a8",
    "yellow": "#c9a800",
    "violet": "#7b3fa0",
    "brown": "#7a4a1e",
    "white": "#bbbbbb",
}
# Raspberry Pi Pico data sheet, pinout: pins 1 to 20 down the left edge, 21 to 40 up the right one, the USB socket at the top.
LEFT = "GP0 GP1 GND GP2 GP3 GP4 GP5 GND GP6 GP7 GP8 GP9 GND GP10 GP11 GP12 GP13 GND GP14 GP15".split()
RIGHT = "GP16 GP17 GND GP18 GP19 GP20 GP21 GND GP22 RUN GP26 GP27 GND GP28 ADC_VREF 3V3(OUT) 3V3_EN GND VSYS VBUS".split()
NAMES = dict(enumerate(LEFT + RIGHT, 1))
PICO_LEFT, PICO_RIGHT, TOP, STEP = 640, 844, 130, 28
PART_LEFT, PART_RIGHT = 350, 480
SUPPLIES = {"usb": "USB alone", "batteries": "three AA batteries", "lithium": "protected lithium battery"}


def pin_at(pin):
    return (PICO_LEFT, TOP + STEP * (pin - 1)) if pin <= 20 else (PICO_RIGHT, TOP + STEP * (40 - pin))


def wires():
    """Rows of the table that stand at the board's edge: GPIO, pin, part, its pin."""
    for line in (NOTES / "wiring.md").read_text().splitlines():
        cells = [cell.strip() for cell in line.strip("|").split("|")]
        if line.startswith("| ") and cells[0].isdigit() and cells[1].isdigit():
            yield int(cells[0]), int(cells[1]), cells[2], cells[3]


class Drawing:
    def __init__(self, supply):
        words = f"Wiring of the yarn scale, {SUPPLIES[supply]}"
        self.out = [
            '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 1300 750" font-size="14"'
            " font-family=\"'DejaVu Sans', Verdana, sans-serif\" role=\"img\" aria-labelledby=\"t\">",
            f'<title id="t">{words}</title>',
            '<rect width="100%" height="100%" fill="#ffffff"/>',
        ]
        self.text(30, 40, words, size=22)

    def text(self, x, y, words, anchor="start", size=14, weight="normal", colour="#000000"):
        words = words.replace("&", "&amp;")
        self.out.append(
            f'<text x="{x}" y="{y}" text-anchor="{anchor}" font-size="{size}" font-weight="{weight}" fill="{colour}">{words}</text>'
        )

    def box(self, x, y, width, height, words="", fill="#f4f4f0"):
        self.out.append(f'<rect x="{x}" y="{y}" width="{width}" height="{height}" rx="6" fill="{fill}" stroke="#222222" stroke-width="1.5"/>')
        if words:
            self.text(x + width / 2, y + 20, words, "middle", weight="bold")

    def wire(self, points, colour):
        path = "M" + "L".join(f"{x} {y}" for x, y in points)
        self.out.append(f'<path d="{path}" fill="none" stroke="{COLOURS[colour]}" stroke-width="3" stroke-linejoin="round"/>')

    def joint(self, x, y, colour):
        self.out.append(f'<circle cx="{x}" cy="{y}" r="4.5" fill="{COLOURS[colour]}"/>')

    def named(self, x, y, colour, anchor="start"):
        """The name of a wire's colour, above it."""
        self.text(x, y - 5, colour, anchor, 11, colour=COLOURS[colour])

    def pico(self, used):
        self.box(PICO_LEFT, TOP - 40, PICO_RIGHT - PICO_LEFT, STEP * 19 + 75, fill="#e9f2ea")
        self.out.append(f'<rect x="{PICO_LEFT + 77}" y="{TOP - 58}" width="50" height="32" fill="#cccccc" stroke="#222222" stroke-width="1.5"/>')
        self.text((PICO_LEFT + PICO_RIGHT) / 2, TOP - 36, "USB", "middle", 12)
        self.text((PICO_LEFT + PICO_RIGHT) / 2, TOP + STEP * 19 + 28, "Raspberry Pi Pico", "middle", weight="bold")
        for pin, name in NAMES.items():
            x, y = pin_at(pin)
            left = pin <= 20
            weight, colour = ("bold", "#000000") if pin in used else ("normal", "#888888")
            if name == "GP15" and pin not in used:  # the way round erratum RP2040-E5 borrows it
                name, colour = "GP15: keep free", "#c01818"
            self.out.append(f'<circle cx="{x}" cy="{y}" r="4" fill="#d9b84a" stroke="#222222"/>')
            inner = x + 9 if left else x - 9
            label = f"{pin}  {name}" if left else f"{name}  {pin}"
            self.text(inner, y + 5, label, "start" if left else "end", 12, weight, colour)


def stub(d, x, y, colour, goal, to=40):
    """A wire that ends in the name of what it goes to."""
    d.wire([(x, y), (x + to, y)], colour)
    side = "start" if to > 0 else "end"
    for i, line in enumerate(goal.split("\n")):
        d.text(x + to + (6 if to > 0 else -6), y + 5 + 17 * i, line, side, 12, colour=COLOURS[colour])
    d.named(x + to / 2, y, colour, "middle")


def load_cell(d, supply):
    d.box(60, 96, 140, 160, "load cell")
    for i, colour in enumerate(("red", "black", "white", "green")):
        y = 148 + i * 30
        d.wire([(200, y), (PART_LEFT, y)], colour)
        d.named(212, y, colour)
    d.text(60, 276, "usual colours; its sheet goes first", size=12)
    d.box(PART_LEFT, 86, PART_RIGHT - PART_LEFT, 166, "HX711")
    for i, pin in enumerate(("E+", "E−", "A−", "A+")):
        d.text(PART_LEFT + 8, 153 + i * 30, pin, size=12)
    usb = supply == "usb"
    stub(d, PART_RIGHT, 128, "red" if usb else "orange", "VBUS, pin 40" if usb else "3V3(OUT), pin 36")
    stub(d, PART_RIGHT, 156, "orange", "3V3(OUT), pin 36")
    d.text(PART_RIGHT - 8, 133, "VCC", "end", 12)
    d.text(PART_RIGHT - 8, 161, "VDD", "end", 12)


# Where each wire of the program ends: colour, then the height at the part.
PARTS = {
    ("HX711", "PD_SCK"): "grey",
    ("HX711", "DOUT"): "green",
    ("SDA",): "blue",
    ("SCL",): "yellow",
    ("key ZERO",): "violet",
    ("key MARK",): "violet",
    ("key NEXT",): "violet",
    ("buzzer",): "brown",
}


def colour_of(part, pin):
    return next(colour for key, colour in PARTS.items() if set(key) <= {part, pin})


def signals(d):
    """Display, sensor, keys and buzzer, and every wire that the program takes."""
    d.box(PART_LEFT, 258, PART_RIGHT - PART_LEFT, 98)
    d.text(PART_LEFT + 10, 296, "display", weight="bold")
    d.text(PART_LEFT + 10, 342, "0x3C", size=12)
    d.box(PART_LEFT, 376, PART_RIGHT - PART_LEFT, 94)
    d.text(PART_LEFT + 10, 410, "SHT4x", weight="bold")
    d.text(PART_LEFT + 10, 456, "0x44, optional", size=11)
    for y in (318, 432):
        stub(d, PART_LEFT, y, "orange", "3V3(OUT), pin 36", -40)
        d.text(PART_LEFT + 8, y + 5, "VCC", size=12)
    taps = {"blue": (560, 396), "yellow": (582, 420), "black": (604, 444)}
    for words, y in (("SDA", 396), ("SCL", 420), ("GND", 444)):
        d.text(PART_RIGHT - 8, y + 5, words, "end", 12)
    for gpio, pin, part, end in wires():
        x, y = pin_at(pin)
        colour = colour_of(part, end)
        d.out.append(f'<g data-gpio="{gpio}" data-part="{part}" data-pin="{end}">')
        d.wire([(x, y), (PART_RIGHT, y)], colour)
        d.named(x - 14, y, colour, "end")
        d.text(x - 60, y - 5, f"GP{gpio}", "end", 11)
        if colour in taps:
            across, down = taps[colour]
            d.wire([(across, y), (across, down), (PART_RIGHT, down)], colour)
            d.joint(across, y, colour)
        if part.startswith("key"):
            d.box(PART_LEFT, y - 12, PART_RIGHT - PART_LEFT, 24, fill="#ffe9b8" if "MARK" in part else "#f4f4f0")
            d.text((PART_LEFT + PART_RIGHT) / 2, y + 5, part, "middle", weight="bold")
            d.wire([(PART_LEFT, y), (320, y), (320, pin_at(18)[1])], "black")
        elif part == "buzzer":
            d.box(PART_LEFT, y - 14, PART_RIGHT - PART_LEFT, 54)
            d.text(PART_LEFT + 10, y + 18, "buzzer, optional", size=12, weight="bold")
            d.text(PART_RIGHT - 8, y + 5, end, "end")
            d.text(PART_LEFT + 8, y + 34, "−", size=14)
            d.wire([(PART_LEFT, y + 28), (320, y + 28), (320, pin_at(18)[1])], "black")
        else:
            d.text(PART_RIGHT - 8, y + 5, end, "end", 12)
        d.out.append("</g>")
    # Ground: pin 3 to the module, pin 8 to the bus, pin 18 to keys and buzzer.
    for pin in (3, 8):
        x, y = pin_at(pin)
        d.wire([(x, y), (PART_RIGHT, y)], "black")
        d.named(x - 14, y, "black", "end")
        d.text(PART_RIGHT - 8, y + 5, "GND", "end", 12)
    across, down = taps["black"]
    d.wire([(across, pin_at(8)[1]), (across, down), (PART_RIGHT, down)], "black")
    d.joint(across, pin_at(8)[1], "black")
    x, y = pin_at(18)
    d.wire([(x, y), (320, y)], "black")
    d.joint(320, y, "black")
    d.named(x - 14, y, "black", "end")


PLUS, MINUS = 1120, 1040  # the supply's two wires


def switch_and_diode(d, low):
    """From `low` up to VSYS: fuse or not, switch, diode; ground beside it."""
    vsys, ground = pin_at(39)[1], pin_at(38)[1]
    d.wire([(PLUS, low), (PLUS, vsys), (PICO_RIGHT, vsys)], "red")
    d.named(PICO_RIGHT + 14, vsys, "red")
    d.wire([(MINUS, low), (MINUS, ground), (PICO_RIGHT, ground)], "black")
    d.named(PICO_RIGHT + 14, ground, "black")
    d.out.append(f'<path d="M{PLUS - 13} 246h26l-13 -24Z" fill="#222222"/><path d="M{PLUS - 13} 221h26" stroke="#222222" stroke-width="4"/>')
    d.text(PLUS + 22, 232, "Schottky diode,", size=12)
    d.text(PLUS + 22, 248, "ring up, to VSYS", size=12)
    d.box(PLUS - 18, 282, 36, 32)
    d.text(PLUS + 26, 303, "switch", size=12)


def fuse(d, y, rating="0.5 A"):
    d.box(PLUS - 10, y, 20, 36, fill="#ffffff")
    d.text(PLUS + 22, y + 23, f"fuse {rating}", size=12)


def supply_side(d, supply):
    to = "to HX711 (VDD),\ndisplay, SHT4x" if supply == "usb" else "to HX711 (VCC, VDD),\ndisplay, SHT4x"
    stub(d, *pin_at(36), "orange", to)
    if supply == "usb":
        stub(d, *pin_at(40), "red", "to HX711 (VCC)")
        d.text(PICO_RIGHT + 60, 320, "Supply: the USB socket, 5 V from", size=13)
        d.text(PICO_RIGHT + 60, 338, "an approved charger or a computer.", size=13)
        d.text(PICO_RIGHT + 60, 356, "Nothing at VSYS, pin 39.", size=13)
    elif supply == "batteries":
        switch_and_diode(d, 440)
        fuse(d, 360)
        d.box(990, 440, 160, 90, "three AA")
        d.text(1070, 484, "alkaline or NiMH,", "middle", 12)
        d.text(1070, 502, "all of one kind", "middle", 12)
    else:
        switch_and_diode(d, 370)
        d.box(990, 370, 160, 104)
        d.text(1070, 412, "charger", "middle", weight="bold")
        d.text(1070, 430, "own USB socket", "middle", 12)
        for x, words in ((PLUS, "+"), (MINUS, "−")):
            d.text(x, 389, f"OUT{words}", "middle", 12)
            d.text(x, 466, f"B{words}", "middle", 12)
        d.wire([(PLUS, 474), (PLUS, 590)], "red")
        d.wire([(MINUS, 474), (MINUS, 590)], "black")
        fuse(d, 510, "1 A")
        d.box(990, 590, 160, 80, "lithium battery")
        d.text(1070, 634, "protected, 3.7 V", "middle", 12)
    if supply != "usb":
        d.text(PICO_RIGHT + 20, 730, "USB may be plugged in besides: the diode keeps 5 V off the battery.", size=12)


def draw(supply):
    d = Drawing(supply)
    d.pico({3, 8, 18, 36} | {pin for _, pin, _, _ in wires()} | ({40} if supply == "usb" else {38, 39}))
    load_cell(d, supply)
    signals(d)
    supply_side(d, supply)
    d.text(30, 730, "RATE strap of the module: as it comes (ground, 10 a second). Pull-ups of SDA and SCL: on the display module.", size=12)
    return "\n".join([*d.out, "</svg>"]) + "\n"


if __name__ == "__main__":
    for name in SUPPLIES:
        (NOTES / f"pictures/wiring-{name}.svg").write_text(draw(name))

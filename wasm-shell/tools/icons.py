#!/usr/bin/env python3
"""Writes the icons as C++ tables of polylines (ui/icons.h): icons.py OUT.cpp ICON.svg...

Reads what our own drawings use, and refuses everything else by name rather than drawing it wrong: a 24 x 24 viewBox;
path (M L H V C S Q T A Z, absolute or relative), circle, ellipse, line, polyline, polygon, rect with rx, and g for
grouping. Shapes are strokes; fill="currentColor" makes a shape filled, which must then be convex.
"""
import math
import os
import re
import sys
import xml.etree.ElementTree as ElementTree

TOLERANCE = 0.05  # largest distance of a polyline from its curve, in pixels of the drawing
STYLE = {"fill", "stroke", "stroke-width", "stroke-linecap", "stroke-linejoin"}
GEOMETRY = {
    "path": {"d"},
    "circle": {"cx", "cy", "r"},
    "ellipse": {"cx", "cy", "rx", "ry"},
    "line": {"x1", "y1", "x2", "y2"},
    "polyline": {"points"},
    "polygon": {"points"},
    "rect": {"x", "y", "width", "height", "rx"},
    "g": set(),
}
BLANK = re.compile(r"[\s,]*")
LETTER = re.compile(r"[MmLlHhVvCcSsQqTtAaZz]")
NUMBER = re.compile(r"[-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?")
FLAG = re.compile(r"[01]")
ARGUMENTS = {"M": 2, "L": 2, "H": 1, "V": 1, "C": 6, "S": 4, "Q": 4, "T": 2, "A": 7, "Z": 0}


class Refused(Exception):
    """A drawing holds something that this program does not draw."""


def bezier(points):
    """The curve of 3 or 4 control points, without its first point."""
    degree = len(points) - 1
    bend = max(
        math.hypot(a[0] - 2 * b[0] + c[0], a[1] - 2 * b[1] + c[1]) for a, b, c in zip(points, points[1:], points[2:])
    )
    steps = max(1, math.ceil(math.sqrt(degree * (degree - 1) * bend / (8 * TOLERANCE))))
    curve = []
    for step in range(1, steps + 1):
        t = step / steps
        level = points
        while len(level) > 1:
            level = [(a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t) for a, b in zip(level, level[1:])]
        curve.append(level[0])
    return curve


def arc_points(cx, cy, rx, ry, turn, start, sweep):
    """Points of an ellipse's arc after its start; angles in radians, `turn` tilts the ellipse."""
    step = 2 * math.acos(max(0.0, 1 - TOLERANCE / max(rx, ry, TOLERANCE)))
    count = max(1, math.ceil(abs(sweep) / step))
    points = []
    for index in range(1, count + 1):
        angle = start + sweep * index / count
        x, y = rx * math.cos(angle), ry * math.sin(angle)
        points.append((cx + x * math.cos(turn) - y * math.sin(turn), cy + x * math.sin(turn) + y * math.cos(turn)))
    return points


def arc(start, rx, ry, degrees, large, sweep, end):
    """An SVG elliptical arc, from its end points to its centre (SVG 1.1, appendix F.6.5)."""
    if start == end:
        return []
    if rx == 0 or ry == 0:
        return [end]
    rx, ry, turn = abs(rx), abs(ry), math.radians(degrees)
    half_x, half_y = (start[0] - end[0]) / 2, (start[1] - end[1]) / 2
    x = math.cos(turn) * half_x + math.sin(turn) * half_y
    y = -math.sin(turn) * half_x + math.cos(turn) * half_y
    stretch = (x / rx) ** 2 + (y / ry) ** 2
    if stretch > 1:
        rx, ry = rx * math.sqrt(stretch), ry * math.sqrt(stretch)
    below = (rx * y) ** 2 + (ry * x) ** 2
    factor = math.sqrt(max(0.0, (rx * ry) ** 2 / below - 1)) * (-1 if large == sweep else 1)
    centre_x, centre_y = factor * rx * y / ry, -factor * ry * x / rx
    first = math.atan2((y - centre_y) / ry, (x - centre_x) / rx)
    last = math.atan2((-y - centre_y) / ry, (-x - centre_x) / rx)
    angle = last - first
    if sweep and angle < 0:
        angle += 2 * math.pi
    if not sweep and angle > 0:
        angle -= 2 * math.pi
    cx = math.cos(turn) * centre_x - math.sin(turn) * centre_y + (start[0] + end[0]) / 2
    cy = math.sin(turn) * centre_x + math.cos(turn) * centre_y + (start[1] + end[1]) / 2
    return arc_points(cx, cy, rx, ry, turn, first, angle)[:-1] + [end]


def path_commands(data):
    """(letter, numbers) for each command, repeats spelled out; an arc's flags may stand without a separator."""
    position, letter = BLANK.match(data).end(), None
    while position < len(data):
        match = LETTER.match(data, position)
        if match:
            letter, position = match.group(), match.end()
        elif letter is None or letter in "Zz":
            raise Refused(f"path data at '{data[position:position + 12]}'")
        numbers = []
        while len(numbers) < ARGUMENTS[letter.upper()]:
            wanted = FLAG if letter in "Aa" and len(numbers) in (3, 4) else NUMBER
            match = wanted.match(data, BLANK.match(data, position).end())
            if not match:
                raise Refused(f"path data at '{data[position:position + 12]}'")
            numbers.append(float(match.group()))
            position = match.end()
        position = BLANK.match(data, position).end()
        yield letter, numbers
        letter = {"M": "L", "m": "l"}.get(letter, letter)


def path(data):
    """The subpaths of an SVG path: (points, closed) each."""
    subpaths, points = [], []
    here = first = (0.0, 0.0)
    control, before = here, ""

    def end(closed):
        nonlocal points
        if len(points) > 1:
            subpaths.append((points, closed))
        points = []

    for letter, numbers in path_commands(data):
        base = here if letter.islower() else (0.0, 0.0)
        kind = letter.upper()
        pairs = [(base[0] + x, base[1] + y) for x, y in zip(numbers[0::2], numbers[1::2])]
        if kind not in "MZ" and not points:
            points = [here]
        reflected = (2 * here[0] - control[0], 2 * here[1] - control[1])
        if kind == "M":
            end(closed=False)
            here = first = pairs[0]
            points = [here]
        elif kind == "Z":
            end(closed=True)
            here = first
        elif kind == "L":
            here = pairs[0]
            points.append(here)
        elif kind == "H":
            here = (base[0] + numbers[0], here[1])
            points.append(here)
        elif kind == "V":
            here = (here[0], base[1] + numbers[0])
            points.append(here)
        elif kind == "A":
            to = (base[0] + numbers[5], base[1] + numbers[6])
            points += arc(here, *numbers[:3], bool(numbers[3]), bool(numbers[4]), to)
            here = to
        else:
            if kind == "S":
                pairs.insert(0, reflected if before in "CS" else here)
            elif kind == "T":
                pairs.insert(0, reflected if before in "QT" else here)
            points += bezier([here, *pairs])
            control, here = pairs[-2], pairs[-1]
        if kind not in "CSQT":
            control = here
        before = kind
    end(closed=False)
    return subpaths


def ellipse(cx, cy, rx, ry):
    return arc_points(cx, cy, rx, ry, 0, 0, 2 * math.pi)


def rect(x, y, width, height, radius):
    radius = min(radius, width / 2, height / 2)
    if radius == 0:
        return [(x, y), (x + width, y), (x + width, y + height), (x, y + height)]
    points = []
    quarter = math.pi / 2
    for index, (cx, cy) in enumerate(
        [
            (x + width - radius, y + height - radius),
            (x + radius, y + height - radius),
            (x + radius, y + radius),
            (x + width - radius, y + radius),
        ]
    ):
        start = index * quarter
        points.append((cx + radius * math.cos(start), cy + radius * math.sin(start)))
        points += arc_points(cx, cy, radius, radius, 0, start, quarter)
    return points


def shape(tag, attributes):
    """The polylines of one element: (points, closed) each."""

    def number(name):
        text = attributes.get(name, "0")
        if not NUMBER.fullmatch(text):
            raise Refused(f"{name}='{text}'")
        return float(text)

    if tag == "path":
        return path(attributes.get("d", ""))
    if tag == "circle":
        return [(ellipse(number("cx"), number("cy"), number("r"), number("r")), True)]
    if tag == "ellipse":
        return [(ellipse(number("cx"), number("cy"), number("rx"), number("ry")), True)]
    if tag == "line":
        return [([(number("x1"), number("y1")), (number("x2"), number("y2"))], False)]
    if tag == "rect":
        return [(rect(number("x"), number("y"), number("width"), number("height"), number("rx")), True)]
    numbers = [float(text) for text in NUMBER.findall(attributes.get("points", ""))]
    return [(list(zip(numbers[0::2], numbers[1::2])), tag == "polygon")]


def tidy(points, closed):
    """Rounded to a hundredth of a pixel, without points that repeat the one before."""
    result = []
    for x, y in points:
        point = (round(x, 2) + 0.0, round(y, 2) + 0.0)
        if not result or point != result[-1]:
            result.append(point)
    if closed and len(result) > 1 and result[0] == result[-1]:
        result.pop()
    return result


def convex(points):
    signs = set()
    for a, b, c in zip(points, points[1:] + points[:1], points[2:] + points[:2]):
        cross = (b[0] - a[0]) * (c[1] - b[1]) - (b[1] - a[1]) * (c[0] - b[0])
        if abs(cross) > 0.02:  # what rounding to hundredths can bend
            signs.add(cross > 0)
    return len(signs) < 2


def strokes(element, fill="none"):
    """The drawn polylines below an element: (points, closed, filled) each."""
    for child in element:
        tag = child.tag.split("}")[-1]
        if tag in ("title", "desc"):
            continue
        if tag not in GEOMETRY:
            raise Refused(f"element {tag}")
        unknown = set(child.attrib) - STYLE - GEOMETRY[tag]
        if unknown:
            raise Refused(f"{tag} with {', '.join(sorted(unknown))}")
        child_fill = child.get("fill", fill)
        if child_fill not in ("none", "currentColor"):
            raise Refused(f"fill='{child_fill}'")
        if tag == "g":
            yield from strokes(child, child_fill)
            continue
        filled = child_fill == "currentColor"
        for points, closed in shape(tag, child.attrib):
            points = tidy(points, closed)
            if filled and not convex(points):
                raise Refused(f"a filled {tag} that is not convex: split it into convex ones")
            yield points, closed or filled, filled


def read_icon(file):
    root = ElementTree.parse(file).getroot()
    if root.get("viewBox", "").split() != ["0", "0", "24", "24"]:
        raise Refused("a viewBox other than 0 0 24 24")
    fill = root.get("fill", "none")
    drawn = list(strokes(root, fill))
    if not drawn:
        raise Refused("nothing to draw")
    return drawn


def c_float(value):
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return (text if "." in text else text + ".0") + "f"


def main(out, files):
    source = ['#include "ui/icons.h"\n\nnamespace tawny::ui {\nnamespace {\n']
    icons = []
    for index, file in enumerate(sorted(files, key=os.path.basename)):
        try:
            drawn = read_icon(file)
        except (Refused, ElementTree.ParseError) as problem:
            sys.exit(f"{file}: cannot draw {problem}")
        table = []
        for number, (points, closed, filled) in enumerate(drawn):
            numbers = ",".join(c_float(value) for point in points for value in point)
            source.append(f"constexpr float xy_{index}_{number}[] = {{{numbers}}};\n")
            table.append(f"{{xy_{index}_{number}, {len(points)}, {str(closed).lower()}, {str(filled).lower()}}}")
        source.append(f"constexpr IconStroke strokes_{index}[] = {{{', '.join(table)}}};\n")
        name = os.path.splitext(os.path.basename(file))[0]
        icons.append(f'    {{"{name}", strokes_{index}, {len(drawn)}}},\n')
    # A table of no icons would not be C++; the span leaves the last row out.
    source.append(f"constexpr Icon icons[] = {{\n{''.join(icons)}    {{nullptr, nullptr, 0}},\n}};\n\n}}  // namespace\n")
    source.append(
        f"""
std::span<const Icon> all_icons() {{ return std::span<const Icon>(icons).first({len(icons)}); }}

const Icon* find_icon(std::string_view name) {{
  for (const Icon& icon : all_icons()) {{
    if (name == icon.name) return &icon;
  }}
  return nullptr;
}}

}}  // namespace tawny::ui
"""
    )
    with open(out, "w", encoding="ascii") as file:
        file.write("".join(source))


if __name__ == "__main__":
    main(sys.argv[1], sys.argv[2:])

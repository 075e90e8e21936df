"""Lays patterns over fields with shapely, in floating-point millimetres, and holds the pieces told against it.

Reads a list of cases from standard input; prints one line a complaint, `number: what`, and nothing when all agree.
The patterns are laid from their definitions, cell by cell over the whole window, not row by row as the crate does.
"""

import json
import math
import sys

from shapely.geometry import Polygon, box
from shapely.ops import unary_union

MM = 1e6
TOLERANCE = 1.0  # square millimetres
LEAST = 1.0  # millimetres: narrower is no piece


def polygon(points):
    return Polygon([(x / MM, y / MM) for x, y in points])


def cells(case, window):
    """Every whole piece that may reach into the window, as boxes."""
    w, h = (side / MM for side in case["size"])
    j = case["joint"] / MM
    x0, y0 = (at / MM for at in case["start"])
    left, low, right, high = window
    pw, ph = w + j, h + j
    if case["pattern"] == "herringbone":
        # one lying and one standing piece, moved by all whole combinations of two steps
        reach = int(max(right - left, high - low) / min(pw, ph)) + 8
        far = int(math.hypot(right - left, high - low) / pw) + 8
        for i in range(-reach, reach + 1):
            for k in range(-far, far + 1):
                x, y = x0 + i * ph + 2 * k * pw, y0 + i * ph
                yield box(x, y, x + w, y + h)
                yield box(x + pw, y + h - w, x + pw + h, y + h)
        return
    along, across = (0, 1) if case["pattern"] != "bond-up" else (1, 0)
    size, pitch, start = (w, h), (pw, ph), (x0, y0)
    window = ((left, right), (low, high))
    for row in range(-400, 401):
        at = start[across] + row * pitch[across]
        if at > window[across][1] or at + size[across] < window[across][0]:
            continue
        # each row goes on by `part` of `of` parts, counted round; whole nanometres
        steps = row % case["of"] * case["part"] % case["of"]
        shift = math.floor(round(pitch[along] * MM) * steps / case["of"]) / MM
        first = math.floor((window[along][0] - start[along] - shift) / pitch[along]) - 1
        last = math.ceil((window[along][1] - start[along] - shift) / pitch[along]) + 1
        for column in range(first, last + 1):
            begin = [0.0, 0.0]
            begin[along] = start[along] + shift + column * pitch[along]
            begin[across] = at
            yield box(begin[0], begin[1], begin[0] + w, begin[1] + h)


def parts(shape):
    found = list(shape.geoms) if hasattr(shape, "geoms") else [shape]
    return [part for part in found if part.geom_type == "Polygon" and part.area > 0]


def judge(case):
    field = polygon(case["outline"])
    holes = unary_union([polygon(ring) for ring in case["holes"]]).intersection(field)
    open_ = field.buffer(-case["gap"] / MM, join_style="mitre", mitre_limit=20).difference(holes)
    said = []
    areas = [int(area) / 2 / MM / MM for area in case["areas2"]]
    expected, laid = [], []
    for cell in cells(case, open_.bounds):
        for part in parts(cell.intersection(open_)):
            x1, y1, x2, y2 = part.bounds
            if min(x2 - x1, y2 - y1) >= LEAST:
                expected.append((part, abs(part.area - cell.area) < 1e-4))
    for piece in case["pieces"]:
        shape = polygon(piece["outer"]).difference(unary_union([polygon(ring) for ring in piece["holes"]]))
        laid.append((shape, piece["whole"]))
        cell = box(*(at / MM for corner in piece["cell"] for at in corner))
        if shape.difference(cell).area > 1e-3:
            said.append("a piece reaches out of its cell")
    # a part whose narrow side is within a micrometre of the least may fall either way
    doubtful = sum(abs(min(p.bounds[2] - p.bounds[0], p.bounds[3] - p.bounds[1]) - LEAST) < 1e-3 for p, _ in expected)
    if abs(len(expected) - len(laid)) > doubtful:
        said.append(f"{len(laid)} pieces, expected {len(expected)}")
    by_place = lambda entry: (round(entry[0].centroid.x, 2), round(entry[0].centroid.y, 2))
    for (one, whole), (other, other_whole) in zip(sorted(laid, key=by_place), sorted(expected, key=by_place)):
        if one.symmetric_difference(other).area > TOLERANCE:
            said.append(f"a piece at {one.centroid} is off by {one.symmetric_difference(other).area:.3f} mm2")
        elif whole != other_whole:
            said.append(f"a piece at {one.centroid} is whole or not")
    pieces = unary_union([shape for shape, _ in laid])
    told = {
        "field": (areas[0], field.area),
        "holes": (areas[1], holes.area),
        "gaps": (areas[2], field.difference(holes).area - open_.area),
        "pieces": (areas[3], sum(shape.area for shape, _ in laid)),
        "pieces together": (areas[3], pieces.area),
        "joints": (areas[4], open_.difference(pieces).area),
    }
    for name, (one, other) in told.items():
        if abs(one - other) > TOLERANCE:
            said.append(f"{name}: {one:.3f} mm2, expected {other:.3f}")
    return said


for number, case in enumerate(json.load(sys.stdin)):
    for what in judge(case):
        print(f"{number}: {what}")

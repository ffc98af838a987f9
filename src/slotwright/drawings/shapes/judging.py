"""Which of the possible edges are there, and whether they are seen or hidden.

An edge is where the metal along the line of sight differs on the two sides of a line: seen when the nearest surface
jumps or bends there, hidden when only what lies behind it does.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise
from math import atan2, ceil, degrees, dist, floor, pi, tan

from slotwright.drawings.paper.sheet import Arc, Circle, Line, Mark, Stroke
from slotwright.drawings.shapes.bodies import Bodies, Made, spans_of
from slotwright.pieces.faces import Face
from slotwright.pieces.segment import Point, Segment

ASIDE = 1e-3  # how far beside a line the metal is looked at, mm
STEP = 5e-3  # a surface that jumps by more shows an edge, mm
BEND = 0.02  # a surface that bends by more shows an edge, slope
LOOK = 0.4137  # share of a line at which it is looked at: not the middle, where symmetric shapes have their points
CELL = 24.0  # side of the squares in which lines are looked for that meet, mm
ROUND = 6


def edges(bodies: Bodies, face: Face, lines: Iterable[Segment], *, hidden: bool) -> list[Mark]:
    """Return the edges seen by one who looks at a face, and the hidden ones where they are wanted.

    Marks are in the face's own plane (`plane_axes`), not mirrored.
    """
    found: dict[Line, list[Segment]] = {Line.OUTLINE: [], Line.HIDDEN: []}
    for side in _parted(lines):
        kind = _kind(bodies, face, side)
        if kind is not None and (hidden or kind is Line.OUTLINE):
            found[kind].append(side)
    return [mark for kind, sides in found.items() for mark in merged(sides, kind)]


def _kind(bodies: Bodies, face: Face, side: Segment) -> Line | None:
    """Look at the metal on both sides of a line."""
    (x, y), (dx, dy) = side.at(LOOK), side.way(LOOK)
    near = bodies.near(face.axis, (x, y), 3.0 * ASIDE)
    if not near:
        return None
    surfaces = []
    for sign in (1.0, -1.0):
        points = [(x - sign * dy * ASIDE * n, y + sign * dx * ASIDE * n) for n in (1.0, 2.0)]
        surfaces.append(_surfaces(*(_depths(near, face, p) for p in points)))
    return _compared(*surfaces)


def _depths(near: tuple[Made, ...], face: Face, at: Point) -> list[float]:
    """Depths at which the line of sight enters and leaves metal, nearest first."""
    spans = spans_of(near, face.axis, at)
    flat = [end for span in spans for end in span]
    return [-end for end in reversed(flat)] if face.far else flat


def _surfaces(first: Sequence[float], second: Sequence[float]) -> list[tuple[float, float]]:
    """Depth at the line itself and slope away from it, of each surface."""
    if len(first) != len(second):
        return [(depth, 0.0) for depth in first]
    return [(2.0 * a - b, (b - a) / ASIDE) for a, b in zip(first, second, strict=True)]


def _compared(left: Sequence[tuple[float, float]], right: Sequence[tuple[float, float]]) -> Line | None:
    if not left or not right:
        return Line.OUTLINE if left or right else None
    if _differ(left[0], right[0]):
        return Line.OUTLINE
    if len(left) != len(right) or any(_differ(a, b) for a, b in zip(left, right, strict=True)):
        return Line.HIDDEN
    return None


def _differ(a: tuple[float, float], b: tuple[float, float]) -> bool:
    return abs(a[0] - b[0]) > STEP or abs(a[1] + b[1]) > BEND


# Parts of lines


def _parted(lines: Iterable[Segment]) -> Iterator[Segment]:
    """Cut lines where they meet each other; equal parts are yielded once."""
    sides = list(_unlike(lines))
    cells: dict[tuple[int, int], list[int]] = {}
    for number, side in enumerate(sides):
        for cell in _keys(side):
            cells.setdefault(cell, []).append(number)
    seen: set[tuple[object, ...]] = set()
    for number, side in enumerate(sides):
        others = sorted({n for cell in _keys(side) for n in cells[cell]} - {number})
        for part in _split(side, [sides[n] for n in others]):
            key = _key(part)
            if key not in seen:
                seen.add(key)
                yield part


def _unlike(lines: Iterable[Segment]) -> Iterator[Segment]:
    seen: set[tuple[object, ...]] = set()
    for side in lines:
        key = _key(side)
        if key not in seen:
            seen.add(key)
            yield side


def _key(side: Segment) -> tuple[object, ...]:
    """What two equal parts have in common, whichever way they run."""
    ends = sorted((round(x, ROUND) + 0.0, round(y, ROUND) + 0.0) for x, y in (side.start, side.end))
    x, y = side.at(0.5)
    return *ends, round(x, ROUND - 1) + 0.0, round(y, ROUND - 1) + 0.0


def _keys(side: Segment) -> list[tuple[int, int]]:
    x0, y0, x1, y1 = side.bounds()
    columns = range(floor((x0 - ASIDE) / CELL), ceil((x1 + ASIDE) / CELL) + 1)
    return [(i, j) for i in columns for j in range(floor((y0 - ASIDE) / CELL), ceil((y1 + ASIDE) / CELL) + 1)]


def _split(side: Segment, others: Sequence[Segment]) -> Iterator[Segment]:
    x0, y0, x1, y1 = side.bounds()
    shares = {0.0, 1.0}
    for other in others:
        a0, b0, a1, b1 = other.bounds()
        if a0 > x1 + 1e-6 or a1 < x0 - 1e-6 or b0 > y1 + 1e-6 or b1 < y0 - 1e-6:
            continue
        points = [*side.crossings(other), *(p for p in (other.start, other.end) if side.distance(p) < 1e-6)]
        shares |= {_share(side, point) for point in points}
    rising = sorted(share for share in shares if 0.0 <= share <= 1.0)
    for a, b in pairwise(rising):
        if (b - a) * side.length > 4.0 * ASIDE:
            yield _part(side, a, b)


def _share(side: Segment, point: Point) -> float:
    if not side.bulge:
        return min(1.0, dist(side.start, point) / side.chord)
    (x, y), sign = side.centre, 1.0 if side.bulge > 0.0 else -1.0
    turn = (atan2(point[1] - y, point[0] - x) - side.start_angle) * sign % (2.0 * pi)
    share = turn / abs(side.sweep)
    return 0.0 if turn > 2.0 * pi - 1e-7 else min(share, 1.0)


def _part(side: Segment, a: float, b: float) -> Segment:
    if (a, b) == (0.0, 1.0):
        return side
    if not side.bulge:
        return Segment(side.at(a), side.at(b))
    return Segment(side.at(a), side.at(b), tan(side.sweep * (b - a) / 4.0))


# Marks


def merged(sides: Iterable[Segment], line: Line) -> Iterator[Mark]:
    """Yield strokes, arcs and circles; what lies in one line or on one circle and touches becomes one."""
    straight: dict[tuple[float, ...], list[Segment]] = {}
    rounded: dict[tuple[float, float, float], list[tuple[float, float]]] = {}
    for side in sides:
        if side.bulge:
            (x, y), r = side.centre, side.radius
            start = side.start_angle if side.bulge > 0.0 else side.start_angle + side.sweep
            low = degrees(start) % 360.0
            key = (round(x, 5) + 0.0, round(y, 5) + 0.0, round(r, 5))
            rounded.setdefault(key, []).append((low, low + degrees(abs(side.sweep))))
        else:
            straight.setdefault(_bearing(side), []).append(side)
    for lined in straight.values():
        yield from _strokes(lined, line)
    for (x, y, r), spans in rounded.items():
        yield from _arcs((x, y), r, spans, line)


def _bearing(side: Segment) -> tuple[float, float, float]:
    """Direction and distance from the origin of the endless line through a side, rounded."""
    dx, dy = _rising(side)
    return round(dx, 6) + 0.0, round(dy, 6) + 0.0, round(side.start[1] * dx - side.start[0] * dy, 3) + 0.0


def _rising(side: Segment) -> Point:
    """Unit vector along a side, to the right or straight up."""
    dx, dy = side.way(0.0)
    return (-dx, -dy) if dx < -1e-9 or (abs(dx) < 1e-9 and dy < 0.0) else (dx, dy)


def _strokes(sides: Sequence[Segment], line: Line) -> Iterator[Stroke]:
    """Join sides that lie on one line, from end point to end point."""
    dx, dy = _rising(max(sides, key=lambda side: side.chord))
    ends = {}
    for side in sides:
        for point in (side.start, side.end):
            ends[point[0] * dx + point[1] * dy] = point
    spans = [sorted((p[0] * dx + p[1] * dy) for p in (side.start, side.end)) for side in sides]
    for a, b in _together(((low, high) for low, high in spans), 5.0 * ASIDE):
        yield Stroke(tuple((round(x, ROUND) + 0.0, round(y, ROUND) + 0.0) for x, y in (ends[a], ends[b])), line)


def _arcs(centre: Point, r: float, spans: list[tuple[float, float]], line: Line) -> Iterator[Mark]:
    runs = _together(spans, degrees(5.0 * ASIDE / r))
    if len(runs) > 1 and abs(runs[0][0] + 360.0 - runs[-1][1]) < 1e-3:
        runs = [*runs[1:-1], (runs[-1][0], runs[0][1] + 360.0)]
    for a, b in runs:
        if b - a > 360.0 - 1e-3:
            yield Circle(centre, r, line)
        else:
            yield Arc(centre, r, round(a % 360.0, 6), round(a % 360.0 + b - a, 6), line)


def _together(spans: Iterable[tuple[float, float]], near: float) -> list[tuple[float, float]]:
    found: list[tuple[float, float]] = []
    for a, b in sorted(spans):
        if found and a <= found[-1][1] + near:
            found[-1] = (found[-1][0], max(found[-1][1], b))
        else:
            found.append((a, b))
    return found

"""Lines on paper: whether they cross, run side by side, or pass near a point."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import pairwise
from math import cos, hypot, radians, sin

from slotwright.drawings.paper.placing import Box, marks_box
from slotwright.drawings.paper.sheet import Arc, Mark, Point, Stroke

SHALLOW = 0.05  # lines that pass an end nearer than this only touch, mm


def cross(a: Point, b: Point, c: Point, d: Point) -> bool:
    """Say whether two straight lines cross inside both."""
    sides = (_side(a, b, c), _side(a, b, d), _side(c, d, a), _side(c, d, b))
    return sides[0] * sides[1] < 0.0 and sides[2] * sides[3] < 0.0 and min(map(abs, sides)) > SHALLOW


def _side(p: Point, q: Point, r: Point) -> float:
    """Distance of r from the endless line through p and q, positive on its left."""
    long = hypot(q[0] - p[0], q[1] - p[1]) or 1.0
    return ((q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0])) / long


def level(one: tuple[Point, Point], other: tuple[Point, Point]) -> bool:
    """Say whether two lines run the same way."""
    (a, b), (c, d) = one, other
    return abs((b[0] - a[0]) * (d[1] - c[1]) - (b[1] - a[1]) * (d[0] - c[0])) < 1e-6


def runs_along(mark: Stroke, direction: float) -> bool:
    """Say whether a line runs in a direction, degrees."""
    (x0, y0), (x1, y1) = mark.points[0], mark.points[-1]
    c, s = cos(radians(direction)), sin(radians(direction))
    return abs((x1 - x0) * s - (y1 - y0) * c) < 1e-3


def from_line(point: Point, a: Point, b: Point) -> float:
    """Return the distance of a point from a straight piece of line."""
    dx, dy = b[0] - a[0], b[1] - a[1]
    square = dx * dx + dy * dy
    share = min(1.0, max(0.0, ((point[0] - a[0]) * dx + (point[1] - a[1]) * dy) / square)) if square else 0.0
    return hypot(point[0] - a[0] - share * dx, point[1] - a[1] - share * dy)


def apart(one: tuple[Point, Point], other: tuple[Point, Point]) -> float:
    """Return the distance of two straight pieces of line that do not cross."""
    near = [from_line(end, *other) for end in one]
    return min(*near, *(from_line(end, *one) for end in other))


def chords(arc: Arc, count: int = 24) -> list[tuple[Point, Point]]:
    """Return short straight lines that stand for an arc."""
    (x, y), r = arc.centre, arc.radius
    turns = [radians(arc.start + (arc.end - arc.start) * n / count) for n in range(count + 1)]
    points = [(x + r * cos(t), y + r * sin(t)) for t in turns]
    return list(pairwise(points))


def tight_box(marks: Iterable[Mark]) -> Box:
    """Return the box around marks, an arc counted as far as it goes."""
    found: list[Mark] = []
    for mark in marks:
        found += [Stroke(chord, mark.line) for chord in chords(mark)] if isinstance(mark, Arc) else [mark]
    return marks_box(found)

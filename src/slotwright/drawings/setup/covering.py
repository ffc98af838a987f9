"""What of a straight line lies under polygons, and what lies in one."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import pairwise
from math import hypot

from slotwright.drawings.paper.placing import points_box
from slotwright.drawings.paper.sheet import Point


def uncovered(a: Point, b: Point, covers: Iterable[Sequence[Point]]) -> list[tuple[Point, Point]]:
    """Return the parts of a straight line that lie outside all of some polygons."""
    hidden = sorted(span for polygon in covers for span in inside(a, b, polygon))
    spans: list[tuple[float, float]] = []
    at = 0.0
    for low, high in hidden:
        if low > at:
            spans.append((at, low))
        at = max(at, high)
    if at < 1.0:
        spans.append((at, 1.0))
    return [(_along(a, b, low), _along(a, b, high)) for low, high in spans]


def inside(a: Point, b: Point, polygon: Sequence[Point]) -> list[tuple[float, float]]:
    """Return from where to where (0 to 1) a line runs inside a polygon."""
    x0, y0, x1, y1 = points_box(polygon)
    if max(a[0], b[0]) <= x0 or min(a[0], b[0]) >= x1 or max(a[1], b[1]) <= y0 or min(a[1], b[1]) >= y1:
        return []
    shares = {0.0, 1.0}
    dx, dy = b[0] - a[0], b[1] - a[1]
    for (px, py), (qx, qy) in pairwise((*polygon, polygon[0])):
        across = dx * (qy - py) - dy * (qx - px)
        if abs(across) > 1e-12:
            on_side = ((px - a[0]) * dy - (py - a[1]) * dx) / across
            if -1e-12 <= on_side <= 1.0 + 1e-12:
                shares.add(((px - a[0]) * (qy - py) - (py - a[1]) * (qx - px)) / across)
    rising = sorted(share for share in shares if 0.0 <= share <= 1.0)
    return [
        (low, high)
        for low, high in pairwise(rising)
        if high - low > 1e-9 and holds(polygon, _along(a, b, (low + high) / 2.0))
    ]


def holds(polygon: Sequence[Point], point: Point) -> bool:
    """Say whether a point lies inside a polygon and not on its rim."""
    x, y = point
    inside = False
    for (px, py), (qx, qy) in pairwise((*polygon, polygon[0])):
        side = (qx - px) * (y - py) - (qy - py) * (x - px)
        between = min(px, qx) - 1e-9 <= x <= max(px, qx) + 1e-9 and min(py, qy) - 1e-9 <= y <= max(py, qy) + 1e-9
        if between and abs(side) < 1e-9 * max(1.0, hypot(qx - px, qy - py)):
            return False
        if (py <= y) != (qy <= y) and px + (qx - px) * (y - py) / (qy - py) > x:
            inside = not inside
    return inside


def _along(a: Point, b: Point, share: float) -> Point:
    return a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share
